"""What comes back: the list per supplier, what it costs, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from inventory.buying.offers import Offer, Supplier, Want


@dataclass(frozen=True, slots=True)
class Line:
    """So many packs of one offer; `price` per pack and `cost` in minor units of the supplier's currency."""

    offer: Offer
    packs: int
    price: int
    cost: int
    needed_by: date | None
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Bill:
    """One order to one supplier; `goods` and `postage` in its currency, `landed` in exact shop minor units."""

    supplier: Supplier
    lines: tuple[Line, ...]
    goods: int
    postage: int
    landed: Fraction
    arrives: date | None


@dataclass(frozen=True, slots=True)
class Unfilled:
    """A want that is not on the list: nobody offers it, nobody in time (`earliest` is the best date), or no money."""

    want: Want
    why: str
    earliest: date | None = None


@dataclass(frozen=True, slots=True)
class Basket:
    """A whole shopping list.

    `goods`, `postage`, `total`, `bound` and `gap` are exact, in minor units of the shop's currency.  `proven` says that
    no list in the space searched costs less; else the best may cost as little as `bound`, `gap` less than `total`.
    Under a budget `complete` says that the choice of what to leave out is proven too.
    """

    bills: tuple[Bill, ...]
    unfilled: tuple[Unfilled, ...]
    goods: Fraction
    postage: Fraction
    total: Fraction
    proven: bool
    bound: Fraction
    seconds: float
    complete: bool = True

    @property
    def gap(self) -> Fraction:
        """How much less the best list could cost, in minor units of the shop's currency; 0 when proven."""
        return self.total - self.bound

    @property
    def lines(self) -> tuple[Line, ...]:
        """Every line of every supplier."""
        return tuple(line for bill in self.bills for line in bill.lines)

    def packs(self) -> dict[str, int]:
        """Packs by the offer's key."""
        return {line.offer.key: line.packs for line in self.lines}
