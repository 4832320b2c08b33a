"""What fits a family: tubes, drills, clearances, bushings, pilots, refill, and the blanks on the shelf."""

from __future__ import annotations

from dataclasses import dataclass

from inventory.catalogue import Blank, Family, Part
from inventory.jobs.orders.needs import usable_free
from inventory.jobs.orders.requests import kits_of
from inventory.ledger.shop import Shop
from inventory.making.blanks.fitting import BlankPlan, piece_size, plan_blanks
from inventory.making.fit import BarrelFit, ToolNeed, barrel_fits, tools_needed


@dataclass(frozen=True, slots=True)
class BlankFit:
    """One blank part: how many there are of use, the pieces one gives and all give, what keeps others out."""

    part: Part
    usable: int
    each: int
    pieces: int
    unfit: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FamilyFit:
    """The whole answer for one family. kits: each with its free count in thousandths."""

    family: Family
    barrels: tuple[BarrelFit, ...]
    tools: tuple[ToolNeed, ...]
    refill: Part | None
    refill_free: int
    kits: tuple[tuple[Part, int], ...]
    blanks: tuple[BlankFit, ...]
    kerf_mm: float


def fits(shop: Shop, name: str) -> FamilyFit:
    """Everything that goes with one family. Raises UnknownName."""
    family = shop.catalogue.family(name)
    on_hand = {key: balance.on_hand for key, balance in shop.book.balances.items()}
    refill = shop.catalogue.part(family.refill) if family.refill else None
    return FamilyFit(
        family,
        barrel_fits(shop.catalogue, family),
        tools_needed(shop.catalogue, family, on_hand),
        refill,
        usable_free(shop, refill) if refill else 0,
        tuple((kit, usable_free(shop, kit)) for kit in kits_of(shop.catalogue, family)),
        tuple(_blanks(shop, family)),
        float(shop.kerf),
    )


def _blanks(shop: Shop, family: Family) -> list[BlankFit]:
    done = []
    for part in shop.catalogue.parts.values():
        if isinstance(part.detail, Blank) and shop.book.balance(part.name).on_hand > 0:
            plan = _plan(shop, family, part, part.detail)
            done.append(BlankFit(part, plan.usable, plan.each, plan.capacity, plan.unfit))
    return sorted(done, key=lambda one: (-one.pieces, one.part.name))


def _plan(shop: Shop, family: Family, part: Part, blank: Blank) -> BlankPlan:
    size = piece_size(shop.catalogue, family, shop.catalogue.material(blank.material), None)
    return plan_blanks(part, size, shop.book.lots_of(part.name), usable_free(shop, part), shop.kerf, 1)
