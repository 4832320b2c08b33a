"""Suppliers, platings and patterns that are others now, and offers that go over, into their tables.

The row that goes stays in its table, for the past goes by its number; its own name among the old names says that it is
another now (`queries/old_names`).
"""

from __future__ import annotations

import json
from collections.abc import Iterable

from sqlalchemy import Connection, or_, select

from inventory.catalogue import fold
from inventory.errors import StillNeeded
from inventory.ledger.documents.changes import Merged
from inventory.store.commit.changes import Changes
from inventory.store.queries.old_names import NAMED
from inventory.store.schema.core import table

_OFFER, _OLD = table("offer"), table("old_name")
REFERRING = (
    *(("bill_line", "part_id"), ("family", "refill_id"), ("family_tool", "part_id"), ("barrel", "tube_id")),
    *(("piece", "kit_id"), ("piece", "blank_id"), ("piece", "refill_id")),
    *(("customer_order", "blank_id"), ("customer_order", "refill_id")),
)
"""Where things speak of parts; what happened goes on speaking of the part as it was."""
POINTING = {
    "part": REFERRING,
    "supplier": (("offer", "supplier_id"),),
    "plating": (
        ("kit", "plating_id"),
        ("order_plating", "plating_id"),
        ("plating_substitute", "substitute_id"),
    ),
    "pattern": (("customer_order", "pattern_id"), ("bill_line", "taken_id"), ("piece", "pattern_id")),
}
"""Where things speak of them; what happened goes on speaking of what there was."""


def merge_named(connection: Connection, changes: Changes, one: Merged, old: int, new: int) -> None:
    """Whatever speaks of the old one speaks of the new one, and its names find that."""
    if one.what == "supplier":
        merge_offers(connection, changes, "supplier_id", old, new)
    if one.what == "plating":
        _lists(connection, changes, "order_plating", "order_id", "plating_id", old, new)
        _lists(connection, changes, "plating_substitute", "plating_id", "substitute_id", old, new)
    point(connection, changes, POINTING[one.what], old, new)
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


def refuse_what_is_left(connection: Connection, document: int) -> None:
    """Refuse a document that makes others of things again of which there is something meanwhile.

    What came, was offered or wanted of the old one between the undo of a merge and its being brought back has not gone
    over with it. Raises StillNeeded.
    """
    c = table("changed_row").c
    query = select(c.of_table, c.row_key, c.after).where(c.document_id == document, c.after.is_not(None))
    for of, key, after in connection.execute(query.where(c.of_table.in_(("part", "old_name")))).all():
        row, said = json.loads(key), json.loads(after)
        what, number = ("part", row["id"]) if of == "part" else (row["of_table"], None)
        if of == "part" and said.get("into_id") is None:
            continue
        if what in NAMED:  # a row of its own name is what became another
            named = table(what).c
            number = connection.execute(select(named.id).where(named.key == row["key"])).scalar()
        if what in POINTING and number is not None and _is_there(connection, what, number):
            name = connection.execute(select(table(what).c.name).where(table(what).c.id == number)).scalar()
            raise StillNeeded(
                f"It cannot be brought back: there is something of “{name}” again.",
                hint=f'Merge the two again: kitdrawer merge "{name}" into the other one.',
            )


def _is_there(connection: Connection, what: str, number: int) -> bool:
    """Whether anything speaks of it, is on the shelf, promised or due."""
    queries = [
        select(table(of).c[column]).where(table(of).c[column] == number) for of, column in POINTING[what]
    ]
    if what == "part":
        there = table("part_balance").c
        amounts = (there.on_hand, there.claimed, there.due_in, there.due_claimed, there.to_buy)
        queries.append(
            select(there.part_id).where(there.part_id == number, or_(*(one != 0 for one in amounts)))
        )
        queries.append(select(_OFFER.c.id).where(_OFFER.c.part_id == number))
    if what == "supplier":
        due, bought = table("due_balance").c, table("purchase")
        mine = select(bought.c.id).where(bought.c.supplier_id == number)
        queries.append(select(due.purchase_id).where(due.quantity != 0, due.purchase_id.in_(mine)))
    return any(connection.execute(query.limit(1)).first() is not None for query in queries)
