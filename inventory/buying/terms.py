"""What the optimiser is told: offers with their price steps, suppliers with their postage, and what is wanted.

Money is in whole minor units of the supplier's currency, quantities in whole thousandths of the part's unit.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from itertools import pairwise
from math import inf

from inventory.errors import BadInput, Place


@dataclass(frozen=True, slots=True)
class PriceBreak:
    """From this many packs on, every pack costs `price` (all-units step)."""

    from_packs: int
    price: int


@dataclass(frozen=True, slots=True)
class PackOffer:
    """One pack of one part at one supplier.

    `pack` is thousandths of the part's unit in one pack.  Where `price_group` is named, the step reached is that of
    the sum of packs over all offers of this supplier in the group (mix and match); else of this offer's own packs.
    A first step above one pack means that fewer cannot be bought; `at_most` packs are all the supplier has of this
    offer (None: as many as one likes).
    """

    key: str
    supplier: str
    part: str
    pack: int
    steps: tuple[PriceBreak, ...]
    price_group: str | None = None
    code: str = ""
    seen_on: date | None = None
    at_most: int | None = None

    def price_at(self, packs: int) -> int | None:
        """Price per pack when the step is reached by `packs`; None below the first step."""
        reached = [step.price for step in self.steps if step.from_packs <= packs]
        return reached[-1] if reached else None


@dataclass(frozen=True, slots=True)
class SupplierTerms:
    """Who sells: postage flat per order, none from goods of `free_from` on; under `minimum_order` nothing is sent.

    `lead_days` None means that nobody knows when it arrives: such a supplier serves only wants without a date.
    `hazard_air` says that parcels come by air, where hazardous goods may not.
    """

    name: str
    lead_days: int | None
    currency: str
    postage: int = 0
    free_from: int | None = None
    minimum_order: int | None = None
    hazard_air: bool = False

    def arrives(self, today: date) -> date | None:
        """The day an order placed today arrives; None when the lead time is not known."""
        return None if self.lead_days is None else today + timedelta(days=self.lead_days)

    def postage_on(self, goods: int) -> int:
        """Postage for goods of this value, both in minor units of the supplier's currency."""
        return 0 if self.free_from is not None and goods >= self.free_from else self.postage


@dataclass(frozen=True, slots=True)
class Want:
    """A quantity of a part, why, and by when.

    For a budget: `orders` are the promises that cannot be made without it, each served only by all its wants together;
    `worth` is the trouble avoided by having what belongs to no order, in any unit that is the same for all of a list.
    """

    part: str
    quantity: int
    needed_by: date | None = None
    orders: tuple[str, ...] = ()
    worth: int = 1
    reasons: tuple[str, ...] = ()


def check_terms(
    offers: Iterable[PackOffer], suppliers: Mapping[str, SupplierTerms], rates: Mapping[str, Fraction]
) -> None:
    """Raise one `BadInput` that names every offer or supplier the optimiser cannot take."""
    wrong = [
        Place(said=offer.key, problem=why) for offer in offers for why in _offer_faults(offer, suppliers)
    ]
    wrong += [
        Place(said=one.name, problem=why)
        for one in suppliers.values()
        for why in _supplier_faults(one, rates)
    ]
    if wrong:
        told = "; ".join(f"{place.said}: {place.problem}" for place in wrong)
        raise BadInput(
            f"Some offers or suppliers cannot be used: {told}.",
            hint="Give packs above 0, steps with rising counts and falling prices, a rate for every currency.",
            where=wrong,
        )


def buyable(offers: Iterable[PackOffer]) -> list[PackOffer]:
    """Without those whose first step is beyond all that is left of their price group.

    offers: of the parts on the list, in time or not; others are not bought to fill up a group.
    """
    kept = list(offers)
    while True:
        left: dict[tuple[str, str], float] = {}
        for offer in kept:
            key = offer.supplier, offer.price_group or ""
            left[key] = left.get(key, 0) + (inf if offer.at_most is None else offer.at_most)
        there = [one for one in kept if one.price_group is None or _reached(one, left)]
        if len(there) == len(kept):
            return kept
        kept = there


def _reached(offer: PackOffer, left: Mapping[tuple[str, str], float]) -> bool:
    return offer.steps[0].from_packs <= left[offer.supplier, offer.price_group or ""]


def _offer_faults(offer: PackOffer, suppliers: Mapping[str, SupplierTerms]) -> Iterable[str]:
    if offer.supplier not in suppliers:
        yield f"the supplier “{offer.supplier}” is not in the list"
    if offer.pack <= 0:
        yield "the pack holds nothing"
    if not offer.steps:
        yield "it has no price"
    if any(step.from_packs < 1 for step in offer.steps):
        yield "a step starts below one pack"
    if any(step.price < 0 for step in offer.steps):
        yield "a price is below 0"
    pairs = list(pairwise(offer.steps))
    if any(a.from_packs >= b.from_packs for a, b in pairs):
        yield "the steps are out of order"
    if any(a.price < b.price for a, b in pairs):
        yield "a pack gets dearer at a higher step"
    if offer.at_most is not None and offer.at_most < _first(offer):
        yield "fewer packs are left than can be bought"


def _first(offer: PackOffer) -> int:
    """The fewest packs one can buy; in a price group the others may reach the first step."""
    starts = [step.from_packs for step in offer.steps]
    return min(starts, default=1) if offer.price_group is None else 1


def _supplier_faults(one: SupplierTerms, rates: Mapping[str, Fraction]) -> Iterable[str]:
    if rates.get(one.currency, Fraction(0)) <= 0:
        yield f"there is no exchange rate for {one.currency}"
    if one.postage < 0 or (one.free_from or 0) < 0 or (one.minimum_order or 0) < 0:
        yield "postage, free postage from or minimum order is below 0"
    if one.lead_days is not None and one.lead_days < 0:
        yield "the lead time is below 0"
