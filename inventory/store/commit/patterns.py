"""Families with their barrels and tools, patterns with their bills, into their tables."""

from __future__ import annotations

from sqlalchemy import Connection

from inventory.catalogue import ROLES, BillLine, Catalogue, Family, fold
from inventory.store.mapping import codecs
from inventory.store.mapping.bulk import Values, drop, put
from inventory.store.mapping.names import Names
from inventory.store.schema.core import table

_DUTY, _BARREL, _BILL = table("family_tool"), table("barrel"), table("bill_line")


def put_families(connection: Connection, incoming: Catalogue, names: Names) -> None:
    """Add or replace families; barrels and tools of a named family are replaced as a whole."""
    if not incoming.families:
        return
    families = {fold(one.name): one for one in incoming.families.values()}
    rows: dict[str, Values] = {
        key: {
            "name": one.name,
            "makes": one.makes,
            "refill_id": names.part.maybe(one.refill),
            "note": one.note,
        }
        for key, one in families.items()
    }
    names.family.put(connection, rows)
    numbers = {key: names.family.of(key) for key in families}
    drop(connection, _BARREL, "family_id", numbers.values())
    drop(connection, _DUTY, "family_id", numbers.values())
    put(
        connection,
        _BARREL,
        [row for key, one in families.items() for row in _barrels(numbers[key], one, names)],
    )
    put(connection, _DUTY, [row for key, one in families.items() for row in _tools(numbers[key], one, names)])


def _barrels(family: int, of: Family, names: Names) -> list[Values]:
    return [
        {
            "family_id": family,
            "position": position,
            "name": barrel.name,
            "tube_id": names.part.maybe(barrel.tube),
            "drill": codecs.designation(barrel.drill),
            "finished_a": codecs.written(barrel.finished_a),
            "finished_b": codecs.written(barrel.finished_b),
            "length": codecs.written(barrel.length),
        }
        for position, barrel in enumerate(of.barrels)
    ]


def _tools(family: int, of: Family, names: Names) -> list[Values]:
    return [
        {"family_id": family, "duty": duty, "position": position, "part_id": names.part.of(tool)}
        for duty, tools in (("bushings", of.bushings), ("trimmer pilot", of.trimmer_pilots))
        for position, tool in enumerate(tools)
    ]


def put_patterns(connection: Connection, incoming: Catalogue, names: Names) -> None:
    """Add or replace patterns; the bill of a named pattern is replaced as a whole."""
    if not incoming.patterns:
        return
    patterns = {fold(one.name): one for one in incoming.patterns.values()}
    rows: dict[str, Values] = {
        key: {
            "name": one.name,
            "family_id": names.family.of(one.family),
            "note": one.note,
            "minutes": one.minutes,
        }
        for key, one in patterns.items()
    }
    names.pattern.put(connection, rows)
    drop(connection, _BILL, "pattern_id", (names.pattern.of(key) for key in patterns))
    bill = [
        {"pattern_id": names.pattern.of(key), "position": position, **_bill_line(line, names)}
        for key, one in patterns.items()
        for position, line in enumerate(one.bill)
    ]
    put(connection, _BILL, bill)


def _bill_line(line: BillLine, names: Names) -> Values:
    """A line names a role, else a part, else another pattern; the nearest part is offered where it is neither."""
    key = fold(line.part)
    role = key if key in ROLES else None
    part = None if role else names.part.known.get(key)
    taken = None if role or part else names.pattern.known.get(key)
    if role is None and part is None and taken is None:
        names.part.of(line.part)
    return {
        "stage": line.stage,
        "role": role,
        "part_id": part,
        "taken_id": taken,
        "quantity": line.quantity,
        "per": line.per,
    }
