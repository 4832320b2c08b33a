"""What a settled leaf asks for, and which of its ways may be on a list below the target.

For any rates r >= 0 of the conditions, what is due at them and, by part, the least over the ways of cost - r * amounts
are a bound on every list; so is that with the way of one part given.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from inventory.buying.search.choices import PartCovers
from inventory.buying.search.conditions import Resource
from inventory.buying.search.leaf import ONE

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]

SCALES = (0, 3, 5, 7, 9, 11, 14, 20, 32)
"""Eighths of a rate that give further bounds."""

RIVALS = 200
"""Ways that each other one is compared with: the cheapest ones dominate most."""

SURE = 1 + 1e-9
"""A bound in doubles must pass the target by so much before it counts."""


@dataclass(slots=True)
class Asked:
    """The conditions: what each must reach, may not pass (infinite where there is no end), and its rate."""

    due: Array
    most: Array
    rate: Array

    @staticmethod
    def of(wanted: Sequence[Resource]) -> Asked:
        import numpy as np

        ends = [np.inf if one.most is None else one.most for one in wanted]
        return Asked(
            np.array([float(one.due) for one in wanted]),
            np.array(ends),
            np.array([float(one.rate) for one in wanted]),
        )

    def kept(self, which: Array) -> Asked:
        return Asked(self.due[which], self.most[which], self.rate[which])

    def scaled(self) -> Array:
        """The rates, and each alone scaled, as rows; atoms a unit."""
        import numpy as np

        rows = [self.rate]
        for at in np.flatnonzero(self.rate):
            for scale in SCALES:
                rows.append(self.rate.copy())
                rows[-1][at] *= scale / 8
        return np.array(rows) / ONE


def reduced(
    ways: list[PartCovers], asked: Asked, fees: int, target: int
) -> tuple[list[PartCovers], Asked] | None:
    """Without the ways that cannot be on a list below the target, and the conditions that are always met.

    None where no list is left.
    """
    import numpy as np

    for _ in range(2):
        least = sum(one.amounts.min(axis=0) for one in ways)
        most = sum(one.amounts.max(axis=0) for one in ways)
        asked.most = np.where(most > asked.most, asked.most, np.inf)
        open_ = (least < asked.due) | (asked.most < np.inf)
        asked = asked.kept(open_)
        least, most = least[open_], most[open_]
        rates = asked.scaled()
        ways = [PartCovers(one.cost, one.amounts[:, open_], one.plans) for one in ways]
        reduced = [one.cost[:, None] - one.amounts @ rates.T for one in ways]
        lowest = [one.min(axis=0) for one in reduced]
        room = target * SURE - fees - rates @ asked.due - sum(lowest)
        for at, one in enumerate(ways):
            able = (reduced[at] - lowest[at] < room).all(axis=1)
            able &= (one.amounts + (most - one.amounts.max(axis=0)) >= asked.due).all(axis=1)
            able &= (one.amounts + (least - one.amounts.min(axis=0)) <= asked.most).all(axis=1)
            if not able.any():
                return None
            ways[at] = one.kept(able)
    return [_undominated(one, asked) for one in ways], asked


def _undominated(ways: PartCovers, asked: Asked) -> PartCovers:
    """Without those that bring no more than another for no less."""
    return ways if len(ways.plans) < 2 else ways.kept(best_of(ways.cost, ways.amounts, asked, RIVALS))


def best_of(cost: Array, held: Array, asked: Asked, rivals: int) -> Array:
    """A mask of the labels that none of so many cheapest ones is as good as."""
    import numpy as np

    order = np.lexsort([*held.T[::-1], cost])
    ended = asked.most < np.inf
    rows = np.where(ended, held, np.minimum(held, asked.due))[
        order
    ].T.copy()  # by condition: much the faster way
    at = 0
    while rivals > at and at < len(order) - 1:
        better = rows[:, at + 1 :] <= rows[:, at : at + 1]
        better[ended] = rows[ended, at + 1 :] == rows[ended, at : at + 1]
        left = np.flatnonzero(~better.all(axis=0))
        if len(left) < len(order) - 1 - at:
            left = np.concatenate([np.arange(at + 1), left + at + 1])
            order, rows = order[left], rows[:, left]
        at += 1
    found = np.zeros(len(cost), dtype=bool)
    found[order] = True
    return found
