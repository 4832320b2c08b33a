"""Hostile and messy sheets of one small sound shop, by kind and seed; each knows how it has to end."""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any, Literal

from sheets.shop import shop

End = Literal["same", "refused", "either"]
"""What a load has to come to: the clean shop's book, a sentence and an untouched book, or one of the two."""
Tabs = dict[str, list[list[Any]]]
Write = Callable[[Random, Path], Path]


@dataclass(frozen=True)
class Kind:
    """One way of being messy or bad. write: given a seeded source of chance and an empty folder, what to load."""

    name: str
    end: End
    write: Write


KINDS: dict[str, Kind] = {}


def kind(end: End) -> Callable[[Write], Write]:
    """Register what a function writes, under its name."""

    def register(write: Write) -> Write:
        name = write.__name__.strip("_").replace("_", " ")
        assert name not in KINDS, name
        KINDS[name] = Kind(name, end, write)
        return write

    return register


def tabs() -> Tabs:
    """The sound shop, to be changed at will."""
    return deepcopy(dict(shop()))


def a_tab(rng: Random, among: Tabs, *, rows: int = 2) -> str:
    """Any tab with so many rows."""
    return rng.choice([name for name, lines in among.items() if len(lines) >= rows])


def a_cell(rng: Random, among: Tabs, sort: type | tuple[type, ...]) -> tuple[str, int, int]:
    """Tab, row and column (from 0) of any cell below the headings that holds something of this sort."""
    found = [
        (name, row, column)
        for name, lines in among.items()
        for row, line in enumerate(lines)
        if row
        for column, value in enumerate(line)
        if isinstance(value, sort) and not isinstance(value, bool)
    ]
    return rng.choice(found)


NUMBERS = {
    "counts": ("quantity", "unit cost"),
    "offers": ("pack", "price", "from packs"),
    "suppliers": ("lead days", "postage", "minimum order"),
    "tubes": ("outside diameter", "length", "drill"),
    "bills": ("quantity",),
    "orders": ("count", "due", "extra diameter"),
    "materials": ("allowance", "spoiled at turn"),
    "supplies": ("net", "density", "shelf life opened"),
    "tools": ("inspect after, in uses",),
    "barrels": ("finished diameter, end A", "drill"),
}
"""Columns that hold a measure, by tab."""


def a_measure(rng: Random, among: Tabs) -> tuple[str, int, int]:
    """Tab, row and column of any cell that is read as a number, a length, money or a day."""
    tab = rng.choice(sorted(NUMBERS))
    column = among[tab][0].index(rng.choice(NUMBERS[tab]))
    return tab, rng.randrange(1, len(among[tab])), column


def required(rng: Random, among: Tabs) -> tuple[str, int]:
    """A tab and one of its columns that has to be there."""
    tab = rng.choice([*sorted(NEEDED)])
    return tab, among[tab][0].index(rng.choice(NEEDED[tab]))


NEEDED = {
    "suppliers": ("supplier", "lead days"),
    "offers": ("supplier", "part", "pack", "price"),
    "tubes": ("outside diameter", "length", "drill"),
    "families": ("family", "makes"),
    "kits": ("part", "family", "plating"),
    "blanks": ("material", "shape"),
    "supplies": ("part", "type", "unit"),
    "bills": ("pattern", "stage", "part", "quantity", "per"),
    "counts": ("part", "quantity"),
    "orders": ("order", "pattern", "blank", "count", "due"),
}
"""Columns that have to be there, by tab: what the guide and `columns` promise."""
