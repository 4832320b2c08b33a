"""The sheets of sample_stock/, read with the standard library alone, for the tests of the sample."""

from __future__ import annotations

import csv
from datetime import date
from fractions import Fraction
from pathlib import Path

HERE = Path(__file__).resolve().parent.parent / "sample_stock"
TODAY = date(2026, 11, 28)
PART_TABS = ("tubes", "kits", "blanks", "supplies", "tools")
Rows = list[dict[str, str]]
REQUIRED = {
    "suppliers": ("supplier", "lead days"),
    "offers": ("supplier", "part", "pack", "price"),
    "materials": ("material", "allowance"),
    "platings": ("plating",),
    "tubes": ("part", "outside diameter", "length", "drill"),
    "families": ("family", "makes"),
    "barrels": ("family", "barrel", "tube"),
    "kits": ("part", "family", "plating"),
    "blanks": ("part", "material", "shape"),
    "supplies": ("part", "type", "unit"),
    "tools": ("part", "type"),
    "patterns": ("pattern", "family"),
    "bills": ("pattern", "stage", "part", "quantity", "per"),
    "counts": ("part", "quantity"),
    "orders": ("order", "pattern", "blank", "count", "due"),
}


def tab(name: str) -> Rows:
    """The rows of one file, each a mapping from heading to text."""
    with (HERE / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, strict=True))


def names(name: str, column: str = "part") -> list[str]:
    """One column of one file."""
    return [row[column] for row in tab(name)]


def several(cell: str) -> list[str]:
    """The names of a cell that may hold many."""
    return [name.strip() for name in cell.split(";") if name.strip()]


def parts() -> list[str]:
    """Every part of the shop."""
    return [part for name in PART_TABS for part in names(name)]


def amount(row: dict[str, str]) -> Fraction:
    """A counted quantity in the part's own unit: a plain number, one with that unit, or sealed bottles."""
    number, _, unit = row["quantity"].partition(" ")
    supply = next((one for one in tab("supplies") if one["part"] == row["part"]), {})
    if unit in {"bottle", "bottles"}:
        return Fraction(number) * Fraction(supply["net"].split()[0])
    assert unit in {"", supply.get("unit")}, row
    return Fraction(number)


def on_hand(part: str) -> Fraction:
    """What the counts give of a part."""
    return sum((amount(row) for row in tab("counts") if row["part"] == part), Fraction(0))


def drill_of(barrel: dict[str, str]) -> str:
    """The barrel's own drill, or its tube's."""
    of_tube = {row["part"]: row["drill"] for row in tab("tubes")}
    return barrel["drill"] or of_tube[barrel["tube"]]


def level_gap(part: str) -> Fraction:
    """How much is missing to the part's reorder level."""
    levels = {row["part"]: row["reorder level"] for name in PART_TABS for row in tab(name)}
    return max(Fraction(levels[part] or 0) - on_hand(part), Fraction(0))


def lots_of_blanks() -> Rows:
    """The counted lots of blanks that are there."""
    blanks = set(names("blanks"))
    return [row for row in tab("counts") if row["part"] in blanks and row["quantity"] != "0"]


def measured() -> Rows:
    """Those of them that were measured one by one."""
    return [row for row in lots_of_blanks() if row["smallest diameter"] and row["length"]]
