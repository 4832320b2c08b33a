"""Which combinations of what suppliers do look cheapest, hundreds at once as arrays of numpy.

Of a node's ways (see `Node`) those combinations are taken whose costs beyond the node's bound add up to least.  Each is
a leaf, whose bound is estimated at multipliers that follow the subgradient (as in `bounds.leaf_bound`; steps as in
`bounds.subgradient`): with every part bought whole from one seller, and in floats.  Nothing is claimed from an
estimate: it is only the order in which leaves are worth looking at.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from inventory.buying.bounds.by_supplier import Shares
from inventory.buying.problem import Problem
from inventory.buying.search.leaf import FREE, OFF, ONE, PAY, needed
from inventory.buying.search.node import Node, Pick

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

MANY, ROUNDS = 600, 20
"""Combinations that are estimated, and rounds of the ascent of their multipliers."""

PACE, LEAN = 0.7, 0.3
"""Of a full step; and of the last direction that goes into the next."""

NOBODY = 1e18
"""Atoms a part costs where it is not sold: more than any list, though far from the end of floats."""


def hopeful(shares: Shares, node: Node, target: int, most: int) -> Iterator[list[Pick]]:
    """The combinations of a node that may pass below `target` (atoms/65536) and look cheapest, at most so many."""
    import numpy as np

    places = _lowest(node, target)
    picks = [[node.ways[at][place][1] for at, place in enumerate(row)] for row in places.tolist()]
    if picks:
        estimates = _Leaves.of(_Sellers.of(shares), shares.problem, picks).estimates(target / ONE)
        for at in np.argsort(estimates, kind="stable")[:most].tolist():
            yield picks[at]


def _lowest(node: Node, target: int) -> Array:
    """By combination the place of each supplier's way, of the combinations of least cost, below the target."""
    import numpy as np

    costs, places = np.zeros(1), np.zeros((1, 0), dtype=np.int64)
    for ways in node.ways:
        own = np.array([float(cost) for cost, _ in ways])
        together = (costs[:, None] + own).ravel()
        kept = np.argsort(together, kind="stable")[:MANY]
        costs, places = together[kept], np.column_stack([places[kept // len(own)], kept % len(own)])
    return places[costs < float(target - node.base)]


@dataclass(slots=True)
class _Sellers:
    """By part and seller, filled up with nobody: the supplier, the price group (a last one for none), the packs that
    cover the part, and by level what they cost."""

    supplier: Array
    group: Array
    packs: Array
    costs: Array

    @staticmethod
    def of(shares: Shares) -> _Sellers:
        import numpy as np

        problem = shares.problem
        rows = [list(_row(shares, part)) for part in range(len(problem.parts))]
        size = len(rows), max(map(len, rows))
        none, levels = len(problem.groups), max([len(group.starts) for group in problem.groups], default=1)
        found = _Sellers(
            np.zeros(size, dtype=np.int64),
            np.full(size, none),
            np.zeros(size),
            np.full((*size, levels), NOBODY),
        )
        for part, row in enumerate(rows):
            for place, (supplier, group, packs, costs) in enumerate(row):
                found.supplier[part, place], found.packs[part, place] = supplier, packs
                found.group[part, place] = none if group < 0 else group
                found.costs[part, place, : len(costs)] = costs
        return found


def _row(shares: Shares, part: int) -> Iterator[tuple[int, int, int, list[float]]]:
    """(supplier, group, packs, cost by level) of everybody who sells a part."""
    problem = shares.problem
    for pack in problem.in_time(part):
        if pack.group >= 0:
            packs = max(1, -(-problem.needs[part][-1] // pack.size))
            costs = [NOBODY if price is None else float(price * packs) for price in pack.prices]
            yield pack.supplier, pack.group, packs, costs
    levels = max([len(group.starts) for group in problem.groups], default=1)
    for entry in shares.lines[part].entries:
        if entry.bundle:
            yield entry.supplier, -1, 0, [float(entry.whole)] * levels


@dataclass(slots=True)
class _Leaves:
    """Leaves as rows: what each part costs from each seller, postage, what each supplier's goods and each group's
    packs must reach, and the cheapest pack of each group.  `home` is the supplier of each group."""

    sellers: _Sellers
    home: Array
    costs: Array
    fees: Array
    due: Array
    start: Array
    cheapest: Array

    @staticmethod
    def of(sellers: _Sellers, problem: Problem, picks: Sequence[Sequence[Pick]]) -> _Leaves:
        import numpy as np

        modes, levels = _settled(problem, picks)
        home = np.array([group.supplier for group in problem.groups], dtype=np.int64)
        used = modes != OFF
        costs = np.take_along_axis(sellers.costs[None], levels[:, sellers.group][..., None], axis=3)[..., 0]
        dues = [
            [0, *(needed(problem, at, mode) for mode in (OFF, PAY, FREE))] for at in range(modes.shape[1])
        ]
        starts, cheapest = _by_level(problem)
        groups = np.arange(levels.shape[1])
        start = starts[groups, levels]
        start[:, :-1] *= used[:, home]
        return _Leaves(
            sellers,
            home,
            np.where(used[:, sellers.supplier], costs, NOBODY),
            (modes == PAY) @ np.array([float(terms.fee) for terms in problem.terms]),
            np.array(dues, dtype=float)[np.arange(modes.shape[1]), modes],
            start,
            cheapest[groups, levels],
        )

    def estimates(self, target: float) -> Array:
        """Of each leaf the highest bound on the way, in atoms; the ascent aims at `target`."""
        import numpy as np

        goods, count = np.zeros_like(self.due), np.zeros_like(self.start)
        to_goods, to_count = np.zeros_like(goods), np.zeros_like(count)
        best = np.full(len(self.fees), -np.inf)
        for _ in range(ROUNDS):
            bound, more_goods, more_count = self._bound(goods, count)
            best = np.maximum(best, bound)
            to_goods = np.where((goods > 0) | (more_goods > 0), more_goods, 0) + LEAN * to_goods
            to_count = np.where((count > 0) | (more_count > 0), more_count, 0) + LEAN * to_count
            length = (to_goods**2).sum(axis=1) + (to_count**2).sum(axis=1)
            step = (PACE * (target - bound) / np.maximum(length, 1e-9))[:, None]
            goods = np.clip(goods + step * to_goods / np.maximum(self.due, 1), 0, 1)
            count = np.maximum(count + step * to_count / np.maximum(self.start, 1), 0)
            count[:, :-1] = np.minimum(count[:, :-1], (1 - goods)[:, self.home] * self.cheapest[:, :-1])
        return best

    def _bound(self, goods: Array, count: Array) -> tuple[Array, Array, Array]:
        """The bounds at these multipliers, and what share of what is due lacks of goods and of packs."""
        import numpy as np

        sellers = self.sellers
        less = self.costs * (1 - goods)[:, sellers.supplier] - count[:, sellers.group] * sellers.packs
        chosen = less.argmin(axis=2)
        bound = np.take_along_axis(less, chosen[..., None], axis=2).sum(axis=(1, 2)) + self.fees
        bound += (goods * self.due).sum(axis=1) + (count * self.start).sum(axis=1)
        costs = np.take_along_axis(self.costs, chosen[..., None], axis=2)[..., 0]
        parts = np.arange(chosen.shape[1])
        sold = _summed(sellers.supplier[parts, chosen], np.where(costs < NOBODY, costs, 0), goods.shape[1])
        packs = _summed(sellers.group[parts, chosen], sellers.packs[parts, chosen], count.shape[1])
        lack_goods = np.where(self.due > 0, (self.due - sold) / np.maximum(self.due, 1), 0)
        return (
            bound,
            lack_goods,
            np.where(self.start > 0, (self.start - packs) / np.maximum(self.start, 1), 0),
        )


def _settled(problem: Problem, picks: Sequence[Sequence[Pick]]) -> tuple[Array, Array]:
    """The modes by supplier and the levels by group, one more for parts in none, of every combination."""
    import numpy as np

    modes = np.array([[mode for mode, _ in row] for row in picks])
    levels = np.zeros((len(picks), len(problem.groups) + 1), dtype=np.int64)
    for at, row in enumerate(picks):
        for supplier, (_, mine) in enumerate(row):
            for group, level in zip(problem.of_supplier[supplier], mine, strict=False):
                levels[at, group] = level
    return modes, levels


def _by_level(problem: Problem) -> tuple[Array, Array]:
    """By group, and one more for parts in none, and level: the packs that it asks for, and the cheapest one there."""
    import numpy as np

    size = len(problem.groups) + 1, max([len(group.starts) for group in problem.groups], default=1)
    starts, cheapest = np.zeros(size), np.zeros(size)
    for at, group in enumerate(problem.groups):
        starts[at, 1 : len(group.starts)] = group.starts[1:]
        cheapest[at, : len(group.starts)] = group.cheapest
    return starts, cheapest


def _summed(where: Array, what: Array, many: int) -> Array:
    """By row, the sums of `what` by its place in `where`."""
    import numpy as np

    rows = len(where)
    places = (np.arange(rows)[:, None] * many + where).ravel()
    found: Array = np.bincount(places, weights=what.ravel(), minlength=rows * many).reshape(rows, many)
    return found
