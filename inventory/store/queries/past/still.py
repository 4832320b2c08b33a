"""What lies on the shelf, and when anything of it last came or went."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
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
_FEW = 8
"""Where only one part of so many is still looked for, all lines of those are fewer than those of another year."""


def held_still(connection: Connection, today: date) -> tuple[Held, ...]:
    """Parts of which something is there and nothing came or went since MONTHS[0] before today."""
    day = months_before(today, min(MONTHS))
    c = _LOT_BALANCE.c
    query = (
        select(_PART.c.id, _PART.c.name, _PART.c.kind, _PART.c.unit, func.sum(c.quantity), func.sum(c.cost))
        .select_from(_LOT_BALANCE.join(_PART, c.part_id == _PART.c.id))
        .where(c.quantity > 0, _PART.c.kind != NOT_STOCK)
        .group_by(_PART.c.id, _PART.c.name, _PART.c.kind, _PART.c.unit)
    )
    held = {number: rest for number, *rest in connection.execute(query)}
    into = merged_into(connection)
    mine = {number: number for number in held}
    mine |= {old: last_of(old, into) for old in into if last_of(old, into) in held}
    awake = {mine[part] for part in _moved_last(connection, day) if part in mine}
    last = _last_days(connection, mine, awake, day)
    return tuple(
        Held(name, kind, unit, int(many), int(cost), last[number])
        for number, (name, kind, unit, many, cost) in held.items()
        if number in last and last[number] <= day
    )


def _moved_last(connection: Connection, day: date) -> Iterable[int]:
    """Parts whose newest line moved something after that day; lines before it may have done so too.

    A book in a file finds the newest line of a part in its index at once, which is most of what is asked. A server
    would read all lines of each part for it.
    """
    if connection.dialect.name != "sqlite":
        return ()
    c, other = _LINE.c, _LINE.alias()
    newest = (
        select(func.max(other.c.id))
        .where(other.c.part_id == _PART.c.id, other.c.account == "shelf")
        .correlate(_PART)
        .scalar_subquery()
    )
    query = (
        select(_PART.c.id)
        # a sum, so that nobody begins with the entries
        .select_from(_PART.join(_LINE, c.id == newest).join(_DOCUMENT, c.document_id + 0 == _DOCUMENT.c.id))
        .where(_moves(), _DOCUMENT.c.kind != "load", _DOCUMENT.c.on_date > day)
    )
    return connection.execute(query).scalars()


def _moves() -> ColumnElement[bool]:
    """The condition on a line and its document that something came to the shelf or left it, and stands."""
    c = _LINE.c
    return and_(c.account == "shelf", c.quantity != 0, c.reason.not_in(STILL), standing())


def _last_days(
    connection: Connection, mine: Mapping[int, int], awake: Collection[int], day: date
) -> dict[int, date]:
    """The last day of anything held but what is awake.

    mine: what a part is held as, by the numbers of both; day: that long ago sleeps.

    Entries are gone through backwards, those after `day` first, then twice as many months each time: of most parts
    something moved of late, and what lines of old days say is then never asked.
    """
    last = dict[int, date]()
    looked_for = {part: to for part, to in mine.items() if to not in awake}
    first = connection.execute(select(func.min(_DOCUMENT.c.on_date))).scalar() or day
    until, months = date.max, min(MONTHS)
    while looked_for and until >= first:
        few = _FEW * len(looked_for) <= len(mine)
        since = date.min if few else day
        found = _of_parts(connection, sorted(looked_for)) if few else _between(connection, since, until)
        for part, moved in found:
            if part in looked_for:
                last[mine[part]] = max(moved, last.get(mine[part], moved))
        looked_for = {part: to for part, to in looked_for.items() if last.get(to, date.min) <= since}
        until, day, months = since, months_before(day, months), 2 * months
    return last


def _between(connection: Connection, after: date, until: date) -> Iterable[tuple[int, date]]:
    """The last day of each part that moved by entries of these days: after the one, up to the other."""
    days = and_(_DOCUMENT.c.on_date > after, _DOCUMENT.c.on_date <= until)
    return ((part, on) for part, on in connection.execute(_last_day(_LINE.c.document_id).where(days)))


def _of_parts(connection: Connection, parts: list[int]) -> Iterable[tuple[int, date]]:
    """The last day of each of these parts, whenever it was."""
    for start in range(0, len(parts), _AT_ONCE):
        some = _LINE.c.part_id.in_(parts[start : start + _AT_ONCE])
        # a sum, though nothing is added, is what no index is used for: these lines are found by their parts
        yield from connection.execute(_last_day(_LINE.c.document_id + 0).where(some))


def _last_day(entry: ColumnElement[int]) -> Any:
    """By part the last day of its lines that moved something. entry: the number of a line's document.

    The day of a line is its document's, but of what a load first brought the earlier day its sheet says it came.
    """
    c, on = _LINE.c, _DOCUMENT.c.on_date
    said = (
        select(_LOT.c.received_on)
        .where(_LOT.c.id == c.lot_id, _LOT.c.document_id == c.document_id, _LOT.c.received_on < on)
        .scalar_subquery()
    )
    day = case((_DOCUMENT.c.kind == "load", func.coalesce(said, on)), else_=on)
    return (
        select(c.part_id, func.max(day))
        .select_from(_LINE.join(_DOCUMENT, entry == _DOCUMENT.c.id))
        .where(_moves())
        .group_by(c.part_id)
    )
