"""Generated shopping cases, and the plain integer programme for scipy that they are checked against."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from inventory.buying.terms import PackOffer, PriceBreak, SupplierTerms, Want

TODAY = date(2026, 3, 2)
RATES = {"EUR": Fraction(1), "GBP": Fraction(117, 100), "SEK": Fraction(9, 100)}


@dataclass(frozen=True)
class Shop:
    """One list to be made: wants, offers, suppliers by name and rates by currency."""

    wants: list[Want]
    offers: list[PackOffer]
    suppliers: dict[str, SupplierTerms]
    rates: Mapping[str, Fraction]


@dataclass(frozen=True)
class Family:
    """What is drawn from: price groups a supplier has for kits, how many packs a small part comes in."""

    groups: tuple[tuple[str, ...], ...]
    packs: tuple[int, ...]


ONE_GROUP = Family((("kits",), ("kits",), ("plain", "fancy")), (1, 1, 2))
"""Mostly one price group a supplier and one pack a small part."""

TWO_GROUPS = Family((("plain", "fancy"),), (1, 2))
"""Two price groups with every supplier, and small parts half the time in two packs: harder."""

FAMILIES = {"one group": ONE_GROUP, "two groups": TWO_GROUPS}


def family(lines: int, state: int, sellers: int = 6, kind: Family = ONE_GROUP) -> Shop:
    """A case of the generated families: kits in price groups, small parts with steps of their own, 3 currencies."""
    draw = random.Random(f"{lines}/{state}")
    suppliers = {f"s{n}": _seller(draw, f"s{n}") for n in range(sellers)}
    groups = {name: draw.choice(kind.groups) for name in suppliers}
    wants, offers = [], []
    for line in range(lines):
        part = f"p{line}"
        kit = draw.random() < 0.5
        wants.append(Want(part, 1000 * (draw.randint(1, 8) if kit else draw.randint(1, 30))))
        base = draw.randint(250, 1400) if kit else draw.randint(15, 90)
        carried = [one for one in suppliers.values() if draw.random() < 0.65] or [suppliers["s0"]]
        for one in carried:
            group = draw.choice(groups[one.name]) if kit else None
            offers += _offers(draw, one, part, base, group, kind)
    return Shop(wants, offers, suppliers, RATES)


def _seller(draw: random.Random, name: str) -> SupplierTerms:
    currency = draw.choice(sorted(RATES))
    postage = draw.choice((350, 495, 650, 890, 1200))
    free = draw.choice((4000, 6000, 8000, 12000, None))
    least = draw.choice((None, None, 1500, 2500))
    return SupplierTerms(
        name, 3, currency, _in(postage, currency) or 0, _in(free, currency), _in(least, currency)
    )


def _in(amount: int | None, currency: str) -> int | None:
    return None if amount is None else int(amount / RATES[currency])


def _offers(
    draw: random.Random, one: SupplierTerms, part: str, base: int, group: str | None, kind: Family
) -> list[PackOffer]:
    each = base * draw.uniform(0.8, 1.25)
    starts = (1, 5, 10, 25) if group else (1, 3, 6, 12)
    found = []
    for pack in (1,) if group else draw.sample((1, 5, 10, 20), draw.choice(kind.packs)):
        price = each * pack**0.9
        cuts = [1.0, *sorted((draw.uniform(0.75, 0.97) for _ in range(3)), reverse=True)]
        steps = tuple(
            PriceBreak(start, max(1, int(price * cut / RATES[one.currency])))
            for start, cut in zip(starts, cuts, strict=True)
        )
        found.append(PackOffer(f"{one.name}-{part}-{pack}", one.name, part, 1000 * pack, steps, group))
    return found


def plain_milp(shop: Shop, limit: float = 60.0, gap: float = 0.0) -> tuple[Fraction | None, bool]:
    """The plain formulation for scipy.optimize.milp: (exact total in shop minor units, whether it calls that optimal).

    Whole packs of every offer at every step, splits over all offers and suppliers allowed.  Every supplier delivers in
    time here.  For each price group (or offer without one) one binary per step: x[o,k] <= M y[k], and
    from[k] y[k] <= sum of x[.,k] <= (from[k+1] - 1) y[k]; for each supplier `used` and `free` binaries with
    goods >= least * used, goods >= threshold * free, free <= used.
    """
    model = _Model()
    for want in shop.wants:
        model.need(want.part, want.quantity)
    biggest = _big(shop)
    for name, one in shop.suppliers.items():
        _supplier_rows(model, shop, name, one, biggest)
    return model.solve(shop, limit, gap)


def _big(shop: Shop) -> int:
    """More packs than any group could sensibly be bought for."""
    return 100 + sum(-(-want.quantity // 1000) for want in shop.wants)


class _Model:
    def __init__(self) -> None:
        self.cost: list[float] = []
        self.upper: list[float] = []
        self.rows: list[tuple[dict[int, float], float, float]] = []
        self.parts: dict[str, dict[int, float]] = {}
        self.due: dict[str, int] = {}
        self.bought: dict[int, str] = {}

    def variable(self, cost: float, upper: float) -> int:
        self.cost.append(cost)
        self.upper.append(upper)
        return len(self.cost) - 1

    def need(self, part: str, quantity: int) -> None:
        self.due[part] = self.due.get(part, 0) + quantity
        self.parts.setdefault(part, {})

    def row(self, terms: dict[int, float], low: float, high: float) -> None:
        self.rows.append((terms, low, high))

    def solve(self, shop: Shop, limit: float, gap: float) -> tuple[Fraction | None, bool]:
        import numpy as np
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_array

        rows = [*self.rows, *((terms, self.due[part] / 1000, np.inf) for part, terms in self.parts.items())]
        where = [(at, var, factor) for at, (terms, _, _) in enumerate(rows) for var, factor in terms.items()]
        spread = ([f for _, _, f in where], ([r for r, _, _ in where], [v for _, v, _ in where]))
        matrix = csr_array(spread, shape=(len(rows), len(self.cost)))
        answer = milp(
            np.array(self.cost),
            integrality=np.ones(len(self.cost), dtype=np.int64),
            bounds=Bounds(0, np.array(self.upper)),
            constraints=LinearConstraint(matrix, [low for _, low, _ in rows], [high for _, _, high in rows]),
            options={"time_limit": limit, "mip_rel_gap": gap},
        )
        if answer.x is None:
            return None, False
        packs: dict[str, int] = {}
        for var, key in self.bought.items():
            packs[key] = packs.get(key, 0) + round(answer.x[var])
        return landed(shop, packs), answer.status == 0


def _supplier_rows(model: _Model, shop: Shop, name: str, one: SupplierTerms, biggest: int) -> None:
    rate = float(shop.rates[one.currency])
    used = model.variable(one.postage * rate, 1)
    goods: dict[int, float] = {}
    groups: dict[str, list[PackOffer]] = {}
    for offer in shop.offers:
        if offer.supplier == name:
            groups.setdefault(offer.price_group or f"own {offer.key}", []).append(offer)
    for mine in groups.values():
        goods |= _group_rows(model, mine, used, rate, biggest)
    if one.minimum_order:
        model.row({**goods, used: -float(one.minimum_order)}, 0, float("inf"))
    if one.free_from is not None:
        free = model.variable(-one.postage * rate, 1)
        model.row({free: 1, used: -1}, -float("inf"), 0)
        model.row({**goods, free: -float(one.free_from)}, 0, float("inf"))


def _group_rows(
    model: _Model, mine: Sequence[PackOffer], used: int, rate: float, biggest: int
) -> dict[int, float]:
    """The variables of one price group; returns the factor of each in the supplier's goods."""
    starts = sorted({step.from_packs for offer in mine for step in offer.steps})
    goods: dict[int, float] = {}
    chosen: dict[int, float] = {used: -1}
    for at, start in enumerate(starts):
        reached = model.variable(0, 1)
        chosen[reached] = 1
        last = starts[at + 1] - 1 if at + 1 < len(starts) else biggest
        packs: dict[int, float] = {}
        for offer in mine:
            price = offer.price_at(start)
            if price is not None:
                var = model.variable(price * rate, biggest if offer.at_most is None else offer.at_most)
                model.bought[var], goods[var], packs[var] = offer.key, float(price), 1
                model.parts[offer.part][var] = offer.pack / 1000
                model.row({var: 1, reached: -float(last)}, -float("inf"), 0)
        model.row({**packs, reached: -float(start)}, 0, float("inf"))
        model.row({**packs, reached: -float(last)}, -float("inf"), 0)
    model.row(chosen, -float("inf"), 0)
    return goods


def landed(shop: Shop, packs: Mapping[str, int]) -> Fraction | None:
    """The landed cost of a choice of packs, from the terms alone; None where it breaks one or leaves a want."""
    total = Fraction(0)
    held: dict[str, int] = {}
    for name, one in shop.suppliers.items():
        mine = [
            (offer, packs[offer.key])
            for offer in shop.offers
            if offer.supplier == name and packs.get(offer.key)
        ]
        goods = 0
        for offer, count in mine:
            shared = sum(n for o, n in mine if o.price_group == offer.price_group)
            price = offer.price_at(shared if offer.price_group is not None else count)
            if price is None or count > (offer.at_most or count):
                return None
            goods += price * count
            held[offer.part] = held.get(offer.part, 0) + count * offer.pack
        if mine and goods < (one.minimum_order or 0):
            return None
        if mine:
            total += (goods + one.postage_on(goods)) * shop.rates[one.currency]
    due: dict[str, int] = {}
    for want in shop.wants:
        due[want.part] = due.get(want.part, 0) + want.quantity
    return total if all(held.get(part, 0) >= quantity for part, quantity in due.items()) else None
