"""Checks of parts, platings, materials, families and barrels."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TypeVar

from inventory.catalogue.catalogue import Catalogue
from inventory.catalogue.checks.trouble import Trouble, names_of, unknown
from inventory.catalogue.families import Barrel, Family
from inventory.catalogue.names import fold
from inventory.catalogue.parts import Blank, Kit, Supply, Tool, Tube
from inventory.measures import Drill, show_mm

D = TypeVar("D", Kit, Tube, Blank, Supply, Tool)


def platings(catalogue: Catalogue) -> Iterator[Trouble]:
    """Stand-ins that are unknown, or the plating itself."""
    for key, plating in catalogue.platings.items():
        for other in plating.substitutes:
            if fold(other) == key:
                yield Trouble(
                    "platings", (key,), "substitutes", other, "A plating cannot stand in for itself."
                )
            elif fold(other) not in catalogue.platings:
                problem = unknown("plating", other, names_of(catalogue.platings))
                yield Trouble("platings", (key,), "substitutes", other, problem)


def materials(catalogue: Catalogue) -> Iterator[Trouble]:
    """Losses that leave nothing."""
    for key, material in catalogue.materials.items():
        for stage, lost in material.losses.items():
            if not 0 <= lost < 1:
                problem = "A share spoiled is from 0 % up to, not including, 100 %."
                yield Trouble("materials", (key,), f"lost at {stage}", str(lost), problem)


def parts(catalogue: Catalogue) -> Iterator[Trouble]:
    """Kits of an unknown family or plating, blanks of an unknown material, tubes that do not go into their hole."""
    for key, part in catalogue.parts.items():
        if isinstance(part.detail, Kit):
            if fold(part.detail.family) not in catalogue.families:
                problem = unknown("family", part.detail.family, names_of(catalogue.families))
                yield Trouble("kits", (key,), "family", part.detail.family, problem)
            if fold(part.detail.plating) not in catalogue.platings:
                problem = unknown("plating", part.detail.plating, names_of(catalogue.platings))
                yield Trouble("kits", (key,), "plating", part.detail.plating, problem)
        elif isinstance(part.detail, Tube) and part.detail.drill.mm <= part.detail.outside.mm:
            problem = _too_tight(part.detail.drill, part.detail)
            yield Trouble("tubes", (key,), "drill", str(part.detail.drill), problem)
        elif isinstance(part.detail, Blank) and fold(part.detail.material) not in catalogue.materials:
            problem = unknown("material", part.detail.material, names_of(catalogue.materials))
            yield Trouble("blanks", (key,), "material", part.detail.material, problem)


def families(catalogue: Catalogue) -> Iterator[Trouble]:
    """Refills that are no supply, bushings and trimmer pilots that are no tool."""
    for key, family in catalogue.families.items():
        if family.refill is not None:
            for problem in _of_kind(catalogue, Supply, "supply", "supplies", family.refill):
                yield Trouble("families", (key,), "refill", family.refill, problem)
        for column, named in (("bushings", family.bushings), ("trimmer pilot", family.trimmer_pilots)):
            for tool in named:
                for problem in _of_kind(catalogue, Tool, "tool", "tools", tool):
                    yield Trouble("families", (key,), column, tool, problem)


def barrels(catalogue: Catalogue) -> Iterator[Trouble]:
    """Barrels whose tube is unknown or does not go into its hole, and whose wood would be turned away."""
    for key, family in catalogue.families.items():
        for barrel in family.barrels:
            where = (key, fold(barrel.name))
            for column, said, problem in _barrel(catalogue, family, barrel):
                yield Trouble("barrels", where, column, said, problem)


def _of_kind(catalogue: Catalogue, kind: type[D], what: str, tab: str, name: str) -> Iterable[str]:
    part = catalogue.parts.get(fold(name))
    if part is None:
        known = [other.name for other in catalogue.parts.values() if isinstance(other.detail, kind)]
        yield unknown(what, name, known)
    elif not isinstance(part.detail, kind):
        yield f"“{part.name}” is a {part.kind}; it has to be one of the {tab}."


def _barrel(catalogue: Catalogue, family: Family, barrel: Barrel) -> Iterator[tuple[str, str, str]]:
    if barrel.tube is None:
        if barrel.length is None:
            yield (
                "length",
                "",
                f"The barrel “{barrel.name}” of {family.name} has no tube, so it needs its length.",
            )
        yield from _finished(barrel, None)
        return
    problems = list(_of_kind(catalogue, Tube, "tube", "tubes", barrel.tube))
    yield from (("tube", barrel.tube, problem) for problem in problems)
    if problems:
        return
    tube = catalogue.parts[fold(barrel.tube)].detail
    assert isinstance(tube, Tube)  # noqa: S101 - _of_kind found nothing else
    if barrel.drill is not None and barrel.drill.mm <= tube.outside.mm:
        yield "drill", str(barrel.drill), _too_tight(barrel.drill, tube)
    yield from _finished(barrel, tube)


def _finished(barrel: Barrel, tube: Tube | None) -> Iterator[tuple[str, str, str]]:
    drill = barrel.drill or (tube.drill if tube else None)
    if drill is None:
        return
    for column, finished in (("finished a", barrel.finished_a), ("finished b", barrel.finished_b)):
        if finished is not None and finished.mm <= drill.mm:
            problem = f"Finished to {finished}, nothing would be left around the hole of {drill} ({show_mm(drill.mm)})."
            yield column, str(finished), problem


def _too_tight(drill: Drill, tube: Tube) -> str:
    size = (
        "" if str(drill) == show_mm(drill.mm) else f" ({show_mm(drill.mm)})"
    )  # said once where it is written so
    return (
        f"The drill {drill}{size} is not larger than the tube's outside diameter {tube.outside}: "
        "the tube would not go in."
    )
