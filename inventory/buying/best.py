"""The list that costs least: every want that can be had, whole packs, steps, postage, minimum orders, days.

Space searched: any number of packs of any offers of a part together, over all suppliers, more than needed included.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction
from time import perf_counter

from inventory.buying.basket import Basket, Unfilled
from inventory.buying.case import compile_case
from inventory.buying.listing import basket_of, sort_out
from inventory.buying.naive import cheapest_per_line, one_supplier, spread
from inventory.buying.offers import Offer, Supplier, Want, check_terms
from inventory.buying.search import Search
from inventory.errors import Refused

Rates = Mapping[str, Fraction]


def best_basket(
    wants: Sequence[Want],
    offers: Sequence[Offer],
    suppliers: Mapping[str, Supplier],
    rates: Rates,
    today: date,
    *,
    budget: int | None = None,
    time_limit: float = 20.0,
) -> Basket:
    """The cheapest list, or within `budget` (shop minor units) the one that leaves out the least trouble.

    Raises BadInput for terms that cannot be used, Refused where minimum orders allow no list at all.
    """
    check_terms(offers, suppliers, rates)
    until = perf_counter() + time_limit
    basket = _solve(wants, offers, suppliers, rates, today, time_limit)
    if budget is None or basket.total <= budget:
        return basket
    return _within(budget, wants, offers, suppliers, rates, today, until)


def _solve(
    wants: Sequence[Want],
    offers: Sequence[Offer],
    suppliers: Mapping[str, Supplier],
    rates: Rates,
    today: date,
    limit: float,
) -> Basket:
    started = perf_counter()
    good, unfilled = sort_out(wants, offers, suppliers, today)
    case = compile_case(good, offers, suppliers, rates, today)
    if not good:
        return basket_of(case, {}, good, unfilled, 0, 0.0, rates, today)
    starts = [
        bought for bought in (cheapest_per_line(case), one_supplier(case), spread(case)) if bought is not None
    ]
    if not starts:
        raise Refused(
            "No list can be sent: minimum orders and days contradict each other.", hint="Try --without."
        )
    found = Search(case, starts, limit).run()
    return basket_of(case, found.bought, good, unfilled, found.bound, perf_counter() - started, rates, today)


def _within(
    budget: int,
    wants: Sequence[Want],
    offers: Sequence[Offer],
    suppliers: Mapping[str, Supplier],
    rates: Rates,
    today: date,
    until: float,
) -> Basket:
    """Promises first, then the most trouble avoided per coin: wants are taken one by one while the list stays within.

    The choice of what to leave out is not proven (`complete` is False); the list for what is taken is.
    """
    good, unfilled = sort_out(wants, offers, suppliers, today)
    alone = [_solve([want], offers, suppliers, rates, today, 1.0).total or Fraction(1) for want in good]
    order = sorted(range(len(good)), key=lambda n: (good[n].priority, -Fraction(good[n].worth) / alone[n]))
    taken: list[Want] = []
    left: list[Unfilled] = []
    best = _solve([], offers, suppliers, rates, today, 1.0)
    for n in order:
        trial = _solve([*taken, good[n]], offers, suppliers, rates, today, max(until - perf_counter(), 0.5))
        if trial.total <= budget:
            taken.append(good[n])
            best = trial
        else:
            left.append(Unfilled(good[n], "beyond the budget"))
    return Basket(
        best.bills,
        (*unfilled, *left),
        best.goods,
        best.postage,
        best.total,
        best.proven,
        best.bound,
        best.seconds,
        False,
    )
