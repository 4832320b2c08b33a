"""A neighbour's opposite difference: what is missing here was taken for, or counted with, something much like it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher
from fractions import Fraction
from typing import Final

from inventory.catalogue import Blank, Catalogue, Kit, Part, Supply, Tool, Tube, fold
from inventory.jobs.differences.case import Case, Reason
from inventory.measures import read_drill
from inventory.measures.drills import TWIN

ALIKE: Final = 0.75
"""Names this much alike are mistaken for each other (difflib's ratio)."""
NEARLY: Final = Fraction(1, 5)
"""Opposite differences that differ by no more than this share still belong together."""
TUBES_APART: Final = Fraction(1, 2)
"""Millimetres by which tubes that are mistaken for each other may differ in diameter (an assumption)."""


def neighbour_reasons(catalogue: Catalogue, case: Case, others: Sequence[Case]) -> Iterator[Reason]:
    """Opposite differences of parts like this one. others: every checked part that differs, this one not among them."""
    for other in others:
        here, there = case.difference, other.difference
        if here * there >= 0 or case.part.unit != other.part.unit:
            continue
        off = abs(here + there)
        if off > max(Fraction(2 * (case.error + other.error)), NEARLY * max(abs(here), abs(there))):
            continue
        how = likeness(catalogue, case.part, other.part)
        if how:
            sign = "too many" if there > 0 else "too few"
            measured = case.error or other.error
            many = "too much" if there > 0 else "too little"
            name = "another lot of it" if fold(other.part.name) == fold(case.part.name) else other.part.name
            yield Reason(
                0.9 if off <= 2 * (case.error + other.error) else 0.6,
                f"mixed up with its neighbour: {name} has {case.amount(there)} {many if measured else sign} ({how})",
            )


def likeness(catalogue: Catalogue, one: Part, other: Part) -> str:
    """How two parts are alike enough to be mistaken for each other, in words; empty where they are not."""
    a, b = one.detail, other.detail
    if fold(one.name) == fold(other.name):
        return "the same part"
    if isinstance(a, Kit) or isinstance(b, Kit):
        return _kits(catalogue, one, other)
    if isinstance(a, Tube) and isinstance(b, Tube):
        near = abs(a.outside.mm - b.outside.mm) <= TUBES_APART
        return f"tubes of {a.outside.written} and {b.outside.written}" if near else ""
    if isinstance(a, Tool) and isinstance(b, Tool):
        return _tools(a, b)
    if isinstance(a, Blank) and isinstance(b, Blank):
        return f"both {a.material}" if fold(a.material) == fold(b.material) else _names(one, other)
    if isinstance(a, Supply) and isinstance(b, Supply) and fold(a.type) == fold(b.type):
        return "both refills" if fold(a.type) == "refill" else _names(one, other)
    return ""


def _kits(catalogue: Catalogue, one: Part, other: Part) -> str:
    a, b = one.detail, other.detail
    if isinstance(a, Kit) and isinstance(b, Kit):
        if fold(a.family) == fold(b.family):
            return f"the same family in {a.plating} and {b.plating}"
        makes = {fold(catalogue.family(kit.family).makes) for kit in (a, b)}
        return "kits for the same thing" if fold(a.plating) == fold(b.plating) and len(makes) == 1 else ""
    kit, rest = (one, other) if isinstance(a, Kit) else (other, one)
    if isinstance(rest.detail, Supply) and is_part_of_kit(kit, rest):
        return "a kit robbed of something is no longer whole"
    return ""


def is_part_of_kit(kit: Part, rest: Part) -> bool:
    """Whether these are fittings saved from such a kit: spare fittings whose name begins with the kit's."""
    detail = rest.detail
    spare = isinstance(detail, Supply) and fold(detail.type) == "spare fitting"
    return spare and fold(rest.name).startswith(f"{fold(kit.name)} ")


def cannibalised_reasons(catalogue: Catalogue, case: Case, on_hand: dict[str, int]) -> Iterator[Reason]:
    """A kit short of as many as there are fittings saved from it, or fewer: counted as not whole, booked as whole."""
    if case.part.kind != "kit" or case.difference >= 0:
        return
    for rest in catalogue.parts.values():
        there = on_hand.get(fold(rest.name), 0)
        if there > 0 and is_part_of_kit(case.part, rest):
            weight = 0.55 if there == -case.difference else 0.4
            yield Reason(weight, f"a robbed kit: the book has {case.amount(there)} of “{rest.name}”")


def _tools(a: Tool, b: Tool) -> str:
    if fold(a.type) != "drill" or fold(b.type) != "drill" or not (a.size and b.size):
        return ""
    one, other = read_drill(a.size), read_drill(b.size)
    near = abs(one.mm - other.mm) <= TWIN
    return f"near twins: drills {one.designation} and {other.designation}" if near else ""


def _names(one: Part, other: Part) -> str:
    """Alike by name: `CA thin` and `CA thick`."""
    ratio = SequenceMatcher(None, fold(one.name), fold(other.name)).ratio()
    return "names that are easily taken for each other" if ratio >= ALIKE else ""
