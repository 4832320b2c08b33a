"""The bill of a pattern nobody wrote one for: what every such piece takes, glue and finish as far as they are kept."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from inventory.catalogue import BillLine, Family, Part, Pattern, Supply
from inventory.catalogue.usual.finishes import GLUING, UsualLine, finish_for, schedule
from inventory.catalogue.usual.supplies import usual_cells, usual_supply
from inventory.measures import STEPS, read_amount

USUAL = ("quantity",)
SPLIT = frozenset({"dry strip", "wet strip"})
"""Supplies of which a piece takes every grit in turn; of any other one kind serves."""


def usual_bill(pattern: Pattern, family: Family, parts: Iterable[Part]) -> tuple[list[BillLine], list[str]]:
    """The lines, and of a finish that was asked for the supplies nothing here is called."""
    tubed = any(barrel.tube for barrel in family.barrels)
    there = _kept(parts)
    finish = pattern.finish or finish_for(there)
    lines = [BillLine("cut", "the blank", STEPS, "piece", USUAL)]
    if tubed:
        lines.append(BillLine("glue", "the tubes", STEPS, "barrel", USUAL))
        lines += _poured(schedule(GLUING), there)
    lines += _poured(schedule(finish), there)
    lines.append(BillLine("assemble", "the kit", STEPS, "piece", USUAL))
    if family.refill is not None:
        lines.append(BillLine("assemble", "the refill", STEPS, "piece", USUAL))
    lacks = [line.supply for line in schedule(pattern.finish) if line.supply not in there]
    return lines, list(dict.fromkeys(lacks))


def _kept(parts: Iterable[Part]) -> dict[str, list[Part]]:
    """The supplies that are what a schedule asks for, in its unit, by their usual name."""
    there: dict[str, list[Part]] = {}
    for part in parts:
        supply = usual_supply(part.name) if isinstance(part.detail, Supply) else ""
        usual = usual_cells(part.name) if supply else {}
        if isinstance(part.detail, Supply) and (part.detail.type, part.unit) == (
            usual.get("type"),
            usual.get("unit"),
        ):
            there.setdefault(supply, []).append(part)
    return there


def _poured(lines: Sequence[UsualLine], there: dict[str, list[Part]]) -> list[BillLine]:
    done = []
    for line in lines:
        kept = there.get(line.supply, [])
        kept = kept if line.supply in SPLIT else kept[:1]
        for part in kept:
            quantity = read_amount(line.quantity, part.unit) // len(kept)
            done.append(BillLine(line.stage, part.name, quantity, line.per, USUAL))
    return done
