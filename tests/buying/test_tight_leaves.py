"""Tiny lists with small prices, where many lists cost the same: each bound against all lists of its part of the space.

Every list is enumerated and priced from the terms alone (`cost`), then put with those that do the same with every
supplier: not used, paying postage or sent free, and which step every price group reaches.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from datetime import timedelta
from functools import cache
from itertools import product
from typing import Any

import pytest

from inventory.buying.bounds.by_supplier import Shares
from inventory.buying.bounds.leaf_bound import Bounds
from inventory.buying.bounds.subgradient import ascend
from inventory.buying.limits import dearest
from inventory.buying.listing import sort_out
from inventory.buying.plain import proven_list
from inventory.buying.problem import Packs, Problem, compile_problem
from inventory.buying.search.core import settle_core
from inventory.buying.search.labels import settle
from inventory.buying.search.leaf import FREE, OFF, ONE, PAY, Leaf, leaf_of
from inventory.buying.search.node import Pick, whole_space
from inventory.buying.search.patience import Patience, TooWide
from inventory.buying.search.tree import Search
from inventory.buying.search.whole import settle_whole
from inventory.buying.search.whole_numbers import IntegerSolution, Model
from inventory.buying.terms import PackOffer, PriceBreak, SupplierTerms, Want

from .basket_cases import RATES, TODAY, Shop
from .test_dated_enumeration import cost
from .truth import picks

Key = tuple[Pick, ...]
MOST = {1: 12, 2: 8, 3: 6, 4: 5}
"""Packs of each offer that are tried, by the number of offers."""


@dataclass(frozen=True)
class Space:
    """A list to be made, and the cheapest list (atoms, packs) of every combination of what suppliers may do."""

    shop: Shop
    problem: Problem
    least: dict[Key, tuple[int, Packs]]

    @property
    def best(self) -> int:
        return min(price for price, _ in self.least.values())

    def leaf(self, key: Key, draw: random.Random | None = None) -> Leaf:
        """The leaf of one combination, at multipliers drawn, or at none."""
        at = [0] * len(self.problem.groups)
        for supplier, (_, levels) in enumerate(key):
            for group, level in zip(self.problem.of_supplier[supplier], levels, strict=False):
                at[group] = level
        goods = [draw.randrange(ONE) for _ in key] if draw else ()
        count = [draw.randrange(9 * ONE) for _ in at] if draw else ()
        return leaf_of(self.problem, [mode for mode, _ in key], at, at, goods, count)


def tiny(seed: int) -> Shop:
    """One or two suppliers, one or two parts, four offers at most; prices below ten."""
    draw = random.Random(f"tiny/{seed}")
    sellers = {
        name: SupplierTerms(
            name, draw.choice((2, 2, 9)), "EUR", draw.randint(0, 4),
            draw.choice((None, draw.randint(4, 20))), draw.choice((None, None, draw.randint(2, 15))),
        )
        for name in ("a", "ab")[draw.randrange(2)]
    }  # fmt: skip
    parts = ("p", "pq", "pq")[draw.randrange(3)]
    wants = [
        Want(part, 1000 * draw.randint(1, 4), TODAY + timedelta(days=5) if draw.random() < 0.2 else None)
        for part in parts
    ]
    offers = [_offer(draw, f"{name}{part}", name, part) for part in parts for name in sellers]
    if len(offers) < 3:
        offers += [_offer(draw, f"a{part}2", "a", part) for part in parts]
    return Shop(wants, offers, sellers, RATES)


def _offer(draw: random.Random, key: str, seller: str, part: str) -> PackOffer:
    price = draw.randint(2, 9)
    steps = [PriceBreak(1, price)]
    if draw.random() < 0.7:
        steps.append(PriceBreak(draw.randint(2, 4), draw.randint(1, price)))
    most = draw.choice((None, None, None, 3))
    group = draw.choice((None, "g", "g"))
    return PackOffer(key, seller, part, 1000 * draw.choice((1, 1, 2, 3)), tuple(steps), group, at_most=most)


@cache
def spaces() -> list[Space]:
    return [one for one in map(space, map(tiny, range(40))) if one is not None][:24]


def space(shop: Shop) -> Space | None:
    """A shop's list with all that could be bought; None where nothing can."""
    good, _ = sort_out(shop.wants, shop.offers, shop.suppliers, TODAY)
    shop = replace(shop, wants=good)
    problem = compile_problem(good, shop.offers, shop.suppliers, shop.rates, TODAY)
    keys = [pack.offer.key for pack in problem.packs]
    if not keys:
        return None
    least: dict[Key, tuple[int, Packs]] = {}
    for packs in product(range(MOST[len(keys)] + 1), repeat=len(keys)):
        total = cost(shop, {key: many for key, many in zip(keys, packs, strict=True) if many})
        if total is not None:
            bought = {n: many for n, many in enumerate(packs) if many}
            key, atoms = tuple(picks(problem, bought)), int(total * problem.atom)
            if key not in least or atoms < least[key][0]:
                least[key] = atoms, bought
    return Space(shop, problem, least) if least else None


def patient() -> Patience:
    return Patience(10**6, lambda: False)


def test_at_any_multipliers_the_bound_of_a_leaf_is_below_all_of_its_lists() -> None:
    """And at none it is the postage paid and the least that each part costs alone."""
    draw = random.Random(1)
    for one in spaces():
        bounds = Bounds(one.problem)
        for key, (price, _) in one.least.items():
            relaxed = bounds.relax(one.leaf(key, draw))
            assert relaxed is not None
            assert relaxed.bound <= price * ONE
            bare = bounds.relax(one.leaf(key))
            assert bare is not None
            fees = sum(one.problem.terms[at].fee for at, (mode, _) in enumerate(key) if mode == PAY)
            alone = [cheapest_cover(one.problem, part, key) for part in range(len(one.problem.parts))]
            assert bare.bound == (fees + sum(alone)) * ONE
            assert bounds.part_costs(one.leaf(key)) == [least * ONE for least in alone]


def cheapest_cover(problem: Problem, part: int, key: Key) -> int:
    """The least a part costs alone at the steps of a combination, by trying every count of packs."""
    at = {
        group: level
        for supplier, (_, levels) in enumerate(key)
        for group, level in zip(problem.of_supplier[supplier], levels, strict=False)
    }
    mine = [n for n in problem.by_part[part] if key[problem.packs[n].supplier][0] != OFF]
    found = []
    for counts in product(range(9), repeat=len(mine)):
        bought = {n: many for n, many in zip(mine, counts, strict=True) if many}
        costs = [problem.cost(n, many, at) for n, many in bought.items()]
        if problem.covers_part(part, bought) and None not in costs:
            found.append(sum(one or 0 for one in costs))
    return min(found)


@pytest.mark.parametrize("way", ["labels", "core"])
def test_a_leaf_is_settled_at_the_price_of_its_cheapest_list(way: str) -> None:
    """One atom above it such a list is found, and at the cheapest of all none below that; both are certain."""
    draw = random.Random(2)
    for one in spaces():
        bounds = Bounds(one.problem)
        keys = sorted(one.least, key=lambda key: one.least[key][0])
        for key in keys[: 12 if way == "labels" else 2]:
            price = one.least[key][0]
            for target in (price + 1, one.best):
                leaf = one.leaf(key, draw)
                if way == "labels":
                    bought = settle(bounds, leaf, target, patient())
                    assert bought is None or target > one.best
                else:
                    found = settle_core(bounds, leaf, target, 30.0)
                    assert found.certain
                    bought = found.bought
                paid = None if bought is None else one.problem.price(bought)
                assert paid is None or one.best <= paid
                assert target == one.best or (paid is not None and paid <= price)


def one_kit(price: int) -> Problem:
    """One kit at a price, four rags that are given away, 5 of postage."""
    offers = [
        PackOffer(part, "a", part, 1000, (PriceBreak(1, each),))
        for part, each in (("kit", price), ("rag", 0))
    ]
    sellers = {"a": SupplierTerms("a", 3, "EUR", 5)}
    return compile_problem([Want("kit", 1000), Want("rag", 4000)], offers, sellers, RATES, TODAY)


def test_a_leaf_whose_sums_doubles_cannot_hold_is_left_to_others() -> None:
    """Four times the target must stay below 2^52."""
    problem = one_kit((1 << 50) - 7)
    leaf = leaf_of(problem, [PAY], [], [], (), ())
    assert settle(Bounds(problem), leaf, (1 << 50) - 1, patient()) == {0: 1, 1: 4}
    with pytest.raises(TooWide):
        settle(Bounds(problem), leaf, 1 << 50, patient())


def test_what_is_given_away_costs_nothing() -> None:
    """Nor to HiGHS: rags beside a kit of 10 and 5 of postage."""
    problem = one_kit(10)
    found = settle_whole(problem, whole_space(problem, [], 0), 16, 30.0)
    assert (found.bought, found.certain) == ({0: 1, 1: 4}, True)
    assert found.bound <= 15


def test_the_last_packs_that_are_just_enough_for_a_step_are_bought() -> None:
    """Sold from three on, three are left."""
    offers = [PackOffer("kit", "a", "kit", 1000, (PriceBreak(3, 10),), at_most=3)]
    problem = compile_problem([Want("kit", 3000)], offers, {"a": SupplierTerms("a", 3, "EUR")}, RATES, TODAY)
    assert settle_whole(problem, whole_space(problem, [], 0), 31, 30.0).bought == {0: 3}


def test_with_one_thing_settled_the_bound_is_below_all_lists_that_do_so() -> None:
    """A supplier's mode, a group's level, a combination of them: at any prices of the parts, and after an ascent."""
    draw = random.Random(3)
    for one in spaces():
        shares = Shares(Bounds(one.problem))
        many = len(one.problem.parts) + len(shares.floors)
        for most in (1, one.best * ONE):
            node = whole_space(one.problem, [draw.randrange(most) for _ in range(many)], 0)
            total = shares.total(node, sure=True)
            ways = [{pick: more for more, pick in found} for found in total.ways()]
            assert shares.certain(node, shares.total(node)) <= one.best * ONE
            for key, (price, _) in one.least.items():
                for supplier, (mode, levels) in enumerate(key):
                    assert total.fixed[supplier][mode] <= price * ONE
                    for group, level in zip(one.problem.of_supplier[supplier], levels, strict=False):
                        assert total.levels[group][level] <= price * ONE
                extra = [ways[supplier][pick] for supplier, pick in enumerate(key)]
                assert total.bound + sum(extra) <= price * ONE
            ascend(shares, node, one.best * ONE, 20, 1.0)
            assert node.bound <= one.best * ONE
            node.prices, node.bound = [0] * many, one.best * ONE - 1
            ascend(shares, node, one.best * ONE, 1, 1.0)
            assert node.bound >= one.best * ONE - 1  # what is known already is not forgotten


def test_the_whole_is_settled_at_the_price_of_its_cheapest_list() -> None:
    """By HiGHS; and where a small list is proven without a search, it is that."""
    for one in spaces():
        node = whole_space(one.problem, [], 0)
        found = settle_whole(one.problem, node, one.best + 1, 30.0)
        assert found.certain
        assert found.bought is not None
        assert one.problem.price(found.bought) == one.best
        plain = proven_list(one.problem, [])
        assert plain is None or plain[0] == one.best
        assert dearest(one.problem) > max(price for price, _ in one.least.values())


def test_a_search_without_any_list_to_begin_from_finds_the_cheapest() -> None:
    """And proves it, to the atom, whatever the ties."""
    for one in spaces():
        found = Search(one.problem, [], 30.0).run()
        assert (found.price, found.bound) == (one.best, one.best)
        assert one.problem.price(found.bought) == one.best
        assert all(one.problem.covers_part(part, found.bought) for part in range(len(one.problem.parts)))


def test_what_highs_is_not_sure_of_is_not_certain(monkeypatch: pytest.MonkeyPatch) -> None:
    """Though the list it names keeps every term: something cheaper may be left."""
    honest = Model.solve

    def unsure(model: Model, *terms: Any, **more: Any) -> IntegerSolution:
        return replace(honest(model, *terms, **more), certain=False)

    monkeypatch.setattr(Model, "solve", unsure)
    one = spaces()[0]
    key = min(one.least, key=lambda key: one.least[key][0])
    whole = settle_whole(one.problem, whole_space(one.problem, [], 0), one.best + 1, 30.0)
    core = settle_core(Bounds(one.problem), one.leaf(key), one.best + 1, 30.0)
    for found in (whole, core):
        assert found.bought is not None
        assert not found.certain


def test_every_mode_and_some_ties_are_among_these_lists() -> None:
    """Else the others would say little."""
    modes = {mode for one in spaces() for key in one.least for mode, _ in key}
    prices = [[price for price, _ in one.least.values()] for one in spaces()]
    assert modes == {OFF, PAY, FREE}
    assert sum(len(found) > len(set(found)) for found in prices) > len(prices) // 4
