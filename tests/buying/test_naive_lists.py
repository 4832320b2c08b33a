"""The lists a person would write: line by line, or all from one supplier; made here once more from the terms alone."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest

from inventory.buying import (
    PackOffer,
    PriceBreak,
    SupplierTerms,
    Want,
    best_basket,
    naive_cheapest_per_line,
    naive_one_supplier,
)
from inventory.buying.heuristics.naive import spread
from inventory.buying.listing import sort_out
from inventory.buying.problem import compile_problem

from .basket_cases import RATES, TODAY, Shop, landed
from .test_tight_leaves import tiny


def plain(seed: int) -> Shop:
    """A tiny list without days, minimum orders or ends; some offers begin at two packs."""
    shop = tiny(seed)
    return Shop(
        [replace(want, needed_by=None) for want in shop.wants],
        [replace(one, at_most=None) for one in shop.offers],
        {name: replace(one, minimum_order=None) for name, one in shop.suppliers.items()},
        {**RATES, "EUR": Fraction(1)},
    )


def alone(one: PackOffer, due: int) -> tuple[int, int] | None:
    """(cost, packs) of covering a need with one offer, priced as if nothing else were bought."""
    packs = max(-(-due // one.pack), one.steps[0].from_packs if one.price_group is None else 1)
    price = one.price_at(packs)
    return None if price is None else (price * packs, packs)


def by_line(shop: Shop, offers: Iterable[PackOffer]) -> dict[str, int] | None:
    """For every part the offer that costs least alone, of equal ones the first."""
    offers = list(offers)
    packs: dict[str, int] = {}
    for part in dict.fromkeys(want.part for want in shop.wants):
        due = sum(want.quantity for want in shop.wants if want.part == part)
        found = [(way, one) for one in offers if one.part == part and (way := alone(one, due)) is not None]
        if not found:
            return None
        (_, many), one = min(found, key=lambda it: it[0][0])
        packs[one.key] = many
    return packs


@pytest.mark.cross_check
@pytest.mark.parametrize("start", range(0, 60, 15))
def test_the_lists_a_person_would_write(start: int) -> None:
    """Each priced as it would be billed, steps of groups and postage shared."""
    for shop in map(plain, range(start, start + 15)):
        terms = shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY
        mine = by_line(shop, shop.offers)
        found = naive_cheapest_per_line(*terms)
        assert (found and found.total) == (landed(shop, mine) if mine else None)
        single = [by_line(shop, [o for o in shop.offers if o.supplier == name]) for name in shop.suppliers]
        totals = [total for one in single if one and (total := landed(shop, one)) is not None]
        only = naive_one_supplier(*terms)
        assert (only and only.total) == min(totals, default=None)
        assert all(basket is None or len(basket.bills) == 1 for basket in (only,))


@pytest.mark.parametrize(("left", "total"), [(None, 5700), (3, 5100)])
def test_a_minimum_order_is_filled_up_with_the_dearest_line(left: int | None, total: int) -> None:
    """50.00 at least: five kits of 10.00 and a glue of 7.00; of three that are left all, then glue."""
    seller = {"a": SupplierTerms("a", 3, "EUR", 0, None, 5000)}
    offers = [
        PackOffer("kit", "a", "kit", 1000, (PriceBreak(1, 1000),), at_most=left),
        PackOffer("glue", "a", "glue", 1000, (PriceBreak(1, 700),)),
    ]
    wants = [Want("kit", 1000), Want("glue", 1000)]
    for naive in (naive_cheapest_per_line, naive_one_supplier):
        found = naive(wants, offers, seller, RATES, TODAY)
        assert found is not None
        assert found.total == total
        assert found.seconds == 0  # no search


def test_the_dearest_pack_fills_up_whatever_its_line_costs_and_no_more_than_need_be() -> None:
    """Two kits of 10.00 and a glue of 15.00: to 60.00 two glues more; to 35.00 nothing."""
    offers = [
        PackOffer(part, "a", part, 1000, (PriceBreak(1, price),))
        for part, price in (("kit", 1000), ("glue", 1500))
    ]
    wants = [Want("kit", 2000), Want("glue", 1000)]
    for least, glues in ((6000, 3), (3500, 1)):
        seller = {"a": SupplierTerms("a", 3, "EUR", minimum_order=least)}
        found = naive_cheapest_per_line(wants, offers, seller, RATES, TODAY)
        assert found is not None
        assert found.packs() == {"kit": 2, "glue": glues}


@pytest.mark.parametrize(("group", "packs"), [(None, {"kit": 3, "pen": 3}), ("kits", None)])
def test_the_fewest_packs_that_are_sold(group: str | None, packs: dict[str, int] | None) -> None:
    """From three on; one of a group is looked at alone, and alone nobody sends it."""
    steps = (PriceBreak(3, 100),)
    offers = [PackOffer(part, "a", part, 1000, steps, group) for part in ("kit", "pen")]
    seller = {"a": SupplierTerms("a", 3, "EUR")}
    found = naive_cheapest_per_line([Want("kit", 1000), Want("pen", 3000)], offers, seller, RATES, TODAY)
    assert (found and found.packs()) == packs


def in_packs(
    sizes: tuple[int, int],
    prices: tuple[tuple[int, ...], int],
    soon: int,
    later: int,
    *,
    most: int | None = None,
    slow: bool = False,
) -> dict[str, int]:
    """What `spread` buys of two offers, each in time for all, or the second late for what is wanted soon; the first
    with a step from ten on, or an end."""
    first, *cheaper = prices[0]
    steps = [PriceBreak(1, first), *(PriceBreak(10, one) for one in cheaper)]
    offers = [
        PackOffer("a", "near", "kit", 1000 * sizes[0], tuple(steps), at_most=most),
        PackOffer("b", "slow", "kit", 1000 * sizes[1], (PriceBreak(1, prices[1]),)),
    ]
    wants = [Want("kit", 1000 * soon, TODAY + timedelta(days=7)), Want("kit", 1000 * later)]
    sellers = {
        name: SupplierTerms(name, days, "EUR") for name, days in (("near", 3), ("slow", 20 if slow else 3))
    }
    problem = compile_problem(wants, offers, sellers, RATES, TODAY)
    bought = spread(problem)
    assert bought is not None
    return {problem.packs[n].offer.key: many for n, many in bought.items()}


def test_the_cheapest_by_content_is_bought_and_no_more_of_it_than_is_wanted() -> None:
    assert in_packs((2, 3), ((100,), 900), 3, 4) == {"a": 4}  # two packs of two for the first three, two more
    assert in_packs((5, 3), ((100,), 900), 3, 2) == {"a": 1}  # five are enough for both days
    assert in_packs((2, 3), ((100,), 900), 3, 4, most=3) == {"a": 3, "b": 1}
    assert in_packs((5, 3), ((100,), 9), 3, 2, slow=True) == {"a": 1}  # nor of a cheaper one who comes later
    assert in_packs((1, 1), ((500, 100), 400), 2, 1) == {"b": 3}  # the price of one pack counts


def test_several_offers_where_none_has_enough_and_each_keeps_its_day() -> None:
    """Six, three of them within a week: two of the near one left at 5.00, ten of a slower at 3.00, a dear near one."""
    sellers = {name: SupplierTerms(name, days, "EUR") for name, days in (("near", 2), ("slow", 20))}
    offers = [
        PackOffer("a", "near", "kit", 1000, (PriceBreak(1, 500),), at_most=2),
        PackOffer("b", "slow", "kit", 1000, (PriceBreak(1, 300),), at_most=10),
        PackOffer("c", "near", "kit", 1000, (PriceBreak(1, 900),)),
    ]
    wants = [Want("kit", 3000, TODAY + timedelta(days=7)), Want("kit", 3000)]
    good, _ = sort_out(wants, offers, sellers, TODAY)
    problem = compile_problem(good, offers, sellers, RATES, TODAY)
    bought = spread(problem)
    assert bought is not None
    assert {problem.packs[n].offer.key: many for n, many in bought.items()} == {"a": 2, "b": 3, "c": 1}
    basket = best_basket(wants, offers, sellers, RATES, TODAY)
    assert basket.total == problem.price(bought) == 2 * 500 + 3 * 300 + 900
    assert 0 <= basket.seconds < 60
    assert best_basket([], offers, sellers, RATES, TODAY).seconds == 0
