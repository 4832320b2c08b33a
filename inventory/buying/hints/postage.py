"""Free postage that is missed: by how much, and whether what is needed soon anyway, or a filler, makes up for it.

What is needed soon costs nothing extra: it is bought now in place of later. What nobody needs is a loss of its price.
So a fill saves the postage, less what its goods cost more here than elsewhere, less the price of the filler.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from heapq import nsmallest

from inventory.buying.basket import Basket, SupplierOrder
from inventory.buying.hints.near import MOST_SHORT, Fill, NearMiss
from inventory.buying.listing import sort_out
from inventory.buying.problem import Packs, Problem, compile_problem
from inventory.buying.terms import PackOffer, SupplierTerms, Want

MOST_PACKS = 12
"""Packs of one offer that are taken to fill up at most."""
MOST_SUMS = 20_000
"""Different sums of goods that are looked at; where there are more, the least fill may be missed by a little."""
TRIED = 20
"""Fills, the least first, that are priced truly: a step reached may take goods below the threshold again."""


@dataclass(frozen=True, slots=True)
class Situation:
    """A list and what it could be filled up with: `soon`, what is needed before long, and every offer there is."""

    basket: Basket
    wants: Sequence[Want]
    soon: Sequence[Want]
    offers: Sequence[PackOffer]
    suppliers: Mapping[str, SupplierTerms]
    rates: Mapping[str, Fraction]
    today: date


@dataclass(frozen=True, slots=True)
class _Filler:
    """Up to so many packs of an offer; `costs[n - 1]` in minor units of the supplier's coin for n of them."""

    offer: PackOffer
    costs: tuple[int, ...]
    reasons: tuple[str, ...] = ()


Taken = tuple[tuple[int, int], ...]
"""(number of a filler, packs)."""


def postage_misses(there: Situation) -> tuple[NearMiss, ...]:
    """One near miss for each supplier who charges postage and would not from some sum on, where there is one to tell.

    Told are fills that save money, and where little is short also that none does.
    """
    found = [_miss(there, bill) for bill in there.basket.bills if bill.postage and bill.supplier.free_from]
    return tuple(sorted((one for one in found if one is not None), key=lambda one: -one.saving))


def _miss(there: Situation, bill: SupplierOrder) -> NearMiss | None:
    free = bill.supplier.free_from or 0
    short, rate = free - bill.goods, there.rates[bill.supplier.currency]
    needed = _needed(there, bill)
    found = _best(there, bill, [_fills(needed, taken, True) for taken in least_fills(needed, short)])
    if found is not None:
        return found
    everything: Taken = tuple((n, len(one.costs)) for n, one in enumerate(needed))
    rest = short - sum(one.costs[-1] for one in needed)
    if 0 < rest < bill.postage:  # a filler costs at least the rest, so beyond that none pays
        fillers = _others(there, bill, needed)
        whole = _fills(needed, everything, True)
        found = _best(
            there, bill, [(*whole, *_fills(fillers, taken, False)) for taken in least_fills(fillers, rest)]
        )
        if found is not None:
            return found
    if short > free * MOST_SHORT:
        return None
    names = tuple(line.offer.part for line in bill.lines)
    return NearMiss(
        bill.supplier.name, "postage", names, Fraction(0), short=short, fee=bill.postage * rate,
        extra=max(rest, 0) * rate, pays=False,
    )  # fmt: skip


def _best(there: Situation, bill: SupplierOrder, fills: Iterable[Sequence[Fill]]) -> NearMiss | None:
    """The fill that saves most, and of equal ones the one that costs least now; None where none saves anything."""
    priced = [miss for miss in (_priced(there, bill, fill) for fill in fills) if miss is not None]
    return max(
        (one for one in priced if one.saving > 0), key=lambda one: (one.saving, -one.extra), default=None
    )


def _needed(there: Situation, bill: SupplierOrder) -> list[_Filler]:
    """What is needed soon and this supplier has, the cheapest offer of each part."""
    found = []
    for want in there.soon:
        mine = [o for o in there.offers if o.supplier == bill.supplier.name and o.part == want.part]
        ways = [_filler(offer, -(-want.quantity // offer.pack), want.reasons) for offer in mine]
        ways = [one for one in ways if one.costs]
        if ways:
            found.append(min(ways, key=lambda one: (one.costs[-1], one.offer.key)))
    return found


def _others(there: Situation, bill: SupplierOrder, needed: Iterable[_Filler]) -> list[_Filler]:
    taken = {one.offer.key for one in needed}
    mine = (o for o in there.offers if o.supplier == bill.supplier.name and o.key not in taken)
    return [one for one in (_filler(offer, 3, ()) for offer in mine) if one.costs]


def _filler(offer: PackOffer, packs: int, reasons: tuple[str, ...]) -> _Filler:
    most = min(packs, MOST_PACKS, offer.at_most or MOST_PACKS)
    prices = [offer.price_at(count) for count in range(1, most + 1)]
    costs = tuple(n * price for n, price in enumerate(prices, start=1) if price is not None)
    return _Filler(offer, costs if len(costs) == most else (), reasons)


def least_fills(fillers: Sequence[_Filler], short: int) -> list[Taken]:
    """The choices of packs whose sum is at least `short`, the smallest sums first, a few of them.

    >>> from inventory.buying.terms import PriceBreak
    >>> glue = _filler(Offer("g", "a", "glue", 1, (PriceBreak(1, 300),)), 3, ())
    >>> wax = _filler(Offer("w", "a", "wax", 1, (PriceBreak(1, 450),)), 1, ())
    >>> least_fills([glue, wax], 700)[0]
    ((0, 1), (1, 1))
    """
    below: dict[int, Taken] = {0: ()}
    enough: dict[int, Taken] = {}
    for number, one in enumerate(fillers):
        for amount, taken in list(below.items())[:MOST_SUMS]:
            for packs, cost in enumerate(one.costs, start=1):
                goal = below if amount + cost < short else enough
                goal.setdefault(amount + cost, (*taken, (number, packs)))
    return [enough[amount] for amount in nsmallest(TRIED, enough)]


def _fills(fillers: Sequence[_Filler], taken: Taken, needed: bool) -> tuple[Fill, ...]:
    return tuple(
        Fill(one.offer, packs, one.costs[packs - 1], needed, one.reasons)
        for one, packs in ((fillers[number], packs) for number, packs in taken)
    )


def _priced(there: Situation, bill: SupplierOrder, fill: Sequence[Fill]) -> NearMiss | None:
    """The list with the fill, priced as it would be billed; None where the postage is not saved after all."""
    extra_wants = [Want(one.offer.part, one.packs * one.offer.pack) for one in fill]
    good, _ = sort_out([*there.wants, *extra_wants], there.offers, there.suppliers, there.today)
    problem = compile_problem(good, there.offers, there.suppliers, there.rates, there.today)
    numbers = {pack.offer.key: n for n, pack in enumerate(problem.packs)}
    before = {numbers[key]: packs for key, packs in there.basket.packs().items() if key in numbers}
    after = dict(before)
    for one in fill:
        number = numbers[one.offer.key]
        after[number] = after.get(number, 0) + one.packs
    old, new = problem.price(before), problem.price(after)
    if old is None or new is None or not _sent_free(problem, bill, after):
        return None
    rate = there.rates[bill.supplier.currency]
    fee = bill.postage * rate
    extra = Fraction(new - old, problem.atom)
    brought = extra + fee  # the goods that come in addition, at what they truly add to the bill
    lost = sum((one.cost * rate for one in fill if not one.needed), Fraction(0))
    worth = sum((min(one.cost * rate, _elsewhere(there, one)) for one in fill if one.needed), Fraction(0))
    names = tuple(one.offer.part for one in fill)
    return NearMiss(
        bill.supplier.name, "postage", names, worth - extra, extra=extra, alone=brought,
        short=(bill.supplier.free_from or 0) - bill.goods, fee=fee, fill=tuple(fill), filler=lost,
    )  # fmt: skip


def _sent_free(problem: Problem, bill: SupplierOrder, bought: Packs) -> bool:
    goods = problem.goods(bought) or {}
    for number, terms in enumerate(problem.terms):
        if terms.supplier.name == bill.supplier.name:
            return terms.free is not None and goods.get(number, 0) >= terms.free
    return False


def _elsewhere(there: Situation, one: Fill) -> Fraction:
    """What the same would cost where it is cheapest, goods only, shop minor units."""
    quantity = one.packs * one.offer.pack
    found = []
    for offer in there.offers:
        if offer.part == one.offer.part:
            packs = -(-quantity // offer.pack)
            price = offer.price_at(packs)
            if price is not None:
                share = Fraction(quantity, packs * offer.pack)
                found.append(packs * price * share * there.rates[there.suppliers[offer.supplier].currency])
    return min(found)
