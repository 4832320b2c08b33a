"""The lists a person would write by hand: they start the search, and show what it saved."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from fractions import Fraction

from inventory.buying.basket import Basket
from inventory.buying.listing import basket_of, sort_out
from inventory.buying.problem import Packs, Problem, compile_problem
from inventory.buying.terms import PackOffer, SupplierTerms, Want


def cheapest_per_line(problem: Problem) -> Packs | None:
    """For every part the offer that covers all of it for least, looked at alone; None where one offer cannot."""
    return _lines(problem, range(len(problem.packs)))


def one_supplier(problem: Problem) -> Packs | None:
    """Everything from the one supplier who sends all of it for least; None where nobody has everything."""
    found = [
        _lines(problem, [n for n, p in enumerate(problem.packs) if p.supplier == s])
        for s in range(len(problem.terms))
    ]
    priced = [(problem.price(bought), bought) for bought in found if bought is not None]
    return min(
        ((cost, bought) for cost, bought in priced if cost is not None),
        default=(0, None),
        key=lambda it: it[0],
    )[1]


def _lines(problem: Problem, allowed: Iterable[int]) -> Packs | None:
    usable = set(allowed)
    bought: Packs = {}
    for part, numbers in enumerate(problem.by_part):
        best = min(
            ((cost, n, packs) for n in numbers if n in usable for packs, cost in _alone(problem, part, n)),
            default=None,
        )
        if best is None:
            return None
        bought[best[1]] = best[2]
    return filled_up(problem, bought)


def _alone(problem: Problem, part: int, number: int) -> Iterable[tuple[int, int]]:
    """The packs with which one offer covers a part, and what they cost on their own steps."""
    pack = problem.packs[number]
    if pack.tier:
        return
    packs = max(-(-need // pack.size) for need in problem.needs[part])
    first = pack.offer.steps[0].from_packs if pack.offer.price_group is None else 1
    packs = max(packs, first)
    levels = {pack.group: problem.level(pack.group, packs)} if pack.group >= 0 else {}
    cost = problem.cost(number, packs, levels)
    if cost is not None:
        yield packs, cost


def spread(problem: Problem) -> Packs | None:
    """For every part the cheapest offers by content that keep each day, several together where one cannot."""
    bought: Packs = {}
    for part, needs in enumerate(problem.needs):
        for tier, need in enumerate(needs):
            mine = [n for n in problem.by_part[part] if problem.packs[n].tier <= tier]
            held = sum(bought.get(n, 0) * problem.packs[n].size for n in mine)
            for best in sorted(mine, key=lambda n: _by_content(problem, n)) if need > held else ():
                pack = problem.packs[best]
                packs = max(bought.get(best, 0) - (held - need) // pack.size, pack.offer.steps[0].from_packs)
                packs = packs if pack.most is None else min(packs, pack.most)
                held += (packs - bought.get(best, 0)) * pack.size
                bought[best] = packs
                if held >= need:
                    break
            if need > held:
                return None
    return filled_up(problem, bought)


def _by_content(problem: Problem, number: int) -> Fraction:
    pack = problem.packs[number]
    prices = [price for _, price in pack.own] or [price for price in pack.prices if price is not None]
    return Fraction(max(prices, default=0), pack.size)


def filled_up(problem: Problem, bought: Packs) -> Packs | None:
    """The list with more of its dearest line wherever a minimum order is missed; None where that does not help."""
    done = dict(bought)
    for supplier, terms in enumerate(problem.terms):
        mine = [n for n in done if problem.packs[n].supplier == supplier]
        if not mine:
            continue
        fillers = sorted(mine, key=lambda n: _price(problem, n, done))
        for _ in range(10_000):
            goods = problem.goods(done)
            if goods is None or goods.get(supplier, 0) >= terms.least or not fillers:
                break
            filler = fillers[-1]
            price = _price(problem, filler, done)
            if not price:
                break
            more = max((terms.least - goods[supplier]) // price, 1)
            room = _room(problem, filler, done)
            done[filler] += more if room is None else min(more, room)
            if room is not None and more >= room:
                fillers.pop()
    return done if problem.price(done) is not None else None


def _room(problem: Problem, number: int, bought: Packs) -> int | None:
    """How many more packs can be had; None for as many as one likes."""
    most = problem.packs[number].most
    return None if most is None else most - bought[number]


def _price(problem: Problem, number: int, bought: Packs) -> int:
    """What a pack of one line costs as the list stands, atoms."""
    return (problem.cost(number, bought[number], problem.levels(bought)) or 0) // max(bought[number], 1)


def naive_cheapest_per_line(
    wants: Sequence[Want],
    offers: Sequence[PackOffer],
    suppliers: Mapping[str, SupplierTerms],
    rates: Mapping[str, Fraction],
    today: date,
) -> Basket | None:
    """The cheapest offer line by line, priced as it would be charged; None where it cannot be sent."""
    return _naive(wants, offers, suppliers, rates, today, cheapest_per_line)


def naive_one_supplier(
    wants: Sequence[Want],
    offers: Sequence[PackOffer],
    suppliers: Mapping[str, SupplierTerms],
    rates: Mapping[str, Fraction],
    today: date,
) -> Basket | None:
    """Everything from one supplier, the cheapest who has it all; None where nobody has."""
    return _naive(wants, offers, suppliers, rates, today, one_supplier)


def _naive(
    wants: Sequence[Want],
    offers: Sequence[PackOffer],
    suppliers: Mapping[str, SupplierTerms],
    rates: Mapping[str, Fraction],
    today: date,
    choose: Callable[[Problem], Packs | None],
) -> Basket | None:
    good, unfilled = sort_out(wants, offers, suppliers, today)
    problem = compile_problem(good, offers, suppliers, rates, today)
    bought = choose(problem) if good else {}
    price = problem.price(bought) if bought is not None else None
    if bought is None or price is None:
        return None
    return basket_of(problem, bought, good, unfilled, price, 0.0, rates, today)
