"""The past of one's own shop: what was made, spoiled, sold, spent, agreed, used, kept late, and what slept."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import NamedTuple

from inventory.catalogue import Part
from inventory.ledger.past.asleep import Asleep


@dataclass(frozen=True, slots=True)
class HistoryStep:
    """A month (in a long past a year) from its first day on: pieces, and minor units.

    sold_for: of `sold` pieces those whose price is known; spent: with the postage.
    """

    step: date
    made: int = 0
    spoiled: int = 0
    sold: int = 0
    sold_for: int = 0
    spent: int = 0
    postage: int = 0

    def __add__(self, more: HistoryStep) -> HistoryStep:
        return HistoryStep(
            self.step,
            self.made + more.made,
            self.spoiled + more.spoiled,
            self.sold + more.sold,
            self.sold_for + more.sold_for,
            self.spent + more.spent,
            self.postage + more.postage,
        )


@dataclass(frozen=True, slots=True)
class PatternPast:
    """Pieces of one pattern, and minor units."""

    pattern: str
    made: int
    spoiled: int
    sold: int
    sold_for: int


@dataclass(frozen=True, slots=True)
class SpoiledAt:
    """Pieces of one material spoiled at one stage; started: all pieces of that material that were begun."""

    material: str
    stage: str
    spoiled: int
    started: int


@dataclass(frozen=True, slots=True)
class SupplierSpent:
    """What went to one supplier (empty: bought by hand of nobody named), minor units."""

    supplier: str
    parcels: int
    goods: int
    postage: int

    @property
    def spent(self) -> int:
        """Goods and postage."""
        return self.goods + self.postage


class OrderedAt(NamedTuple):
    """What was ordered of one offer in a month or year: thousandths of the part's unit, and minor units."""

    step: date
    quantity: int
    cost: int


@dataclass(frozen=True, slots=True)
class OfferPrices:
    """What a pack of one supplier was ordered at, the mean of each step by what was ordered in it.

    pack: thousandths of the part's unit; lines: how often it was ordered. Of thousands of offers a screen shows three:
    a price is worked out where it is asked for.
    """

    part: str
    unit: str
    supplier: str
    pack: int
    lines: int
    ordered: Sequence[OrderedAt]

    @property
    def seen(self) -> Sequence[tuple[date, Fraction]]:
        """Each step's price of a pack, minor units."""
        return [(one.step, Fraction(one.cost * self.pack, one.quantity)) for one in self.ordered]

    @property
    def change(self) -> Fraction:
        """From the first price to the last, as a share of the first: (c₂/q₂)/(c₁/q₁) − 1."""
        first, last = self.ordered[0], self.ordered[-1]
        before = first.cost * last.quantity
        return Fraction(last.cost * first.quantity - before, before)


@dataclass(frozen=True, slots=True)
class UseLook:
    """One look at a supply: what the sessions since the last look used, beside what the bills write for them.

    low, high: what they ask at the ends of the present rate's 90 % range. counts: whether it is learned from.
    """

    on: date
    used: Fraction
    expected: Fraction
    low: Fraction
    high: Fraction
    counts: bool


@dataclass(frozen=True, slots=True)
class UsePast:
    """A supply and the looks at it, oldest first, in its unit."""

    part: Part
    looks: Sequence[UseLook]

    @property
    def times(self) -> Fraction:
        """How many times what the bills write was used, all looks together that count (else all)."""
        some = [one for one in self.looks if one.counts] or self.looks
        return sum((one.used for one in some), Fraction(0)) / sum((one.expected for one in some), Fraction(0))

    def band(self) -> tuple[Fraction, Fraction]:
        """The present range of the same."""
        expected = sum((one.expected for one in self.looks), Fraction(0))
        return (
            sum((one.low for one in self.looks), Fraction(0)) / expected,
            sum((one.high for one in self.looks), Fraction(0)) / expected,
        )


@dataclass(frozen=True, slots=True)
class KeptLate:
    """An order handed over after its day."""

    order: str
    due: date
    on: date

    @property
    def days(self) -> int:
        """How many days after."""
        return (self.on - self.due).days


@dataclass(frozen=True, slots=True)
class OnTime:
    """Orders that were handed over to the last piece. overdue: promised, open, and their day is past."""

    handed_over: int
    late: Sequence[KeptLate]
    overdue: int

    @property
    def on_time(self) -> int:
        """How many were handed over by their day."""
        return self.handed_over - len(self.late)


@dataclass(frozen=True, slots=True)
class History:
    """From the first day to the last, both included. unpriced: pieces sold of which nobody said the price."""

    first: date
    last: date
    by_month: bool
    steps: Sequence[HistoryStep]
    patterns: Sequence[PatternPast]
    spoiled: Sequence[SpoiledAt]
    suppliers: Sequence[SupplierSpent]
    prices: Sequence[OfferPrices]
    uses: Sequence[UsePast]
    orders: OnTime
    asleep: Sequence[Asleep]
    unpriced: int

    @property
    def total(self) -> HistoryStep:
        """All steps together."""
        return _added(self.first, self.steps)

    def years(self) -> Sequence[HistoryStep]:
        """The same by year."""
        by_year: Mapping[int, list[HistoryStep]] = {one.step.year: [] for one in self.steps}
        for one in self.steps:
            by_year[one.step.year].append(one)
        return [_added(date(year, 1, 1), some) for year, some in by_year.items()]


def _added(step: date, some: Iterable[HistoryStep]) -> HistoryStep:
    return sum(some, HistoryStep(step))
