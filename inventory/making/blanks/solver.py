"""One call to the mixed-integer solver, loaded only when it is needed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf

from inventory.solving import unheard

_OPTIMAL = 0
_NO_GAP = 0.0


@dataclass(frozen=True, slots=True)
class Constraint:
    """One constraint: low ≤ Σ weights[j] · x[j] ≤ high."""

    weights: Mapping[int, int]
    low: float = -inf
    high: float = inf


@dataclass(frozen=True, slots=True)
class Solved:
    """What the solver found: the variables (None if none were found), whether proven, the lower bound."""

    values: tuple[float, ...] | None
    proven: bool
    bound: float

    def whole(self) -> tuple[int, ...] | None:
        """The variables as whole numbers."""
        return None if self.values is None else tuple(round(value) for value in self.values)


def minimise(
    costs: Sequence[float],
    rows: Sequence[Constraint],
    most: Sequence[float],
    time_limit: float,
) -> Solved:
    """Minimise costs · x over whole 0 ≤ x ≤ most within the rows.

    Solved by HiGHS to a gap of zero within `time_limit` seconds.
    """
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    entries = [(i, j, weight) for i, row in enumerate(rows) for j, weight in row.weights.items()]
    at_row, at_column, weights = (np.array(side) for side in zip(*entries, strict=True))
    matrix = csr_array((weights.astype(float), (at_row, at_column)), shape=(len(rows), len(costs)))
    with unheard():
        found = milp(
            np.array(costs, dtype=float),
            integrality=np.ones(len(costs), dtype=int),
            bounds=Bounds(0, np.array(most, dtype=float)),
            constraints=LinearConstraint(matrix, [row.low for row in rows], [row.high for row in rows]),
            options={"time_limit": max(time_limit, 0.01), "mip_rel_gap": _NO_GAP},
        )
    values = None if found.x is None else tuple(float(value) for value in found.x)
    bound = found.mip_dual_bound if found.mip_dual_bound is not None else found.fun
    return Solved(values, found.status == _OPTIMAL, -inf if bound is None else float(bound))
