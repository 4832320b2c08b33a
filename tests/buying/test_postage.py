"""Free postage nearly reached: filled with what is needed soon, with a filler where that pays, and else said not to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory import buying
from inventory.buying import (
    NearMiss,
    PackOffer,
    PriceBreak,
    Situation,
    SupplierTerms,
    Want,
    best_basket,
    postage_misses,
)

from .basket_cases import RATES, TODAY, Shop, landed

SELLER = SupplierTerms("Seller", 3, "EUR", 500, 5000)


def offer(part: str, price: int, seller: str = "Seller", **more: object) -> PackOffer:
    """One piece a pack at one price, unless said otherwise."""
    usual: dict[str, object] = {"key": f"{seller} {part}", "pack": 1000, "steps": (PriceBreak(1, price),)}
    return PackOffer(supplier=seller, part=part, **{**usual, **more})  # type: ignore[arg-type]  # fields by name


def misses(
    offers: Sequence[PackOffer],
    soon: Sequence[Want] = (),
    wants: Sequence[Want] = (Want("kit", 1000),),
    sellers: Sequence[SupplierTerms] = (SELLER,),
) -> tuple[NearMiss, ...]:
    """What is said of postage for the cheapest list."""
    known = {one.name: one for one in sellers}
    basket = best_basket(wants, offers, known, RATES, TODAY)
    return postage_misses(Situation(basket, wants, soon, offers, known, RATES, TODAY))


def filled(one: NearMiss) -> list[tuple[str, int, bool]]:
    """Part, packs, and whether it is needed."""
    return [(fill.offer.part, fill.packs, fill.needed) for fill in one.fill]


def test_what_is_needed_soon_fills_the_gap() -> None:
    """42.00 of goods, 50.00 for free postage: glue at 9.00 is needed anyway, so the 5.00 are saved whole."""
    (one,) = misses(
        [offer("kit", 4200), offer("glue", 900), offer("wax", 800)], [Want("glue", 1000, reasons=("low",))]
    )
    assert one.short == 800
    assert [one.fee, one.saving, one.extra, one.filler] == [*map(Fraction, (500, 500, 400, 0))]
    assert [one.alone, one.packs] == [400 + 500, 0]  # of goods; packs tell of steps
    assert filled(one) == [("glue", 1, True)]
    assert one.fill[0].reasons == ("low",)
    assert one.pays


def test_a_cent_saved_is_told() -> None:
    """Postage of one cent: what is needed anyway saves just that."""
    seller = SupplierTerms("Seller", 3, "EUR", 1, 5000)
    (one,) = misses([offer("kit", 4200), offer("glue", 900)], [Want("glue", 1000)], sellers=[seller])
    assert (one.pays, one.saving, filled(one)) == (True, Fraction(1), [("glue", 1, True)])


def test_the_least_fill_is_taken() -> None:
    """3 × 3.00 and 8.00 + 3.00 would do as well; 8.00 does alone."""
    soon = [Want("glue", 3000), Want("wax", 1000)]
    (one,) = misses([offer("kit", 4200), offer("glue", 300), offer("wax", 800)], soon)
    assert filled(one) == [("wax", 1, True)]


def test_no_more_is_bought_than_will_be_needed() -> None:
    """Two glues are needed, not three: with the wax they do."""
    soon = [Want("glue", 2000), Want("wax", 1000)]
    (one,) = misses([offer("kit", 4200), offer("glue", 300), offer("wax", 250)], soon)
    assert filled(one) == [("glue", 2, True), ("wax", 1, True)]


def test_what_is_dearer_here_saves_less() -> None:
    """The glue is 2.00 cheaper at another seller: 3.00 of the postage is saved; 5.00 or 6.00 dearer saves nothing."""
    other = SupplierTerms("Other", 3, "EUR", 900)
    for elsewhere, saving in ((700, 300), (400, None), (300, None)):
        many = offer("glue", 0, "Many", steps=(PriceBreak(9, 1),))  # nobody buys nine of it
        offers = [offer("kit", 4200), offer("glue", 900), offer("glue", elsewhere, "Other"), many]
        found = misses(offers, [Want("glue", 1000)], sellers=(SELLER, other, SupplierTerms("Many", 3, "EUR")))
        assert [one.saving for one in found if one.pays] == ([saving] if saving else [])
        assert [one.extra for one in found if not one.pays] == (
            [] if saving else [0]
        )  # the glue alone would do


def test_a_filler_that_pays() -> None:
    """2.00 short, and 3.00 for something nobody needs saves 5.00 of postage: 2.00 less in all."""
    (one,) = misses([offer("kit", 4800), offer("pads", 300), offer("glue", 900)])
    assert filled(one) == [("pads", 1, False)]
    assert [one.saving, one.extra, one.filler] == [*map(Fraction, (200, -200, 300))]


def test_a_filler_beside_what_is_needed() -> None:
    """8.00 short, 6.00 needed soon; 3.00 of filler for 5.00 of postage."""
    (one,) = misses([offer("kit", 4200), offer("glue", 600), offer("pads", 300)], [Want("glue", 1000)])
    assert filled(one) == [("glue", 1, True), ("pads", 1, False)]
    assert [one.saving, one.extra, one.filler] == [*map(Fraction, (200, 400, 300))]


def test_a_filler_that_does_not_pay_is_said() -> None:
    """8.00 short and nothing needed: a filler costs at least 8.00 for 5.00 of postage."""
    (one,) = misses([offer("kit", 4200), offer("pads", 300)])
    assert (one.pays, one.fill, one.short) == (False, (), 800)
    assert [one.saving, one.extra, one.fee] == [Fraction(0), Fraction(800), Fraction(500)]
    assert [one.alone, one.filler, one.packs] == [0, 0, 0]


@pytest.mark.parametrize(("goods", "told"), [(3750, [1250]), (3749, [])])
def test_what_does_not_pay_is_said_where_a_quarter_is_short_at_most(goods: int, told: list[int]) -> None:
    assert [one.short for one in misses([offer("kit", goods), offer("pads", 300)])] == told


def test_a_cent_short_is_filled_too() -> None:
    (one,) = misses([offer("kit", 4999), offer("pads", 300)])
    assert (filled(one), one.saving) == ([("pads", 1, False)], Fraction(200))


def test_a_filler_is_three_packs_at_most_and_what_is_needed_twelve() -> None:
    """Three pads of 1.00 or four, twelve glues of 0.25 or thirteen."""
    for short, pays in ((300, True), (301, False)):
        assert [one.pays for one in misses([offer("kit", 5000 - short), offer("pads", 100)])] == [pays]
        found = misses([offer("kit", 5000 - short), offer("glue", 25)], [Want("glue", 20_000)])
        assert [one.pays for one in found] == [pays]


def test_of_two_packs_of_what_is_needed_the_cheaper_fills() -> None:
    glues = [offer("glue", 900), offer("glue", 850, key="small glue")]
    for both in (glues, glues[::-1]):
        (one,) = misses([offer("kit", 4200), *both], [Want("glue", 1000)])
        assert [fill.offer.key for fill in one.fill] == ["small glue"]


def test_the_least_fills_come_first() -> None:
    """Of threes: 6.01 are reached by three of them, 6.00 by two."""
    seller = replace(SELLER, postage=700)
    for short, packs in ((600, 2), (601, 3)):
        (one,) = misses(
            [offer("kit", 5000 - short), offer("glue", 300)], [Want("glue", 9000)], sellers=[seller]
        )
        assert filled(one) == [("glue", packs, True)]


def test_nothing_is_said_where_postage_is_free_or_never() -> None:
    """Over the threshold, without one, or without postage."""
    assert misses([offer("kit", 5000)]) == ()
    for terms in ((500, None), (0, 5000)):
        assert misses([offer("kit", 4800)], sellers=(SupplierTerms("Seller", 3, "EUR", *terms),)) == ()


def test_a_step_that_takes_the_goods_below_again() -> None:
    """A fifth kit makes all of them cheaper, and the goods 5.00 too low; with a sixth each saves 2.00 as well."""
    steps = (PriceBreak(1, 1100), PriceBreak(5, 900))
    kits = offer("kit", 0, steps=steps, price_group="kits")
    spare = offer("spare", 0, steps=steps, price_group="kits")
    wants, offers = [Want("kit", 4000)], [kits, spare, offer("wax", 1200)]
    (one,) = misses(offers, [Want("spare", 1000), Want("wax", 1000)], wants)
    assert filled(one) == [("wax", 1, True)]
    (both,) = misses(offers, [Want("spare", 2000), Want("wax", 1000)], wants)
    assert filled(both) == [("spare", 2, True)]
    assert [both.extra, both.saving] == [Fraction(6 * 900 - 4900), Fraction(500 + 6 * 200)]


def test_in_another_coin_the_sums_are_the_shops() -> None:
    """2.00 GBP short of 50.00; 5.00 GBP of postage are 5.85 EUR."""
    abroad = SupplierTerms("Seller", 3, "GBP", 500, 5000)
    (one,) = misses([offer("kit", 4800), offer("glue", 200)], [Want("glue", 1000)], sellers=(abroad,))
    assert one.short == 200
    assert [one.fee, one.saving] == [Fraction(585)] * 2


def test_an_offer_that_starts_higher_than_needed_is_no_fill() -> None:
    """Sold from three packs on, one of which is needed, or all three: those that are told begin at one."""
    dear = offer("glue", 0, steps=(PriceBreak(3, 900),))
    for many in (1000, 3000):
        (one,) = misses([offer("kit", 4200), dear], [Want("glue", many)])
        assert not one.pays


def test_a_late_supplier_fills_up_too() -> None:
    """What is needed soon has no day: a seller who is too slow for a promise is not too slow for it."""
    slow = SupplierTerms("Slow", 30, "EUR", 500, 5000)
    wants = [Want("kit", 1000, TODAY + timedelta(days=40)), Want("glue", 1000, TODAY + timedelta(days=5))]
    offers = [offer("kit", 4200, "Slow"), offer("glue", 900, "Slow"), offer("glue", 900)]
    found = misses(offers, [Want("glue", 1000)], wants, (SELLER, slow))
    assert [filled(one) for one in found if one.supplier == "Slow"] == [[("glue", 1, True)]]


@pytest.mark.cross_check
@examples(35)
@given(
    st.lists(st.integers(1, 30), min_size=1, max_size=3),
    st.lists(st.tuples(st.integers(1, 30), st.integers(1, 3)), min_size=1, max_size=3),
    st.integers(1, 20),
    st.integers(20, 90),
)
def test_no_fill_of_needed_parts_costs_less(
    listed: list[int], needed: list[tuple[int, int]], fee: int, free: int
) -> None:
    """Source: the terms alone, over every choice of packs that are needed soon."""
    seller = SupplierTerms("Seller", 3, "EUR", fee, free)
    wants = [Want(f"w{n}", 1000) for n in range(len(listed))]
    soon = [Want(f"s{n}", 1000 * packs) for n, (_, packs) in enumerate(needed)]
    offers = [offer(f"w{n}", price) for n, price in enumerate(listed)]
    offers += [offer(f"s{n}", price) for n, (price, _) in enumerate(needed)]
    shop = Shop(wants, offers, {"Seller": seller}, RATES)
    basket = best_basket(wants, offers, shop.suppliers, RATES, TODAY)
    if not basket.postage:
        return
    found = misses(offers, soon, wants, (seller,))
    choices = product(*(range(packs + 1) for _, packs in needed))
    costs = []
    for packs in choices:
        more = {f"Seller s{n}": count for n, count in enumerate(packs) if count}
        goods = basket.goods + sum(needed[n][0] * count for n, count in enumerate(packs))
        if goods >= free:
            costs.append((landed(shop, {**basket.packs(), **more}) or Fraction(0)) - basket.total)
    told = [one for one in found if one.pays and all(fill.needed for fill in one.fill)]
    assert [one.extra for one in told] == ([min(costs)] if costs else [])
    assert all(one.saving == fee for one in told)


def test_a_name_that_is_not_there_is_an_attribute_error() -> None:
    """The room's modules load on first use; a misspelt import fails as Python's own do."""
    assert all(getattr(buying, name) is not None for name in buying.__all__)
    with pytest.raises(AttributeError, match="best_baskets"):
        buying.best_baskets  # noqa: B018 - the access is the test
