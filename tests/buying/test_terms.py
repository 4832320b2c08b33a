"""What the optimiser is told: what is just allowed and what is just not, and offers that are out of reach."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from inventory.buying.terms import PackOffer, PriceBreak, SupplierTerms, Want, buyable, check_terms
from inventory.errors import BadInput

from .basket_cases import TODAY

SELLER = SupplierTerms("Seller", 0, "EUR", 0, 0, 0)
OFFER = PackOffer("x", "Seller", "kit", 1, (PriceBreak(1, 0),))


def faults(
    offer: PackOffer = OFFER, seller: SupplierTerms = SELLER, rate: Fraction | None = None
) -> list[str]:
    """What is wrong with one offer or its supplier; empty where they can be taken."""
    rates: Mapping[str, Fraction] = {"EUR": Fraction(1, 1000) if rate is None else rate}
    try:
        check_terms([offer], {seller.name: seller}, rates)
    except BadInput as refused:
        return [one.problem for one in refused.where]
    return []


@pytest.mark.parametrize(
    "offer",
    [
        OFFER,
        replace(OFFER, steps=(PriceBreak(1, 5), PriceBreak(2, 5))),
        replace(OFFER, steps=(PriceBreak(3, 5),), at_most=3),
        replace(OFFER, steps=(PriceBreak(3, 5),), at_most=1, price_group="kits"),
        replace(OFFER, steps=(PriceBreak(1, 5), PriceBreak(9, 4)), at_most=1),
    ],
    ids=["given away", "no cheaper", "just enough left", "others reach it", "the first step"],
)
def test_what_is_just_allowed(offer: PackOffer) -> None:
    assert faults(offer) == []


@pytest.mark.parametrize(
    ("offer", "why"),
    [
        (replace(OFFER, pack=0), "the pack holds nothing"),
        (replace(OFFER, steps=(PriceBreak(0, 5),)), "a step starts below one pack"),
        (replace(OFFER, steps=(PriceBreak(1, 5), PriceBreak(1, 4))), "the steps are out of order"),
        (replace(OFFER, steps=(PriceBreak(1, 5), PriceBreak(2, 6))), "a pack gets dearer at a higher step"),
        (replace(OFFER, steps=(PriceBreak(3, 5),), at_most=2), "fewer packs are left than can be bought"),
        (replace(OFFER, at_most=0, price_group="kits"), "fewer packs are left than can be bought"),
        (replace(OFFER, steps=()), "it has no price"),
        (replace(OFFER, steps=(PriceBreak(1, -1),)), "a price is below 0"),
        (replace(OFFER, supplier="Other"), "the supplier “Other” is not in the list"),
    ],
)
def test_what_is_just_not(offer: PackOffer, why: str) -> None:
    assert faults(offer) == [why]


def test_of_a_supplier_each_number_may_be_nothing_and_none_less() -> None:
    assert faults(seller=SELLER) == []
    for less in (
        replace(SELLER, postage=-1),
        replace(SELLER, free_from=-1),
        replace(SELLER, minimum_order=-1),
    ):
        assert faults(seller=less) == ["postage, free postage from or minimum order is below 0"]
    assert faults(seller=replace(SELLER, lead_days=-1)) == ["the lead time is below 0"]
    assert faults(rate=Fraction(0)) == ["there is no exchange rate for EUR"]
    assert faults(seller=replace(SELLER, currency="GBP")) == ["there is no exchange rate for GBP"]


def test_what_nobody_said_of_terms_is_nothing() -> None:
    """No postage, from no sum on, no least order; not by air; a want is worth one."""
    plain = SupplierTerms("Seller", None, "EUR")
    assert (plain.postage, plain.free_from, plain.minimum_order, plain.hazard_air) == (0, None, None, False)
    assert (plain.arrives(TODAY), plain.postage_on(0), Want("kit", 1).worth) == (None, 0, 1)
    assert SupplierTerms("Seller", 3, "EUR").arrives(date(2026, 2, 27)) == date(2026, 3, 2)
    assert SELLER.arrives(TODAY) == TODAY + timedelta(days=0)


def test_postage_is_free_from_just_that_sum_on() -> None:
    terms = SupplierTerms("Seller", 3, "EUR", 500, 4000)
    assert [terms.postage_on(goods) for goods in (3999, 4000)] == [500, 0]


def test_the_step_that_is_reached_sets_the_price() -> None:
    offer = replace(OFFER, steps=(PriceBreak(2, 9), PriceBreak(5, 8)))
    assert [offer.price_at(packs) for packs in (1, 2, 4, 5, 99)] == [None, 9, 9, 8, 8]


def test_what_the_packs_left_of_a_group_cannot_reach_is_not_to_be_had() -> None:
    """Of two and three left five reach a step of five, six is out of reach; without it the rest may be, too."""
    five, six = (PriceBreak(5, 9),), (PriceBreak(6, 9),)
    two = replace(OFFER, key="two", steps=five, price_group="kits", at_most=2)
    three = replace(two, key="three", at_most=3)
    assert buyable([two, three]) == [two, three]
    assert buyable([two, replace(three, steps=six)]) == []
    assert buyable([two, replace(three, supplier="Other")]) == []
    assert buyable([two, replace(three, at_most=None)]) == [two, replace(three, at_most=None)]
    assert buyable([replace(two, price_group=None)]) == [replace(two, price_group=None)]
    assert buyable([two, replace(three, price_group="pens", steps=(PriceBreak(3, 9),))]) == [
        replace(three, price_group="pens", steps=(PriceBreak(3, 9),))
    ]
