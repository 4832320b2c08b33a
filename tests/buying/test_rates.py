"""Multipliers: whatever is asked for, no pack is cheaper than nothing and no list is cheaper than the bound."""

from __future__ import annotations

import random
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.buying import search
from inventory.buying.ascent import ascend
from inventory.buying.basket import Basket
from inventory.buying.best import best_basket
from inventory.buying.bound import Bounds, Relaxed, reduced
from inventory.buying.case import Case, Packs
from inventory.buying.core import Settled, settle_core
from inventory.buying.labels import Patience, settle
from inventory.buying.mixing import sharpen
from inventory.buying.multipliers import tighten
from inventory.buying.offers import Offer, Step, Supplier, Want
from inventory.buying.rates import FREE, OFF, ONE, PAY, Corner, corner_of
from inventory.buying.regions import Region
from inventory.buying.shares import Shares, Total
from inventory.buying.whole import settle_whole

from . import truth
from .basket_cases import FAMILIES, RATES, TODAY, Shop
from .nasty_lists import nasty
from .truth import Truth, holds, picks


@cache
def lists() -> list[Truth]:
    """With prices of 0 and of one minor unit, dates, ends and first steps above one among them."""
    nasties = [truth.of(nasty(state)) for state in range(700, 716)]
    families = [truth.of_family(name, 6, state, 4) for name in FAMILIES for state in range(6)]
    return families + [one for one in nasties if one is not None and one.best]


def drawn(draw: random.Random, case: Case) -> tuple[list[int], list[int]]:
    """Multipliers of every kind, below 0 and far too large too."""
    dear = max([1, *(price for group in case.groups for price in group.cheapest)]) * ONE
    goods = [draw.choice((0, draw.randrange(-ONE, 3 * ONE), draw.randrange(ONE))) for _ in case.terms]
    return goods, [
        draw.choice((0, draw.randrange(-dear, 3 * dear), draw.randrange(dear))) for _ in case.groups
    ]


def levels_of(one: Truth) -> list[int]:
    """The level of every group in the cheapest list; 0 where nothing of its supplier is bought."""
    at = [0] * len(one.case.groups)
    for supplier, (_, levels) in enumerate(picks(one.case, one.best)):
        for group, level in zip(one.case.of_supplier[supplier], levels, strict=False):
            at[group] = level
    return at


def around(draw: random.Random, one: Truth, goods: list[int], count: list[int]) -> Corner:
    """A corner that holds the best list: its own levels, or some above and below."""
    case, chosen, at = one.case, picks(one.case, one.best), levels_of(one)
    wide = draw.random() < 0.5
    low = [draw.randint(0, level) if wide else level for level in at]
    high = [
        draw.randint(level, len(group.starts) - 1) if wide else level
        for level, group in zip(at, case.groups, strict=True)
    ]
    return corner_of(case, [mode for mode, _ in chosen], low, high, goods, count)


@given(st.integers(0, 10**9))
@examples(60)
def test_no_pack_is_cheaper_than_nothing_and_the_bound_holds(seed: int) -> None:
    """Weak duality, at any multipliers, against the cheapest list by HiGHS."""
    draw = random.Random(seed)
    one = lists()[seed % len(lists())]
    bounds = Bounds(one.case)
    corner = around(draw, one, *drawn(draw, one.case))
    for pack in one.case.packs:
        if corner.modes[pack.supplier] != OFF:
            assert pack.own or (reduced(pack, corner) or 0) >= 0
            assert corner.goods[pack.supplier] <= ONE
    relaxed = bounds.relax(corner)
    assert relaxed is not None
    assert relaxed.bound <= one.price
    assert sum(bounds.part_costs(corner)) <= one.price


@given(st.integers(0, 10**9))
@examples(60)
def test_at_any_prices_of_the_parts_the_bound_is_below_the_best_list(seed: int) -> None:
    """With prices of 0 and parts that are given away too."""
    draw = random.Random(seed)
    one = lists()[seed % len(lists())]
    shares = Shares(Bounds(one.case))
    most = draw.choice((1, one.price // len(one.case.parts) + 1, 3 * one.price // len(one.case.parts) + 1))
    prices = [draw.choice((0, draw.randrange(most))) for _ in [*one.case.parts, *shares.floors]]
    region = everything(one.case, prices)
    total = shares.total(region, sure=True)
    assert total.bound <= one.price
    for supplier, (mode, levels) in enumerate(picks(one.case, one.best)):
        assert total.fixed[supplier][mode] <= one.price
        for group, level in zip(one.case.of_supplier[supplier], levels, strict=False):
            assert total.levels[group][level] <= one.price


def everything(case: Case, prices: list[int]) -> Region:
    """Everything open."""
    modes = tuple((OFF, PAY) if one.free is None else (OFF, PAY, FREE) for one in case.terms)
    return Region(modes, (0,) * len(case.groups), tuple(len(g.starts) - 1 for g in case.groups), prices)


class Audit:
    """Watches one search: whatever holds the cheapest list is never bounded above it, nor narrowed past it."""

    def __init__(self, one: Truth, watch: pytest.MonkeyPatch) -> None:
        self.one, self.seen = one, 0

        def ascended(
            shares: Shares, region: Region, target: int, rounds: int, pace: float, *, patient: bool = True
        ) -> Total:
            held = self.holds(region)
            total = ascend(shares, region, target, rounds, pace, patient=patient)
            if held:
                self.check(region.bound)
                assert target <= one.price or self.holds(region)
            return total

        def tightened(bounds: Bounds, corner: Corner, target: int) -> Relaxed | None:
            found = tighten(bounds, corner, target)
            self.corner(corner)
            return found

        def sharpened(
            bounds: Bounds, corner: Corner, best: Relaxed, target: int
        ) -> tuple[Relaxed, Packs | None]:
            found = sharpen(bounds, corner, best, target)
            self.corner(corner)
            return found

        def settled(bounds: Bounds, corner: Corner, target: int, patience: Patience) -> Packs | None:
            bought = settle(bounds, corner, target, patience)
            assert bought is not None or target * ONE <= one.price or not self.of_corner(corner)
            return bought

        def cored(bounds: Bounds, corner: Corner, target: int, seconds: float, nodes: int) -> Settled:
            found = settle_core(bounds, corner, target, seconds, nodes)
            held = self.of_corner(corner) and found.certain
            assert found.bought is not None or target * ONE <= one.price or not held
            return found

        def wholly(case: Case, region: Region, target: int, seconds: float, nodes: int) -> Settled:
            found = settle_whole(case, region, target, seconds, nodes)
            if self.holds(region):
                self.check(found.bound * ONE)
            return found

        for name, new in (
            ("ascend", ascended),
            ("tighten", tightened),
            ("sharpen", sharpened),
            ("settle", settled),
            ("settle_core", cored),
            ("settle_whole", wholly),
        ):
            watch.setattr(search, name, new)

    def check(self, bound: int) -> None:
        """One node more that holds the cheapest list."""
        self.seen += 1
        assert bound <= self.one.price

    def holds(self, region: Region) -> bool:
        """Whether a region holds the cheapest list."""
        return holds(self.one.case, region, self.one.best)

    def of_corner(self, corner: Corner) -> bool:
        """Whether a corner holds the cheapest list."""
        at = levels_of(self.one)
        modes = tuple(mode for mode, _ in picks(self.one.case, self.one.best))
        return corner.modes == modes and all(corner.low[n] <= at[n] <= corner.high[n] for n in range(len(at)))

    def corner(self, corner: Corner) -> None:
        """A corner was bounded."""
        if self.of_corner(corner):
            self.check(corner.bound)


def searched(one: Truth) -> Basket:
    """The search itself."""
    shop = one.shop
    return best_basket(shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY)


EAGER = {"AHEAD": 1, "FAR": 10**9, "LONG": 0, "BETTER": 10**9, "STARTS": 9}
"""Looks ahead all the time, however little the gap, and begins again whenever a list is bettered."""

HIGHS = {**EAGER, "AHEAD": 9, "LABELS": 0, "LEAST_LABELS": 0, "GLANCE": 1, "LONG": 20}
"""And leaves every corner to HiGHS, first for one node only."""


@pytest.mark.parametrize("pace", [{}, EAGER, HIGHS], ids=["plain", "eager", "highs"])
def test_no_node_that_holds_the_cheapest_list_is_bounded_above_it(
    pace: dict[str, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    """In every search of these lists, from the whole space to the last corner; and that list's price is found."""
    seen = 0
    for one in [*lists(), *(truth.of_family(name, 8, state, 5) for name in FAMILIES for state in range(2))]:
        with monkeypatch.context() as watch:
            for name, value in pace.items():
                watch.setattr(search, name, value)
            audit = Audit(one, watch)
            basket = searched(one)
            seen += audit.seen
        assert basket.total * one.case.atom * ONE == one.price
        assert basket.proven
    assert seen > 2 * len(lists())


def test_a_bound_without_a_gap_still_keeps_the_best_list() -> None:
    """One seller, one price a level: the bound is the price itself, and one atom above it nothing may be dropped."""
    seller = Supplier("Seller", 3, "EUR", 500)
    steps = (Step(1, 1000), Step(5, 999), Step(10, 998))
    offers = [Offer(part, "Seller", part, 1000, steps, "kits") for part in ("chrome", "gold")]
    shop = Shop([Want("chrome", 4000), Want("gold", 3000)], offers, {"Seller": seller}, RATES)
    one = truth.of(shop)
    assert one is not None
    assert one.price == (7 * 999 + 500) * one.case.atom * ONE
    shares = Shares(Bounds(one.case))
    region = everything(
        one.case, [4 * 999 * one.case.atom * ONE + 1, 3 * 999 * one.case.atom * ONE + 500 * ONE]
    )
    ascend(shares, region, one.price + ONE, 40, 1.0)
    assert one.price * 999 // 1000 < region.bound <= one.price
    assert holds(one.case, region, one.best)


@pytest.mark.parametrize("way", ["labels", "core", "whole"])
def test_each_way_to_settle_finds_the_cheapest_list(way: str) -> None:
    """One atom above it as the target, in its own corner: labels, the core, and the whole list given to HiGHS."""
    for one in lists():
        case, at = one.case, levels_of(one)
        bounds, target = Bounds(case), one.price // ONE + 1
        corner = corner_of(case, [mode for mode, _ in picks(case, one.best)], at, at)
        tighten(bounds, corner, target * ONE)
        if way == "labels":
            bought = settle(bounds, corner, target, Patience(10**6, lambda: False))
        elif way == "core":
            bought = settle_core(bounds, corner, target, 30.0).bought
        else:
            bought = settle_whole(case, everything(case, []), target, 30.0, 10**5).bought
        assert bought is not None
        assert case.price(bought) == target - 1
