"""How many packs of an offer are looked at where the multipliers make them cost nothing: against all lists.

They are no more than can be of use, so that a list that needs just so many is lost by one less.
"""

from __future__ import annotations

import pytest

from inventory.buying.bounds.leaf_bound import Bounds, cost_at
from inventory.buying.problem import Packs
from inventory.buying.search.conditions import missed
from inventory.buying.search.core import Settled, settle_core
from inventory.buying.search.labels import settle
from inventory.buying.search.leaf import FREE, OFF, ONE, Leaf, leaf_of
from inventory.buying.search.node import whole_space
from inventory.buying.search.whole import settle_whole
from inventory.buying.terms import PackOffer, PriceBreak, SupplierTerms, Want

from .basket_cases import RATES, Shop
from .test_tight_leaves import Space, patient, space, spaces
from .truth import picks

ALONE = {
    "what is wanted": (4000, ((1, 5),), SupplierTerms("a", 2, "EUR", minimum_order=5), 4),
    "the least order": (1000, ((1, 5),), SupplierTerms("a", 2, "EUR", minimum_order=12), 3),
    "free postage": (1000, ((1, 5),), SupplierTerms("a", 2, "EUR", 90, 12), 3),
    "a step": (1000, ((1, 9), (3, 2)), SupplierTerms("a", 2, "EUR", minimum_order=2), 3),
    "the last of three steps": (1000, ((1, 9), (2, 8), (5, 1)), SupplierTerms("a", 2, "EUR", minimum_order=2), 5),
    "no two steps at once": (1000, ((1, 10), (5, 9)), SupplierTerms("a", 2, "EUR", minimum_order=55), 7),
}  # fmt: skip
"""What is wanted of one part, its steps, the supplier, and the packs that are cheapest."""


def settled(way: str, one: Space, leaf: Leaf) -> Packs:
    """The cheapest list of a leaf, one atom above it as the target; found and certain."""
    bounds, target = Bounds(one.problem), one.best + 1
    if way == "labels":
        bought = settle(bounds, leaf, target, patient())
    else:
        whole = whole_space(one.problem, [], 0)
        found = (
            settle_core(bounds, leaf, target, 30.0)
            if way == "core"
            else settle_whole(one.problem, whole, target, 30.0)
        )
        assert found.certain
        bought = found.bought
    assert bought is not None
    return bought


@pytest.mark.cross_check
@pytest.mark.parametrize("way", ["labels", "core", "whole"])
@pytest.mark.parametrize("case", ALONE)
def test_as_many_packs_as_are_needed_are_bought_where_they_seem_to_cost_nothing(case: str, way: str) -> None:
    """Every atom of goods is charged away: what is wanted, a step or a sum of goods says how many there must be."""
    wanted, steps, seller, packs = ALONE[case]
    offers = [PackOffer("p", "a", "p", 1000, tuple(PriceBreak(*step) for step in steps))]
    found = space(Shop([Want("p", wanted)], offers, {"a": seller}, RATES))
    assert found is not None
    key = min(found.least, key=lambda key: found.least[key][0])
    leaf = leaf_of(found.problem, [mode for mode, _ in key], [], [], [ONE])
    assert settled(way, found, leaf) == {0: packs}
    assert found.least[key] == (found.best, {0: packs})


@pytest.mark.cross_check
@pytest.mark.parametrize("way", ["labels", "core", "whole"])
@pytest.mark.parametrize("goods", [0, 1])
def test_packs_that_a_count_pays_for_are_as_many_as_it_takes(goods: int, way: str) -> None:
    """From five packs of two parts on both are cheaper: of what is given away, or charged away, three fill it up."""
    steps = {"p": (PriceBreak(1, 9), PriceBreak(5, goods)), "q": (PriceBreak(1, 30), PriceBreak(5, 10))}
    wants = [Want("p", 1000), Want("q", 1000)]
    offers = [PackOffer(part, "a", part, 1000, of, "g") for part, of in steps.items()]
    found = space(Shop(wants, offers, {"a": SupplierTerms("a", 2, "EUR", minimum_order=3)}, RATES))
    assert found is not None
    key = min(found.least, key=lambda key: found.least[key][0])
    leaf = leaf_of(found.problem, [mode for mode, _ in key], [1], [1], [0], [ONE])
    bought = settled(way, found, leaf)
    assert found.problem.price(bought) == found.best == 4 * goods + 10


@pytest.mark.cross_check
def test_a_relaxed_list_misses_something_just_where_it_does_not_do_what_its_leaf_says() -> None:
    """It cannot be sent, pays postage that should be free, or reaches a lower step: told by its own price and picks."""
    seen = []
    for one in spaces():
        for key in one.least:
            leaf = one.leaf(key)
            relaxed = Bounds(one.problem).relax(leaf)
            assert relaxed is not None
            short = one.problem.price(relaxed.bought) is None
            reached = picks(one.problem, relaxed.bought) if not short else []
            for terms, (mode, levels), (wanted, steps) in zip(one.problem.terms, reached, key, strict=False):
                low = levels or (0,) * len(steps)
                short |= wanted == FREE and mode != FREE
                short |= wanted != OFF and mode == OFF and terms.least > 0
                short |= wanted != OFF and any(a < b for a, b in zip(low, steps, strict=True))
            seen.append(missed(one.problem, leaf, relaxed))
            assert seen[-1] == short
    assert 0.2 < sum(seen) / len(seen) < 0.95


def test_of_a_leaf_nobody_looked_into_nothing_is_known() -> None:
    """No list, and no bound but that nothing costs less than nothing."""
    assert (Settled(None, False).bought, Settled(None, False).bound) == (None, 0)


def test_what_cannot_be_bought_brings_no_goods() -> None:
    """No packs, or fewer than the first of an offer's own steps; of three from three on each costs 4."""
    offers = [PackOffer("p", "a", "p", 1000, (PriceBreak(3, 4),))]
    found = space(Shop([Want("p", 1000)], offers, {"a": SupplierTerms("a", 2, "EUR")}, RATES))
    assert found is not None
    assert [cost_at(found.problem.packs[0], packs, []) for packs in (0, 2, 3)] == [0, 0, 12]
