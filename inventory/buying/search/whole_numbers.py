"""A whole-number model and what HiGHS (scipy.optimize.milp) says of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from math import floor, gcd, inf
from time import perf_counter

from inventory.solving import unheard

Row = tuple[dict[int, int], float, float]
"""Factors by variable, and the least and the most of their sum; whole numbers, infinite where there is no end."""

CERTAIN = 1 - 1e-9
"""Of a bound in floats so much is taken."""


@dataclass(frozen=True, slots=True)
class IntegerSolution:
    """values: by variable, None where nothing was found. certain: no other costs less, or nothing is possible.

    bound: what any solution costs at least, whole.
    """

    values: tuple[int, ...] | None
    certain: bool
    bound: int


@dataclass(slots=True)
class Model:
    """Least sum of costs over whole numbers from 0 to `upper`, under the rows."""

    costs: list[int] = field(default_factory=list)
    upper: list[int] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)

    def variable(self, cost: int, upper: int) -> int:
        """A new variable; its number."""
        self.costs.append(cost)
        self.upper.append(upper)
        return len(self.costs) - 1

    def row(self, factors: dict[int, int], low: float = -inf, high: float = inf) -> None:
        """A condition."""
        self.rows.append((factors, low, high))

    def solve(
        self, seconds: float, nodes: int, known: int | None = None, *, presolve: bool = True
    ) -> IntegerSolution:
        """The least, as far as so many nodes and seconds reach; asked twice where the answer cannot be trusted.

        known: what a solution that the model may hold costs. HiGHS with its presolve has called optimal what costs more
        than another solution of the same model: that no solution is as cheap as `known` is believed only where both
        ways of asking say so, and values only where they keep every row in whole numbers. presolve: the first way.
        """
        until = perf_counter() + seconds
        found = self._asked(seconds, nodes, presolve=presolve)
        if self._doubtful(found, known):
            found = self._asked(until - perf_counter(), nodes, presolve=not presolve)
            if found.values is not None and not self._keeps(found.values):
                found = IntegerSolution(None, False, 0)
        return found if found.certain or known is None else replace(found, bound=min(found.bound, known))

    def _doubtful(self, found: IntegerSolution, known: int | None) -> bool:
        """Whether an answer breaks a row, or denies a solution that is known (where the model still holds that)."""
        if known is None:
            return found.values is not None and not self._keeps(found.values)
        if found.values is None:
            return found.certain or found.bound > known
        return not self._keeps(found.values) or found.bound > known or self.cost(found.values) > known

    def cost(self, values: Sequence[int]) -> int:
        """What such values cost."""
        return sum(cost * value for cost, value in zip(self.costs, values, strict=True))

    def _keeps(self, values: Sequence[int]) -> bool:
        """Whether values are within their ends and keep every row, in whole numbers."""
        return all(0 <= value <= most for value, most in zip(values, self.upper, strict=True)) and all(
            low <= sum(factor * values[at] for at, factor in factors.items()) <= high
            for factors, low, high in self.rows
        )

    def _asked(self, seconds: float, nodes: int, *, presolve: bool) -> IntegerSolution:
        import numpy as np
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import lil_array

        rows = list(self._scaled())
        matrix = lil_array((len(rows), len(self.costs)))
        for place, (factors, _, _) in enumerate(rows):
            for at, factor in factors.items():
                matrix[place, at] = factor
        unit = gcd(*self.costs) or 1
        with unheard():
            found = milp(
                np.array([cost // unit for cost in self.costs], dtype=float),
                integrality=np.ones(len(self.costs), dtype=np.int64),
                bounds=Bounds(0, np.array(self.upper, dtype=float)),
                constraints=LinearConstraint(
                    matrix.tocsr(), [low for _, low, _ in rows], [high for _, _, high in rows]
                ),
                options={
                    "time_limit": max(seconds, 0.01),
                    "mip_rel_gap": 0.0,
                    "node_limit": nodes,
                    "presolve": presolve,
                },
            )
        dual = found.mip_dual_bound
        bound = floor(dual * CERTAIN) * unit if dual is not None and 0 < dual < inf else 0
        if found.x is None:
            return IntegerSolution(None, found.status == 2, bound)
        return IntegerSolution(tuple(round(value) for value in found.x), found.status == 0, bound)

    def _scaled(self) -> Iterator[Row]:
        """The rows with factors as small as whole numbers can be."""
        for factors, low, high in self.rows:
            unit = gcd(*factors.values()) or 1
            yield (
                {at: factor // unit for at, factor in factors.items()},
                low if low == -inf else -(-int(low) // unit),
                high if high == inf else int(high) // unit,
            )
