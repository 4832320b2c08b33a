"""The shelf at the end of a day gone by, and what moved it between two days; what was taken back since never was."""

from __future__ import annotations

from datetime import date
from typing import Any

from sqlalchemy import ColumnElement, Connection, and_, case, func, select

from inventory.ledger.lending import BACK, LENT
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
    c = _LINE.c
    sums = (
        select(
            c.lot_id,
            func.sum(c.quantity).label("quantity"),
            func.sum(c.cost).label("cost"),
            func.sum(c.cost_from).label("cost_from"),
        )
        .where(c.account == "shelf", _standing_until(day))
        .group_by(c.lot_id)
        .having((func.sum(c.quantity) != 0) | (func.sum(c.cost) != 0))
        .subquery()
    )
    query: Any = (
        select(
            _PART.c.key,
            _LOT.c.id,
            _LOT.c.name,
            _LOT.c.received_on,
            sums.c.quantity,
            sums.c.cost,
            sums.c.cost_from,
        )
        .select_from(sums.join(_LOT, sums.c.lot_id == _LOT.c.id).join(_PART, _LOT.c.part_id == _PART.c.id))
        .order_by(_PART.c.key, _LOT.c.received_on.nulls_first(), _LOT.c.id)
    )
    rows = connection.execute(query)
    return tuple(
        PastLot(key, lot, name, came, int(many), int(cost), int(cost_from))
        for key, lot, name, came, many, cost, cost_from in rows
    )


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
    return _by_part(connection, day, _LINE.c.account == "due", 1)


def lent_at(connection: Connection, day: date) -> tuple[MovedSum, ...]:
    """What somebody had on loan at the end of a day, by part, with what it had cost."""
    return _by_part(connection, day, (_LINE.c.account == "shelf") & _LINE.c.reason.in_((LENT, BACK)), -1)


def _by_part(
    connection: Connection, day: date, which: ColumnElement[bool], sign: int
) -> tuple[MovedSum, ...]:
    c = _LINE.c
    query = (
        select(_PART.c.key, func.sum(c.quantity), func.sum(c.cost))
        .select_from(_LINE.join(_PART, c.part_id == _PART.c.id))
        .where(which, _standing_until(day))
        .group_by(_PART.c.key)
        .having(func.sum(c.quantity) != 0)
        .order_by(_PART.c.key)
    )
    return tuple(
        MovedSum(key, "", sign * int(many), sign * int(cost)) for key, many, cost in connection.execute(query)
    )
