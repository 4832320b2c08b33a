"""A frozen class lies in its table by one rule, both ways; what has no place is found out."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from inventory.catalogue import Blank, Family, Supply, Tube
from inventory.errors import UnknownName
from inventory.ledger.learned import LearnedRate
from inventory.ledger.sessions import Outcome
from inventory.measures import read_drill, read_length
from inventory.store import Store, queries
from inventory.store.mapping import booked_shapes, session_shapes, shapes
from inventory.store.mapping.mapper import Shape
from inventory.store.mapping.names import Names
from inventory.store.schema import core
from inventory.store.schema.columns import COLUMNS

from . import shop

EVERY = {
    **{
        name: one
        for module in (shapes, booked_shapes, session_shapes)
        for name, one in vars(module).items()
        if isinstance(one, Shape)
    },
    **{f"DETAILS {kind}": one for kind, one in shapes.DETAILS.items()},
}
NOT_FIELDS = {"id", "key", "kind", "position", "to_count", "role", "taken_id", "into_id"}
"""Columns of no field: numbers and folded names, a part's kind and what it is now, what lists are written with."""


@pytest.mark.parametrize("name", EVERY)
def test_no_field_and_no_column_is_forgotten(name: str) -> None:
    """Every field has its column or is named as beside; every column but keys and links is some field's."""
    shape = EVERY[name]
    assert len(shape.columns) + len(shape._beside) == len(fields(shape.of))
    if name in ("LOT", "DUE_IN", "DOCUMENT"):  # which are read alone
        return
    mapped = {column for column, *_ in _writes(shape)} | NOT_FIELDS
    links = {column.name for column in shape.table.primary_key} | {"part_id", "document_id"}
    left = {column.name for column in shape.table.columns} - mapped - links
    assert left == set()


def _writes(shape: Shape[Any]) -> list[tuple[str]]:
    return [(one.column.name,) for one in shape._fields]


def test_a_field_without_a_column_is_refused() -> None:
    """A field added to a class and forgotten in the table is not silently lost."""

    @dataclass(frozen=True, slots=True)
    class Plating:
        name: str
        drawer_colour: str = ""

    with pytest.raises(ValueError, match=r"Plating\.drawer_colour has no column in plating"):
        Shape(Plating, "plating").columns  # noqa: B018 - worked out when asked for


THERE = {
    "DETAILS tube": Tube(read_length("27/64 in"), read_length("2-3/32 in"), read_drill("#7")),
    "DETAILS blank": Blank("Oak", "natural"),
    "DETAILS supply": Supply("adhesive", 20_000, None, 365, None, ("H315", "H319"), Fraction(53, 50), 5),
    "LEARNED_RATE": LearnedRate(shop.GLUE, "piece", 1, 2, 3, 4, (7, 9), True, 5, (1, -2), (), 6),
    "OUTCOME": Outcome("", shop.PATTERN, shop.KIT, shop.OAK, 3, refill=None, in_part=1),
    "FAMILY": Family("Dunlin", "pen", shop.REFILL),
}


@pytest.mark.parametrize("name", THERE)
def test_there_and_back(store: Store, name: str) -> None:
    """What is written as a row is read from the row's own values, through text columns and numbers of named things."""
    shape, thing = EVERY[name], THERE[name]
    with store.reading() as read:
        names = Names(read.connection)
        row = shape.row(thing, names)
        by_number = {
            table: {n: names[table].names[n] for n in names[table].names}
            for table in COLUMNS
            if _is_named(table)
        }
    values = [
        by_number[one.named].get(row[one.column.name]) if one.named else row[one.column.name]
        for one in shape._fields
    ]
    beside = {field: getattr(thing, field) for field in shape._beside}
    assert shape.build(values, **beside) == thing
    assert all(type(value) in (int, str, bool, date, type(None)) for value in row.values())


def _is_named(table: str) -> bool:
    return {"id", "key", "name"} <= set(core.table(table).columns.keys())


def test_what_is_said_goes_before_the_field(store: Store) -> None:
    """A column whose value the caller knows is not worked out again: not even looked up."""
    with store.reading() as read:
        names = Names(read.connection)
        row = booked_shapes.LINE.row(replace(shop.opening().lines[0], part="nobody"), names, part_id=7, id=3)
        assert (row["part_id"], row["id"]) == (7, 3)
        with pytest.raises(UnknownName):
            booked_shapes.LINE.row(replace(shop.opening().lines[0], part="nobody"), names)


def test_a_subject_nobody_reads_is_an_attribute_error() -> None:
    """Queries load when they are first asked for; a misspelt one fails as Python's own do."""
    assert queries.lending is not None
    with pytest.raises(AttributeError, match="lendings"):
        queries.lendings  # noqa: B018 - the access is the test
