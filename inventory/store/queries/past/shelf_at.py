"""The shelf at the end of a day gone by, and what moved it between two days; what was taken back since never was."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from typing import Any

from sqlalchemy import ColumnElement, Connection, and_, case, func, select

from inventory.ledger.lending import BACK, LENDING, LENT
from inventory.ledger.past.shelf import MovedSum, PastLot
from inventory.store.queries.standing import standing
from inventory.store.schema.core import table

_DOCUMENT, _LINE, _LOT, _PART = table("document"), table("movement"), table("lot"), table("part")


def _standing_until(last: date, first: date | None = None) -> ColumnElement[bool]:
    """Lines of documents that stand and are of days up to the last."""
    days = [_DOCUMENT.c.on_date <= last, *([] if first is None else [_DOCUMENT.c.on_date >= first])]
    return _LINE.c.document_id.in_(select(_DOCUMENT.c.id).where(and_(*days), standing()))


def lots_at(connection: Connection, day: date) -> tuple[PastLot, ...]:
    """Every lot that held something or had a cost at the end of a day, by part, oldest first."""
    return tuple(_lots(connection, _standing_until(day), all_of_them=False))


def lots_before(
    connection: Connection, lots: Iterable[PastLot], since: date, day: date
) -> tuple[PastLot, ...]:
    """The same of the evening before `since`, from those of `day`: what moved in between is taken off again."""
    then = {one.id: one for one in lots}
    for moved in _lots(connection, _standing_until(day, since), all_of_them=True):
        now = then.get(moved.id)
        held, cost, mark = (now.quantity, now.cost, now.cost_from) if now else (0, 0, 0)
        then[moved.id] = replace(
            moved,
            quantity=held - moved.quantity,
            cost=cost - moved.cost,
            cost_from=mark - moved.cost_from,
        )
    left = (one for one in then.values() if one.quantity or one.cost)
    return tuple(sorted(left, key=lambda one: (one.part, one.received_on or date.min, one.id)))


def _lots(connection: Connection, which: ColumnElement[bool], *, all_of_them: bool) -> Iterator[PastLot]:
    """Sums of lines by lot. all_of_them: with those that add up to nothing."""
    c = _LINE.c
    sums = (
        select(
            c.lot_id,
            func.sum(c.quantity).label("quantity"),
            func.sum(c.cost).label("cost"),
            func.sum(c.cost_from).label("cost_from"),
        )
        .where(c.account == "shelf", which)
        .group_by(c.lot_id)
    )
    if not all_of_them:
        sums = sums.having((func.sum(c.quantity) != 0) | (func.sum(c.cost) != 0))
    added = sums.subquery()
    query: Any = (
        select(_PART.c.key, _LOT.c.id, _LOT.c.name, _LOT.c.received_on)
        .add_columns(added.c.quantity, added.c.cost, added.c.cost_from)
        .select_from(added.join(_LOT, added.c.lot_id == _LOT.c.id).join(_PART, _LOT.c.part_id == _PART.c.id))
        .order_by(_PART.c.key, _LOT.c.received_on.nulls_first(), _LOT.c.id)
    )
    for key, lot, name, came, many, cost, cost_from in connection.execute(query):
        yield PastLot(key, lot, name, came, int(many), int(cost), int(cost_from))


def moved_between(connection: Connection, first: date, last: date) -> tuple[MovedSum, ...]:
    """What the lines of the shelf add up to by part, word and sign, both days included."""
    c = _LINE.c
    sign = case((c.quantity > 0, 1), (c.quantity < 0, -1), else_=0)
    query = (
        select(_PART.c.key, c.reason, func.sum(c.quantity), func.sum(c.cost))
        .select_from(_LINE.join(_PART, c.part_id == _PART.c.id))
        .where(c.account == "shelf", _standing_until(last, first))
        .group_by(_PART.c.key, c.reason, sign)
        .order_by(_PART.c.key, c.reason)
    )
    return tuple(
        MovedSum(key, word, int(many), int(cost)) for key, word, many, cost in connection.execute(query)
    )


def due_at(connection: Connection, day: date) -> tuple[MovedSum, ...]:
    """What was bought and had not arrived at the end of a day, by part, at the cost agreed."""
    return _by_part(connection, (_LINE.c.account == "due") & _standing_until(day), 1)


def lent_at(connection: Connection, day: date) -> tuple[MovedSum, ...]:
    """What somebody had on loan at the end of a day, by part, with what it had cost."""
    days = and_(_DOCUMENT.c.on_date <= day, _DOCUMENT.c.kind.in_(LENDING), standing())
    lending = _LINE.c.document_id.in_(select(_DOCUMENT.c.id).where(days))
    return _by_part(connection, (_LINE.c.account == "shelf") & _LINE.c.reason.in_((LENT, BACK)) & lending, -1)


def _by_part(connection: Connection, which: ColumnElement[bool], sign: int) -> tuple[MovedSum, ...]:
    c = _LINE.c
    query = (
        select(_PART.c.key, func.sum(c.quantity), func.sum(c.cost))
        .select_from(_LINE.join(_PART, c.part_id == _PART.c.id))
        .where(which)
        .group_by(_PART.c.key)
        .having(func.sum(c.quantity) != 0)
        .order_by(_PART.c.key)
    )
    return tuple(
        MovedSum(key, "", sign * int(many), sign * int(cost)) for key, many, cost in connection.execute(query)
    )
