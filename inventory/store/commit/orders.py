"""Orders into their tables."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sqlalchemy import Connection

from inventory.catalogue import Order, fold
from inventory.errors import Refused
from inventory.store.commit.changes import Changes
from inventory.store.mapping.mapper import put_lists
from inventory.store.mapping.names import Names
from inventory.store.mapping.shapes import ORDER
from inventory.store.queries.book import orders


def put_orders(connection: Connection, incoming: Iterable[Order], names: Names) -> None:
    """Note requests, or replace them; what is promised stays as it was agreed. Raises Refused where it would not."""
    requests = {fold(one.name): one for one in incoming}
    if not requests:
        return
    there = orders(connection)
    open_requests = {
        key: one for key, one in requests.items() if key not in there or _may_change(there[key], one)
    }
    known = {key: ORDER.row(one, names) for key, one in open_requests.items() if key in there}
    for row in known.values():
        del row["state"]  # which follows from the documents
    names["customer_order"].put(connection, known)
    fresh = {
        key: ORDER.row(one, names, state="wish") for key, one in open_requests.items() if key not in there
    }
    names["customer_order"].put(connection, fresh)
    platings = {
        names["customer_order"].of(key): [
            {"plating_id": names["plating"].of(plating)} for plating in one.platings
        ]
        for key, one in open_requests.items()
    }
    put_lists(connection, "order_plating", "order_id", platings)


def put_agreed(changes: Changes, agreed: Iterable[Order], names: Names) -> None:
    """Orders as they are from now on, in a way that can be put back."""
    for order in agreed:
        number = names["customer_order"].of(order.name)
        row = ORDER.row(replace(order, count=order.whole), names)
        del row["state"], row["name"]  # neither is agreed
        changes.put("customer_order", {"id": number}, row)
        platings = [{"plating_id": names["plating"].of(plating)} for plating in order.platings]
        changes.put_list("order_plating", {"order_id": number}, platings)


def _may_change(there: Order, wanted: Order) -> bool:
    if there.state in ("wish", "released"):
        return True
    if not _same(there, wanted):
        raise Refused(
            f"The order “{there.name}” is {there.state} and stays as it was agreed.",
            hint="Change it by `kitdrawer change`, or note what is wanted as another order.",
        )
    return False


def _same(one: Order, other: Order) -> bool:
    def plain(order: Order) -> Order:
        return replace(
            order,
            name=fold(order.name),
            pattern=fold(order.pattern),
            blank="" if order.blanks else fold(order.blank),
            blanks=fold(order.blanks),
            platings=tuple(fold(plating) for plating in order.platings),
            refill=None if order.refill is None else fold(order.refill),
            state="wish",
            count=order.whole,
            handed=0,
        )

    return plain(one) == plain(other)
