"""Families with their barrels and tools, patterns with their bills, out of their tables."""

from __future__ import annotations

from collections import defaultdict

from sqlalchemy import Connection, func, select

from inventory.catalogue import Barrel, BillLine, Family, Pattern
from inventory.store.mapping import codecs
from inventory.store.mapping.selecting import rows
from inventory.store.schema.core import table

_PART, _FAMILY, _DUTY, _BARREL = table("part"), table("family"), table("family_tool"), table("barrel")
_PATTERN, _BILL = table("pattern"), table("bill_line")


def families(connection: Connection) -> dict[str, Family]:
    """Every family by folded name."""
    barrels, tools = _barrels(connection), _tools(connection)
    query = (
        select(_FAMILY.c.id, _FAMILY.c.key, _FAMILY.c.name, _FAMILY.c.makes, _PART.c.name, _FAMILY.c.note)
        .select_from(_FAMILY.outerjoin(_PART, _FAMILY.c.refill_id == _PART.c.id))
        .order_by(_FAMILY.c.id)
    )
    return {
        key: Family(
            name,
            makes,
            refill,
            tuple(tools[number, "bushings"]),
            tuple(tools[number, "trimmer pilot"]),
            note,
            tuple(barrels[number]),
        )
        for number, key, name, makes, refill, note in rows(connection, query)
    }


def _tools(connection: Connection) -> dict[tuple[int, str], list[str]]:
    query = (
        select(_DUTY.c.family_id, _DUTY.c.duty, _PART.c.name)
        .select_from(_DUTY.join(_PART))
        .order_by(_DUTY.c.family_id, _DUTY.c.duty, _DUTY.c.position)
    )
    found: dict[tuple[int, str], list[str]] = defaultdict(list)
    for family, duty, name in rows(connection, query):
        found[family, duty].append(name)
    return found


def _barrels(connection: Connection) -> dict[int, list[Barrel]]:
    c = _BARREL.c
    query = (
        select(c.family_id, c.name, _PART.c.name, c.drill, c.finished_a, c.finished_b, c.length)
        .select_from(_BARREL.outerjoin(_PART, c.tube_id == _PART.c.id))
        .order_by(c.family_id, c.position)
    )
    found: dict[int, list[Barrel]] = defaultdict(list)
    for family, name, tube, drill, *lengths in rows(connection, query):
        found[family].append(
            Barrel(name, tube, codecs.maybe_drill(drill), *map(codecs.maybe_length, lengths))
        )
    return found


def patterns(connection: Connection) -> dict[str, Pattern]:
    """Every pattern by folded name."""
    bills = _bills(connection)
    query = (
        select(
            _PATTERN.c.id,
            _PATTERN.c.key,
            _PATTERN.c.name,
            _FAMILY.c.name,
            _PATTERN.c.note,
            _PATTERN.c.minutes,
        )
        .select_from(_PATTERN.join(_FAMILY))
        .order_by(_PATTERN.c.id)
    )
    return {
        key: Pattern(name, family, note, minutes, tuple(bills[number]))
        for number, key, name, family, note, minutes in rows(connection, query)
    }


def _bills(connection: Connection) -> dict[int, list[BillLine]]:
    taken, c = _PATTERN.alias(), _BILL.c
    query = (
        select(c.pattern_id, c.stage, func.coalesce(_PART.c.name, c.role, taken.c.name), c.quantity, c.per)
        .select_from(
            _BILL.outerjoin(_PART, c.part_id == _PART.c.id).outerjoin(taken, c.taken_id == taken.c.id)
        )
        .order_by(c.pattern_id, c.position)
    )
    found: dict[int, list[BillLine]] = defaultdict(list)
    for pattern, *line in rows(connection, query):
        found[pattern].append(BillLine(*line))
    return found
