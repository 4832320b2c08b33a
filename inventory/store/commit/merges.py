"""Suppliers, platings and patterns that are others now, and offers that go over, into their tables.

The row that goes stays in its table, for the past goes by its number; its own name among the old names says that it is
another now (`queries/old_names`).
"""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Connection, select

from inventory.catalogue import fold
from inventory.ledger.documents.changes import Merged
from inventory.store.commit.changes import Changes
from inventory.store.schema.core import table

_OFFER, _OLD = table("offer"), table("old_name")
POINTING = {
    "supplier": (),
    "plating": (("kit", "plating_id"),),
    "pattern": (("customer_order", "pattern_id"), ("bill_line", "taken_id"), ("piece", "pattern_id")),
}
"""Where things speak of them; what happened goes on speaking of what there was."""


def merge_named(connection: Connection, changes: Changes, one: Merged, old: int, new: int) -> None:
    """Whatever speaks of the old one speaks of the new one, and its names find that."""
    point(connection, changes, POINTING[one.what], old, new)
    if one.what == "supplier":
        merge_offers(connection, changes, "supplier_id", old, new)
    elif one.what == "plating":
        _lists(connection, changes, "order_plating", "order_id", "plating_id", old, new)
        _lists(connection, changes, "plating_substitute", "plating_id", "substitute_id", old, new)
    earlier = select(_OLD.c.key).where(_OLD.c.of_table == one.what, _OLD.c.number == old)
    for key in connection.execute(earlier).scalars().all():
        changes.put("old_name", {"of_table": one.what, "key": key}, {"number": new})
    changes.put("old_name", {"of_table": one.what, "key": fold(one.old)}, {"name": one.old, "number": new})


def point(
    connection: Connection, changes: Changes, columns: Iterable[tuple[str, str]], old: int, new: int
) -> None:
    """Make rows of these tables speak of the new one where they spoke of the old one."""
    for of, column in columns:
        there = table(of)
        keys = list(there.primary_key)
        for key in connection.execute(select(*keys).where(there.c[column] == old)).all():
            named = {one.name: value for one, value in zip(keys, key, strict=True)}
            changes.put(of, named, {column: new})


def _lists(
    connection: Connection, changes: Changes, of: str, owner: str, column: str, old: int, new: int
) -> None:
    """Lists in which the old one stands have the new one there, once; nothing stands in for itself."""
    there = table(of).c
    owners = select(there[owner]).where(there[column] == old).distinct()
    for number in connection.execute(owners).scalars().all():
        query = select(there[column]).where(there[owner] == number).order_by(there.position)
        said = [new if one == old else one for one in connection.execute(query).scalars()]
        kept = [one for one in dict.fromkeys(said) if owner != "plating_id" or one != number]
        changes.put_list(of, {owner: number}, [{column: one} for one in kept])


def merge_offers(connection: Connection, changes: Changes, column: str, old: int, new: int) -> None:
    """Offers go over; where the new one has the very same already, that one stays and the other goes."""
    c, steps = _OFFER.c, table("price_step")
    other = c.supplier_id if column == "part_id" else c.part_id
    query = select(c.id, other, c.pack, c.code)
    there = {tuple(same) for _, *same in connection.execute(query.where(c[column] == new))}
    for number, *same in connection.execute(query.where(c[column] == old)).all():
        if tuple(same) not in there:
            changes.put("offer", {"id": number}, {column: new})
            continue
        packs = select(steps.c.from_packs).where(steps.c.offer_id == number)
        for many in connection.execute(packs).scalars().all():
            changes.put("price_step", {"offer_id": number, "from_packs": many}, None)
        changes.put("offer", {"id": number}, None)
