"""What was booked, with what it speaks of. What is read grows with what is shown, not with the book's past."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from sqlalchemy import ColumnElement, Connection, Select, Table, func, or_, select, union

from inventory.catalogue import fold
from inventory.errors import UnknownName
from inventory.ledger.documents.booked import Document, Entry
from inventory.store.queries.documents import document, heads
from inventory.store.queries.old_names import number_of_old, part_numbers
from inventory.store.queries.standing import Chains
from inventory.store.schema.core import table

_DOCUMENT, _LINE, _PART = table("document"), table("movement"), table("part")
_ORDER, _STEP, _DOUBT = table("customer_order"), table("order_step"), table("doubt")
_CHANGED, _PAYMENT, _EXPENSE = table("changed_row"), table("payment"), table("expense")
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
    _more(orders, _named(connection, numbers, _ORDER.c.name, _STEP.join(_ORDER), _STEP))
    _more(orders, _named(connection, numbers, _ORDER.c.name, _PAYMENT.join(_ORDER), _PAYMENT))
    _more(orders, _named(connection, numbers, _ORDER.c.name, _EXPENSE.join(_ORDER), _EXPENSE))
    _more(orders, _changed_names(connection, numbers, _ORDER))
    _more(parts, _changed_names(connection, numbers, _PART))
    chains = Chains(connection)
    return tuple(
        Entry(one, tuple(parts.get(one.id, ())), tuple(orders.get(one.id, ())), _undone_by(one, chains))
        for one in found
    )


def _more(known: dict[int, list[str]], more: Mapping[int, Sequence[str]]) -> None:
    """What else a document speaks of, before what was known."""
    for number, names in more.items():
        known[number] = list(dict.fromkeys([*names, *known.get(number, ())]))


def _undone_by(one: Document, chains: Chains) -> int | None:
    """What took it back last, where it does not stand."""
    if one.undoes is not None:
        return one.undone_by
    return None if chains.stands(one.id) else chains.tip(one.id)


def _about(connection: Connection, name: str) -> ColumnElement[bool]:
    parts = part_numbers(connection, name)
    order = connection.execute(select(_ORDER.c.id).where(_ORDER.c.key == fold(name))).scalar()
    order = order or number_of_old(connection, "customer_order", name)
    if not parts and order is None:
        known = connection.execute(union(select(_PART.c.name), select(_ORDER.c.name)))
        raise UnknownName("part or order", name, known.scalars())
    either: list[Select[Any]] = []
    if parts:
        either.append(select(_LINE.c.document_id).where(_LINE.c.part_id.in_(parts)))
        either.append(select(_DOUBT.c.document_id).where(_DOUBT.c.part_id.in_(parts)))
        either.append(_changed("part", parts))
    if order is not None:
        steps = select(_STEP.c.document_id).where(_STEP.c.order_id == order)
        # lines have no index by order; none is older than the first word about it
        first = select(func.min(_STEP.c.document_id)).where(_STEP.c.order_id == order).scalar_subquery()
        lines = select(_LINE.c.document_id).where(_LINE.c.order_id == order, _LINE.c.document_id >= first)
        payments = select(_PAYMENT.c.document_id).where(_PAYMENT.c.order_id == order)
        spent = select(_EXPENSE.c.document_id).where(_EXPENSE.c.order_id == order)
        either += [steps, lines, payments, spent, _changed("customer_order", (order,))]
    return or_(*(_DOCUMENT.c.id.in_(one) for one in either))


def _changed(of: str, numbers: Iterable[int]) -> Select[Any]:
    """Documents that changed what such things are."""
    keys = [json.dumps({"id": number}) for number in numbers]
    return select(_CHANGED.c.document_id).where(_CHANGED.c.of_table == of, _CHANGED.c.row_key.in_(keys))


def _changed_names(connection: Connection, numbers: Sequence[int], of: Table) -> dict[int, list[str]]:
    """The names of the things of a table each of these documents changed."""
    c, found = _CHANGED.c, dict[int, list[str]]()
    query = select(c.document_id, c.row_key).where(c.of_table == of.name).order_by(c.position)
    rows = connection.execute(query.where(c.document_id.in_(numbers))).all()
    keys = {key: json.loads(key)["id"] for _, key in rows}
    names = select(of.c.id, of.c.name).where(of.c.id.in_(sorted(set(keys.values()))))
    called = dict(tuple(row) for row in connection.execute(names)) if keys else {}
    for number, key in rows:
        found.setdefault(number, []).append(called[keys[key]])
    return found


def _named(
    connection: Connection, numbers: Sequence[int], name: Any, source: Any, of: Any
) -> dict[int, list[str]]:
    """The names each of these documents speaks of, in the order of its lines."""
    found: dict[int, list[str]] = {}
    first = func.min(of.c.id if "id" in of.c else of.c.order_id)
    query = (
        select(of.c.document_id, name).select_from(source).group_by(of.c.document_id, name).order_by(first)
    )
    for start in range(0, len(numbers), _AT_ONCE):
        rows = connection.execute(query.where(of.c.document_id.in_(numbers[start : start + _AT_ONCE])))
        for number, one in rows:
            found.setdefault(number, []).append(one)
    return found
