"""The exact answer in a leaf where every supplier's mode and every group's level is settled.

Parts are taken one after the other; a label is what is held so far: the cost, the packs of each group that must reach a
count, the atoms of goods of each supplier that must reach a value (dynamic programming over resources; Desrochers &
Soumis 1988, A Generalized Permanent Labelling Algorithm, INFOR 26, from memory).  Labels that a bound shows to end no
cheaper than the target are dropped, and those that hold no more than another for no less.  For any rates r >= 0,

    cost so far + sum over later parts of min over ways (cost - r * amounts) + r * what is still short

is such a bound, as only the ways of `choices` are on a list below the target.  Labels are rows of arrays of doubles:
costs and amounts are whole and below 2^52, so exact; the bounds are rounded, and a label is dropped only where they
pass the target by more than any rounding.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from inventory.buying.bounds.leaf_bound import Bounds
from inventory.buying.knapsack import Plan, packs_of
from inventory.buying.problem import Packs
from inventory.buying.search.asked import SURE, Asked, best_of, reduced
from inventory.buying.search.choices import PartCovers, choices
from inventory.buying.search.conditions import resources
from inventory.buying.search.leaf import ONE, PAY, Leaf
from inventory.buying.search.patience import Patience, TooWide

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

RIVALS = 40
"""Labels each other one is compared with: the cheapest ones dominate most."""

STEPS = 16
"""Labels tried for a step of patience: they are many at once."""

WHOLE = 1 << 52
"""Whole numbers below this are exact in doubles, and so are their sums."""


def settle(bounds: Bounds, leaf: Leaf, target: int, patience: Patience) -> Packs | None:
    """The cheapest packs in a settled leaf below `target` atoms, or None. `TooMany` where patience ends,
    `TooWide` where no patience is enough."""
    if 4 * target >= WHOLE:
        raise TooWide
    ways = choices(bounds, leaf, target * ONE, patience.ways)
    if ways is None:
        return None
    terms = bounds.problem.terms
    fees = sum(terms[at].fee for at, mode in enumerate(leaf.modes) if mode == PAY)
    asked = Asked.of(list(resources(bounds, leaf)))
    core = reduced(ways, asked, fees, target)
    return None if core is None else _Labels(*core, target, patience).best(fees)


class _Labels:
    """The search of one leaf for a list that costs less than `target`, over the ways and conditions left."""

    def __init__(self, ways: Sequence[PartCovers], asked: Asked, target: int, patience: Patience) -> None:
        self.asked, self.target, self.patience = asked, target, patience
        self.ways = sorted(ways, key=self._stake)
        self.rates = asked.scaled()

    def _stake(self, ways: PartCovers) -> tuple[bool, float]:
        """Parts with most at stake for the conditions first, after those that have no choice."""
        import numpy as np

        if len(ways.plans) < 2 or not len(self.asked.due):
            return len(ways.plans) > 1, 0.0
        return True, -float((np.ptp(ways.amounts, axis=0) / np.maximum(self.asked.due, 1)).max())

    def best(self, fees: int) -> Packs | None:
        """The cheapest packs, or None when none costs less than the target."""
        import numpy as np

        cost, held = np.array([float(fees)]), np.zeros((1, len(self.asked.due)))
        chain: list[tuple[Array, Array]] = []
        for ways, rest, reach in zip(self.ways, *self._rests(), strict=True):
            many = len(ways.plans)
            self.patience.spend(_steps(len(cost), many))
            if many == 1:
                cost, held = cost + ways.cost, held + ways.amounts
                at = np.arange(len(cost))
            else:
                cost = (cost[:, None] + ways.cost).ravel()
                held = (held[:, None] + ways.amounts).reshape(len(cost), -1)
                at = self._hopeful(cost, held, rest, reach)
                at = at[self._distinct(cost[at], held[at])]
                cost, held = cost[at], held[at]
            if not len(cost):
                return None
            chain.append((at // many, at % many))
        done = np.flatnonzero((held >= self.asked.due).all(axis=1) & (held <= self.asked.most).all(axis=1))
        done = done[cost[done] < self.target]
        return self._packs(int(done[cost[done].argmin()]), chain) if len(done) else None

    def _packs(self, at: int, chain: Sequence[tuple[Array, Array]]) -> Packs:
        bought: Packs = {}
        for ways, (before, chosen) in zip(reversed(self.ways), reversed(chain), strict=True):
            plan: Plan = ways.plans[chosen[at]]
            for number, packs in packs_of(plan):
                bought[number] = bought.get(number, 0) + packs
            at = int(before[at])
        return bought

    def _rests(self) -> tuple[list[Array], list[Array]]:
        """After each part: what the later ones cost at least at each of the rates, and what they bring at most."""
        import numpy as np

        rest, reach = [np.zeros(len(self.rates))], [np.zeros(len(self.asked.due))]
        for ways in reversed(self.ways[1:]):
            rest.append(rest[-1] + (ways.cost[:, None] - ways.amounts @ self.rates.T).min(axis=0))
            reach.append(reach[-1] + ways.amounts.max(axis=0))
        return rest[::-1], reach[::-1]

    def _hopeful(self, cost: Array, held: Array, rest: Array, reach: Array) -> Array:
        """The places of the labels that may still end below the target, by every set of rates."""
        import numpy as np

        room = self.target * SURE - cost
        short = np.maximum(self.asked.due - held, 0)
        at = np.flatnonzero(
            (short @ self.rates[0] < room - rest[0])
            & (short <= reach).all(axis=1)
            & (held <= self.asked.most).all(axis=1)
        )
        found: Array = at[(short[at] @ self.rates.T + rest).max(axis=1) < room[at]]
        return found

    def _distinct(self, cost: Array, held: Array) -> Array:
        """The places of the labels that no other is known to be as good as."""
        import numpy as np

        held = np.where(self.asked.most < np.inf, held, np.minimum(held, self.asked.due))
        order = np.lexsort((cost, held @ np.sqrt(np.arange(2, 2 + held.shape[1]))))
        again = np.zeros(len(order), dtype=bool)
        again[1:] = (held[order[1:]] == held[order[:-1]]).all(axis=1)
        again[1:] &= cost[order[1:]] >= cost[order[:-1]]  # equal rows need not have equal keys in doubles
        order = order[~again]
        return order[best_of(cost[order], held[order], self.asked, RIVALS)]


def _steps(labels: int, ways: int) -> int:
    """Of patience, for so many labels with each of so many ways."""
    return labels * ways // STEPS + 1
