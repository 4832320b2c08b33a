"""What suppliers may do together, in the order in which it looks worth a look: nothing is proven from it."""

from __future__ import annotations

import pytest

from inventory.buying.bounds.by_supplier import Shares
from inventory.buying.bounds.leaf_bound import Bounds
from inventory.buying.bounds.subgradient import ascend
from inventory.buying.heuristics.combinations import hopeful
from inventory.buying.search.leaf import OFF, ONE
from inventory.buying.search.node import Node, prices_of, whole_space

from .basket_cases import FAMILIES
from .truth import Truth, of_family, picks

kinds = pytest.mark.parametrize("kind", FAMILIES)


def ascended(one: Truth) -> tuple[Shares, Node, int]:
    """The whole space of a list after its ascent, and a hundredth above the best list as the target."""
    shares, target = Shares(Bounds(one.problem)), one.price + one.price // 100
    prices = prices_of(one.problem, one.best, one.price // ONE)
    node = whole_space(one.problem, [*prices, *shares.floors], 0)
    ascend(shares, node, target, 60, 1.0)
    return shares, node, target


@kinds
@pytest.mark.parametrize("state", range(3))
def test_every_combination_is_one_the_node_leaves_open(kind: str, state: int) -> None:
    """No two alike, as many as asked for at most, every mode and level allowed, together below the target."""
    one = of_family(kind, 8, state, 5)
    shares, node, target = ascended(one)
    found = list(hopeful(shares, node, target, 12))
    assert 0 < len(found) <= 12
    assert len({tuple(combination) for combination in found}) == len(found)
    for combination in found:
        cost = node.base
        for at, (mode, levels) in enumerate(combination):
            assert mode in node.modes[at]
            assert len(levels) == (0 if mode == OFF else len(one.problem.of_supplier[at]))
            assert all(
                node.low[group] <= level <= node.high[group]
                for group, level in zip(one.problem.of_supplier[at], levels, strict=False)
            )
            cost += next(more for more, way in node.ways[at] if way == (mode, levels))
        assert cost < target


@kinds
def test_what_the_best_list_does_comes_early(kind: str) -> None:
    """Of 11 lists of 6 to 15 lines at least 9 have it first or second (our own count, no source)."""
    early = 0
    for lines, sellers, states in ((6, 4, range(6)), (8, 5, range(4)), (15, 6, (1,))):
        for state in states:
            one = of_family(kind, lines, state, sellers)
            shares, node, target = ascended(one)
            early += picks(one.problem, one.best) in list(hopeful(shares, node, target, 2))
    assert early >= 9
