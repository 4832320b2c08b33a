"""What comes back: the list per supplier, what it costs, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from inventory.buying.terms import PackOffer, SupplierTerms, Want


@dataclass(frozen=True, slots=True)
class BasketLine:
    """So many packs of one offer; `price` per pack and `cost` in minor units of the supplier's currency."""

    offer: PackOffer
    packs: int
    price: int
    cost: int
    needed_by: date | None
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SupplierOrder:
    """One order to one supplier; `goods` and `postage` in its currency, `landed` in exact shop minor units."""

    supplier: SupplierTerms
    lines: tuple[BasketLine, ...]
    goods: int
    postage: int
    landed: Fraction
    arrives: date | None


@dataclass(frozen=True, slots=True)
class Unfilled:
    """A want that is not on the list: nobody offers it, nobody in time (`earliest` is the best date), or no money.

    with_it: what the list would cost with it, shop minor units, where money lacks; with_order: the order all of whose
    wants that sum takes in. bought: it is on the list all the same, and comes too late.
    """

    want: Want
    why: str
    earliest: date | None = None
    with_it: Fraction | None = None
    with_order: str = ""
    bought: bool = False

    @property
    def days_late(self) -> int | None:
        """Days between the day it is wanted by and the earliest it could be there; None where there is no such day."""
        if self.earliest is None or self.want.needed_by is None:
            return None
        return (self.earliest - self.want.needed_by).days


@dataclass(frozen=True, slots=True)
class Choice:
    """What a list within a budget reaches: whole promised orders, and the trouble avoided by what belongs to none.

    orders of all_orders, trouble of all_trouble. proven: no choice within the budget reaches more; else one might
    reach most_orders and, with as many orders, most_trouble.
    """

    orders: int
    all_orders: int
    trouble: int
    all_trouble: int
    most_orders: int
    most_trouble: int
    proven: bool


@dataclass(frozen=True, slots=True)
class Basket:
    """A whole shopping list.

    `goods`, `postage`, `total`, `bound` and `gap` are exact, in minor units of the shop's currency.  `proven` says that
    no list in the space searched costs less; else the best may cost as little as `bound`, `gap` less than `total`.
    Where a budget left something out, `choice` says what the choice reaches and whether that is proven too.
    """

    bills: tuple[SupplierOrder, ...]
    unfilled: tuple[Unfilled, ...]
    goods: Fraction
    postage: Fraction
    total: Fraction
    proven: bool
    bound: Fraction
    seconds: float
    choice: Choice | None = None

    @property
    def gap(self) -> Fraction:
        """How much less the best list could cost, in minor units of the shop's currency; 0 when proven."""
        return self.total - self.bound

    @property
    def lines(self) -> tuple[BasketLine, ...]:
        """Every line of every supplier."""
        return tuple(line for bill in self.bills for line in bill.lines)

    def packs(self) -> dict[str, int]:
        """Packs by the offer's key."""
        return {line.offer.key: line.packs for line in self.lines}
