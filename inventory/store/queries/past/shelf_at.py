"""The shelf at the end of a day gone by, and what moved it between two days; what was taken back since never was.

What a book holds now is the sum of all its lines that stand, and is kept beside them. So what it held at a day is that
less what later days moved: of lots and purchases of later entries, which are most of them, nothing has to be added up.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from sqlalchemy import ColumnElement, Connection, Select, Table, and_, case, func, or_, select, union_all

from inventory.ledger.lending import BACK, LENDING, LENT
from inventory.ledger.past.shelf import MovedSum, PastLot
from inventory.store.queries.standing import standing
from inventory.store.schema.core import table

_DOCUMENT, _LINE, _LOT, _PART = table("document"), table("movement"), table("lot"), table("part")
_PURCHASE, _LOT_BALANCE, _DUE_BALANCE = table("purchase"), table("lot_balance"), table("due_balance")


def lots_at(connection: Connection, day: date) -> tuple[PastLot, ...]:
    """Every lot that held something or had a cost at the end of a day, by part, oldest first."""
    held = _held_at(day, "shelf", _LOT_BALANCE, _LOT, ("quantity", "cost", "cost_from"))
    query: Any = (
        select(_PART.c.key, _LOT.c.id, _LOT.c.name, _LOT.c.received_on)
        .add_columns(held.c.quantity, held.c.cost, held.c.cost_from)
        .select_from(held.join(_LOT, held.c.of == _LOT.c.id).join(_PART, _LOT.c.part_id == _PART.c.id))
        .order_by(_PART.c.key, _LOT.c.received_on.nulls_first(), _LOT.c.id)
    )
    return tuple(
        PastLot(key, lot, name, came, int(many), int(cost), int(cost_from))
        for key, lot, name, came, many, cost, cost_from in connection.execute(query)
    )


def due_at(connection: Connection, day: date) -> tuple[MovedSum, ...]:
    """What was bought and had not arrived at the end of a day, by part, at the cost agreed."""
    held = _held_at(day, "due", _DUE_BALANCE, _PURCHASE, ("quantity", "cost"))
    of = held.join(_PURCHASE, held.c.of == _PURCHASE.c.id).join(_PART, _PURCHASE.c.part_id == _PART.c.id)
    query = select(_PART.c.key, func.sum(held.c.quantity), func.sum(held.c.cost)).select_from(of)
    return _by_part(connection, query, func.sum(held.c.quantity), 1)


def _held_at(day: date, account: str, balance: Table, of: Table, figures: Sequence[str]) -> Any:
    """What was left of each lot or purchase at the end of a day, where it was anything.

    balance: where what is left of it now is kept; of: the table of what an entry brought, with the entry's number.
    """
    (key,) = balance.primary_key
    until = select(func.max(_DOCUMENT.c.id)).where(_DOCUMENT.c.on_date <= day).scalar_subquery()
    there = select(func.max(of.c.id)).where(of.c.document_id <= until).scalar_subquery()
    after = select(_DOCUMENT.c.id).where(_DOCUMENT.c.on_date > day, standing())
    line = _LINE.c[key.name]
    moved = (
        select(line.label("of"), *((-func.sum(_LINE.c[name])).label(name) for name in figures))
        .where(_LINE.c.account == account, line <= there, _LINE.c.document_id.in_(after))
        .group_by(line)
    )
    now = select(key.label("of"), *(balance.c[name] for name in figures)).where(key <= there)
    both = union_all(now.where(_any(balance.c[name] for name in figures)), moved).subquery()
    left = {name: func.sum(both.c[name]) for name in figures}
    return (
        select(both.c.of, *(one.label(name) for name, one in left.items()))
        .group_by(both.c.of)
        .having((left["quantity"] != 0) | (left["cost"] != 0))
        .subquery()
    )


def _any(figures: Iterable[Any]) -> ColumnElement[bool]:
    return or_(*(one != 0 for one in figures))


def moved_between(connection: Connection, first: date, last: date) -> tuple[MovedSum, ...]:
    """What the lines of the shelf add up to by part, word and sign, both days included."""
    c = _LINE.c
    sign = case((c.quantity > 0, 1), (c.quantity < 0, -1), else_=0)
    days = and_(_DOCUMENT.c.on_date >= first, _DOCUMENT.c.on_date <= last, standing())
    sums = (
        select(c.part_id, c.reason, func.sum(c.quantity).label("quantity"), func.sum(c.cost).label("cost"))
        .where(c.account == "shelf", c.document_id.in_(select(_DOCUMENT.c.id).where(days)))
        .group_by(c.part_id, c.reason, sign)
        .subquery()
    )
    query = (
        select(_PART.c.key, sums.c.reason, sums.c.quantity, sums.c.cost)
        .select_from(sums.join(_PART, sums.c.part_id == _PART.c.id))
        .order_by(_PART.c.key, sums.c.reason)
    )
    return tuple(
        MovedSum(key, word, int(many), int(cost)) for key, word, many, cost in connection.execute(query)
    )


def lent_at(connection: Connection, day: date) -> tuple[MovedSum, ...]:
    """What somebody had on loan at the end of a day, by part, with what it had cost."""
    c = _LINE.c
    days = and_(_DOCUMENT.c.on_date <= day, _DOCUMENT.c.kind.in_(LENDING), standing())
    query = (
        select(_PART.c.key, func.sum(c.quantity), func.sum(c.cost))
        .select_from(_LINE.join(_PART, c.part_id == _PART.c.id))
        .where(c.account == "shelf", c.reason.in_((LENT, BACK)))
        .where(c.document_id.in_(select(_DOCUMENT.c.id).where(days)))
    )
    return _by_part(connection, query, func.sum(c.quantity), -1)


def _by_part(connection: Connection, query: Select[Any], many: Any, sign: int) -> tuple[MovedSum, ...]:
    """Sums of parts of which it is anything."""
    some = query.group_by(_PART.c.key).having(many != 0).order_by(_PART.c.key)
    return tuple(
        MovedSum(key, "", sign * int(quantity), sign * int(cost))
        for key, quantity, cost in connection.execute(some)
    )
