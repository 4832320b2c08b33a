"""Drills in their four systems, and the ones a drill is easily mistaken for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from typing import Literal

from inventory.errors import BadMeasure
from inventory.measures.lengths import INCH, Length, drill_sizes, read_length, show_mm
from inventory.measures.numbers import show_number
from inventory.measures.text import said

System = Literal["metric", "fractional inch", "number", "letter"]
SYSTEMS: tuple[System, ...] = ("metric", "fractional inch", "number", "letter")

TWIN = Fraction("0.25")
"""Millimetres within which two drills are taken for each other (common practice, no source)."""
SMALLEST_MM, LARGEST_MM = Fraction("0.1"), Fraction(100)
_OWNED_TO = 40  # mm: what a shop for small turned things may own, in steps of the standard sets


@dataclass(frozen=True, slots=True)
class Drill:
    """A drill: its designation (`7 mm`, `27/64`, `#7`, `O`), the system of that, its exact diameter."""

    designation: str
    system: System
    mm: Fraction

    def __str__(self) -> str:
        return self.designation


@lru_cache(maxsize=4096)  # asked for the same few drills at each order
def read_drill(text: str) -> Drill:
    """The drill called `text`, in any notation of `read_length`.

    Decimal inches and thou are taken where they are exactly a fraction, number or letter size (`0.316 in`
    is O). Raises BadMeasure.
    """
    length = read_length(text)
    drill = _named(length) or _by_inches(length)
    if drill is None:
        near = " or ".join(map(str, _nearest(length.mm)[:2]))
        raise BadMeasure(f"There is no drill of {length}.", hint=f"The nearest drills are {near}.")
    if not SMALLEST_MM <= drill.mm <= LARGEST_MM:
        hint = f"Drills here go from {show_mm(SMALLEST_MM)} to {show_mm(LARGEST_MM)}."
        raise BadMeasure(f"{said(text)} is no drill: {show_mm(drill.mm)}.", hint=hint)
    return drill


@cache
def standard_drills() -> tuple[Drill, ...]:
    """The drills a shop may own, thinnest first."""
    return tuple(sorted(_standard(), key=lambda drill: (drill.mm, SYSTEMS.index(drill.system))))


def _standard() -> Iterator[Drill]:
    for tenths in [*range(3, 30), *range(30, _OWNED_TO * 10 + 1, 5)]:
        yield _metric(Fraction(tenths, 10))
    for sixtyfourths in range(1, int(_OWNED_TO / INCH * 64) + 1):
        yield _fractional(Fraction(sixtyfourths, 64))
    for designation, mm in drill_sizes().items():
        yield Drill(designation, "number" if designation.startswith("#") else "letter", mm)


def _nearest(mm: Fraction) -> list[Drill]:
    return sorted(standard_drills(), key=lambda other: abs(other.mm - mm))


def _metric(mm: Fraction) -> Drill:
    return Drill(f"{show_number(mm)} mm", "metric", mm)


def _fractional(inches: Fraction) -> Drill:
    whole, rest = divmod(inches, 1)
    parts = "-".join(str(part) for part in (whole, rest) if part)
    return Drill(parts if rest else f"{parts} in", "fractional inch", inches * INCH)


def _named(length: Length) -> Drill | None:
    """The drill whose system the writing itself gives; None for decimal inches and thou."""
    if length.written in drill_sizes():
        return Drill(length.written, "number" if length.written.startswith("#") else "letter", length.mm)
    if length.written.endswith(("mm", "cm", " m")):
        return _metric(length.mm)
    inches = length.mm / INCH
    return _fractional(inches) if 128 % inches.denominator == 0 else None


def _by_inches(length: Length) -> Drill | None:
    for designation, mm in drill_sizes().items():
        if mm == length.mm:
            return Drill(designation, "number" if designation.startswith("#") else "letter", mm)
    return None
