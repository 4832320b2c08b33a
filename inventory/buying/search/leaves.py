"""Where few combinations of what suppliers may do are left in a node, each is a leaf to be looked at by itself."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.buying.problem import Problem
from inventory.buying.search.leaf import Leaf, leaf_of
from inventory.buying.search.node import Node, Pick

FEW = 30
"""Combinations up to which a node is not cut any further."""


def few(node: Node, target: int) -> list[tuple[int, list[Pick]]] | None:
    """(bound, picks) of every combination whose bound is below `target`, lowest first; None where there are many."""
    found: list[tuple[int, list[Pick]]] = [(node.base, [])]
    for ways in node.ways:
        found = [
            (bound + cost, [*picks, pick])
            for bound, picks in found
            for cost, pick in ways
            if bound + cost < target
        ]
        if len(found) > FEW:
            return None
    return sorted(found)


class Leaves:
    """Makes leaves of combinations, with the multipliers that fitted last where modes or levels were the same."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self._goods: dict[tuple[int, int], int] = {}
        self._count: dict[tuple[int, int], int] = {}

    def bare(self, picks: Sequence[Pick]) -> Leaf:
        """The leaf of one combination, without multipliers."""
        levels = [0] * len(self.problem.groups)
        for supplier, (_, mine) in enumerate(picks):
            for group, level in zip(self.problem.of_supplier[supplier], mine, strict=False):
                levels[group] = level
        at = tuple(levels)
        return leaf_of(self.problem, [mode for mode, _ in picks], at, at)

    def warm(self, picks: Sequence[Pick], bound: int) -> Leaf:
        """The leaf of one combination, with the multipliers kept and a bound known already."""
        bare = self.bare(picks)
        bare.bound = bound
        goods = [self._goods.get(one, 0) for one in enumerate(bare.modes)]
        return bare.charged(self.problem, goods, [self._count.get(one, 0) for one in enumerate(bare.low)])

    def keep(self, leaf: Leaf) -> None:
        """Remember a leaf's multipliers."""
        self._goods.update(zip(enumerate(leaf.modes), leaf.goods, strict=True))
        self._count.update(zip(enumerate(leaf.low), leaf.count, strict=True))
