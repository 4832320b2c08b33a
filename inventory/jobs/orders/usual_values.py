"""Which usual values an answer rests on: figures nobody of this shop has said or measured yet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from inventory.catalogue import Barrel, BillLine, Blank, Catalogue, Family, Material, Part, Supply, fold
from inventory.catalogue.usual.marks import WARNS, shortened
from inventory.jobs.hours.piece_time import piece_time
from inventory.jobs.orders.order_check import OrderReport
from inventory.ledger.learned import LearnedFigures
from inventory.ledger.shop import Shop
from inventory.making.bom import whole_bill
from inventory.measures import listed

SHELF_LIFE = ("keeps sealed", "keeps opened")
_NOT_RECKONED = WARNS | {"shape", "type", "unit", "density", "working time"}
"""Marks of what is told or read by, but gives no figure of an answer."""


@dataclass(frozen=True, slots=True)
class UsualValue:
    """What is usual of one thing: a material, a part, a family's barrel; what: in few words."""

    of: str
    what: tuple[str, ...]


def usual_values(
    shop: Shop, reports: Iterable[OrderReport], *, evenings: bool = False
) -> tuple[UsualValue, ...]:
    """The usual values that count in these answers, each thing once; what sessions taught is the shop's own.

    evenings: whether setting up counts whatever hours were said.
    """
    found: list[tuple[str, Iterable[str]]] = []
    set_up = False
    for report in reports:
        if report.plan.uses and (evenings or report.time is not None):
            pattern = report.resolved.pattern
            set_up |= piece_time(shop.catalogue, shop.settings, pattern).usual_setting_up
        found += _of(shop, report)
    found += [("an evening", ("setting up",))] if set_up else []
    return _gathered(found)


def usual_of_family(shop: Shop, family: Family, parts: Iterable[Part]) -> tuple[UsualValue, ...]:
    """The usual values of what goes with a family: its barrels and tubes, and these kits, refills and blanks."""
    found: list[tuple[str, Iterable[str]]] = []
    for barrel in family.barrels:
        found += _barrel(shop.catalogue, family, barrel)
    for part in parts:
        found += _of_part(shop.catalogue, part)
        if isinstance(part.detail, Blank):
            material = shop.catalogue.material(part.detail.material)
            found.append((material.name, [one for one in material.usual if not one.startswith("lost at")]))
    return _gathered(found)


def usual_of_parts(catalogue: Catalogue, parts: Iterable[Part]) -> tuple[UsualValue, ...]:
    """The usual values these parts' figures rest on: sizes, shelf lives, and what a bill nobody wrote takes of them."""
    return _gathered(one for part in parts for one in _of_part(catalogue, part))


def usual_of_list(shop: Shop, parts: Iterable[Part]) -> tuple[UsualValue, ...]:
    """The usual values a list to buy rests on: those of its parts, and the losses that promised orders allow for."""
    found = [one for part in parts for one in _of_part(shop.catalogue, part)]
    for order in shop.book.orders.values():
        if order.state == "promised" and isinstance(blank := shop.catalogue.part(order.blank).detail, Blank):
            material = shop.catalogue.material(blank.material)
            found.append((material.name, _material(material, shop.learned)))
    return _gathered(found)


def _gathered(found: Iterable[tuple[str, Iterable[str]]]) -> tuple[UsualValue, ...]:
    """Each thing once, with what of it is a figure."""
    several: dict[str, dict[str, None]] = {}
    for of, headings in found:
        counted = shortened(one for one in headings if one not in _NOT_RECKONED)
        several.setdefault(of, {}).update(dict.fromkeys(counted))
    return tuple(UsualValue(of, tuple(what)) for of, what in several.items() if what)


def _of_part(catalogue: Catalogue, part: Part) -> Iterator[tuple[str, Iterable[str]]]:
    if not isinstance(part.detail, Supply):
        yield part.name, getattr(part.detail, "usual", ())
        return
    for pattern in catalogue.patterns.values():
        for line in pattern.bill:
            if fold(line.part) == fold(part.name):
                yield from _line(catalogue, line)
    yield part.name, [heading for heading in part.detail.usual if heading in SHELF_LIFE]


def said_usual(values: Iterable[UsualValue]) -> str:
    """One sentence: `Usual, not your own: allowance and losses of walnut; length of tube 7 x 53.` Empty of none."""
    by_what: dict[str, list[str]] = {}
    for value in values:
        by_what.setdefault(listed(value.what), []).append(value.of)
    told = "; ".join(f"{what} of {listed(things)}" for what, things in by_what.items())
    return f"Usual, not your own: {told}." if told else ""


def _of(shop: Shop, report: OrderReport) -> Iterator[tuple[str, Iterable[str]]]:
    if not report.plan.uses:
        return  # nothing is to be made
    catalogue, resolved = shop.catalogue, report.resolved
    yield resolved.material.name, _material(resolved.material, shop.learned)
    yield resolved.blank.name, getattr(resolved.blank.detail, "usual", ())
    if piece_time(catalogue, shop.settings, resolved.pattern).usual:
        yield resolved.pattern.name, ("minutes",)
    yield report.plan.kit.name, getattr(report.plan.kit.detail, "usual", ())
    for barrel in resolved.family.barrels:
        yield from _barrel(catalogue, resolved.family, barrel)
    for line in whole_bill(catalogue, resolved.pattern):
        yield from _line(catalogue, line)


def _material(material: Material, learned: LearnedFigures) -> Iterator[str]:
    own = {
        f"lost at {one.stage}"
        for one in learned.losses
        if fold(one.material) == fold(material.name) and one.reached
    }
    yield from (heading for heading in material.usual if heading not in own)


def _barrel(catalogue: Catalogue, family: Family, barrel: Barrel) -> Iterator[tuple[str, Iterable[str]]]:
    yield family.name, barrel.usual
    tube = catalogue.parts.get(fold(barrel.tube or ""))
    if tube is not None:
        yield tube.name, getattr(tube.detail, "usual", ())


def _line(catalogue: Catalogue, line: BillLine) -> Iterator[tuple[str, Iterable[str]]]:
    part: Part | None = catalogue.parts.get(fold(line.part))
    if part is None or not isinstance(part.detail, Supply):
        return
    if line.usual and (fold(part.name), line.per) not in catalogue.factors:
        yield part.name, ("use",)
    yield part.name, (heading for heading in part.detail.usual if heading in SHELF_LIFE)
