"""A whole-number model of a shopping list for HiGHS, written from the terms alone: shares nothing with the search.

Only the plain records `Want`, `PackOffer`, `SupplierTerms` are the program's. What can be served is worked out too.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from fractions import Fraction
from math import ceil, inf, lcm

from inventory.buying.terms import PackOffer, SupplierTerms, Want

from .basket_cases import TODAY, Shop

FAR = date.max


@dataclass(frozen=True)
class Answer:
    """What HiGHS says: the list, its exact price in shop minor units, and whether it calls it optimal.

    No list at all: `total` is None, and `certain` that there is none.
    """

    packs: dict[str, int]
    total: Fraction | None
    certain: bool


def arrival(shop: Shop, offer: PackOffer) -> date:
    """The day it is there; the far end of time where nobody knows."""
    lead = shop.suppliers[offer.supplier].lead_days
    return FAR if lead is None else date.fromordinal(TODAY.toordinal() + lead)


def served(shop: Shop) -> Shop:
    """The list as far as anybody can send it: wants cut to what can be had, offers that can be bought at all.

    An offer in a price group needs as many packs in the group as its first step asks for; those may be of any part that
    is on the list, in time or not. A want needs one offer in time. What is scarce goes to promised orders first, then
    to the earlier day.
    """
    wants = [want for want in shop.wants if want.quantity > 0]
    while True:
        parts = {want.part for want in wants}
        offers = [one for one in shop.offers if one.part in parts]
        offers = _in_reach(offers)
        there = [w for w in wants if any(o.part == w.part and arrival(shop, o) <= _day(w) for o in offers)]
        if len(there) == len(wants) and {o.part for o in offers} == parts:
            return replace(shop, wants=_shared_out(shop, wants, offers), offers=offers)
        wants = there


def _in_reach(offers: list[PackOffer]) -> list[PackOffer]:
    """Without those whose group cannot reach their first step; each that goes leaves less for the others."""
    kept = [one for one in offers if one.price_group is None or _left(offers, one) >= _first(one)]
    return kept if len(kept) == len(offers) else _in_reach(kept)


def _first(offer: PackOffer) -> int:
    return min(step.from_packs for step in offer.steps)


def _left(offers: Iterable[PackOffer], one: PackOffer) -> float:
    mates = [o for o in offers if (o.supplier, o.price_group) == (one.supplier, one.price_group)]
    return sum(inf if mate.at_most is None else mate.at_most for mate in mates)


def _day(want: Want) -> date:
    return want.needed_by or FAR


def _shared_out(shop: Shop, wants: Sequence[Want], offers: Sequence[PackOffer]) -> list[Want]:
    """Each want in turn gets as much as leaves every earlier one what it has."""
    given = [0] * len(wants)
    for n in sorted(range(len(wants)), key=lambda n: (not wants[n].orders, _day(wants[n]))):
        low, high = 0, wants[n].quantity
        while low < high:
            given[n] = (low + high + 1) // 2
            low, high = (given[n], high) if _possible(shop, wants, given, offers) else (low, given[n] - 1)
        given[n] = low
    return [replace(want, quantity=amount) for want, amount in zip(wants, given, strict=True) if amount]


def _possible(shop: Shop, wants: Sequence[Want], given: Sequence[int], offers: Sequence[PackOffer]) -> bool:
    for part in {want.part for want in wants}:
        for day in {_day(want) for want in wants}:
            due = sum(g for g, w in zip(given, wants, strict=True) if w.part == part and _day(w) <= day)
            mine = [o for o in offers if o.part == part and arrival(shop, o) <= day]
            if due > sum(inf if o.at_most is None else o.at_most * o.pack for o in mine):
                return False
    return True


def price_of(shop: Shop, packs: Mapping[str, int]) -> Fraction | None:
    """What a list costs by the terms, shop minor units; None where it breaks one or leaves a want of `shop`."""
    total = Fraction(0)
    known = {offer.key: offer for offer in shop.offers}
    if not set(packs) <= set(known) or not _met(shop, packs):
        return None
    for name, seller in shop.suppliers.items():
        mine = {key: count for key, count in packs.items() if count and known[key].supplier == name}
        if mine:
            goods = _goods(known, mine)
            if goods is None or goods < (seller.minimum_order or 0):
                return None
            sent_free = seller.free_from is not None and goods >= seller.free_from
            total += (goods + (0 if sent_free else seller.postage)) * shop.rates[seller.currency]
    return total


def _met(shop: Shop, packs: Mapping[str, int]) -> bool:
    for want in shop.wants:
        due = sum(w.quantity for w in shop.wants if w.part == want.part and _day(w) <= _day(want))
        useful = [o for o in shop.offers if o.part == want.part and arrival(shop, o) <= _day(want)]
        if sum(packs.get(o.key, 0) * o.pack for o in useful) < due:
            return False
    return True


def _goods(known: Mapping[str, PackOffer], mine: Mapping[str, int]) -> int | None:
    goods = 0
    for key, count in mine.items():
        offer = known[key]
        reach = count
        if offer.price_group is not None:
            reach = sum(n for other, n in mine.items() if known[other].price_group == offer.price_group)
        prices = [step.price for step in offer.steps if step.from_packs <= reach]
        if not prices or (offer.at_most is not None and count > offer.at_most):
            return None
        goods += prices[-1] * count
    return goods


@dataclass
class _Rows:
    """The model while it is written down: one cost, one upper end a variable, rows of (factors, low, high)."""

    cost: list[int] = field(default_factory=list)
    upper: list[int] = field(default_factory=list)
    rows: list[tuple[dict[int, int], float, float]] = field(default_factory=list)
    bought: dict[int, PackOffer] = field(default_factory=dict)

    def new(self, cost: int, upper: int) -> int:
        self.cost.append(cost)
        self.upper.append(upper)
        return len(self.cost) - 1

    def row(self, factors: dict[int, int], low: float = -inf, high: float = inf) -> None:
        self.rows.append((factors, low, high))


def cheapest(shop: Shop, limit: float = 60.0, *, presolve: bool = True) -> Answer:
    """The cheapest list for a shop of which every want can be met (see `served`).

    presolve: let HiGHS simplify the model first, which is faster and has once called a list optimal that is not.
    """
    scale = lcm(*(Fraction(rate).denominator for rate in shop.rates.values()))
    model = _Rows()
    for name, seller in shop.suppliers.items():
        _seller(model, shop, name, seller, int(shop.rates[seller.currency] * scale))
    for part in {want.part for want in shop.wants}:
        for day in {_day(want) for want in shop.wants if want.part == part}:
            due = sum(w.quantity for w in shop.wants if w.part == part and _day(w) <= day)
            model.row(
                {v: o.pack for v, o in model.bought.items() if o.part == part and arrival(shop, o) <= day},
                due,
            )
    return _solved(model, shop, limit, presolve)


def _seller(model: _Rows, shop: Shop, name: str, seller: SupplierTerms, rate: int) -> None:
    used = model.new(seller.postage * rate, 1)
    goods: dict[int, int] = {}
    groups: dict[tuple[str, str], list[PackOffer]] = {}
    for offer in shop.offers:
        if offer.supplier == name:
            kind = ("alone", offer.key) if offer.price_group is None else ("group", offer.price_group)
            groups.setdefault(kind, []).append(offer)
    for mine in groups.values():
        goods |= _steps(model, mine, used, rate, {one.key: _useful(shop, seller, one) for one in mine})
    if seller.minimum_order:
        model.row({**goods, used: -seller.minimum_order}, 0)
    if seller.free_from is not None:
        free = model.new(-seller.postage * rate, 1)
        model.row({free: 1, used: -1}, high=0)
        model.row({**goods, free: -seller.free_from}, 0)


def _useful(shop: Shop, seller: SupplierTerms, offer: PackOffer) -> int:
    """More packs than these are no use: they cover everything, reach every step and every sum of the seller."""
    need = sum(want.quantity for want in shop.wants if want.part == offer.part)
    steps = [s.from_packs for o in shop.offers if o.supplier == offer.supplier for s in o.steps]
    least = min((step.price for step in offer.steps if step.price), default=0)
    sums = max(seller.minimum_order or 0, seller.free_from or 0)
    many = ceil(Fraction(need, offer.pack)) + max(steps) + (ceil(Fraction(sums, least)) if least else 0)
    return many if offer.at_most is None else min(many, offer.at_most)


def _steps(
    model: _Rows, mine: Sequence[PackOffer], used: int, rate: int, useful: Mapping[str, int]
) -> dict[int, int]:
    """One binary a step, the packs bought at it beside; the factor of each of these in the seller's goods."""
    starts = sorted({step.from_packs for offer in mine for step in offer.steps})
    whole = sum(useful.values()) + starts[-1]
    chosen, goods = {used: -1}, {}
    for start, after in zip(starts, [*starts[1:], whole + 1], strict=True):
        at = model.new(0, 1)
        chosen[at] = 1
        packs: dict[int, int] = {}
        for offer in mine:
            prices = [step.price for step in offer.steps if step.from_packs <= start]
            if prices:
                most = min(useful[offer.key], after - 1)
                x = model.new(prices[-1] * rate, most)
                model.bought[x], goods[x], packs[x] = offer, prices[-1], 1
                model.row({x: 1, at: -most}, high=0)
        model.row({**packs, at: -start}, 0)
        model.row({**packs, at: 1 - after}, high=0)
    model.row(chosen, high=0)
    return goods


def _solved(model: _Rows, shop: Shop, limit: float, presolve: bool) -> Answer:
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    where = [(r, v, f) for r, (factors, _, _) in enumerate(model.rows) for v, f in factors.items()]
    spread = ([float(f) for _, _, f in where], ([r for r, _, _ in where], [v for _, v, _ in where]))
    matrix = csr_array(spread, shape=(len(model.rows), len(model.cost)))
    found = milp(
        np.array(model.cost, dtype=float),
        integrality=np.ones(len(model.cost), dtype=np.int64),
        bounds=Bounds(0, np.array(model.upper, dtype=float)),
        constraints=LinearConstraint(
            matrix, [low for _, low, _ in model.rows], [high for _, _, high in model.rows]
        ),
        options={"time_limit": limit, "mip_rel_gap": 0.0, "presolve": presolve},
    )
    if found.x is None:
        return Answer({}, None, found.status == 2)
    packs: dict[str, int] = {}
    for variable, offer in model.bought.items():
        if count := round(found.x[variable]):
            packs[offer.key] = packs.get(offer.key, 0) + count
    return Answer(packs, price_of(shop, packs), found.status == 0)
