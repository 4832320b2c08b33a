"""Does it go together: tube, hole, bushings, trimmer pilot, and the drills somebody could mix up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from inventory.catalogue import Catalogue, Family, Part, Tool, fold
from inventory.making.bom import drill_of, tube_of
from inventory.measures import Drill, read_drill, show_mm
from inventory.measures.drills import TWIN

CLEARANCE = (Fraction(1, 20), Fraction(1, 2))
"""Glue line on the diameter, drill less tube, mm: tighter jams, looser rattles (an assumption of the trade)."""


@dataclass(frozen=True, slots=True)
class ToolNeed:
    """A tool to lay out. part: its name in the book, or None where the book has none of the kind and size.

    instead: near twins that are there, and must not be taken for it.
    """

    what: str
    stage: str
    part: str | None
    there: bool
    instead: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class BarrelFit:
    """One barrel: its tube and drill, clearance on diameter in mm, and what is to be said about it."""

    barrel: str
    tube: str | None
    drill: Drill | None
    clearance: Fraction | None
    warnings: tuple[str, ...]


def barrel_fits(catalogue: Catalogue, family: Family) -> tuple[BarrelFit, ...]:
    """Every barrel's fit, in the family's order."""
    done = []
    for barrel in family.barrels:
        tube, drill = tube_of(catalogue, barrel), drill_of(catalogue, barrel)
        clearance = drill.mm - tube.outside.mm if tube and drill else None
        warnings = _clearance_warnings(barrel.name, clearance)
        done.append(BarrelFit(barrel.name, barrel.tube, drill, clearance, warnings))
    return tuple(done)


def _clearance_warnings(name: str, clearance: Fraction | None) -> tuple[str, ...]:
    if clearance is None or CLEARANCE[0] <= clearance <= CLEARANCE[1]:
        return ()
    word = "tight: the tube may jam" if clearance < CLEARANCE[0] else "loose: the glue must bridge the gap"
    return (f"{name}: {show_mm(clearance)} between hole and tube is {word}.",)


def drills_needed(catalogue: Catalogue, family: Family) -> tuple[Drill, ...]:
    """The different drills of a family's barrels, in order."""
    seen: dict[str, Drill] = {}
    for barrel in family.barrels:
        drill = drill_of(catalogue, barrel)
        if drill:
            seen.setdefault(drill.designation, drill)
    return tuple(seen.values())


def tools_needed(catalogue: Catalogue, family: Family, on_hand: Mapping[str, int]) -> tuple[ToolNeed, ...]:
    """Drills, trimmer pilots and bushings to lay out. on_hand: thousandths by folded part name."""
    tools = drill_tools(catalogue)
    needs = [_drill_need(tools, drill, on_hand) for drill in drills_needed(catalogue, family)]
    for stage, what, names in (
        ("trim", "trimmer pilot", family.trimmer_pilots),
        ("turn", "bushings", family.bushings),
    ):
        for name in names:
            there = on_hand.get(fold(name), 0) > 0
            needs.append(ToolNeed(what, stage, name, there))
    return tuple(needs)


def drill_tools(catalogue: Catalogue) -> tuple[tuple[Part, Drill], ...]:
    """The drills among the tools, by their size."""
    found = []
    for part in catalogue.parts.values():
        detail = part.detail
        if isinstance(detail, Tool) and fold(detail.type) == "drill" and detail.size:
            found.append((part, read_drill(detail.size)))
    return tuple(found)


def _drill_need(tools: Sequence[tuple[Part, Drill]], drill: Drill, on_hand: Mapping[str, int]) -> ToolNeed:
    same = [part for part, size in tools if size.mm == drill.mm]
    there = [part for part in same if on_hand.get(fold(part.name), 0) > 0]
    part = next(iter([*there, *same]), None)
    instead = tuple(
        part.name
        if fold(size.designation.removesuffix(" mm")) in fold(part.name)
        else f"{part.name} ({size.designation})"
        for part, size in tools
        if 0 < abs(size.mm - drill.mm) <= TWIN and on_hand.get(fold(part.name), 0) > 0
    )
    return ToolNeed(f"drill {drill.designation}", "drill", part.name if part else None, bool(there), instead)
