"""Published problems of choosing vendors, as lists for the basket and as integer programmes for scipy."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise, product

from inventory.buying import Basket, PackOffer, PriceBreak, SupplierTerms, Want, best_basket

from .basket_cases import TODAY

MINOR = 100_000
"""Minor units of money: a hundred-thousandth, so that every published price is whole."""


@dataclass(frozen=True)
class Segment:
    """From `start` to `end` units at `price` a unit."""

    start: int
    end: int
    price: Fraction


@dataclass(frozen=True)
class Vendor:
    """Who bids: `setup` once where anything is bought; `incremental` where a segment's price is for its units only."""

    name: str
    setup: Fraction
    segments: tuple[Segment, ...]
    incremental: bool = True

    def cost(self, quantity: Fraction) -> Fraction:
        """What the vendor charges, from the published terms alone; fails where so much is not to be had."""
        if not quantity:
            return Fraction(0)
        assert self.segments[0].start <= quantity <= self.segments[-1].end, "not to be had"
        mine = max(n for n, one in enumerate(self.segments) if one.start <= quantity)
        if not self.incremental:
            return self.setup + self.segments[mine].price * quantity
        whole = self.setup + self.segments[0].price * self.segments[0].start
        for one in self.segments[:mine]:
            whole += one.price * (one.end - one.start)
        return whole + self.segments[mine].price * (quantity - self.segments[mine].start)


def vendor(name: str, setup: str, *segments: tuple[int, int, str], incremental: bool = True) -> Vendor:
    """Terms as printed."""
    told = tuple(Segment(start, end, Fraction(price)) for start, end, price in segments)
    return Vendor(name, Fraction(setup), told, incremental)


@dataclass(frozen=True)
class Deal:
    """One thing to sign: a fixed sum, then `price` for each unit; `low` to `high` units."""

    vendor: str
    fixed: Fraction
    steps: tuple[tuple[int, Fraction], ...]
    high: int


def deals(one: Vendor) -> list[Deal]:
    """A vendor's terms as offers with a flat sum.

    Prices for all units are one offer with steps.  Of incremental prices each segment is a deal of its own, whose flat
    sum makes up for the dearer first units: setup + sum of end * (price - next price) over the segments before it.
    """
    if not one.incremental:
        steps = tuple((segment.start, segment.price) for segment in one.segments)
        return [Deal(one.name, one.setup, steps, one.segments[-1].end)]
    fixed, found = one.setup, []
    for number, segment in enumerate(one.segments):
        if number:
            before = one.segments[number - 1]
            fixed += before.end * (before.price - segment.price)
        found.append(Deal(one.name, fixed, ((segment.start, segment.price),), segment.end))
    return found


def cheapest(vendors: Sequence[Vendor], demand: int, pack: int = 1, odd: Fraction = Fraction(0)) -> Basket:
    """The cheapest list of `demand` units in packs, over every way to have one deal with each vendor.

    Deals that have too little together leave something unfilled and are passed over.  Where there is an `odd` quantity
    beyond the packs, each vendor in turn delivers it, in place of a pack.
    """
    chosen = product(*(deals(one) for one in vendors))
    baskets = [
        _basket(mine, demand, pack, odd, last) for mine in chosen for last in (mine if odd else mine[:1])
    ]
    assert all(basket.proven for basket in baskets)
    enough = [basket for basket in baskets if not basket.unfilled]
    return min(enough, key=lambda basket: basket.total)


def _basket(mine: Sequence[Deal], demand: int, pack: int, odd: Fraction, last: Deal) -> Basket:
    offers, suppliers = [], {}
    for deal in mine:
        suppliers[deal.vendor] = SupplierTerms(deal.vendor, 3, "EUR", _money(deal.fixed))
        steps = tuple(
            PriceBreak(max(1, -(-start // pack)), _money(price * pack)) for start, price in deal.steps
        )
        most = deal.high // pack
        if odd and deal == last:
            most -= 1
            rest = PriceBreak(1, _money(deal.steps[0][1] * odd))
            offers.append(PackOffer(f"{deal.vendor} rest", deal.vendor, "rest", 1000, (rest,), at_most=1))
        offers.append(PackOffer(deal.vendor, deal.vendor, "bulk", 1000, steps, at_most=most))
    wants = [Want("bulk", 1000 * (demand // pack))] + ([Want("rest", 1000)] if odd else [])
    return best_basket(wants, offers, suppliers, {"EUR": Fraction(1)}, TODAY)


def bought(basket: Basket, pack: int = 1, odd: Fraction = Fraction(0)) -> dict[str, Fraction]:
    """Units by vendor."""
    return {
        bill.supplier.name: sum(
            (line.packs * (odd if line.offer.part == "rest" else Fraction(pack)) for line in bill.lines),
            Fraction(0),
        )
        for bill in basket.bills
    }


def charged(vendors: Sequence[Vendor], quantities: Mapping[str, Fraction]) -> Fraction:
    """What the published terms charge for these quantities."""
    return sum((one.cost(quantities.get(one.name, Fraction(0))) for one in vendors), Fraction(0))


def programme(vendors: Sequence[Vendor], demand: float) -> float:
    """The least cost by scipy.optimize.milp, quantities in parts of units allowed.

    For each segment s of a vendor y[s] in {0, 1} and 0 <= d[s] <= (end - start) y[s], at most one y a vendor;
    sum of start y + d >= demand; cost at the segment's start times y, plus price times d.
    """
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    segments = [(one, segment) for one in vendors for segment in one.segments]
    count = len(segments)
    cost = [float(_at_start(one, segment)) for one, segment in segments]
    cost += [float(segment.price) for _, segment in segments]
    rows = [[float(segment.start) for _, segment in segments] + [1.0] * count]
    low, high = [demand], [np.inf]
    for at, (_, segment) in enumerate(segments):
        row = [0.0] * (2 * count)
        row[at], row[count + at] = float(segment.end - segment.start), -1.0
        rows.append(row)
        low.append(0.0)
        high.append(np.inf)
    for name in {one.name for one in vendors}:
        rows.append([float(one.name == name) for one, _ in segments] + [0.0] * count)
        low.append(0.0)
        high.append(1.0)
    answer = milp(
        np.array(cost),
        integrality=np.array([1] * count + [0] * count),
        bounds=Bounds(0, np.array([1.0] * count + [np.inf] * count)),
        constraints=LinearConstraint(np.array(rows), np.array(low), np.array(high)),
        options={"mip_rel_gap": 0.0},
    )
    assert answer.status == 0
    return float(answer.fun)


def _at_start(one: Vendor, segment: Segment) -> Fraction:
    """What a vendor charges where a segment begins."""
    if not one.incremental:
        return one.setup + segment.price * segment.start
    whole = one.setup + one.segments[0].price * one.segments[0].start
    for before, after in pairwise(one.segments):
        if after.start <= segment.start:
            whole += before.price * (before.end - before.start)
    return whole


def _money(amount: Fraction) -> int:
    whole = amount * MINOR
    assert whole.denominator == 1
    return int(whole)
