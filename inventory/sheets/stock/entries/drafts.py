"""An offer while its price steps come in, one row each."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from itertools import pairwise

from inventory.catalogue import Offer, PriceStep


@dataclass(slots=True)
class OfferDraft:
    """Rows of one supplier, part, pack and code. said: what they say together; steps: a price by its first packs."""

    said: Offer
    steps: dict[int, int] = field(default_factory=dict)

    def offer(self) -> Offer:
        """The offer with its steps in order."""
        steps = tuple(PriceStep(packs, price) for packs, price in sorted(self.steps.items()))
        return replace(self.said, steps=steps)

    def notes(self) -> list[str]:
        """What is odd about the steps, though it may be meant."""
        what = f"the offer of “{self.said.part}” by {self.said.supplier}"
        found = []
        if list(self.steps) != sorted(self.steps):
            found.append(f"The price breaks in {what} were not in order; they are sorted.")
        if any(later >= earlier for (_, earlier), (_, later) in pairwise(sorted(self.steps.items()))):
            found.append(f"A price break in {what} is not cheaper than the one before it.")
        return found
