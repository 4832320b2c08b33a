"""What the shelf is worth at a day, and how it came to be."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from inventory.catalogue import Part
from inventory.ledger.past.flows import KINDS, Flow, Kind
from inventory.ledger.past.shelf import MovedSum, PastLot

TAX: str = (
    "Cost as it was paid, first in, first out. How stock is valued for tax is for a licensed adviser to say."
)


@dataclass(frozen=True, slots=True)
class PartWorth:
    """What one part held and cost: thousandths, minor units. unknown: thousandths of which nobody knows the cost."""

    part: Part
    quantity: int
    cost: int
    unknown: int
    lots: tuple[PastLot, ...]


@dataclass(frozen=True, slots=True)
class StockWorth:
    """The shelf at the end of `on`, parts and finished pieces alike; what is lent and due in stands beside it.

    since: the first day of the flow; before: what was there the evening before it. flow: by folded part name.
    """

    on: date
    parts: tuple[PartWorth, ...]
    lent: tuple[MovedSum, ...]
    due: tuple[MovedSum, ...]
    since: date
    flow: Mapping[str, Flow]
    named: Mapping[str, Part]

    @property
    def total(self) -> int:
        """Minor units on the shelf; what nobody knows the cost of counts as nothing and is listed."""
        return sum(one.cost for one in self.parts)

    @property
    def unknown(self) -> tuple[PartWorth, ...]:
        """Parts of which at least some has a cost nobody knows."""
        return tuple(one for one in self.parts if one.unknown)

    @property
    def odd(self) -> tuple[PartWorth, ...]:
        """Parts of which the book had less than nothing that day: what went was booked for an earlier day than came."""
        return tuple(one for one in self.parts if any(lot.quantity < 0 for lot in one.lots))

    def by_kind(self) -> Mapping[str, tuple[int, int]]:
        """How many parts of each kind hold something, and minor units in them; most first."""
        found: dict[str, tuple[int, int]] = {}
        for one in self.parts:
            many, cost = found.get(one.part.kind, (0, 0))
            found[one.part.kind] = many + 1, cost + one.cost
        return dict(sorted(found.items(), key=lambda item: -item[1][1]))

    def summed(self) -> tuple[int, Mapping[Kind, int], int]:
        """Opening, what each kind of movement comes to (positive as it usually is), and closing, minor units."""
        every = self.flow.values()
        opening, closing = sum(one.opening[1] for one in every), sum(one.closing[1] for one in every)
        return opening, {kind: sum(one.of(kind)[1] for one in every) for kind in KINDS}, closing
