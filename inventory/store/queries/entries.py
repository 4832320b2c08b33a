"""What was booked, with what it speaks of. What is read grows with what is shown, not with the book's past."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from sqlalchemy import ColumnElement, Connection, Select, func, or_, select, union

from inventory.catalogue import fold
from inventory.errors import UnknownName
from inventory.ledger.documents.booked import Document, Entry
from inventory.store.queries.documents import document, heads
from inventory.store.queries.standing import Chains
from inventory.store.schema.core import table

_DOCUMENT, _LINE, _PART = table("document"), table("movement"), table("part")
_ORDER, _STEP, _DOUBT = table("wish"), table("wish_step"), table("doubt")
_AT_ONCE = 5_000


def entries(connection: Connection, *, last: int | None, since: date | None, about: str) -> tuple[Entry, ...]:
    """Documents with their parts and orders, newest first: the `last` so many, from a day on, of one part or order.

    Raises UnknownName where nothing is called `about`.
    """
    query = heads().order_by(_DOCUMENT.c.id.desc()).limit(last)
    if since is not None:
        query = query.where(_DOCUMENT.c.on_date >= since)
    if about:
        query = query.where(_about(connection, about))
    found = tuple(map(document, connection.execute(query)))
    numbers = [one.id for one in found]
    parts = _named(connection, numbers, _PART.c.name, _LINE.join(_PART), _LINE)
    orders = _named(connection, numbers, _ORDER.c.name, _LINE.join(_ORDER), _LINE)
    for number, names in _named(connection, numbers, _ORDER.c.name, _STEP.join(_ORDER), _STEP).items():
        orders[number] = list(dict.fromkeys([*names, *orders.get(number, ())]))
    chains = Chains(connection)
    return tuple(
        Entry(one, tuple(parts.get(one.id, ())), tuple(orders.get(one.id, ())), _undone_by(one, chains))
        for one in found
    )


def _undone_by(one: Document, chains: Chains) -> int | None:
    """What took it back last, where it does not stand."""
    if one.undoes is not None:
        return one.undone_by
    return None if chains.stands(one.id) else chains.tip(one.id)


def _about(connection: Connection, name: str) -> ColumnElement[bool]:
    part = connection.execute(select(_PART.c.id).where(_PART.c.key == fold(name))).scalar()
    order = connection.execute(select(_ORDER.c.id).where(_ORDER.c.key == fold(name))).scalar()
    if part is None and order is None:
        known = connection.execute(union(select(_PART.c.name), select(_ORDER.c.name)))
        raise UnknownName("part or order", name, known.scalars())
    either: list[Select[Any]] = []
    if part is not None:
        either.append(select(_LINE.c.document_id).where(_LINE.c.part_id == part))
        either.append(select(_DOUBT.c.document_id).where(_DOUBT.c.part_id == part))
    if order is not None:
        steps = select(_STEP.c.document_id).where(_STEP.c.wish_id == order)
        # lines have no index by order; none is older than the first word about it
        first = select(func.min(_STEP.c.document_id)).where(_STEP.c.wish_id == order).scalar_subquery()
        lines = select(_LINE.c.document_id).where(_LINE.c.wish_id == order, _LINE.c.document_id >= first)
        either += [steps, lines]
    return or_(*(_DOCUMENT.c.id.in_(one) for one in either))


def _named(
    connection: Connection, numbers: Sequence[int], name: Any, source: Any, of: Any
) -> dict[int, list[str]]:
    """The names each of these documents speaks of, in the order of its lines."""
    found: dict[int, list[str]] = {}
    first = func.min(of.c.id if "id" in of.c else of.c.wish_id)
    query = (
        select(of.c.document_id, name).select_from(source).group_by(of.c.document_id, name).order_by(first)
    )
    for start in range(0, len(numbers), _AT_ONCE):
        rows = connection.execute(query.where(of.c.document_id.in_(numbers[start : start + _AT_ONCE])))
        for number, one in rows:
            found.setdefault(number, []).append(one)
    return found
