"""Abrasive grades: system and number together, because the number alone means four different things."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Literal

from inventory.errors import BadMeasure
from inventory.measures.tables import rows
from inventory.measures.text import plain, said

GritSystem = Literal["FEPA P", "CAMI", "mesh", "micron"]

FARTHEST = Fraction(3, 2)
"""A substitute whose particles are more than this many times coarser or finer is none."""

COARSEST_MICRON = 100
"""Films, pads and papers sold by particle size go from 1 µm to this (common practice, no source)."""

_ACCEPTED = "Write P400, CAMI 400, mesh 320 or micron 9."
_SYSTEMS: tuple[GritSystem, ...] = ("FEPA P", "CAMI", "mesh", "micron")
_PREFIX = {"FEPA P": "P", "CAMI": "CAMI ", "mesh": "mesh ", "micron": "micron "}
_WORDS: dict[str, GritSystem] = {
    "p": "FEPA P",
    "fepa p": "FEPA P",
    "cami": "CAMI",
    "mesh": "mesh",
    "micron": "micron",
    "microns": "micron",
}
_GRIT = re.compile(r"([a-z -]*?)[ -]?([0-9]{1,5})[ -]?([a-z -]*)")


@dataclass(frozen=True, slots=True)
class Grit:
    """An abrasive grade: `Grit("FEPA P", 400)` is P400."""

    system: GritSystem
    grade: int

    def __str__(self) -> str:
        return show_grit(self)


def read_grit(text: str) -> Grit:
    """The grade called `text`: `P400`, `CAMI 400`, `400 CAMI`, `mesh 320`, `micron 9`.

    A bare `400` is refused, as is a grade its system does not have. `micron 9` is a particle size of 9 micrometres,
    however its maker numbers it. Raises BadMeasure.
    """
    tidy = plain(text, "grit")
    found = _GRIT.fullmatch(tidy.casefold())
    if not found:
        raise BadMeasure(f"{said(tidy)} is not an abrasive grade.", hint=_ACCEPTED)
    words = " ".join(f"{found[1]} {found[3]}".replace("-", " ").replace("grit", " ").split())
    grade = int(found[2])
    if not words:
        raise _bare(tidy, grade)
    if words not in _WORDS:
        raise BadMeasure(f"{said(tidy)} is not an abrasive grade.", hint=_ACCEPTED)
    grit = Grit(_WORDS[words], grade)
    _size(grit)
    return grit


def show_grit(grit: Grit) -> str:
    """`P400`, `CAMI 400`, `mesh 320`, `micron 9`."""
    return f"{_PREFIX[grit.system]}{grit.grade}"


def micron(grit: Grit) -> Fraction | None:
    """Mean particle size in micrometres; None where no table has the grade. Mesh is approximate."""
    return _sizes().get(grit)


def substitute(grit: Grit, system: GritSystem) -> Grit:
    """The grade of `system` whose particles are nearest in size, by ratio: CAMI 400 is about P800.

    Raises BadMeasure where the size is unknown or nothing in `system` is within half as coarse again.
    """
    size = _size(grit)
    ratio, best = min(
        ((_ratio(size, other), same) for same, other in _sizes().items() if same.system == system),
        key=lambda pair: pair[0],
    )
    if ratio > FARTHEST:
        raise BadMeasure(f"No {system} grade is near {grit}.", hint=f"The nearest, {best}, is far off.")
    return best


@cache
def _sizes() -> dict[Grit, Fraction]:
    named = {str(system): system for system in _SYSTEMS}
    sizes = {
        Grit(named[row["system"]], int(row["grade"])): Fraction(row["micrometres"]) for row in rows("grits")
    }
    return sizes | {Grit("micron", size): Fraction(size) for size in range(COARSEST_MICRON, 0, -1)}


def _size(grit: Grit) -> Fraction:
    size = micron(grit)
    if size is None:
        grades = sorted(other.grade for other in _sizes() if other.system == grit.system)
        near = sorted(grades, key=lambda grade: abs(grade - grit.grade))[:2]
        hint = "The nearest are " + " and ".join(
            show_grit(Grit(grit.system, grade)) for grade in sorted(near)
        )
        raise BadMeasure(f"There is no abrasive grade {grit}.", hint=f"{hint}.")
    return size


def _ratio(one: Fraction, other: Fraction) -> Fraction:
    # The order of |log(one/other)|, without leaving exact numbers.
    return max(one / other, other / one)


def _bare(tidy: str, grade: int) -> BadMeasure:
    choices = [show_grit(grit) for grit in (Grit(system, grade) for system in _SYSTEMS) if micron(grit)]
    if not choices:
        return BadMeasure(f"{said(tidy)} is not an abrasive grade.", hint=_ACCEPTED)
    message = f"{said(tidy)} does not say which scale it is on, and the scales differ."
    return BadMeasure(message, hint=f"Write {' or '.join(choices)}.")
