"""A catalogue into its tables: what is named is added or replaced, everything else is left as it is.

Bill lines of a pattern, barrels of a family and steps of an offer are replaced as a whole.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import Connection, exists, select

from inventory.catalogue import ROLES, BillLine, Catalogue, Family, Offer, Part, fold
from inventory.errors import Refused
from inventory.store.mapping.bulk import Values, change, drop, put
from inventory.store.mapping.mapper import Shape, put_lists
from inventory.store.mapping.names import Names, next_number
from inventory.store.mapping.shapes import (
    BARREL,
    BILL_LINE,
    DETAILS,
    FAMILY,
    MATERIAL,
    OFFER,
    PART,
    PATTERN,
    PLATING,
    PRICE_STEP,
    SUPPLIER,
)
from inventory.store.schema.core import table

_PART, _TOTAL, _LINE = table("part"), table("part_balance"), table("movement")


def merge(connection: Connection, incoming: Catalogue, names: Names) -> None:
    """Add or replace everything `incoming` names. Raises UnknownName or Refused; the caller rolls back."""
    _put_platings(connection, incoming, names)
    _put_materials(connection, incoming, names)
    known = _put_parts(connection, incoming, names)
    _put_families(connection, incoming, names)
    _put_details(connection, incoming.parts.values(), known, names)
    _put_patterns(connection, incoming, names)
    _put_named(connection, SUPPLIER, incoming.suppliers, names)
    _put_offers(connection, [one for several in incoming.offers.values() for one in several], names)


def _put_named(
    connection: Connection, shape: Shape[Any], incoming: Mapping[str, Any], names: Names
) -> dict[int, Any]:
    """Add or replace named things; each by its number."""
    things = {fold(one.name): one for one in incoming.values()}
    if not things:
        return {}
    numbers = names[shape.table.name]
    numbers.put(connection, {key: shape.row(one, names) for key, one in things.items()})
    return {numbers.known[key]: one for key, one in things.items()}


def _put_platings(connection: Connection, incoming: Catalogue, names: Names) -> None:
    platings = _put_named(connection, PLATING, incoming.platings, names)
    substitutes = {
        number: [{"substitute_id": names["plating"].of(other)} for other in one.substitutes]
        for number, one in platings.items()
    }
    put_lists(connection, "plating_substitute", "plating_id", substitutes)


def _put_materials(connection: Connection, incoming: Catalogue, names: Names) -> None:
    materials = _put_named(connection, MATERIAL, incoming.materials, names)
    losses = {
        number: [{"stage": stage, "share": str(share)} for stage, share in one.losses.items()]
        for number, one in materials.items()
    }
    put_lists(connection, "material_loss", "material_id", losses)


def _put_parts(connection: Connection, incoming: Catalogue, names: Names) -> set[int]:
    """The numbers of those that were there already."""
    if not incoming.parts:
        return set()
    parts = {fold(one.name): one for one in incoming.parts.values()}
    _refuse_other_units(connection, parts)
    new = [key for key in parts if key not in names["part"].known]
    names["part"].put(connection, {key: PART.row(one, names, kind=one.kind) for key, one in parts.items()})
    numbers = names["part"].known
    put(connection, _TOTAL, [_zeros(numbers[key]) for key in new])
    return {numbers[key] for key in parts}.difference(numbers[key] for key in new)


def _zeros(part: int) -> Values:
    totals = dict.fromkeys(("on_hand", "claimed", "due_in", "due_claimed", "to_buy"), 0)
    return {"part_id": part, **totals, "to_count": False}


def _refuse_other_units(connection: Connection, parts: dict[str, Part]) -> None:
    booked = exists(select(_LINE.c.id).where(_LINE.c.part_id == _PART.c.id))
    for key, name, unit in connection.execute(select(_PART.c.key, _PART.c.name, _PART.c.unit).where(booked)):
        if key in parts and parts[key].unit != unit:
            raise Refused(
                f"“{name}” is counted in {unit} in the book; the sheet says {parts[key].unit}.",
                hint="A part keeps its unit once something is booked: give the other unit another name.",
            )


def _put_details(connection: Connection, parts: Iterable[Part], known: Iterable[int], names: Names) -> None:
    rows: dict[str, list[Values]] = {kind: [] for kind in DETAILS}
    for number, part in {names["part"].of(part.name): part for part in parts}.items():
        rows[part.kind].append(DETAILS[part.kind].row(part.detail, names, part_id=number))
    for kind, detail in DETAILS.items():
        drop(connection, detail.table, "part_id", known)  # a part may have moved from one tab to another
        put(connection, detail.table, rows[kind])


def _put_families(connection: Connection, incoming: Catalogue, names: Names) -> None:
    families = _put_named(connection, FAMILY, incoming.families, names)
    barrels = {n: [BARREL.row(barrel, names) for barrel in one.barrels] for n, one in families.items()}
    put_lists(connection, "barrel", "family_id", barrels)
    tools = {n: _tools(one, names) for n, one in families.items()}
    put_lists(connection, "family_tool", "family_id", tools)


def _tools(of: Family, names: Names) -> list[Values]:
    return [
        {"duty": duty, "position": position, "part_id": names["part"].of(tool)}
        for duty, tools in (("bushings", of.bushings), ("trimmer pilot", of.trimmer_pilots))
        for position, tool in enumerate(tools)
    ]


def _put_patterns(connection: Connection, incoming: Catalogue, names: Names) -> None:
    patterns = _put_named(connection, PATTERN, incoming.patterns, names)
    bills = {
        n: [BILL_LINE.row(line, names, **_named(line, names)) for line in one.bill]
        for n, one in patterns.items()
    }
    put_lists(connection, "bill_line", "pattern_id", bills)


def _named(line: BillLine, names: Names) -> Values:
    """A line names a role, else a part, else another pattern; the nearest part is offered where it is neither."""
    key = fold(line.part)
    role = key if key in ROLES else None
    part = None if role else names["part"].known.get(key)
    taken = None if role or part else names["pattern"].known.get(key)
    if role is None and part is None and taken is None:
        names["part"].of(line.part)
    return {"role": role, "part_id": part, "taken_id": taken}


def _put_offers(connection: Connection, incoming: Iterable[Offer], names: Names) -> None:
    """The same part, supplier, pack and code is the same offer; its steps are replaced."""
    offers = {
        (names["part"].of(one.part), names["supplier"].of(one.supplier), one.pack, one.code): one
        for one in incoming
    }
    if not offers:
        return
    c = OFFER.table.c
    known = {
        tuple(key): number
        for number, *key in connection.execute(select(c.id, c.part_id, c.supplier_id, c.pack, c.code))
    }
    fresh = iter(range(next_number(connection, OFFER.table), 2**31))
    numbers = {key: known[key] if key in known else next(fresh) for key in offers}
    rows = {
        key: OFFER.row(one, names, id=numbers[key], part_id=key[0], supplier_id=key[1])
        for key, one in offers.items()
    }
    change(connection, OFFER.table, "id", [row for key, row in rows.items() if key in known])
    put(connection, OFFER.table, [row for key, row in rows.items() if key not in known])
    steps = {numbers[key]: [PRICE_STEP.row(step, names) for step in one.steps] for key, one in offers.items()}
    put_lists(connection, "price_step", "offer_id", steps)
