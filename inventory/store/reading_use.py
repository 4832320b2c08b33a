"""What was used, made and counted, out of the movements of a stretch of time."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date

from sqlalchemy import Connection, func, select

from inventory.catalogue import fold
from inventory.store.plain import table

_DOCUMENT, _LINE, _PART = table("document"), table("movement"), table("part")
_ORDER, _STEP, _DOUBT = table("wish"), table("wish_step"), table("doubt")
_LATER = _DOCUMENT.alias("later")
_NAMED_AT_ONCE = 5_000  # databases take no more values than some tens of thousands in one query
USED = ("used", "lost", "weighed")
"""Words of lines by which something was used up: in good pieces, in lost ones, and beside what the bills say."""


def used_since(connection: Connection, day: date) -> Mapping[str, int]:
    """Thousandths used up of each part from that day on, by folded name; what was taken back does not count."""
    total = func.sum(-_LINE.c.quantity)
    first = select(func.min(_DOCUMENT.c.id)).where(_DOCUMENT.c.on_date >= day).scalar_subquery()
    query = (
        select(_PART.c.key, total)
        .select_from(_LINE.join(_DOCUMENT, _LINE.c.document_id == _DOCUMENT.c.id).join(_PART))
        # numbers of lines' documents have an index, days have none: what lies before is never looked at
        .where(_LINE.c.document_id >= first, _DOCUMENT.c.on_date >= day)
        .where(_LINE.c.account == "shelf", _LINE.c.reason.in_(USED))
        .group_by(_PART.c.key)
        .having(total > 0)
    )
    return {key: int(quantity) for key, quantity in connection.execute(query)}


def first_use(connection: Connection, since: date) -> date | None:
    """The day of the first line that used anything, or `since` where one is older; None where nothing was used yet."""
    used = _LINE.c.account == "shelf", _LINE.c.reason.in_(USED)
    both = _LINE.join(_DOCUMENT, _LINE.c.document_id == _DOCUMENT.c.id)
    before = select(_LINE.c.id).select_from(both).where(*used, _DOCUMENT.c.on_date < since).limit(1)
    if connection.execute(before).first() is not None:  # found at once in a long book: no need to read it all
        return since
    found: date | None = connection.execute(
        select(func.min(_DOCUMENT.c.on_date)).select_from(both).where(*used)
    ).scalar()
    return found


def handed_over(connection: Connection) -> tuple[tuple[str, date], ...]:
    """Orders that are handed over, with the day, oldest first."""
    query = (
        select(_ORDER.c.name, func.max(_DOCUMENT.c.on_date))
        .select_from(_STEP.join(_ORDER).join(_DOCUMENT, _STEP.c.document_id == _DOCUMENT.c.id))
        .where(_ORDER.c.state == "handed over", _STEP.c.state == "handed over")
        .group_by(_ORDER.c.id, _ORDER.c.name)
        .order_by(func.max(_DOCUMENT.c.on_date), _ORDER.c.id)
    )
    return tuple((name, day) for name, day in connection.execute(query))


def counted(connection: Connection) -> Mapping[str, tuple[int, date]]:
    """The newest document that counted each part and stands, with its day, by folded name."""
    query = (
        select(_PART.c.key, _DOCUMENT.c.id, _DOCUMENT.c.on_date)
        .select_from(
            _DOUBT.join(_DOCUMENT).join(_PART).outerjoin(_LATER, _LATER.c.reverses == _DOCUMENT.c.id)
        )
        .where(_DOUBT.c.doubtful.is_(False), _LATER.c.id.is_(None), _DOCUMENT.c.turn % 2 == 0)
        .order_by(_DOCUMENT.c.id)
    )
    return {key: (document, day) for key, document, day in connection.execute(query)}


def moved_since(
    connection: Connection, version: int, parts: Collection[str] | None = None
) -> Mapping[str, tuple[int, tuple[int, ...]]]:
    """What the documents after that version of the book did to the shelf, by folded name of the parts that changed.

    Thousandths in all, and the documents that did it and were not taken back. parts: folded names to look for
    (a few thousand at most, else all are looked at); None: all.
    """
    query = (
        select(_PART.c.key, _DOCUMENT.c.id, _LATER.c.id, func.sum(_LINE.c.quantity))
        .select_from(
            _LINE.join(_DOCUMENT, _LINE.c.document_id == _DOCUMENT.c.id)
            .join(_PART, _LINE.c.part_id == _PART.c.id)
            .outerjoin(_LATER, _LATER.c.reverses == _DOCUMENT.c.id)
        )
        .where(_LINE.c.document_id > version, _LINE.c.account == "shelf")
        .group_by(_PART.c.key, _DOCUMENT.c.id, _LATER.c.id)
        .order_by(_DOCUMENT.c.id)
    )
    if parts is not None and len(parts) <= _NAMED_AT_ONCE:
        query = query.where(_PART.c.key.in_(list(parts)))
    sums: dict[str, int] = {}
    documents: dict[str, tuple[int, ...]] = {}
    for key, document, undone_by, quantity in connection.execute(query):
        sums[key] = sums.get(key, 0) + int(quantity)
        if undone_by is None:
            documents[key] = (*documents.get(key, ()), document)
    return {key: (quantity, documents.get(key, ())) for key, quantity in sums.items() if quantity}


def most_at_once(connection: Connection, parts: Collection[str]) -> Mapping[str, int]:
    """The largest line that brought something of each part, thousandths by folded name; what was undone left out."""
    query = (
        select(_PART.c.key, func.max(_LINE.c.quantity))
        .select_from(
            _LINE.join(_PART)
            .join(_DOCUMENT, _LINE.c.document_id == _DOCUMENT.c.id)
            .outerjoin(_LATER, _LATER.c.reverses == _DOCUMENT.c.id)
        )
        .where(_LINE.c.account == "shelf", _LINE.c.quantity > 0, _DOCUMENT.c.turn == 0, _LATER.c.id.is_(None))
        .group_by(_PART.c.key)
    )
    named = sorted({fold(part) for part in parts})
    found: dict[str, int] = {}
    for start in range(0, len(named), _NAMED_AT_ONCE):
        some = query.where(_PART.c.key.in_(named[start : start + _NAMED_AT_ONCE]))
        found.update((key, int(most)) for key, most in connection.execute(some))
    return found
