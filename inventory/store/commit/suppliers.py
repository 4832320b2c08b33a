"""Suppliers, offers and orders into their tables."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sqlalchemy import Connection, select

from inventory.catalogue import Catalogue, Order, fold
from inventory.errors import Refused
from inventory.store.mapping import codecs
from inventory.store.mapping.bulk import Values, drop, put
from inventory.store.mapping.names import Names, next_number
from inventory.store.queries.book import orders
from inventory.store.schema.core import table

_OFFER, _STEP, _ACCEPTED = table("offer"), table("price_step"), table("wish_plating")
_SUPPLIER_FIELDS = ("lead_days", "postage", "free_from", "minimum_order", "currency", "email", "note")


def put_suppliers(connection: Connection, incoming: Catalogue, names: Names) -> None:
    """Add or replace suppliers."""
    if incoming.suppliers:
        rows: dict[str, Values] = {
            fold(one.name): {"name": one.name, **{field: getattr(one, field) for field in _SUPPLIER_FIELDS}}
            for one in incoming.suppliers.values()
        }
        names.supplier.put(connection, rows)


def put_offers(connection: Connection, incoming: Catalogue, names: Names) -> None:
    """Add or replace offers: the same part, supplier, pack and code is the same offer, its steps replaced."""
    offers = {
        (names.part.of(one.part), names.supplier.of(one.supplier), one.pack, one.code): one
        for several in incoming.offers.values()
        for one in several
    }
    if not offers:
        return
    c = _OFFER.c
    rows = connection.execute(select(c.part_id, c.supplier_id, c.pack, c.code, c.id))
    known = {(part, supplier, pack, code): number for part, supplier, pack, code, number in rows}
    fresh = iter(range(next_number(connection, _OFFER), 2**31))
    numbers = {key: known[key] if key in known else next(fresh) for key in offers}
    drop(connection, _STEP, "offer_id", numbers.values())
    drop(connection, _OFFER, "id", (numbers[key] for key in offers if key in known))
    put(
        connection,
        _OFFER,
        [
            {
                "id": numbers[key],
                "part_id": key[0],
                "supplier_id": key[1],
                "pack": one.pack,
                "code": one.code,
                "price_group": one.price_group,
                "seen_on": one.seen_on,
                "at_most": one.at_most,
            }
            for key, one in offers.items()
        ],
    )
    steps = [
        {"offer_id": numbers[key], "from_packs": step.from_packs, "price": step.price}
        for key, one in offers.items()
        for step in one.steps
    ]
    put(connection, _STEP, steps)


def put_orders(connection: Connection, incoming: Iterable[Order], names: Names) -> None:
    """Note wishes, or replace them; what is promised stays as it was agreed. Raises Refused where it would not."""
    wishes = {fold(one.name): one for one in incoming}
    if not wishes:
        return
    there = orders(connection)
    open_wishes = {
        key: one for key, one in wishes.items() if key not in there or _may_change(there[key], one)
    }
    names.order.put(connection, {key: _order(one, names) for key, one in open_wishes.items() if key in there})
    fresh = {
        key: {**_order(one, names), "state": "wish"} for key, one in open_wishes.items() if key not in there
    }
    names.order.put(connection, fresh)
    numbers = {key: names.order.of(key) for key in open_wishes}
    drop(connection, _ACCEPTED, "wish_id", numbers.values())
    accepted = [
        {"wish_id": numbers[key], "position": position, "plating_id": names.plating.of(plating)}
        for key, one in open_wishes.items()
        for position, plating in enumerate(one.platings)
    ]
    put(connection, _ACCEPTED, accepted)


def _may_change(there: Order, wanted: Order) -> bool:
    if there.state in ("wish", "released"):
        return True
    if not _same(there, wanted):
        raise Refused(
            f"The order “{there.name}” is {there.state} and stays as it was agreed.",
            hint="Release it first, or note the change as another order.",
        )
    return False


def _same(one: Order, other: Order) -> bool:
    def plain(order: Order) -> Order:
        return replace(
            order,
            name=fold(order.name),
            pattern=fold(order.pattern),
            blank=fold(order.blank),
            platings=tuple(fold(plating) for plating in order.platings),
            refill=None if order.refill is None else fold(order.refill),
            state="wish",
            count=order.whole,
            handed=0,
        )

    return plain(one) == plain(other)


def _order(one: Order, names: Names) -> Values:
    return {
        "name": one.name,
        "pattern_id": names.pattern.of(one.pattern),
        "blank_id": names.part.of(one.blank),
        "count": one.count,
        "due": one.due,
        "customer": one.customer,
        "refill_id": names.part.maybe(one.refill),
        "extra_diameter": codecs.written(one.extra_diameter),
        "price": one.price,
    }
