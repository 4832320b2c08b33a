"""An offer while its price steps come in, one row each."""

from __future__ import annotations

from dataclasses import field
from datetime import date
from itertools import pairwise

from inventory.catalogue import Offer, PriceStep
from inventory.quick import dataclass


@dataclass(slots=True)
class OfferDraft:
    """Rows of one supplier, part, pack and code; steps map the first number of packs to a price."""

    supplier: str
    part: str
    pack: int
    code: str
    group: str = ""
    seen_on: date | None = None
    at_most: int | None = None
    steps: dict[int, int] = field(default_factory=dict)

    def offer(self) -> Offer:
        """The offer with its steps in order."""
        steps = tuple(PriceStep(packs, price) for packs, price in sorted(self.steps.items()))
        head = self.supplier, self.part, self.pack, steps, self.code
        return Offer(*head, self.group, self.seen_on, self.at_most)

    def notes(self) -> list[str]:
        """What is odd about the steps, though it may be meant."""
        what = f"the offer of “{self.part}” by {self.supplier}"
        found = []
        if list(self.steps) != sorted(self.steps):
            found.append(f"The price steps in {what} were not in order; they are sorted.")
        if any(later >= earlier for (_, earlier), (_, later) in pairwise(sorted(self.steps.items()))):
            found.append(f"A price step in {what} is not cheaper than the one before it.")
        return found
