"""The basket against complete enumeration, a plain integer programme, and the lists a person would write."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.buying import (
    Basket,
    PackOffer,
    PriceBreak,
    SupplierTerms,
    Want,
    best_basket,
    naive_cheapest_per_line,
    naive_one_supplier,
    near_misses,
)
from inventory.errors import BadInput, Refused

from .basket_cases import RATES, TODAY, Shop, family, landed, plain_milp


def solved(shop: Shop, time_limit: float = 20.0) -> Basket:
    return best_basket(shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY, time_limit=time_limit)


@st.composite
def small_shops(draw: st.DrawFn) -> Shop:
    """Up to three parts at two suppliers: steps, a price group, postage, thresholds, minimum orders, two coins."""
    sellers = {}
    for name in ("a", "b"):
        free = draw(st.none() | st.integers(5, 60))
        least = draw(st.none() | st.integers(1, 30))
        coin = draw(st.sampled_from(["EUR", "GBP"]))
        sellers[name] = SupplierTerms(name, 3, coin, draw(st.integers(0, 15)), free, least)
    parts = [f"p{n}" for n in range(draw(st.integers(1, 3)))]
    wants = [Want(part, 1000 * draw(st.integers(1, 4))) for part in parts]
    offers = []
    for part, name in product(parts, sellers):
        if name == "a" or draw(st.booleans()):
            first = draw(st.integers(2, 12))
            steps = [PriceBreak(1, first)]
            if draw(st.booleans()):
                steps.append(PriceBreak(draw(st.integers(2, 5)), draw(st.integers(1, first))))
            group = draw(st.sampled_from([None, "kits"]))
            offers.append(
                PackOffer(f"{name}{part}", name, part, 1000 * draw(st.integers(1, 2)), tuple(steps), group)
            )
    return Shop(wants, offers, sellers, RATES)


def every_list(shop: Shop, most: int) -> Iterator[dict[str, int]]:
    for packs in product(range(most + 1), repeat=len(shop.offers)):
        yield {offer.key: count for offer, count in zip(shop.offers, packs, strict=True) if count}


@pytest.mark.cross_check
@given(small_shops())
@examples(25)
def test_complete_enumeration_finds_nothing_cheaper(shop: Shop) -> None:
    """Source: the terms alone, over every list of up to five packs an offer."""
    if len(shop.offers) > 4:
        shop = replace(shop, wants=shop.wants[:2], offers=[o for o in shop.offers if o.part in ("p0", "p1")])
    try:
        basket = solved(shop)
    except Refused:
        assert all(landed(shop, packs) is None for packs in every_list(shop, 5))
        return
    found = [cost for packs in every_list(shop, 5) if (cost := landed(shop, packs)) is not None]
    assert basket.proven
    assert basket.total == landed(shop, basket.packs())
    assert not found or basket.total <= min(found)


@pytest.mark.outside
@pytest.mark.soak
@pytest.mark.parametrize(("lines", "state"), [(10, 0), (10, 1), (10, 2), (25, 0), (25, 1)])
def test_a_plain_integer_programme_agrees(lines: int, state: int) -> None:
    """Source: the plain formulation solved by scipy.optimize.milp."""
    shop = family(lines, state)
    total, proven = plain_milp(shop, 60.0)
    basket = solved(shop)
    assert proven
    assert basket.proven
    assert basket.total == total


@given(st.integers(2, 12), st.integers(0, 10_000))
@examples(15)
def test_never_worse_than_the_lists_a_person_would_write(lines: int, state: int) -> None:
    """Neither the cheapest offer per line nor one supplier for all is cheaper; every sum is exact."""
    shop = family(lines, state, 4)
    basket = solved(shop, time_limit=2.0)
    assert basket.total == landed(shop, basket.packs())
    assert basket.bound <= basket.total
    for naive in (naive_cheapest_per_line, naive_one_supplier):
        other = naive(shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY)
        if other is not None:
            assert other.total == landed(shop, other.packs())
            assert basket.total <= other.total


def kits(count: int) -> Shop:
    """Kits at 10.00 a piece, 8.00 from ten on, over two colours; postage 5.00, free from 90.00."""
    seller = SupplierTerms("Seller", 3, "EUR", 500, 9000)
    steps = (PriceBreak(1, 1000), PriceBreak(10, 800))
    offers = [PackOffer(name, "Seller", name, 1000, steps, "kits") for name in ("chrome", "gold")]
    wants = [Want("chrome", 1000 * count), Want("gold", 1000)]
    return Shop(wants, offers, {"Seller": seller}, RATES)


def test_buying_more_is_chosen_when_it_is_cheaper() -> None:
    """Nine at 10.00 cost more than ten at 8.00."""
    basket = solved(kits(8))
    assert sum(basket.packs().values()) == 10
    assert basket.total == 10 * 800 + 500


def test_a_step_nearly_reached_is_pointed_out_and_priced_truly() -> None:
    """Seven kits: three more would take 2.00 off each of the seven; the three cost 10.00 instead of 30.00."""
    shop = kits(6)
    basket = solved(shop)
    (miss,) = [
        one
        for one in near_misses(basket, shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY)
        if one.kind == "step"
    ]
    more = {**basket.packs(), "chrome": basket.packs()["chrome"] + miss.packs}
    assert (miss.packs, miss.group) == (3, "kits")
    assert miss.extra == (landed(shop, more) or 0) - basket.total
    assert miss.saving == miss.alone - miss.extra == 2000


@pytest.mark.parametrize(("after", "told"), [(1000, False), (999, True)])
def test_a_step_that_takes_nothing_off_is_not_told(after: int, told: bool) -> None:
    """Four at 10.00, from five on at the same price or a cent less."""
    steps = (PriceBreak(1, 1000), PriceBreak(5, after))
    shop = Shop(
        [Want("kit", 4000)],
        [PackOffer("kit", "a", "kit", 1000, steps)],
        {"a": SupplierTerms("a", 3, "EUR")},
        RATES,
    )
    found = near_misses(solved(shop), shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY)
    assert [one.saving for one in found] == [Fraction(5)] * told


def test_a_step_nearly_reached_abroad_saves_in_the_shops_coin() -> None:
    """The same list in pounds: what is saved is told in the shop's own coin, whatever the rates' denominators are."""
    shop = kits(6)
    sellers = {name: replace(one, currency="GBP") for name, one in shop.suppliers.items()}
    basket = best_basket(shop.wants, shop.offers, sellers, shop.rates, TODAY)
    (miss,) = [
        one
        for one in near_misses(basket, shop.wants, shop.offers, sellers, shop.rates, TODAY)
        if one.kind == "step"
    ]
    assert miss.saving == 2000 * shop.rates["GBP"]
    assert miss.extra == 1000 * shop.rates["GBP"]
    assert miss.alone == 3000 * shop.rates["GBP"]


def test_a_day_rules_out_who_comes_too_late() -> None:
    """The cheap supplier is slow: a promise buys from the quick one, stock from the cheap one."""
    quick, slow = SupplierTerms("quick", 2, "EUR", 300), SupplierTerms("slow", 30, "EUR", 300)
    offers = [
        PackOffer("q", "quick", "kit", 1000, (PriceBreak(1, 900),)),
        PackOffer("s", "slow", "kit", 1000, (PriceBreak(1, 500),)),
    ]
    sellers = {"quick": quick, "slow": slow}
    soon = best_basket([Want("kit", 2000, TODAY + timedelta(days=5))], offers, sellers, RATES, TODAY)
    any_day = best_basket([Want("kit", 2000)], offers, sellers, RATES, TODAY)
    both = best_basket(
        [Want("kit", 1000, TODAY + timedelta(days=5)), Want("kit", 9000)], offers, sellers, RATES, TODAY
    )
    assert soon.packs() == {"q": 2}
    assert any_day.packs() == {"s": 2}
    assert both.packs() == {"q": 1, "s": 9}


def test_what_comes_too_late_may_still_fill_up() -> None:
    """A gold kit comes in time from the quick one; another, late, makes ten of the cheap seller's ones cheaper."""
    quick, slow = SupplierTerms("quick", 2, "EUR"), SupplierTerms("slow", 30, "EUR")
    steps = (PriceBreak(1, 1000), PriceBreak(10, 500))
    offers = [
        PackOffer("chrome", "slow", "chrome", 1000, steps, "kits", at_most=9),
        PackOffer("gold", "slow", "gold", 1000, steps, "kits"),
        PackOffer("soon", "quick", "gold", 1000, (PriceBreak(1, 1200),)),
    ]
    wants = [Want("chrome", 9000), Want("gold", 1000, TODAY + timedelta(days=5), reasons=("S41",))]
    basket = best_basket(wants, offers, {"quick": quick, "slow": slow}, RATES, TODAY)
    assert basket.packs() == {"chrome": 9, "gold": 1, "soon": 1}
    assert basket.total == 10 * 500 + 1200
    why = {line.offer.key: (line.reasons, line.needed_by) for line in basket.lines}
    assert why["gold"] == (("fills up the order; too late for its own day",), None)
    assert why["soon"] == (("S41",), TODAY + timedelta(days=5))


def test_what_nobody_has_or_has_in_time_is_told() -> None:
    """With the earliest day it could be there, where there is one; the rest is still bought."""
    slow = SupplierTerms("slow", 30, "EUR", 300)
    lost = SupplierTerms("lost", None, "EUR", 0)
    offers = [
        PackOffer("s", "slow", "kit", 1000, (PriceBreak(1, 500),)),
        PackOffer("l", "lost", "odd", 1000, (PriceBreak(1, 100),)),
        PackOffer("m", "lost", "glue", 1000, (PriceBreak(1, 100),)),
    ]
    wants = [
        Want("kit", 1000, TODAY + timedelta(days=5)),
        Want("none", 1000),
        Want("odd", 1000, TODAY + timedelta(days=5)),
        Want("glue", 1000),
    ]
    basket = best_basket(wants, offers, {"slow": slow, "lost": lost}, RATES, TODAY)
    assert [(one.want.part, one.why, one.earliest) for one in basket.unfilled] == [
        ("kit", "nobody has it in time", TODAY + timedelta(days=30)),
        ("none", "nobody offers it", None),
        ("odd", "nobody has it in time", None),
    ]
    assert basket.packs() == {"m": 1}
    assert basket.bills[0].arrives is None


def test_nothing_wanted_costs_nothing() -> None:
    """An empty list is a proven one."""
    basket = best_basket([], [], {}, {}, TODAY)
    assert basket.proven
    assert basket.bills == ()
    assert basket.total == basket.gap == 0


def test_a_minimum_order_is_reached_by_buying_more() -> None:
    """A seller who sends nothing under 30.00 gets 30.00 worth."""
    seller = SupplierTerms("Seller", 3, "EUR", 0, None, 3000)
    offers = [PackOffer("kit", "Seller", "kit", 1000, (PriceBreak(1, 1000),))]
    basket = best_basket([Want("kit", 1000)], offers, {"Seller": seller}, RATES, TODAY)
    assert basket.packs() == {"kit": 3}


def test_several_coins_are_compared_exactly() -> None:
    """At 1.17 EUR the pound, 8.00 GBP is dearer than 9.35 EUR and cheaper than 9.37 EUR."""
    for euro, chosen in ((935, "e"), (937, "p")):
        sellers = {"e": SupplierTerms("e", 3, "EUR", 0), "p": SupplierTerms("p", 3, "GBP", 0)}
        offers = [
            PackOffer("e", "e", "kit", 1000, (PriceBreak(1, euro),)),
            PackOffer("p", "p", "kit", 1000, (PriceBreak(1, 800),)),
        ]
        basket = best_basket([Want("kit", 1000)], offers, sellers, RATES, TODAY)
        assert list(basket.packs()) == [chosen]
        assert basket.total == min(Fraction(euro), 800 * RATES["GBP"])


@pytest.mark.parametrize(
    ("offer", "word"),
    [
        (PackOffer("x", "Seller", "kit", 0, (PriceBreak(1, 1),)), "pack holds nothing"),
        (PackOffer("x", "Seller", "kit", 1000, ()), "no price"),
        (PackOffer("x", "Seller", "kit", 1000, (PriceBreak(0, 1),)), "below one pack"),
        (PackOffer("x", "Seller", "kit", 1000, (PriceBreak(1, -1),)), "below 0"),
        (PackOffer("x", "Seller", "kit", 1000, (PriceBreak(5, 2), PriceBreak(1, 3))), "out of order"),
        (
            PackOffer("x", "Seller", "kit", 1000, (PriceBreak(1, 2), PriceBreak(5, 3))),
            "dearer at a higher step",
        ),
        (PackOffer("x", "Nobody", "kit", 1000, (PriceBreak(1, 2),)), "not in the list"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_terms_nobody_can_use_are_named(offer: PackOffer, word: str) -> None:
    """Each with its offer, all at once."""
    with pytest.raises(BadInput, match=word):
        best_basket([Want("kit", 1000)], [offer], {"Seller": SupplierTerms("Seller", 3, "EUR")}, RATES, TODAY)


@pytest.mark.parametrize(
    ("seller", "word"),
    [
        (SupplierTerms("Seller", 3, "XXX"), "no exchange rate for XXX"),
        (SupplierTerms("Seller", 3, "EUR", -1), "below 0"),
        (SupplierTerms("Seller", -3, "EUR"), "lead time is below 0"),
    ],
    ids=["coin", "postage", "lead"],
)
def test_suppliers_nobody_can_use_are_named(seller: SupplierTerms, word: str) -> None:
    """A price in an unknown coin is no price."""
    offers = [PackOffer("x", "Seller", "kit", 1000, (PriceBreak(1, 1),))]
    with pytest.raises(BadInput, match=word):
        best_basket([Want("kit", 1000)], offers, {"Seller": seller}, RATES, date(2026, 3, 2))
