"""The list that costs least: every want that can be had, whole packs, steps, postage, minimum orders, days.

Space searched: any number of packs of any offers of the parts on the list, over all suppliers, more than needed
included: also of offers that come too late for what their part is wanted for, where they fill up a price step, free
postage or a minimum order.  Parts that are not on the list are never bought to fill up.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction
from time import perf_counter

from inventory.buying.basket import Basket
from inventory.buying.heuristics.naive import cheapest_per_line, one_supplier, spread
from inventory.buying.listing import basket_of, sort_out
from inventory.buying.plain import proven_list
from inventory.buying.problem import compile_problem
from inventory.buying.terms import PackOffer, SupplierTerms, Want, check_terms
from inventory.errors import Refused

Rates = Mapping[str, Fraction]


def best_basket(
    wants: Sequence[Want],
    offers: Sequence[PackOffer],
    suppliers: Mapping[str, SupplierTerms],
    rates: Rates,
    today: date,
    *,
    budget: int | None = None,
    time_limit: float = 20.0,
) -> Basket:
    """The cheapest list, or within `budget` (shop minor units) the one that serves most (see `budget`).

    Under a budget a promised order is bought whole or not at all, and a later reason for a part (a later one of `wants`
    for the same part, of the same orders) only together with the earlier ones: lists that serve it alone are not
    looked at.

    Raises BadInput for terms that cannot be used, Refused where minimum orders allow no list at all.
    """
    check_terms(offers, suppliers, rates)
    basket = _solve(wants, offers, suppliers, rates, today, time_limit)
    if budget is None or basket.total <= budget:
        return basket

    def cheapest(chosen: Sequence[Want], limit: float) -> Basket:
        found = _solve(chosen, offers, suppliers, rates, today, limit)
        if found.unfilled:
            raise Refused(
                "Without the others these cannot be sent.",
                hint="Raise --budget, or name another supplier with --only.",
            )
        return found

    from inventory.buying.budget.choose import within  # most lists have no budget to keep
    from inventory.buying.budget.floors import Floors

    good, unfilled = sort_out(wants, offers, suppliers, today)
    floors = Floors(good, offers, suppliers, rates)
    return within(budget, good, unfilled, floors, cheapest, time_limit)


def _solve(
    wants: Sequence[Want],
    offers: Sequence[PackOffer],
    suppliers: Mapping[str, SupplierTerms],
    rates: Rates,
    today: date,
    limit: float,
) -> Basket:
    started = perf_counter()
    good, unfilled = sort_out(wants, offers, suppliers, today)
    problem = compile_problem(good, offers, suppliers, rates, today)
    if not good:
        return basket_of(problem, {}, good, unfilled, 0, 0.0, rates, today)
    starts = [
        bought
        for bought in (cheapest_per_line(problem), one_supplier(problem), spread(problem))
        if bought is not None
    ]
    plain = proven_list(problem, starts)
    if plain is not None:
        price, bought = plain
        return basket_of(problem, bought, good, unfilled, price, perf_counter() - started, rates, today)
    from inventory.buying.search.tree import Search  # reading it takes longer than a small list

    found = Search(problem, starts, limit).run()
    if not found.bought:
        raise Refused(
            "No list can be sent: minimum orders, days and what suppliers have left contradict each other.",
            hint="Leave a supplier out (--without NAME), or take a later day (--until DATE).",
        )
    return basket_of(
        problem, found.bought, good, unfilled, found.bound, perf_counter() - started, rates, today
    )
