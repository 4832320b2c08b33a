"""Where a lot's cost comes from: said, by a supplier's offer where nobody said it, or not known at all.

A lot carries a mark of it: 0 where the cost was said or paid, 1 by the offer, 2 unknown. The line that brings the lot
adds the mark, one that gives the cost later takes it off; so it adds up over the lines like quantity and cost, and
what is taken back brings it back. An unknown cost is 0 in the sums: whoever shows a sum says what it leaves out.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from inventory.catalogue import Offer, Supplier, fold
from inventory.ledger.book import Lot

SAID, BY_OFFER, UNKNOWN = 0, 1, 2
WORDS = ("said", "by the offer", "unknown")
"""What the marks are called on screens and in JSON."""

SAID_LATER = "cost said"
"""The word of a line of no quantity that says what a lot cost."""
POSTAGE = "postage"
"""The word of a line of no quantity that lays its share of a parcel's postage on a lot, when it came."""

Offered = Callable[[str, int], int | None]
"""By the latest fitting offer: a part's name and thousandths of it in, minor units out; None without an offer."""


def nothing_offered(_: str, __: int) -> int | None:
    """No offer says anything."""
    return None


@dataclass(frozen=True, slots=True)
class Cost:
    """Minor units, and where they come from."""

    amount: int
    cost_from: int = SAID


@dataclass(frozen=True, slots=True)
class Saying:
    """By what word a lot came, and what it held and cost when its cost was last said; later: not when it came.

    held, worth: what it holds and costs by the lines read so far.
    """

    word: str
    quantity: int
    cost: int
    held: int
    worth: int
    later: bool = False

    def after(self, quantity: int, cost: int, *, said: bool, later: bool) -> Saying:
        """The same after one line more; said: whether that line says the cost, as postage does."""
        held, worth = self.held + quantity, self.worth + cost
        if not said:
            return replace(self, held=held, worth=worth)
        return Saying(self.word, held, worth, held, worth, later=later)


def share_like(lot: Lot, quantity: int) -> Cost:
    """What `quantity` costs at the lot's own cost a unit: cost·quantity // lot quantity, known as well as that is."""
    return Cost(lot.cost * quantity // lot.quantity, lot.cost_from)


def unsaid(part: str, quantity: int, offered: Offered) -> Cost:
    """The cost of stock of which nobody says what it cost: by the offer, else unknown."""
    found = offered(part, quantity)
    return Cost(0, UNKNOWN) if found is None else Cost(found, BY_OFFER)


def worst(marks: Iterable[int]) -> int:
    """The mark of what is made of several things: the least that is known of any."""
    return max(marks, default=SAID)


def unknown_of(lots: Iterable[Lot]) -> int:
    """Thousandths in these lots whose cost nobody knows."""
    return sum(lot.quantity for lot in lots if lot.cost_from == UNKNOWN)


def offer_price(offer: Offer, quantity: int) -> Fraction:
    """The supplier's minor units for a quantity, at the step that as many whole packs reach (else the first)."""
    packs = quantity // offer.pack
    reached = [step.price for step in offer.steps if step.from_packs <= packs]
    return Fraction((reached or [offer.steps[0].price])[-1] * quantity, offer.pack)


@dataclass(frozen=True, slots=True)
class Prices:
    """What offers say things cost, in the shop's coin. offers, suppliers: by folded name.

    rate: the shop's minor units for one of a currency, None where nobody said; offers in such a coin do not fit.
    """

    offers: Mapping[str, Sequence[Offer]]
    suppliers: Mapping[str, Supplier]
    rate: Callable[[str], Fraction | None]

    def __call__(self, part: str, quantity: int) -> int | None:
        """Minor units for a quantity (thousandths) of a part, rounded half-even; None where no offer fits."""
        found = self.exact(part, quantity)
        return None if found is None else round(found)

    def exact(self, part: str, quantity: int) -> Fraction | None:
        """The same unrounded: of the offers seen last, the cheapest for so much."""
        fitting = [
            (one.seen_on or date.min, offer_price(one, quantity) * rate)
            for one in self.offers.get(fold(part), ())
            if (rate := self._rate(one)) is not None
        ]
        newest = max((day for day, _ in fitting), default=None)
        return min((price for day, price in fitting if day == newest), default=None)

    def of_one(self, part: str) -> tuple[Fraction, Fraction] | None:
        """The lowest and the highest price of one unit over all fitting offers and their steps; None without any."""
        each = [
            Fraction(1000 * step.price, one.pack) * rate
            for one in self.offers.get(fold(part), ())
            if (rate := self._rate(one)) is not None
            for step in one.steps
        ]
        return (min(each), max(each)) if each else None

    def _rate(self, offer: Offer) -> Fraction | None:
        supplier = self.suppliers.get(fold(offer.supplier))
        return None if supplier is None else self.rate(supplier.currency)
