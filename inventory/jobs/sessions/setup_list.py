"""What to lay out on the bench, and what to be careful of."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from inventory.catalogue import Blank, fold
from inventory.catalogue.safety.kinds import about_hazards
from inventory.jobs.orders.needs import Requirements
from inventory.jobs.orders.requests import ResolvedRequest
from inventory.ledger.bottles.shelf_life import gone_off, use_by
from inventory.ledger.shop import Shop
from inventory.making.consumption import tubes_inside
from inventory.making.fit import barrel_fits
from inventory.measures import show_amount, show_date


@dataclass(frozen=True, slots=True)
class SetupItem:
    """One thing to put on the bench. there: None where the book keeps no tools, so that somebody must look."""

    what: str
    part: str | None
    there: bool | None
    note: str = ""


def setup_list(resolved: ResolvedRequest, plan: Requirements) -> tuple[SetupItem, ...]:
    """Drills, tubes, trimmer pilots and bushings in working order."""
    done = []
    for tool in plan.tools:
        note = (
            f"{' and '.join(tool.instead)} is there: not the same hole"
            if tool.instead and not tool.there
            else ""
        )
        done.append(SetupItem(tool.what, tool.part, tool.there if plan.tools_in_book else None, note))
    tubes = _tubes(resolved, plan)
    at = sum(1 for tool in plan.tools if tool.stage == "drill")
    return (*done[:at], *tubes, *done[at:])


def _tubes(resolved: ResolvedRequest, plan: Requirements) -> list[SetupItem]:
    """The tubes by barrel; one kind for several barrels is one thing to lay out."""
    barrels: dict[str, list[str]] = {}
    for barrel in resolved.family.barrels:
        if barrel.tube:
            barrels.setdefault(barrel.tube, []).append(barrel.name)
    short = {fold(need.part.name): need for need in plan.parts if need.short}
    done = []
    for tube, names in barrels.items():
        missing = short.get(fold(tube))
        note = " and ".join(names) + (", in the kit" if tubes_inside(plan.kit) else "")
        if missing and missing.free:
            note += f"; {show_amount(missing.free, missing.part.unit)} on hand, {missing.short // 1000} short"
        done.append(SetupItem("tubes", tube, missing is None, note))
    return done


def cautions(shop: Shop, resolved: ResolvedRequest, plan: Requirements) -> tuple[str, ...]:
    """Fit, near twins, shelf life, materials: sentences of this order. What can hurt is said by `safety`."""
    done: list[str] = [
        warning for fit in barrel_fits(shop.catalogue, resolved.family) for warning in fit.warnings
    ]
    done += _twins(plan)
    done += _unnamed(resolved, plan)
    done += _shelf_life(shop, resolved, plan)
    done += _notes(shop, resolved, plan)
    done += _material(resolved)
    return tuple(dict.fromkeys(done))


def _twins(plan: Requirements) -> Iterable[str]:
    for tool in plan.tools:
        if tool.instead:
            yield f"Do not take {' or '.join(tool.instead)} for {tool.what}."


def _unnamed(resolved: ResolvedRequest, plan: Requirements) -> Iterable[str]:
    """Bushings and pilots the family does not name: they are not looked for, so somebody must look."""
    family = resolved.family
    if not plan.tools_in_book or not any(barrel.tube for barrel in family.barrels):
        return
    for what, named in (("bushings", family.bushings), ("trimmer pilot", family.trimmer_pilots)):
        if not named:
            yield f"No {what} named for {family.name}: see that the right one is there before anything is drilled."


def _shelf_life(shop: Shop, resolved: ResolvedRequest, plan: Requirements) -> Iterable[str]:
    for name in dict.fromkeys(use.part for use in plan.uses):
        part = shop.catalogue.part(name)
        for lot in shop.book.lots_of(name):
            last = use_by(part, lot)
            if last is None:
                continue
            if gone_off(part, lot, shop.today):
                yield f"{part.name}: a lot is out of date since {show_date(last)}, not counted on."
            elif last < resolved.request.due:
                yield f"{part.name}: a lot is out of date after {show_date(last)}, before the order is due."


def _notes(shop: Shop, resolved: ResolvedRequest, plan: Requirements) -> Iterable[str]:
    request = resolved.request
    if request.refill and resolved.family.refill and fold(request.refill) != fold(resolved.family.refill):
        part = shop.catalogue.part(request.refill)
        note = f": {part.note}" if part.note else "; try one first"
        yield f"{part.name} in place of {resolved.family.refill}{note.rstrip('.')}."
    if request.extra_diameter:
        yield (
            f"Barrel {request.extra_diameter} thicker: taper both ends back to the fittings' diameter; "
            "the usual bushings no longer show the middle."
        )
    if len(resolved.request.platings) > 1:
        yield f"All pieces in {plan.plating}: platings are never mixed inside a set."


def _material(resolved: ResolvedRequest) -> Iterable[str]:
    material = resolved.material
    if not material.losses:
        yield f"No losses are known for {material.name}; every piece is taken to come out good."
    if material.caution and not about_hazards(material.caution):
        yield f"{material.name}: {material.caution.rstrip('.')}."
    detail = resolved.blank.detail
    if isinstance(detail, Blank) and detail.shape != "natural" and detail.length is None:
        yield f"{resolved.blank.name} has no length in the book: one piece a blank is assumed."
