"""Suppliers and what they offer. Money is minor units of the supplier's own currency."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Supplier:
    """Where parts come from. postage is flat below `free_from` (goods value); minimum_order is goods value."""

    name: str
    lead_days: int | None
    postage: int = 0
    free_from: int | None = None
    minimum_order: int | None = None
    currency: str = ""
    email: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class PriceStep:
    """From this many packs on, one pack costs `price`."""

    from_packs: int
    price: int


@dataclass(frozen=True, slots=True)
class Offer:
    """One pack of a part at a supplier. With a price group, steps count the packs of the whole group.

    at_most: packs the supplier has left, 0 where it is sold out; None where nobody said.
    """

    supplier: str
    part: str
    pack: int
    steps: tuple[PriceStep, ...]
    code: str = ""
    price_group: str = ""
    seen_on: date | None = None
    at_most: int | None = None

    def has_left(self, packs: int) -> bool:
        """Whether the supplier has so many, and as many as its first step asks for where the offer counts alone."""
        least = packs if self.price_group else max(packs, self.steps[0].from_packs)
        return self.at_most is None or self.at_most >= least
