"""A list within a budget: whole promised orders first, then the most trouble avoided, against every subset."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from itertools import combinations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.buying import Basket, PackOffer, PriceBreak, SupplierTerms, Want, best_basket
from inventory.buying.budget.choose import within as within_budget
from inventory.buying.budget.floors import Floors, together
from inventory.buying.search.leaf import ONE
from inventory.errors import Refused

from .basket_cases import RATES, TODAY, Shop, family
from .truth import of_family
from .whole_model import cheapest

SELLER = SupplierTerms("Seller", 3, "EUR", 0)


def shop_of(prices: dict[str, int], wants: Sequence[Want], seller: SupplierTerms = SELLER) -> Shop:
    """One seller with one price a part."""
    offers = [
        PackOffer(part, seller.name, part, 1000, (PriceBreak(1, price),)) for part, price in prices.items()
    ]
    return Shop(list(wants), offers, {seller.name: seller}, RATES)


def within(shop: Shop, budget: int, wants: Sequence[Want] | None = None, limit: float = 20.0) -> Basket:
    """The list within a budget."""
    chosen = shop.wants if wants is None else wants
    return best_basket(
        chosen, shop.offers, shop.suppliers, shop.rates, TODAY, budget=budget, time_limit=limit
    )


def left_out(basket: Basket) -> set[str]:
    """Parts left out for want of money."""
    return {one.want.part for one in basket.unfilled if one.why == "beyond the budget"}


def test_promises_before_anything_else() -> None:
    """Ever so much trouble avoided does not outweigh a promised order; what is left out says what it would cost."""
    wants = [Want("toy", 1000, worth=1000), Want("glue", 1000, worth=30), Want("kit", 1000, orders=("S1",))]
    shop = shop_of({"kit": 1000, "glue": 1000, "toy": 1500}, wants)
    basket = within(shop, 2000)
    assert set(basket.packs()) == {"kit", "glue"}
    assert [(one.want.part, one.with_it) for one in basket.unfilled] == [("toy", Fraction(3500))]
    assert basket.choice is not None
    assert (basket.choice.orders, basket.choice.trouble, basket.choice.proven) == (1, 30, True)
    assert within(shop, 3500).choice is None


def test_an_order_is_bought_whole_or_not_at_all() -> None:
    """Half of S1 is of no use: with 12.00 the money goes to S2 and to the glue."""
    wants = [
        Want("kit", 1000, orders=("S1",)),
        Want("blank", 1000, orders=("S1",)),
        Want("tube", 1000, orders=("S2",)),
        Want("glue", 1000, worth=1),
    ]
    basket = within(shop_of({"kit": 900, "blank": 900, "tube": 700, "glue": 500}, wants), 1200)
    assert set(basket.packs()) == {"tube", "glue"}
    assert left_out(basket) == {"kit", "blank"}
    assert {(one.with_it, one.with_order) for one in basket.unfilled} == {(Fraction(3000), "S1")}


def test_two_small_orders_go_before_a_large_one() -> None:
    """Whole orders are counted, not their parts."""
    wants = [Want("kit", 1000, orders=(name,)) for name in ("S1", "S2")]
    wants += [Want(part, 1000, orders=("S3",)) for part in ("a", "b", "c")]
    basket = within(shop_of({"kit": 500, "a": 300, "b": 300, "c": 300}, wants), 1000)
    assert basket.packs() == {"kit": 2}


def test_a_tool_serves_every_order_that_needs_it() -> None:
    """A drill alone is dear for one order, not for two."""
    wants = [
        Want("drill", 1000, orders=("S1", "S2")),
        Want("kit", 1000, orders=("S1",)),
        Want("blank", 1000, orders=("S2",)),
        Want("other", 1000, orders=("S3",)),
    ]
    prices = {"drill": 800, "kit": 200, "blank": 200, "other": 900}
    assert set(within(shop_of(prices, wants), 1200).packs()) == {"drill", "kit", "blank"}
    assert set(within(shop_of(prices, wants), 1100).packs()) == {"other"}


def test_a_part_of_an_order_that_cannot_be_whole_waits() -> None:
    """Nobody sells the rest of S1: what there is of it counts next to nothing, and is bought last."""
    wants = [
        Want("kit", 1000, orders=("S1",)),
        Want("rare", 1000, orders=("S1",)),
        Want("glue", 1000, worth=2),
    ]
    shop = shop_of({"kit": 500, "glue": 500, "more": 100}, wants)
    assert set(within(shop, 900).packs()) == {"glue"}
    more = [*wants, Want("more", 1000, worth=5)]
    assert set(within(shop, 1000, more).packs()) == {"glue", "more"}
    assert set(within(shop_of({"kit": 300, "glue": 500, "more": 500}, more), 900, more).packs()) == {
        "kit",
        "more",
    }


@pytest.mark.parametrize(("coin", "budget"), [("EUR", 1100), ("GBP", 1287)])
def test_the_most_trouble_is_not_the_best_ratio(coin: str, budget: int) -> None:
    """Taking by worth per coin fills 11.00 with 60; two of 50 each are better: postage and steps are shared."""
    wants = [Want("a", 1000, worth=60), Want("b", 1000, worth=50), Want("c", 1000, worth=50)]
    seller = SupplierTerms("Seller", 3, coin, 100)
    basket = within(shop_of({"a": 550, "b": 500, "c": 500}, wants, seller), budget)
    assert set(basket.packs()) == {"b", "c"}


def test_what_fits_in_part_only_still_gives_hope() -> None:
    """Of 10.00: 60 for 6.00 first; without it 45 for 5.00, then 45 for 5.50 would not fit, but 30 for 5.00 does: 75."""
    worth = {"a": 60, "b": 45, "c": 45, "d": 30}
    prices = {"a": 600, "b": 500, "c": 550, "d": 500}
    basket = within(shop_of(prices, [Want(part, 1000, worth=one) for part, one in worth.items()]), 1000)
    assert set(basket.packs()) == {"b", "d"}


def test_later_reasons_of_a_part_come_after_the_first() -> None:
    """Two reasons ask for glue, the second for what it wants beyond the first: never the second alone."""
    wants = [Want("glue", 5000, worth=1), Want("glue", 1000, worth=50), Want("toy", 1000, worth=40)]
    shop = shop_of({"glue": 100, "toy": 100}, wants)
    assert within(shop, 599).packs() == {"toy": 1}
    assert within(shop, 600).packs() == {"glue": 6}


def test_a_want_that_makes_postage_free_is_taken() -> None:
    """With the toy the list costs less than without it: 29.00 + 5.00 is beyond 30.00, 30.00 is not."""
    seller = SupplierTerms("Seller", 3, "EUR", 500, 3000)
    wants = [Want("kit", 1000, orders=("S1",)), Want("toy", 1000), Want("dear", 1000, worth=9)]
    basket = within(shop_of({"kit": 2900, "toy": 100, "dear": 4000}, wants, seller), 3000)
    assert set(basket.packs()) == {"kit", "toy"}


def test_no_money_buys_nothing() -> None:
    """And says so of everything."""
    wants = [Want("kit", 1000, orders=("S1",)), Want("toy", 1000)]
    basket = within(shop_of({"kit": 900, "toy": 800}, wants), 0)
    assert basket.total == len(basket.bills) == 0
    assert left_out(basket) == {"kit", "toy"}
    assert basket.choice is not None
    assert basket.choice.proven


def test_too_little_time_is_said() -> None:
    """Out of time the choice is not called proven, and the most that might be reached is named."""
    shop = family(14, 3)
    whole = best_basket(shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY)
    wants = [Want(one.part, one.quantity, worth=n + 1) for n, one in enumerate(shop.wants)]
    basket = within(shop, int(whole.total * 6 / 10), wants, limit=1e-9)
    choice = basket.choice
    assert choice is not None
    assert not choice.proven
    assert choice.trouble <= choice.most_trouble <= choice.all_trouble


@st.composite
def tight_shops(draw: st.DrawFn) -> tuple[Shop, int]:
    """Up to five wants at two suppliers with steps, postage and thresholds; two orders; a budget that may not do."""
    sellers = {
        name: SupplierTerms(
            name,
            3,
            draw(st.sampled_from(["EUR", "GBP"])),
            draw(st.integers(0, 12)),
            draw(st.none() | st.integers(5, 50)),
            draw(st.none() | st.integers(1, 20)),
        )
        for name in ("a", "b")
    }
    parts = [f"p{n}" for n in range(draw(st.integers(1, 4)))]
    offers = []
    for part, name in product(parts, sellers):
        if name == "a" or draw(st.booleans()):
            first = draw(st.integers(2, 12))
            steps = [PriceBreak(1, first)]
            if draw(st.booleans()):
                steps.append(PriceBreak(draw(st.integers(2, 4)), draw(st.integers(1, first))))
            group = draw(st.sampled_from([None, "kits"]))
            pack = 1000 * draw(st.integers(1, 2))
            offers.append(PackOffer(f"{name}{part}", name, part, pack, tuple(steps), group))
    owners = st.sampled_from([(), (), ("S1",), ("S2",), ("S1", "S2")])
    asked = draw(st.lists(st.sampled_from([*parts, "nowhere"]), min_size=1, max_size=5))
    wants = [
        Want(part, 1000 * draw(st.integers(1, 3)), orders=draw(owners), worth=draw(st.integers(1, 9)))
        for part in asked
    ]
    return Shop(wants, offers, sellers, RATES), draw(st.integers(0, 70))


def subsets(count: int) -> Iterator[frozenset[int]]:
    for size in range(count + 1):
        yield from (frozenset(one) for one in combinations(range(count), size))


def score(shop: Shop, chosen: frozenset[int]) -> tuple[int, int]:
    """Whole orders, and worth of the rest, from the definition; a part of an order nobody can fill counts 1."""
    sold = {offer.part for offer in shop.offers}
    whole = {order for want in shop.wants for order in want.orders}
    whole -= {order for want in shop.wants for order in want.orders if want.part not in sold}
    mine = {n: whole & set(want.orders) for n, want in enumerate(shop.wants)}
    orders = sum(1 for order in whole if all(n in chosen for n in mine if order in mine[n]))
    return orders, sum(1 if shop.wants[n].orders else shop.wants[n].worth for n in chosen if not mine[n])


def in_turn(shop: Shop, chosen: frozenset[int], can: Sequence[int]) -> bool:
    """Whether nothing is bought for half an order, and no reason of a part before an earlier one of it."""
    lost = {order for want in shop.wants for order in want.orders if want.part == "nowhere"}
    loose = [n for n in can if set(shop.wants[n].orders) <= lost]
    whole = {order for want in shop.wants for order in want.orders} - lost
    whole -= {order for n in can if n not in chosen for order in shop.wants[n].orders}
    if any(not set(shop.wants[n].orders) & whole for n in chosen if n not in loose):
        return False
    alike = [(m, n) for m, n in combinations(loose, 2) if _reason(shop, m) == _reason(shop, n)]
    return all(m in chosen or n not in chosen for m, n in alike)


def _reason(shop: Shop, number: int) -> tuple[str, tuple[str, ...]]:
    return shop.wants[number].part, shop.wants[number].orders


def only(shop: Shop, wants: Sequence[Want]) -> Shop:
    """A shop with these wants; parts that are not on the list are never bought to fill up."""
    parts = {want.part for want in wants}
    return replace(shop, wants=list(wants), offers=[offer for offer in shop.offers if offer.part in parts])


@pytest.mark.cross_check
@examples(35)
@given(tight_shops())
def test_no_subset_serves_more(tight: tuple[Shop, int]) -> None:
    """Source: the definition, over every subset of the wants, each with its own cheapest list."""
    shop, budget = tight
    sold = {offer.part for offer in shop.offers}
    can = [n for n, want in enumerate(shop.wants) if want.part in sold]
    try:
        basket = within(shop, budget)
    except Refused:
        return
    found = []
    for picked in subsets(len(can)):
        chosen = frozenset(can[n] for n in picked)
        if not in_turn(shop, chosen, can):
            continue
        listed = [shop.wants[n] for n in sorted(chosen)]
        cost = cheapest(only(shop, listed)).total
        if cost is not None and cost <= budget:
            found.append((score(shop, chosen), -cost))
    choice = basket.choice
    if choice is None:
        assert max(found)[0] == score(shop, frozenset(can))
        return
    assert choice.proven
    assert basket.total <= budget
    assert (choice.orders, choice.trouble) == max(found)[0]
    assert -basket.total == max(found)[1]
    assert all(
        one.with_it is not None and one.with_it > budget for one in basket.unfilled if one.want.part in sold
    )


@examples(35)
@given(tight_shops())
def test_no_list_costs_less_than_its_floor(tight: tuple[Shop, int]) -> None:
    """A floor holds for a list of these wants, and for every list of more."""
    shop, _ = tight
    sold = {offer.part for offer in shop.offers}
    wants = [want for want in shop.wants if want.part in sold]
    floors = Floors(wants, shop.offers, shop.suppliers, shop.rates)
    total = cheapest(only(shop, wants)).total
    if total is None:
        return
    for some in (wants, wants[1:], wants[:1]):
        needs = together((want.part, want.quantity) for want in some)
        assert floors.cost(needs) <= total * floors.atom
        assert sum((floors.by_weight(*need) for need in needs.items()), Fraction(0)) <= floors.cost(needs)


@pytest.mark.parametrize("cheap", ["a", "b"])
def test_a_floor_is_the_price_where_one_seller_or_each_is_best(cheap: str) -> None:
    """Two sellers, postage 5.00 each: 20.00 + 5.00 from one alone, 6.00 + 10.00 where each is best by far."""
    sellers = {name: SupplierTerms(name, 3, "EUR", 500) for name in ("a", "b")}

    def floor(**prices: tuple[int, int]) -> float:
        """prices: of the cheap seller and of the other, by part."""
        offers = [
            PackOffer(f"{name} {part}", name, part, 1000, (PriceBreak(1, both[name != cheap]),))
            for part, both in prices.items()
            for name in sellers
        ]
        floors = Floors([Want(part, 1000) for part in prices], offers, sellers, RATES)
        return floors.cost(dict.fromkeys(prices, 1000))

    assert floor(kit=(1000, 1100), glue=(1000, 1100)) == 2000 + 500
    assert floor(kit=(300, 1100), glue=(1100, 300)) == 600 + 2 * 500


def test_a_floor_with_many_sellers_or_small_steps_still_holds() -> None:
    """Beyond five sellers postage is left out, beyond 2,000 steps prices go by weight."""
    one = of_family("one group", 15, 1, 6)
    shop, total = one.shop, Fraction(one.price, ONE * one.problem.atom)
    floors = Floors(shop.wants, shop.offers, shop.suppliers, shop.rates)
    assert 0 < floors.cost(together((one.part, one.quantity) for one in shop.wants)) <= total * floors.atom
    seller = SupplierTerms("a", 3, "EUR", 500)
    fine = [
        PackOffer("o", "a", "glue", 7, (PriceBreak(1, 3),)),
        PackOffer("p", "a", "glue", 5, (PriceBreak(1, 2),)),
    ]
    by_weight = Floors([Want("glue", 1)], fine, {"a": seller}, RATES)
    assert by_weight.cost({"glue": 100_000}) == 40_000 + 500
    assert by_weight.cost({"other": 1}) == float("inf")


def test_a_floor_of_very_small_steps_goes_by_the_lowest_price() -> None:
    """2,500 packs of one thousandth, at 5 here and 7 there: counted no more, 12,500; of nothing nothing."""
    sellers = {name: SupplierTerms(name, 3, "EUR") for name in "ab"}
    offers = [
        PackOffer(name, name, "dye", 1, (PriceBreak(1, price),))
        for name, price in zip("ab", (5, 7), strict=True)
    ]
    floors = Floors([Want("dye", 1)], offers, sellers, RATES)
    assert floors.cost({"dye": 2500}) == 12_500 * floors.atom
    assert floors.cost({}) == 0
    assert floors.cost({"dye": 0}) == 0


def test_what_comes_too_late_makes_its_order_wait() -> None:
    """An order whose day nobody meets is not one to be made whole."""
    soon = TODAY + timedelta(days=1)
    wants = [
        Want("kit", 1000, soon, ("S1",)),
        Want("blank", 1000, orders=("S1",)),
        Want("glue", 1000, worth=2),
    ]
    basket = within(shop_of({"kit": 100, "blank": 300, "glue": 300}, wants), 300)
    assert set(basket.packs()) == {"glue"}
    assert basket.choice is not None
    assert (basket.choice.orders, basket.choice.all_orders, basket.choice.all_trouble) == (0, 0, 3)


def test_a_choice_no_list_can_be_sent_for_is_passed_over() -> None:
    """Minimum orders may allow no list for some wants alone; the choice goes on without them."""
    shop = shop_of({"kit": 900, "glue": 500}, [Want("kit", 1000, worth=9), Want("glue", 1000, worth=5)])

    def solve(wants: Sequence[Want], limit: float) -> Basket:
        if {want.part for want in wants} == {"kit"}:
            raise Refused("No list can be sent.", hint="None.")
        return best_basket(wants, shop.offers, shop.suppliers, shop.rates, TODAY, time_limit=limit)

    floors = Floors(shop.wants, shop.offers, shop.suppliers, shop.rates)
    basket = within_budget(1000, shop.wants, (), floors, solve, 5.0)
    assert basket.packs() == {"glue": 1}
    assert left_out(basket) == {"kit"}


def test_no_look_at_a_list_takes_more_than_its_share_of_the_time_left() -> None:
    """Too dear, though ten would be cheaper a piece: looked at thrice, at last for a quarter of 8 s, and not proven."""
    wants = [Want("kit", 1000, worth=9), Want("glue", 1000, worth=5)]
    shop = shop_of({"kit": 900, "glue": 500}, wants)
    cheaper = replace(shop.offers[0], steps=(PriceBreak(1, 900), PriceBreak(10, 700)))
    shop = replace(shop, offers=[cheaper, shop.offers[1]])
    looks: dict[int, list[float]] = {1: [], 2: []}

    def solve(wants: Sequence[Want], limit: float) -> Basket:
        looks[len(wants)].append(limit)
        found = best_basket(wants, shop.offers, shop.suppliers, shop.rates, TODAY)
        return replace(found, proven=False, bound=Fraction(0), seconds=limit)

    floors = Floors(shop.wants, shop.offers, shop.suppliers, shop.rates)
    basket = within_budget(1300, shop.wants, (), floors, solve, 8.0)
    assert basket.packs() == {"kit": 1}
    assert basket.choice is not None
    assert not basket.choice.proven
    assert looks[2] == pytest.approx([0.04, 0.4, 2.0], abs=0.1)
    assert max(looks[1]) == 8.0
