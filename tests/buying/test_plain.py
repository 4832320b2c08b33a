"""A small list without a search: where it claims to be least, nothing is cheaper."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.buying import PackOffer, PriceBreak, SupplierTerms, Want, best_basket
from inventory.buying.listing import sort_out
from inventory.buying.plain import SELLERS, Way, proven_list
from inventory.buying.problem import Problem, compile_problem
from inventory.buying.search.tree import Search

from .basket_cases import RATES, TODAY, Shop, landed
from .test_basket import every_list, small_shops
from .whole_model import cheapest, served

SELLER = SupplierTerms("Seller", 3, "EUR", 500, 9000)


def compiled(shop: Shop) -> Problem:
    good, _ = sort_out(shop.wants, shop.offers, shop.suppliers, TODAY)
    return compile_problem(good, shop.offers, shop.suppliers, shop.rates, TODAY)


def asked(shop: Shop) -> tuple[Problem, Way | None]:
    problem = compiled(shop)
    return problem, proven_list(problem, [])


def one_part(count: int, *steps: tuple[int, int], seller: SupplierTerms = SELLER, pack: int = 1) -> Shop:
    offer = PackOffer("tube", seller.name, "tube", 1000 * pack, tuple(PriceBreak(*one) for one in steps))
    return Shop([Want("tube", 1000 * count)], [offer], {seller.name: seller}, RATES)


@st.composite
def plain_shops(draw: st.DrawFn) -> Shop:
    """The small shops without their price groups, some offers of few packs, some sellers slow."""
    shop = draw(small_shops())
    few = st.sampled_from([None, None, 6])
    offers = [replace(one, price_group=None, at_most=draw(few)) for one in shop.offers]
    slow = {
        name: replace(one, lead_days=draw(st.sampled_from([3, 3, 30])))
        for name, one in shop.suppliers.items()
    }
    days = st.sampled_from([None, None, TODAY.replace(day=20)])
    day = draw(days)
    return replace(
        shop, offers=offers, suppliers=slow, wants=[replace(one, needed_by=day) for one in shop.wants]
    )


@pytest.mark.cross_check
@given(plain_shops())
@examples(60)
def test_what_is_claimed_costs_what_highs_and_the_search_find(shop: Shop) -> None:
    """Source: the whole model solved by scipy.optimize.milp (HiGHS), and the search, which never sees the claim."""
    good, _ = sort_out(shop.wants, shop.offers, shop.suppliers, TODAY)
    if not good:
        return
    problem, way = asked(shop)
    if way is None:
        return
    price, packs = way
    assert problem.price(packs) == price
    assert all(problem.covers_part(part, packs) for part in range(len(problem.parts)))
    found = Search(problem, [], 20.0).run()
    assert found.bound == found.price == price
    answer = cheapest(served(shop))
    assert answer.certain
    assert answer.total == Fraction(price, problem.atom)


@pytest.mark.cross_check
@given(plain_shops())
@examples(25)
def test_complete_enumeration_finds_nothing_cheaper_than_the_claim(shop: Shop) -> None:
    """Source: the terms alone, over every list of up to five packs an offer."""
    kept = {one.part for one in shop.wants[:2]}
    wants = [replace(one, needed_by=None) for one in shop.wants[:2]]
    shop = replace(
        shop, wants=wants, offers=[replace(o, at_most=None) for o in shop.offers if o.part in kept]
    )
    problem, way = asked(shop)
    if way is not None:
        found = [cost for packs in every_list(shop, 5) if (cost := landed(shop, packs)) is not None]
        assert not found or way[0] <= min(found) * problem.atom


@pytest.mark.parametrize(
    ("shop", "price", "packs"),
    [
        (one_part(9, (1, 380), pack=10), 380 + 500, 1),
        (one_part(4, (1, 410), (5, 390)), 4 * 410 + 500, 4),
        (one_part(9, (1, 1000), (10, 800)), 10 * 800 + 500, 10),
        (one_part(2, (3, 100)), 300 + 500, 3),
        (one_part(90, (1, 100)), 9000, 90),
    ],
)
def test_one_part_of_one_seller_is_answered_at_once(shop: Shop, price: int, packs: int) -> None:
    """Whole packs, a step worth buying more for, a first step above one pack, free postage."""
    assert asked(shop)[1] == (price, {0: packs})


@pytest.mark.parametrize(("postage", "least"), [(0, 1300), (100, 1500), (300, 1500 + 300)])
def test_each_part_from_whoever_is_cheaper_where_that_pays(postage: int, least: int) -> None:
    """A kit at 10.00 or 8.00, a glue at 5.00 or 9.00: one of each seller, or both from the first for one postage."""
    sellers = {name: SupplierTerms(name, 3, "EUR", postage) for name in ("a", "b")}
    prices = {("a", "kit"): 1000, ("b", "kit"): 800, ("a", "glue"): 500, ("b", "glue"): 900}
    offers = [
        PackOffer(f"{name} {part}", name, part, 1000, (PriceBreak(1, price),))
        for (name, part), price in prices.items()
    ]
    _, way = asked(Shop([Want("kit", 1000), Want("glue", 1000)], offers, sellers, RATES))
    assert way is not None
    assert way[0] == least


def test_packs_of_two_sizes_together() -> None:
    """Seven: a five at 0.50 and a two at 0.21."""
    shop = one_part(7, (1, 50), pack=5)
    two = replace(shop.offers[0], key="two", pack=2000, steps=(PriceBreak(1, 21),))
    assert asked(replace(shop, offers=[*shop.offers, two]))[1] == (71 + 500, {0: 1, 1: 1})


def test_of_equal_lists_the_one_it_was_given_stays() -> None:
    shop = one_part(1, (1, 300))
    twin = replace(shop.offers[0], key="twin")
    problem = compiled(replace(shop, offers=[*shop.offers, twin]))
    assert proven_list(problem, [{1: 1}]) == (800, {1: 1})


def test_nothing_is_claimed_where_a_threshold_may_be_filled_up_to() -> None:
    """88.00 and 5.00 postage: 90.00 would be free, and whether whole packs reach it is the search's to say."""
    assert asked(one_part(8, (1, 1100)))[1] is None
    assert asked(one_part(1, (1, 700), seller=replace(SELLER, minimum_order=1000)))[1] is None
    assert asked(one_part(1, (1, 8501)))[1] is None  # with postage a cent more than free goods could cost


def test_nothing_is_claimed_where_whose_packs_are_bought_decides_over_a_minimum_order() -> None:
    """Two kits, a glue, a rag that is given away. From Near 75 + 75 + 51 = 201; of Far, who sends from 100 on and has
    one kit left, glue for 50. Far's minimum is met by a kit of 75 from each and the glue: 200, which only a search
    finds."""
    prices = {"far": (75, 50, 0), "near": (75, 51, 0)}
    offers = [
        PackOffer(f"{name} {part}", name, part, 1000, (PriceBreak(1, price),))
        for name, found in prices.items()
        for part, price in zip(("kit", "glue", "rag"), found, strict=True)
    ]
    offers[0] = replace(offers[0], at_most=1)
    sellers = {
        name: SupplierTerms(name, 3, "EUR", minimum_order=least)
        for name, least in (("near", 70), ("far", 100))
    }
    wants = [Want("kit", 2000), Want("glue", 1000), Want("rag", 1000)]
    assert asked(Shop(wants, offers, sellers, RATES))[1] is None
    assert best_basket(wants, offers, sellers, RATES, TODAY).total == 200


def test_nothing_is_claimed_of_groups_several_days_many_sellers_or_many_ways() -> None:
    plain = one_part(1, (1, 300))
    other = replace(plain.offers[0], key="cap", part="cap")
    steps = (PriceBreak(1, 300), PriceBreak(5, 200))
    grouped = [replace(one, price_group="kits", steps=steps) for one in (*plain.offers, other)]
    days = [Want("tube", 1000, TODAY.replace(day=day)) for day in (10, 20)]
    sellers = {f"s{n}": replace(SELLER, name=f"s{n}") for n in range(SELLERS + 1)}
    many = [replace(plain.offers[0], key=name, supplier=name) for name in sellers]
    packs = [
        replace(plain.offers[0], key=f"{n}", pack=1000 * n, steps=(PriceBreak(1, 100 * n),))
        for n in (1, 2, 3, 5)
    ]
    for shop in (
        replace(plain, wants=[*plain.wants, Want("cap", 1000)], offers=grouped),
        replace(plain, wants=days),
        replace(plain, wants=[*days, Want("cap", 1000)], offers=[*plain.offers, other]),
        replace(plain, suppliers=sellers, offers=many),
        replace(plain, wants=[Want("tube", 80_000)], offers=packs),
    ):
        assert asked(shop)[1] is None


READ = """
import sys
from datetime import date
from inventory.buying import PackOffer, PriceBreak, SupplierTerms, Want, best_basket
offer = PackOffer("tube", "Seller", "tube", 10_000, (PriceBreak(1, 380),))
sellers = {"Seller": SupplierTerms("Seller", 3, "EUR", 500)}
basket = best_basket([Want("tube", 9000)], [offer], sellers, {"EUR": 1}, date(2026, 3, 2))
read = [name for name in ("numpy", "scipy", "inventory.buying.search.tree") if name in sys.modules]
print(basket.total, basket.proven, read)
"""


def test_a_plain_list_reads_neither_the_search_nor_numpy() -> None:
    """Reading them takes longer than the list."""
    said = subprocess.run([sys.executable, "-c", READ], capture_output=True, text=True, check=True)
    assert said.stdout.strip() == "880 True []"
