"""Multipliers: whatever is asked for, no pack is cheaper than nothing and no list is cheaper than the bound."""

from __future__ import annotations

import random
from fractions import Fraction
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import every, examples

from inventory.buying.basket import Basket
from inventory.buying.bounds.by_supplier import Shares, Total
from inventory.buying.bounds.column_generation import sharpen
from inventory.buying.bounds.leaf_bound import Bounds, Relaxed, reduced
from inventory.buying.bounds.multipliers import tighten
from inventory.buying.bounds.subgradient import ascend
from inventory.buying.optimise import best_basket
from inventory.buying.problem import Packs, Problem
from inventory.buying.search import patience, tree, whole
from inventory.buying.search.core import Settled, settle_core
from inventory.buying.search.labels import settle
from inventory.buying.search.leaf import FREE, OFF, ONE, PAY, Leaf, leaf_of
from inventory.buying.search.node import Node
from inventory.buying.search.patience import Patience, TooMany
from inventory.buying.search.whole import settle_whole
from inventory.buying.terms import PackOffer, PriceBreak, SupplierTerms, Want

from . import truth
from .basket_cases import FAMILIES, RATES, TODAY, Shop, family
from .nasty_lists import nasty
from .truth import Truth, holds, picks


@cache
def lists() -> list[Truth]:
    """With prices of 0 and of one minor unit, dates, ends and first steps above one among them."""
    nasties = [truth.of(nasty(state)) for state in range(700, 716)]
    families = [truth.of_family(name, 6, state, 4) for name in FAMILIES for state in range(6)]
    return families + [one for one in nasties if one is not None and one.best]


def drawn(draw: random.Random, problem: Problem) -> tuple[list[int], list[int]]:
    """Multipliers of every kind, below 0 and far too large too."""
    dear = max([1, *(price for group in problem.groups for price in group.cheapest)]) * ONE
    goods = [draw.choice((0, draw.randrange(-ONE, 3 * ONE), draw.randrange(ONE))) for _ in problem.terms]
    return goods, [
        draw.choice((0, draw.randrange(-dear, 3 * dear), draw.randrange(dear))) for _ in problem.groups
    ]


def levels_of(one: Truth) -> list[int]:
    """The level of every group in the cheapest list; 0 where nothing of its supplier is bought."""
    at = [0] * len(one.problem.groups)
    for supplier, (_, levels) in enumerate(picks(one.problem, one.best)):
        for group, level in zip(one.problem.of_supplier[supplier], levels, strict=False):
            at[group] = level
    return at


def around(draw: random.Random, one: Truth, goods: list[int], count: list[int]) -> Leaf:
    """A leaf that holds the best list: its own levels, or some above and below."""
    problem, chosen, at = one.problem, picks(one.problem, one.best), levels_of(one)
    wide = draw.random() < 0.5
    low = [draw.randint(0, level) if wide else level for level in at]
    high = [
        draw.randint(level, len(group.starts) - 1) if wide else level
        for level, group in zip(at, problem.groups, strict=True)
    ]
    return leaf_of(problem, [mode for mode, _ in chosen], low, high, goods, count)


@given(st.integers(0, 10**9))
@examples(60)
def test_no_pack_is_cheaper_than_nothing_and_the_bound_holds(seed: int) -> None:
    """Weak duality, at any multipliers, against the cheapest list by HiGHS."""
    draw = random.Random(seed)
    one = lists()[seed % len(lists())]
    bounds = Bounds(one.problem)
    leaf = around(draw, one, *drawn(draw, one.problem))
    for pack in one.problem.packs:
        if leaf.modes[pack.supplier] != OFF:
            assert pack.own or (reduced(pack, leaf) or 0) >= 0
            assert leaf.goods[pack.supplier] <= ONE
    relaxed = bounds.relax(leaf)
    assert relaxed is not None
    assert relaxed.bound <= one.price
    assert sum(bounds.part_costs(leaf)) <= one.price


@given(st.integers(0, 10**9))
@examples(60)
def test_at_any_prices_of_the_parts_the_bound_is_below_the_best_list(seed: int) -> None:
    """With prices of 0 and parts that are given away too."""
    draw = random.Random(seed)
    one = lists()[seed % len(lists())]
    shares = Shares(Bounds(one.problem))
    most = draw.choice(
        (1, one.price // len(one.problem.parts) + 1, 3 * one.price // len(one.problem.parts) + 1)
    )
    prices = [draw.choice((0, draw.randrange(most))) for _ in [*one.problem.parts, *shares.floors]]
    node = everything(one.problem, prices)
    total = shares.total(node, sure=True)
    assert total.bound <= one.price
    for supplier, (mode, levels) in enumerate(picks(one.problem, one.best)):
        assert total.fixed[supplier][mode] <= one.price
        for group, level in zip(one.problem.of_supplier[supplier], levels, strict=False):
            assert total.levels[group][level] <= one.price


def everything(problem: Problem, prices: list[int]) -> Node:
    """Everything open."""
    modes = tuple((OFF, PAY) if one.free is None else (OFF, PAY, FREE) for one in problem.terms)
    return Node(modes, (0,) * len(problem.groups), tuple(len(g.starts) - 1 for g in problem.groups), prices)


class Audit:
    """Watches one search: whatever holds the cheapest list is never bounded above it, nor narrowed past it."""

    def __init__(self, one: Truth, watch: pytest.MonkeyPatch) -> None:
        self.one, self.seen = one, 0

        def ascended(
            shares: Shares, node: Node, target: int, rounds: int, pace: float, *, patient: bool = True
        ) -> Total:
            held = self.holds(node)
            total = ascend(shares, node, target, rounds, pace, patient=patient)
            if held:
                self.check(node.bound)
                assert target <= one.price or self.holds(node)
            return total

        def tightened(bounds: Bounds, leaf: Leaf, target: int) -> Relaxed | None:
            found = tighten(bounds, leaf, target)
            self.leaf(leaf)
            return found

        def sharpened(bounds: Bounds, leaf: Leaf, best: Relaxed, target: int) -> tuple[Relaxed, Packs | None]:
            found = sharpen(bounds, leaf, best, target)
            self.leaf(leaf)
            return found

        def settled(bounds: Bounds, leaf: Leaf, target: int, patience: Patience) -> Packs | None:
            bought = settle(bounds, leaf, target, patience)
            assert bought is not None or target * ONE <= one.price or not self.of_leaf(leaf)
            return bought

        def cored(bounds: Bounds, leaf: Leaf, target: int, seconds: float) -> Settled:
            found = settle_core(bounds, leaf, target, seconds)
            held = self.of_leaf(leaf) and found.certain
            assert found.bought is not None or target * ONE <= one.price or not held
            return found

        def wholly(problem: Problem, node: Node, target: int, seconds: float) -> Settled:
            found = settle_whole(problem, node, target, seconds)
            if self.holds(node):
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
            watch.setattr(tree, name, new)

    def check(self, bound: int) -> None:
        """One node more that holds the cheapest list."""
        self.seen += 1
        assert bound <= self.one.price

    def holds(self, node: Node) -> bool:
        """Whether a node holds the cheapest list."""
        return holds(self.one.problem, node, self.one.best)

    def of_leaf(self, leaf: Leaf) -> bool:
        """Whether a leaf holds the cheapest list."""
        at = levels_of(self.one)
        modes = tuple(mode for mode, _ in picks(self.one.problem, self.one.best))
        return leaf.modes == modes and all(leaf.low[n] <= at[n] <= leaf.high[n] for n in range(len(at)))

    def leaf(self, leaf: Leaf) -> None:
        """A leaf was bounded."""
        if self.of_leaf(leaf):
            self.check(leaf.bound)


def searched(one: Truth) -> Basket:
    """The search itself."""
    shop = one.shop
    return best_basket(shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY)


EAGER = {"AHEAD": 1, "FAR": 10**9, "LONG": 0, "BETTER": 10**9, "STARTS": 9, "SWEEP": 1, "SUPPLIERS": 0}
"""Looks ahead all the time, however little the gap, begins again whenever a list is bettered, and sweeps at once."""

HARD = {"LABELS": 20, "MOST_EFFORT": 12, "NARROW": 1}
"""Looks are wide and short: most leaves are put off, some for several times."""

HIGHS = {**EAGER, "AHEAD": 9, "LABELS": 0, "MOST_EFFORT": 0, "LONG": 20, "SMALL": 0}
"""And leaves every leaf to HiGHS."""


A_FOURTH = every(4, range(4))
"""Of the lists, with all tests; the other three in the soak."""


@pytest.mark.parametrize("part", A_FOURTH)
@pytest.mark.parametrize("pace", [{}, EAGER, HARD, HIGHS], ids=["plain", "eager", "hard", "highs"])
def test_no_node_that_holds_the_cheapest_list_is_bounded_above_it(
    pace: dict[str, int], part: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In every search of these lists, from the whole space to the last leaf; and that list's price is found."""
    seen = 0
    larger = [truth.of_family(name, 8, state, 5) for name in FAMILIES for state in range(2)]
    tried = [*lists()[part::4], *larger[part::4]]
    for one in tried:
        with monkeypatch.context() as watch:
            for name, value in pace.items():
                for module in (tree, whole, patience):
                    if hasattr(module, name):
                        watch.setattr(module, name, value)
            audit = Audit(one, watch)
            basket = searched(one)
            seen += audit.seen
        assert basket.total * one.problem.atom * ONE == one.price
        assert basket.proven
    assert seen > 2 * len(tried)


def test_a_bound_without_a_gap_still_keeps_the_best_list() -> None:
    """One seller, one price a level: the bound is the price itself, and one atom above it nothing may be dropped."""
    seller = SupplierTerms("Seller", 3, "EUR", 500)
    steps = (PriceBreak(1, 1000), PriceBreak(5, 999), PriceBreak(10, 998))
    offers = [PackOffer(part, "Seller", part, 1000, steps, "kits") for part in ("chrome", "gold")]
    shop = Shop([Want("chrome", 4000), Want("gold", 3000)], offers, {"Seller": seller}, RATES)
    one = truth.of(shop)
    assert one is not None
    assert one.price == (7 * 999 + 500) * one.problem.atom * ONE
    shares = Shares(Bounds(one.problem))
    node = everything(
        one.problem, [4 * 999 * one.problem.atom * ONE + 1, 3 * 999 * one.problem.atom * ONE + 500 * ONE]
    )
    ascend(shares, node, one.price + ONE, 40, 1.0)
    assert one.price * 999 // 1000 < node.bound <= one.price
    assert holds(one.problem, node, one.best)


@pytest.mark.parametrize("part", A_FOURTH)
@pytest.mark.parametrize("way", ["labels", "core", "whole"])
def test_each_way_to_settle_finds_the_cheapest_list(way: str, part: int) -> None:
    """One atom above it as the target, in its own leaf: labels, the core, and the whole list given to HiGHS."""
    for one in lists()[part::4]:
        problem, at = one.problem, levels_of(one)
        bounds, target = Bounds(problem), one.price // ONE + 1
        leaf = leaf_of(problem, [mode for mode, _ in picks(problem, one.best)], at, at)
        tighten(bounds, leaf, target * ONE)
        if way == "labels":
            bought = settle(bounds, leaf, target, Patience(10**6, lambda: False))
        elif way == "core":
            bought = settle_core(bounds, leaf, target, 30.0).bought
        else:
            bought = settle_whole(problem, everything(problem, []), target, 30.0, 10**5).bought
        assert bought is not None
        assert problem.price(bought) == target - 1


@pytest.mark.parametrize("kind", FAMILIES)
@pytest.mark.parametrize("above", [1001, 1004])
def test_labels_find_the_cheapest_list_among_many(kind: str, above: int) -> None:
    """15 lines in the leaf of the cheapest list, and what costs up to so much in a thousand more."""
    one = truth.of_family(kind, 15, 1, 6)
    problem, at = one.problem, levels_of(one)
    bounds, target = Bounds(problem), one.price // ONE * above // 1000
    leaf = leaf_of(problem, [mode for mode, _ in picks(problem, one.best)], at, at)
    tighten(bounds, leaf, target * ONE)
    bought = settle(bounds, leaf, target, Patience(10**6, lambda: False))
    assert bought is not None
    assert problem.price(bought) == one.price // ONE


def test_labels_drop_the_dearer_of_two_that_hold_the_same() -> None:
    """A list of 25 lines on which many labels hold the same; HiGHS proves the same total."""
    shop = family(25, 36)
    basket = best_basket(shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY)
    assert basket.proven
    assert basket.total == Fraction(3996481, 100)


def test_numbers_too_large_for_doubles_are_left_to_highs() -> None:
    """Labels hold whole numbers as doubles: beyond 2^52 they are asked for nothing."""
    one = lists()[0]
    bounds, at = Bounds(one.problem), levels_of(one)
    leaf = leaf_of(one.problem, [mode for mode, _ in picks(one.problem, one.best)], at, at)
    with pytest.raises(TooMany):
        settle(bounds, leaf, 1 << 52, Patience(10**6, lambda: False))
