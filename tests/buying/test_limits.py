"""Offers of which a supplier has only so many packs left: enumerated, by a plain programme, as a person expects."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from itertools import product
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.buying import PackOffer, PriceBreak, SupplierTerms, Want, best_basket, near_misses
from inventory.buying.knapsack import Stands, cover, limited, packs_of
from inventory.buying.limits import dearest, within_reach
from inventory.buying.listing import sort_out
from inventory.buying.problem import compile_problem
from inventory.errors import BadInput, Refused

from .basket_cases import RATES, TODAY, Shop, family, landed, plain_milp
from .test_dated_enumeration import MOST, cost, dated_shops, serves


@st.composite
def limited_shops(draw: st.DrawFn) -> Shop:
    """Dated shops where most offers end at some number of packs."""
    shop = draw(dated_shops())
    offers = []
    for offer in shop.offers:
        first = offer.steps[0].from_packs if offer.price_group is None else 1
        offers.append(replace(offer, at_most=draw(st.none() | st.integers(first, first + 4))))
    return Shop(shop.wants, offers, shop.suppliers, shop.rates)


@pytest.mark.cross_check
@given(limited_shops())
@examples(25)
def test_complete_enumeration_finds_nothing_cheaper(shop: Shop) -> None:
    """Source: the terms alone, over every list, for the wants as far as they can be had."""
    wants, _ = sort_out(shop.wants, shop.offers, shop.suppliers, TODAY)
    try:
        basket = best_basket(shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY)
    except Refused:
        basket = None
    offers = [offer for offer in shop.offers if any(offer.part == want.part for want in wants)]
    kept = Shop(wants, offers, shop.suppliers, shop.rates)
    ends = [min(offer.at_most or 99, MOST[len(offers)]) for offer in offers]
    lists = product(*(range(end + 1) for end in ends))
    keys = [offer.key for offer in offers]
    chosen = ({key: n for key, n in zip(keys, packs, strict=True) if n} for packs in lists)
    prices = [found for packs in chosen if (found := cost(kept, packs)) is not None]
    if basket is None:
        assert not prices
        return
    assert basket.proven
    assert basket.total == cost(kept, basket.packs())
    assert basket.total <= min(prices, default=basket.total)


@given(limited_shops())
@examples(25)
def test_as_much_is_served_as_suppliers_have(shop: Shop) -> None:
    """By each day, what is served is all that was wanted until then or all that has arrived, the lesser."""
    in_time = [want for want in shop.wants if any(serves(shop, offer, want) for offer in shop.offers)]
    shop = replace(shop, wants=in_time)
    good, beyond = within_reach(shop.wants, shop.offers, shop.suppliers, TODAY)
    for part in {want.part for want in shop.wants}:
        served = 0
        for day in sorted({want.needed_by or date.max for want in shop.wants if want.part == part}):
            wanted = [w for w in shop.wants if w.part == part and (w.needed_by or date.max) == day]
            mine = [o for o in shop.offers if o.part == part]
            there = [o for o in mine if (shop.suppliers[o.supplier].arrives(TODAY) or date.max) <= day]
            served += sum(want.quantity for want in wanted)
            if all(offer.at_most is not None for offer in there):
                served = min(served, sum((offer.at_most or 0) * offer.pack for offer in there))
        assert sum(want.quantity for want in good if want.part == part) == served
    assert sum(w.quantity for w in good) + sum(one.want.quantity for one in beyond) == sum(
        w.quantity for w in shop.wants
    )


@pytest.mark.outside
@pytest.mark.parametrize(("lines", "state"), [(6, 1), (8, 4), pytest.param(10, 2, marks=pytest.mark.soak)])
def test_a_plain_integer_programme_agrees(lines: int, state: int) -> None:
    """Source: the plain formulation solved by scipy.optimize.milp, with an upper end for some offers."""
    shop, draw = family(lines, state), random.Random(state)
    due = {want.part: want.quantity for want in shop.wants}
    offers = [
        replace(o, at_most=draw.randint(1, max(1, due[o.part] // o.pack))) if draw.random() < 0.25 else o
        for o in shop.offers
    ]
    good, _ = within_reach(shop.wants, offers, shop.suppliers, TODAY)
    shop = Shop(good, offers, shop.suppliers, shop.rates)
    basket = best_basket(shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY)
    total, proven = plain_milp(shop, 60.0)
    assert proven
    assert basket.proven
    assert basket.total == total == landed(shop, basket.packs())


def kits(*, left: int | None) -> tuple[list[PackOffer], dict[str, SupplierTerms]]:
    """Kits at 10.00, 8.00 from five on of any colour at the cheap seller; 12.00 at the dear one. No postage."""
    steps = (PriceBreak(1, 1000), PriceBreak(5, 800))
    offers = [
        PackOffer("chrome", "cheap", "chrome", 1000, steps, "kits", at_most=left),
        PackOffer("gold", "cheap", "gold", 1000, steps, "kits"),
        PackOffer("dear", "dear", "chrome", 1000, (PriceBreak(1, 1200),)),
    ]
    sellers = {name: SupplierTerms(name, days, "EUR") for name, days in (("cheap", 3), ("dear", 20))}
    return offers, sellers


def test_the_rest_comes_from_whoever_still_has_some() -> None:
    """Three chrome kits left of six wanted: the other three cost more; two gold ones still reach the step."""
    offers, sellers = kits(left=3)
    wants = [Want("chrome", 6000), Want("gold", 2000)]
    basket = best_basket(wants, offers, sellers, RATES, TODAY)
    assert basket.packs() == {"chrome": 3, "gold": 2, "dear": 3}
    assert basket.total == 5 * 800 + 3 * 1200
    assert best_basket(wants, kits(left=None)[0], sellers, RATES, TODAY).packs() == {"chrome": 6, "gold": 2}


def test_the_last_pack_of_each_is_bought_too() -> None:
    """Two with three left each at 1.50, six wanted: 9.00; the one who has enough would take 18.00."""
    sellers = {name: SupplierTerms(name, 3, "EUR") for name in "abc"}
    cheap = [PackOffer(name, name, "kit", 1000, (PriceBreak(1, 150),), at_most=3) for name in "ab"]
    dear = PackOffer("c", "c", "kit", 1000, (PriceBreak(1, 300),))
    basket = best_basket([Want("kit", 6000)], [*cheap, dear], sellers, RATES, TODAY)
    assert basket.packs() == {"a": 3, "b": 3}
    assert basket.total == 900


@given(st.integers(0, 10**9))
@examples(60)
def test_a_limited_offer_adds_every_count_of_packs_it_has(seed: int) -> None:
    """The least cost of each size, against trying every count of packs from every size held before."""
    draw = random.Random(seed)
    full, size = draw.randint(1, 12), draw.randint(1, 4)
    best: Stands = {at: (draw.randint(0, 20), ()) for at in {0, *draw.choices(range(full), k=3)}}
    ends = sorted(draw.sample(range(1, 9), 2))
    steps = [(1, ends[0], 5), (ends[0] + 1, ends[1], draw.randint(0, 5))]
    tried: dict[int, int] = {}
    for held, (before, _) in best.items():
        for low, high, price in [(0, 0, 0), *steps]:
            for packs in range(low, high + 1):
                at = min(full, held + packs * size)
                tried[at] = min(tried.get(at, 10**9), before + packs * price)
    found = limited(best, 7, size, steps, full)
    assert {at: least for at, (least, _) in found.items()} == tried


@given(st.integers(0, 10**9))
@examples(40)
def test_a_part_is_covered_as_cheaply_as_any_choice_of_packs(seed: int) -> None:
    """Straight prices, steps and few packs left, some of them late: against trying every count of packs of each."""
    draw = random.Random(seed)
    today, late = SupplierTerms("a", 3, "EUR"), SupplierTerms("b", 20, "EUR")
    offers = []
    for n in range(draw.randint(1, 3)):
        steps = [PriceBreak(1, draw.randint(2, 9))]
        steps += [PriceBreak(draw.randint(2, 3), draw.randint(1, 8))] * draw.randint(0, 1)
        most = draw.choice([None, None, 3, 5])
        seller = draw.choice("aab")
        pack = 1000 * draw.randint(1, 4)
        offers.append(PackOffer(f"{n}", seller, "kit", pack, tuple(steps), at_most=most))
    wants = [
        Want("kit", 1000 * draw.randint(1, 5), day)
        for day in (TODAY + timedelta(days=9), None)
        if day is None or draw.random() < 0.5
    ]
    known = {"a": today, "b": late}
    wants, _ = within_reach(wants, offers, known, TODAY)
    if not wants or not any(offer.supplier == "a" for offer in offers):
        return
    problem = compile_problem(wants, offers, known, RATES, TODAY)
    packs = [(n, one, None if one.own else one.prices[0], 1) for n, one in enumerate(problem.packs)]
    least, plan = cover(problem.needs[0], packs)
    enough = [max(3, -(-problem.needs[0][-1] // one.size)) for one in problem.packs]  # a step begins by 3
    every = (dict(enumerate(counts)) for counts in product(*(range(end + 1) for end in enough)))
    lists = ({n: count for n, count in one.items() if count} for one in every)
    covering = [one for one in lists if problem.covers_part(0, one)]
    costs = [price for one in covering if (price := problem.price(one)) is not None]
    assert least == min(costs)
    bought: dict[int, int] = {}
    for n, count in packs_of(plan):
        bought[n] = bought.get(n, 0) + count
    assert problem.covers_part(0, bought)
    assert problem.price(bought) == least


def test_what_nobody_has_left_is_told_and_orders_come_first() -> None:
    """Three can be here in time: the order gets them, the stock nothing before the day others send."""
    offers, sellers = kits(left=3)
    soon = TODAY + timedelta(days=5)
    wants = [Want("chrome", 2000, soon), Want("chrome", 2000, soon, orders=("A1",))]
    basket = best_basket(wants, offers, sellers, RATES, TODAY)
    (one,) = basket.unfilled
    assert basket.packs() == {"chrome": 3}
    assert (one.want.quantity, one.want.orders) == (1000, ())
    assert (one.why, one.earliest) == ("no more can be had in time", TODAY + timedelta(days=20))


@pytest.mark.parametrize(("days", "earliest"), [((20, 30), 20), ((30, 20), 20), ((), None)])
def test_the_first_day_after_it_is_wanted_on_which_more_arrives(
    days: tuple[int, ...], earliest: int | None
) -> None:
    """Two are there by the fifth day, for an order: nothing is left for the shelf, nor told of sellers without days."""
    soon = TODAY + timedelta(days=5)
    sellers = {f"{n}": SupplierTerms(f"{n}", n, "EUR") for n in (5, *days)} | {
        "?": SupplierTerms("?", None, "EUR")
    }
    offers = [PackOffer(name, name, "kit", 1000, (PriceBreak(1, 100),), at_most=2) for name in sellers]
    wants = [Want("kit", 3000, soon), Want("kit", 2000, soon, orders=("A1",))]
    good, (beyond,) = within_reach(wants, offers, sellers, TODAY)
    assert good == wants[1:]
    assert beyond.want == wants[0]
    assert beyond.earliest == (None if earliest is None else TODAY + timedelta(days=earliest))


def test_what_nobody_has_left_on_any_day() -> None:
    """Without a date there is no earliest day to tell."""
    offers, sellers = kits(left=3)
    basket = best_basket([Want("chrome", 5000)], offers[:1], sellers, RATES, TODAY)
    (one,) = basket.unfilled
    assert basket.packs() == {"chrome": 3}
    assert (one.want.quantity, one.why, one.earliest) == (2000, "no more can be had", None)


@pytest.mark.parametrize(("left", "told"), [(4, 0), (5, 1)])
def test_a_step_that_nobody_has_enough_for_is_no_near_miss(left: int, told: int) -> None:
    """Two more than three would reach the step, where there are two more."""
    offers, sellers = kits(left=left)
    wants = [Want("chrome", 3000)]
    basket = best_basket(wants, offers[:1], sellers, RATES, TODAY)
    assert basket.packs() == {"chrome": 3}
    assert len(near_misses(basket, wants, offers[:1], sellers, RATES, TODAY)) == told


def test_a_minimum_order_that_cannot_be_reached() -> None:
    """Two kits at 10.00 never make 30.00: refused where nobody else has them, bought elsewhere where somebody has."""
    sellers = {
        "a": SupplierTerms("a", 3, "EUR", 0, None, 3000),
        "b": SupplierTerms("b", 3, "EUR"),
        "c": SupplierTerms("c", 3, "EUR"),
    }
    few = PackOffer("few", "a", "kit", 1000, (PriceBreak(1, 1000),), at_most=2)
    with pytest.raises(Refused, match="what suppliers have left"):
        best_basket([Want("kit", 1000)], [few], sellers, RATES, TODAY)
    others = [
        PackOffer("dear", "b", "kit", 1000, (PriceBreak(1, 1500),)),
        PackOffer("glue", "c", "glue", 1000, (PriceBreak(1, 700),)),
    ]
    wants = [Want("kit", 1000), Want("glue", 1000)]
    basket = best_basket(wants, [few, *others], sellers, RATES, TODAY)
    assert basket.packs() == {"dear": 1, "glue": 1}
    assert basket.total == Fraction(2200)


def test_a_minimum_order_is_filled_up_with_what_there_is() -> None:
    """The dearest line first, as far as it goes, then another."""
    sellers = {"a": SupplierTerms("a", 3, "EUR", 0, None, 5000)}
    offers = [
        PackOffer("kit", "a", "kit", 1000, (PriceBreak(1, 1000),), at_most=3),
        PackOffer("glue", "a", "glue", 1000, (PriceBreak(1, 700),)),
    ]
    basket = best_basket([Want("kit", 1000), Want("glue", 1000)], offers, sellers, RATES, TODAY)
    assert basket.proven
    assert basket.total == 3 * 1000 + 3 * 700


@pytest.mark.parametrize(("left", "start"), [(0, 1), (2, 3)], ids=["none", "fewer than the first step"])
def test_fewer_left_than_can_be_bought(left: int, start: int) -> None:
    """Such an offer is a mistake in the sheet, and named."""
    offer = PackOffer("x", "a", "kit", 1000, (PriceBreak(start, 100),), at_most=left)
    with pytest.raises(BadInput, match="fewer packs are left"):
        best_basket([Want("kit", 1000)], [offer], {"a": SupplierTerms("a", 3, "EUR")}, RATES, TODAY)


def test_what_an_offer_out_of_reach_has_left_counts_for_no_other() -> None:
    """Two of a group with one pack left each: gold is sold from five on, so chrome never gets to its two either."""
    seller = {"a": SupplierTerms("a", 3, "EUR")}
    chrome = PackOffer("chrome", "a", "chrome", 1000, (PriceBreak(2, 100),), "kits", at_most=1)
    gold = PackOffer("gold", "a", "gold", 1000, (PriceBreak(5, 100),), "kits", at_most=1)
    glue = PackOffer("glue", "a", "glue", 1000, (PriceBreak(1, 50),))
    wants = [Want("chrome", 1000), Want("gold", 1000), Want("glue", 1000)]
    basket = best_basket(wants, [chrome, gold, glue], seller, RATES, TODAY)
    assert basket.packs() == {"glue": 1}
    assert [one.why for one in basket.unfilled] == ["nobody offers it", "nobody offers it"]


def test_a_search_may_start_from_more_than_any_list_costs() -> None:
    """A step from 40 packs of a group may be filled up for one pack that is wanted: 40 at 9.00 and postage."""
    seller = SupplierTerms("Seller", 3, "EUR", 500)
    steps = (PriceBreak(1, 1000), PriceBreak(40, 900))
    offers = [PackOffer(part, "Seller", part, 1000, steps, price_group="g") for part in ("kit", "tube")]
    wants = [Want("kit", 1000), Want("tube", 1000)]
    problem = compile_problem(wants, offers, {"Seller": seller}, RATES, TODAY)
    price = problem.price({0: 39, 1: 1})
    assert price == 40 * 900 + 500
    assert dearest(problem) > price


def seller(**terms: Any) -> SupplierTerms:
    return SupplierTerms("a", 3, "EUR", **terms)


@pytest.mark.parametrize(
    ("terms", "steps", "list_"),
    [
        (seller(postage=1, free_from=100), [(1, 1)], {"a": 1, "b": 1}),
        (seller(minimum_order=40), [(1, 1)], {"a": 39, "b": 1}),
        (seller(), [(50, 1)], {"a": 49, "b": 1}),
        (seller(postage=70, free_from=60), [(1, 1)], {"a": 59, "b": 1}),
    ],
    ids=["postage", "a minimum order", "a step", "free postage"],
)
def test_a_search_without_a_list_starts_above_every_list_it_may_need(
    terms: SupplierTerms, steps: list[tuple[int, int]], list_: dict[str, int]
) -> None:
    """One of each part is wanted; what else is on the list reaches a step, a minimum order or free postage."""
    own = PackOffer("a", "a", "a", 1000, tuple(PriceBreak(*one) for one in steps), "kits")
    other = PackOffer("b", "a", "b", 1000, (PriceBreak(1, 1),), "kits")
    problem = compile_problem([Want("a", 1000), Want("b", 1000)], [own, other], {"a": terms}, RATES, TODAY)
    numbers = {pack.offer.key: n for n, pack in enumerate(problem.packs)}
    price = problem.price({numbers[key]: many for key, many in list_.items()})
    assert price is not None
    assert dearest(problem) > price
