"""What a piece costs: where each coin goes, what it would have to sell for, what else it could be made of."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Final, Literal

CostOf = Literal["materials", "supplies", "packaging", "spoiled", "tools", "work"]
"""What a coin goes into."""
COST_OF: Final[tuple[CostOf, ...]] = ("materials", "supplies", "packaging", "spoiled", "tools", "work")
TAX_OF_PRICES: Final = "before tax, which is for a licensed adviser to say"
Otherwise = Literal["plating", "thicker", "refill", "blank"]


@dataclass(frozen=True, slots=True)
class CostRow:
    """One thing that costs, for all pieces, minor units. quantity: thousandths of the unit; minutes of work."""

    name: str
    of: CostOf
    cost: int
    quantity: int = 0
    unit: str = ""


@dataclass(frozen=True, slots=True)
class CostChange:
    """Made otherwise: what all pieces cost more (less, below 0), minor units; None where it cannot be told, and why."""

    what: Otherwise
    value: str
    difference: int | None
    because: str = ""


@dataclass(frozen=True, slots=True)
class RulePrice:
    """A price for one piece by some rule, minor units, and what it comes to.

    margin: share of the price over all it costs; markup: share of the cost; an_hour: what an hour of the work earns.
    """

    rule: str
    price: int
    margin: Fraction | None
    markup: Fraction | None
    an_hour: int | None


@dataclass(frozen=True, slots=True)
class SoldBefore:
    """What such pieces brought each, minor units; pieces: of how many the price is known; median: of all pieces."""

    pieces: int
    low: int
    high: int
    median: int
    last: int
    last_on: date


@dataclass(frozen=True, slots=True)
class BreakEven:
    """What is paid once, at what price, what a piece contributes to it, how many pay it; None where none does."""

    fee: int
    price: int
    contribution: Fraction
    pieces: int | None


@dataclass(frozen=True, slots=True)
class CostReport:
    """Where each coin of so many pieces goes. what: the pattern, order or piece; words: how it is made.

    rows add up to the total, coin by coin. minutes: of work in all of them, spoiled ones among them. made: whether they
    are made, so that the rows are what the book says and not what is expected. unknown: parts whose cost nobody knows.
    """

    what: str
    words: str
    on: date
    pieces: int
    rows: Sequence[CostRow]
    minutes: Fraction
    unknown: Sequence[str]
    made: bool = False
    prices: Sequence[RulePrice] = ()
    changes: Sequence[CostChange] = ()
    before: SoldBefore | None = None
    even: BreakEven | None = None

    @property
    def total(self) -> int:
        """Of all pieces, minor units."""
        return sum(row.cost for row in self.rows)

    @property
    def by_kind(self) -> Mapping[CostOf, int]:
        """What goes into each kind of thing."""
        sums = {of: sum(row.cost for row in self.rows if row.of == of) for of in COST_OF}
        return {of: cost for of, cost in sums.items() if cost}

    @property
    def goods(self) -> int:
        """All but the work."""
        return self.total - sum(row.cost for row in self.rows if row.of == "work")

    def each(self, cost: int) -> Fraction:
        """Of one piece."""
        return Fraction(cost, self.pieces)
