"""Linear programming over mixtures of each part's ways to be bought.

min sum c[i,j] y[i,j]  with  sum over j of y[i,j] = 1 for every part i,  sum a[i,j,r] y[i,j] >= 1 for every condition r
(a: shares of what is due),  y >= 0.  Solved by HiGHS (scipy.optimize.linprog).  In floats: what comes out only suggests
multipliers and lists, nothing is claimed from it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

TINY = 1e-9


@dataclass(frozen=True, slots=True)
class Way:
    """One way to buy a part (-1: a makeshift for what is short): its cost, what it brings to each condition, packs."""

    part: int
    cost: float
    brings: tuple[tuple[int, float], ...]
    packs: tuple[tuple[int, int], ...] = ()


@dataclass(slots=True)
class Mixture:
    """The programme for so many parts and conditions; `values` of the ways, `rates` of the conditions once solved."""

    parts: int
    conditions: int
    ways: list[Way]
    values: Sequence[float] = ()
    rates: Sequence[float] = ()
    known: set[tuple[int, tuple[tuple[int, int], ...]]] = field(default_factory=set)

    def add(self, way: Way) -> bool:
        """Take a way in; whether it is new."""
        key = way.part, way.packs
        if way.part >= 0 and key in self.known:
            return False
        self.known.add(key)
        self.ways.append(way)
        return True

    def solve(self) -> bool:
        """Find values and rates; whether there are any."""
        import numpy as np
        from scipy.optimize import linprog

        many = len(self.ways)
        brings = np.zeros((self.conditions, many))
        covers = np.zeros((self.parts, many))
        for at, way in enumerate(self.ways):
            for row, amount in way.brings:
                brings[row, at] += amount
            if way.part >= 0:
                covers[way.part, at] = 1.0
        found = linprog(
            np.array([way.cost for way in self.ways]),
            A_ub=-brings,
            b_ub=-np.ones(self.conditions),
            A_eq=covers,
            b_eq=np.ones(self.parts),
            method="highs-ds",
            options={"presolve": False},
        )
        if found.x is None:
            return False
        self.values, self.rates = found.x.tolist(), (-found.ineqlin.marginals).tolist()
        return True
