"""A part of the search space: for every supplier the modes it may still have, for every price group the levels."""

from __future__ import annotations

from dataclasses import dataclass, field

from inventory.buying.problem import Packs, Problem
from inventory.buying.search.leaf import FREE, OFF, ONE, PAY, Leaf, leaf_of

Pick = tuple[int, tuple[int, ...]]
"""What a supplier does in a relaxed answer: its mode, and the level of each of its groups (none where it is off)."""


@dataclass(slots=True)
class Node:
    """`modes` allowed by supplier, levels `low` to `high` by group; `prices` of the parts in atoms/65536.

    `bound` in atoms/65536; of the ascent to it `seen` counts, by supplier, how often what was picked, and `fixed` and
    `levels` are the bounds at its end with one mode of a supplier, or one level of a group, fixed.
    """

    modes: tuple[tuple[int, ...], ...]
    low: tuple[int, ...]
    high: tuple[int, ...]
    prices: list[int]
    bound: int = 0
    seen: list[dict[Pick, float]] = field(default_factory=list)
    fixed: list[dict[int, int]] = field(default_factory=list)
    levels: list[dict[int, int]] = field(default_factory=list)
    base: int = 0
    ways: list[list[tuple[int, Pick]]] = field(default_factory=list)

    def settled(self, of_supplier: list[list[int]]) -> bool:
        """Whether every supplier has one mode, and every group of those used one level."""
        return all(
            len(modes) == 1
            and (modes[0] == OFF or all(self.low[group] == self.high[group] for group in groups))
            for modes, groups in zip(self.modes, of_supplier, strict=True)
        )

    def leaf(self, problem: Problem) -> Leaf:
        """A settled node as a leaf."""
        return leaf_of(problem, [modes[0] for modes in self.modes], self.low, self.high)


def whole_space(problem: Problem, prices: list[int], bound: int) -> Node:
    """All that suppliers may do, with the prices of the parts to begin from and the bound known already."""
    modes = tuple((OFF, PAY) if one.free is None else (OFF, PAY, FREE) for one in problem.terms)
    top = tuple(len(group.starts) - 1 for group in problem.groups)
    return Node(modes, (0,) * len(top), top, prices, bound)


def prices_of(problem: Problem, bought: Packs, price: int) -> list[int]:
    """What each part costs in a list of this price, its share of the postage included; atoms/65536, 1 at least."""
    prices, levels = [0] * len(problem.parts), problem.levels(bought)
    for number, packs in bought.items():
        prices[problem.packs[number].part] += problem.cost(number, packs, levels) or 0
    whole = max(1, sum(prices))
    return [max(1, one * price * ONE // whole) for one in prices]
