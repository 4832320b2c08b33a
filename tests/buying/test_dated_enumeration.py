"""The basket against complete enumeration where dates, unknown lead times and least quantities play together."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.buying import PackOffer, PriceBreak, SupplierTerms, Want, best_basket
from inventory.buying.problem import compile_problem

from .basket_cases import RATES, TODAY, Shop, landed

MOST = {1: 40, 2: 20, 3: 11, 4: 8}
"""Packs tried of each offer, by the number of offers."""


@st.composite
def dated_shops(draw: st.DrawFn) -> Shop:
    """Two suppliers, one or two parts wanted for several days; steps may start above one pack."""
    suppliers = {name: _seller(draw, name) for name in "ab"}
    days = st.none() | st.sampled_from([2, 5, 10, 20]).map(lambda days: TODAY + timedelta(days=days))
    wants, offers = [], []
    for part in ("p", "q")[: draw(st.integers(1, 2))]:
        wants += [
            Want(part, 500 * draw(st.integers(1, 6)), draw(days)) for _ in range(draw(st.integers(1, 2)))
        ]
        for name in suppliers:
            offers += [_offer(draw, f"{name}{part}{n}", name, part) for n in range(draw(st.integers(0, 2)))]
    return Shop(wants, offers[:4], suppliers, RATES)


def _seller(draw: st.DrawFn, name: str) -> SupplierTerms:
    lead = draw(st.sampled_from([2, 10, None]))
    free, least = draw(st.none() | st.integers(3, 90)), draw(st.none() | st.integers(1, 50))
    return SupplierTerms(
        name, lead, draw(st.sampled_from(sorted(RATES))), draw(st.integers(0, 25)), free, least
    )


def _offer(draw: st.DrawFn, key: str, seller: str, part: str) -> PackOffer:
    start, price = draw(st.sampled_from([1, 1, 2, 3])), draw(st.integers(2, 14))
    steps = [PriceBreak(start, price)]
    for _ in range(draw(st.integers(0, 2))):
        start, price = start + draw(st.integers(1, 4)), draw(st.integers(max(1, price - 6), price))
        steps.append(PriceBreak(start, price))
    pack = draw(st.sampled_from([500, 1000, 1500, 2000]))
    return PackOffer(key, seller, part, pack, tuple(steps), draw(st.sampled_from([None, "g", "h"])))


def in_time(shop: Shop, offer: PackOffer, day: date | None) -> bool:
    """Whether an offer arrives by a day."""
    arrives = shop.suppliers[offer.supplier].arrives(TODAY)
    return day is None or (arrives is not None and arrives <= day)


def cost(shop: Shop, packs: dict[str, int]) -> Fraction | None:
    """The landed cost; None where a want is not met by its day or a term is broken."""
    for want in shop.wants:
        mates = [one for one in shop.wants if one.part == want.part]
        due = sum(
            one.quantity
            for one in mates
            if want.needed_by and one.needed_by and one.needed_by <= want.needed_by
        )
        useful = [one for one in shop.offers if one.part == want.part and in_time(shop, one, want.needed_by)]
        if sum(packs.get(one.key, 0) * one.pack for one in useful) < due:
            return None
    return landed(shop, packs)


@pytest.mark.cross_check
@given(dated_shops())
@examples(15)
def test_complete_enumeration_finds_nothing_cheaper(shop: Shop) -> None:
    """Source: the terms alone, over every list of offers of what is wanted: one that comes too late may fill up."""
    late = {want for want in shop.wants if not any(serves(shop, offer, want) for offer in shop.offers)}
    basket = best_basket(shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY)
    assert {one.want for one in basket.unfilled} == late
    wants = [want for want in shop.wants if want not in late]
    offers = [offer for offer in shop.offers if any(offer.part == want.part for want in wants)]
    kept = Shop(wants, offers, shop.suppliers, shop.rates)
    lists = product(range(MOST.get(len(offers), 0) + 1), repeat=len(offers))
    keys = [offer.key for offer in offers]
    prices = [found for packs in lists if (found := cost(kept, _chosen(keys, packs))) is not None]
    assert basket.proven
    assert basket.total == cost(kept, basket.packs())
    assert basket.total <= min(prices, default=basket.total)


def test_what_comes_on_the_very_day_is_for_it() -> None:
    """A line says for which day it is, and for what; a day later it could only fill up."""
    for days, named in ((0, True), (-1, False)):
        want = Want("p", 1000, TODAY + timedelta(days=3 + days), reasons=("an order",))
        later = Want("p", 1000, None, reasons=("stock",))
        seller = SupplierTerms("a", 3, "EUR")
        offers = [PackOffer("p", "a", "p", 1000, (PriceBreak(1, 5),))]
        basket = best_basket([want, later], offers, {"a": seller}, RATES, TODAY)
        (line,) = basket.bills[0].lines
        assert line.needed_by == (want.needed_by if named else None)
        assert line.reasons == (("an order", "stock") if named else ("stock",))
        assert [one.want for one in basket.unfilled] == ([] if named else [want])


def test_a_thousandth_is_wanted_and_nothing_is_not() -> None:
    """A pack for the least there can be of one part, none of another; the same in a list on its own."""
    offers = [PackOffer(part, "a", part, 1000, (PriceBreak(1, 5),)) for part in "pq"]
    sellers = {"a": SupplierTerms("a", 3, "EUR")}
    for wants in ([Want("p", 1), Want("q", 0)], [Want("p", 1)]):
        basket = best_basket(wants, offers, sellers, RATES, TODAY)
        assert (basket.packs(), basket.total, basket.proven) == ({"p": 1}, Fraction(5), True)
    assert compile_problem([Want("q", 0)], offers, sellers, RATES, TODAY).parts == []


def serves(shop: Shop, offer: PackOffer, want: Want) -> bool:
    """Whether an offer is of the part wanted and comes in time."""
    return offer.part == want.part and in_time(shop, offer, want.needed_by)


def _chosen(keys: list[str], packs: tuple[int, ...]) -> dict[str, int]:
    return {key: count for key, count in zip(keys, packs, strict=True) if count}
