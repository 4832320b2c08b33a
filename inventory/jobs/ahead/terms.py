"""What it costs to hold a part, to lack it, and how long it takes to come: the figures levels are worked out from."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from itertools import pairwise
from statistics import median

from inventory.catalogue import Offer, Part, Supplier, Supply, fold
from inventory.ledger.lateness import DEFAULT
from inventory.ledger.shop import Shop

HOLDING = 0.25
"""What a coin in stock costs a year: money tied up, what fades, breaks and is never used (an assumption)."""
LOST = 0.5
"""Share of a piece's profit that is lost where a part it needs comes late (an assumption: one customer in two goes)."""
CAN_WAIT = 0.1
"""Share of that for what an evening can do without or get round the corner: abrasives, packaging, sundries."""
TRIP = 14
"""Days between two shopping trips where the book does not show them (an assumption)."""
WAITS = frozenset({"abrasive", "packaging", "sundry"})


@dataclass(frozen=True, slots=True)
class PartSource:
    """The supplier a part is reckoned to come from, with the offer that is cheapest there a unit.

    price: coins of the shop a unit costs where so many units (of its price group, if it has one) are bought at once;
    steps: units of the group at which it falls.
    """

    supplier: Supplier
    offer: Offer
    price: Callable[[float], float]
    steps: tuple[float, ...]

    @property
    def group(self) -> str:
        """What steps are counted over."""
        return self.offer.price_group or f"{self.offer.part}/{self.offer.pack}"


def source_of(shop: Shop, part: Part, lot: float) -> PartSource | None:
    """Where a part is cheapest, bought `lot` units at once, a fifth of a postage that is never free in it."""
    found = []
    for offer in shop.offers.get(fold(part.name), ()):
        supplier = shop.catalogue.suppliers.get(fold(offer.supplier))
        if supplier is None or supplier.lead_days is None or (rate := shop.rate(supplier.currency)) is None:
            continue
        price = prices_of(shop, offer, rate)
        whole = max(lot, offer.pack / 1000)
        posted = float(supplier.postage * rate) / minor_units(shop) if supplier.free_from is None else 0.0
        found.append((price(whole) * whole + posted / 5, supplier.lead_days, offer, supplier, price))
    if not found:
        return None
    _, _, offer, supplier, price = min(found, key=lambda one: one[:2])
    steps = tuple(step.from_packs * offer.pack / 1000 for step in offer.steps if step.from_packs > 1)
    return PartSource(supplier, offer, price, steps)


def prices_of(shop: Shop, offer: Offer, rate: Fraction) -> Callable[[float], float]:
    """Coins of the shop a unit costs where so many units are bought at once."""
    unit = float(rate) / minor_units(shop) / (offer.pack / 1000)
    steps = [(step.from_packs * offer.pack / 1000, step.price * unit) for step in offer.steps]

    def price(units: float) -> float:
        reached = [cost for begun, cost in steps if begun <= units + 1e-9]
        return min(reached, default=steps[0][1])

    return price


def minor_units(shop: Shop) -> int:
    """How many minor units one of the shop's coins has."""
    return int(10**shop.currency.exponent)


def own_coins(shop: Shop, supplier: Supplier) -> float:
    """Coins of the shop's that a minor unit of a supplier's is worth; as if it were its own where nobody has said."""
    return float(shop.rate(supplier.currency) or 1) / minor_units(shop)


def lateness(shop: Shop, supplier: Supplier) -> Sequence[int]:
    """Days after the day it was expected on which parcels came, as they were, and one more at the usual guess."""
    seen = [max(days, 0) for days in shop.book.late.get(fold(supplier.name), ())]
    return [*seen, DEFAULT if len(seen) < 4 else 0]


def between_trips(days: Iterable[date]) -> float:
    """Days between two shopping trips: the median of those the book shows, once it shows five."""
    gaps = [(later - earlier).days for earlier, later in pairwise(sorted(set(days)))]
    return float(median(gaps)) if len(gaps) >= 4 else float(TRIP)


def short_cost(part: Part, profit: float, used: Mapping[str, float]) -> float:
    """What one unit too few costs, coins: the profit of the pieces that wait for it, as far as it is lost.

    used: units a piece takes of it, by what uses it; profit: coins a piece leaves.
    """
    most = max(used.values(), default=0.0)
    waits = isinstance(part.detail, Supply) and fold(part.detail.type) in WAITS
    return (CAN_WAIT if waits else 1.0) * LOST * profit / most if most else 0.0
