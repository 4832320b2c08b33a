"""What lies on the shelf, and when anything of it last came or went."""

from __future__ import annotations

from datetime import date
from typing import Any

from sqlalchemy import ColumnElement, Connection, and_, case, func, select

from inventory.ledger.past.asleep import MONTHS, NOT_STOCK, STILL, Held
from inventory.measures.dates import months_before
from inventory.store.queries.old_names import last_of, merged_into
from inventory.store.queries.standing import standing
from inventory.store.schema.core import table

_DOCUMENT, _LINE, _LOT, _PART = table("document"), table("movement"), table("lot"), table("part")
_LOT_BALANCE = table("lot_balance")
_AT_ONCE = 5_000


def held_still(connection: Connection, today: date) -> tuple[Held, ...]:
    """Parts of which something is there and nothing came or went since MONTHS[0] before today.

    Lines of old days are not read through: only those of the months just gone, and those of what did not move in them.
    """
    day = months_before(today, min(MONTHS))
    into = merged_into(connection)
    awake = {last_of(part, into) for part in _moved_after(connection, day)}
    c = _LOT_BALANCE.c
    query = (
        select(_PART.c.id, _PART.c.name, _PART.c.kind, _PART.c.unit, func.sum(c.quantity), func.sum(c.cost))
        .select_from(_LOT_BALANCE.join(_PART, c.part_id == _PART.c.id))
        .where(c.quantity > 0, _PART.c.kind != NOT_STOCK)
        .group_by(_PART.c.id, _PART.c.name, _PART.c.kind, _PART.c.unit)
    )
    rows = [row for row in connection.execute(query) if row[0] not in awake]
    mine = {number: number for number, *_ in rows}
    mine |= {old: last_of(old, into) for old in into if last_of(old, into) in mine}
    last: dict[int, date] = {}
    for part, moved in _last_days(connection, sorted(mine)):
        last[mine[part]] = max(moved, last.get(mine[part], moved))
    return tuple(
        Held(name, kind, unit, int(many), int(cost), last[number])
        for number, name, kind, unit, many, cost in rows
        if number in last
    )


def _moving() -> ColumnElement[bool]:
    c = _LINE.c
    return and_(c.account == "shelf", c.quantity != 0, c.reason.not_in(STILL), standing())


def _day() -> ColumnElement[date]:
    """The day of a line: its document's, but of what a load first brought the earlier day its sheet says it came."""
    first = and_(_DOCUMENT.c.kind == "load", _LOT.c.document_id == _DOCUMENT.c.id)
    return case(
        (and_(first, _LOT.c.received_on < _DOCUMENT.c.on_date), _LOT.c.received_on), else_=_DOCUMENT.c.on_date
    )


def _lines() -> Any:
    lots = _LINE.join(_LOT, _LINE.c.lot_id == _LOT.c.id)
    return lots.join(_DOCUMENT, _LINE.c.document_id == _DOCUMENT.c.id)


def _moved_after(connection: Connection, day: date) -> set[int]:
    first = select(func.min(_DOCUMENT.c.id)).where(_DOCUMENT.c.on_date > day).scalar_subquery()
    query = (
        select(_LINE.c.part_id)
        .distinct()
        .select_from(_lines())
        .where(_LINE.c.document_id >= first, _day() > day, _moving())
    )
    return set(connection.execute(query).scalars())


def _last_days(connection: Connection, parts: list[int]) -> list[tuple[int, date]]:
    found: list[tuple[int, date]] = []
    for start in range(0, len(parts), _AT_ONCE):
        query = (
            select(_LINE.c.part_id, func.max(_day()))
            .select_from(_lines())
            .where(_LINE.c.part_id.in_(parts[start : start + _AT_ONCE]), _moving())
            .group_by(_LINE.c.part_id)
        )
        found += [(part, day) for part, day in connection.execute(query)]
    return found
