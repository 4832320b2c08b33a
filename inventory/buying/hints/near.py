"""What is nearly reached: a little more for a lower price on all. Each is priced truly (postage: see `postage`)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Literal

from inventory.buying.basket import Basket, SupplierOrder
from inventory.buying.listing import sort_out
from inventory.buying.problem import Packs, Problem, compile_problem
from inventory.buying.terms import PackOffer, SupplierTerms, Want

MOST_PACKS = 3
"""More packs than this short of a step is not "nearly"."""
MOST_SHORT = Fraction(1, 4)
"""Share of the threshold that may be missing for postage to be nearly free."""


@dataclass(frozen=True, slots=True)
class Fill:
    """Packs that would fill a list up; `cost` in minor units of the supplier's coin.

    needed: soon anyway, for these `reasons`; else a filler.
    """

    offer: PackOffer
    packs: int
    cost: int
    needed: bool
    reasons: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NearMiss:
    """One thing nearly reached at a supplier.

    kind "step": `packs` more in the price group (or of the part) reach the next step, which takes `saving` off the rest
    of the list; the extra packs then cost `extra` in all instead of `alone`. kind "postage": goods of `short` (the
    supplier's minor units) more make the postage, `fee`, free. With `fill` the list costs `extra` more and brings goods
    for `alone` more, of which `filler` is not needed; `saving` is what is gained by it. Where nothing `pays` there is
    no fill, and `extra` is the least that would go to what nobody needs. Money in shop minor units unless said
    otherwise; parts: what to take more of.
    """

    supplier: str
    kind: Literal["step", "postage"]
    parts: tuple[str, ...]
    saving: Fraction
    packs: int = 0
    extra: Fraction = Fraction(0)
    alone: Fraction = Fraction(0)
    short: int = 0
    group: str = ""
    fee: Fraction = Fraction(0)
    fill: tuple[Fill, ...] = ()
    filler: Fraction = Fraction(0)
    pays: bool = True


def near_misses(
    basket: Basket,
    wants: Sequence[Want],
    offers: Sequence[PackOffer],
    suppliers: Mapping[str, SupplierTerms],
    rates: Mapping[str, Fraction],
    today: date,
) -> tuple[NearMiss, ...]:
    """The price steps a list nearly reaches, the one that saves most first."""
    good, _ = sort_out(wants, offers, suppliers, today)
    problem = compile_problem(good, offers, suppliers, rates, today)
    numbers = {pack.offer.key: n for n, pack in enumerate(problem.packs)}
    bought = {numbers[key]: packs for key, packs in basket.packs().items() if key in numbers}
    found = [miss for bill in basket.bills for miss in _steps(problem, bought, bill)]
    return tuple(sorted(found, key=lambda miss: -miss.saving))


def _steps(problem: Problem, bought: Packs, bill: SupplierOrder) -> Iterable[NearMiss]:
    seen: set[str] = set()
    for number in [n for n in bought if problem.packs[n].offer.supplier == bill.supplier.name]:
        offer = problem.packs[number].offer
        group = offer.price_group or offer.key
        if group in seen:
            continue
        seen.add(group)
        mine = [n for n in bought if _same(problem.packs[n].offer, offer)]
        count = sum(bought[n] for n in mine)
        starts = sorted(
            {s.from_packs for n in mine for s in problem.packs[n].offer.steps if s.from_packs > count}
        )
        if starts and starts[0] - count <= MOST_PACKS:
            yield from _step(problem, bought, mine, starts[0] - count, bill.supplier.name)


def _same(one: PackOffer, other: PackOffer) -> bool:
    if one.supplier != other.supplier:
        return False
    return one.key == other.key or (one.price_group is not None and one.price_group == other.price_group)


def _step(
    problem: Problem, bought: Packs, mine: Sequence[int], more: int, supplier: str
) -> Iterable[NearMiss]:
    """Take `more` of each member in turn; the one that adds least to the list is named first."""
    before = problem.price(bought)
    results = []
    for number in mine:
        after = problem.price({**bought, number: bought[number] + more})
        now = problem.cost(number, bought[number], problem.levels(bought))
        if before is None or after is None or now is None:
            continue
        alone = Fraction(now * more, bought[number])
        results.append((Fraction(after - before), alone, number))
    if not results:
        return
    extra, alone, _ = min(results)
    saving = (alone - extra) / problem.atom
    if saving > 0:
        names = tuple(problem.packs[number].offer.part for _, _, number in sorted(results))
        group = problem.packs[mine[0]].offer.price_group or ""
        yield NearMiss(
            supplier, "step", names, saving, more, extra / problem.atom, alone / problem.atom, 0, group
        )
