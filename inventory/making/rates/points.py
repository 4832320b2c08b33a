"""A few points of equal weight for all that sessions say of a supply's rates and of the hand, for `supply_use`.

Every point of the grid gives a lattice of rates (one after another along the Cholesky factor, each from its own
normal cut off below 0, weighed as in Genz 1992, from memory). All of them are put in the order of what an ordinary
session would use, and those in the middles of equal shares of the weight are taken. So an ordinary session's
quantiles are right to a share's width, and what cannot be told apart (much per piece and little per session, or the
other way round) stays apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from inventory.making.rates.posterior import lattice
from inventory.making.supply_use import MOST_HAND, POINTS, Point

if TYPE_CHECKING:
    from inventory.making.rates.design import Design, Floats
    from inventory.making.rates.posterior import PosteriorGrid

LONG_TAIL = 1.4
"""Hands are skew, and a dozen sessions show less of a long tail than there is: so much wilder is the session to come.

Chosen by the table of `scripts/soak/set_asides.py`, where 90 % shall suffice in 87 to 93 of 100 lines: at 1.3 it was
86.9 of 100, and other seeds than those it was chosen by are to be used whenever it is looked at again.
"""

_EACH = {1: 24, 2: 48}
_MANY = 96
"""Lattice points of each point of the grid, by number of rates."""


def points_of(system: Design, grid: PosteriorGrid, pers: Sequence[str]) -> tuple[Point, ...]:
    """The points. pers: the names of the system's columns."""
    import numpy as np

    rates, share = _cloud(grid)
    weight = (grid.weight[:, None] * share).ravel()
    at = np.repeat(np.arange(len(grid.weight)), rates.shape[1])
    rates = rates.reshape(-1, rates.shape[2])
    usual = rates @ (system.matrix.sum(axis=0) / system.many.sum())
    order = np.argsort(usual, kind="stable")
    reached = np.cumsum(weight[order])
    middles = (np.arange(POINTS) + 0.5) / POINTS * reached[-1]
    taken = order[np.minimum(np.searchsorted(reached, middles), len(order) - 1)]
    hands = LONG_TAIL * grid.scatter[at[taken]] / np.maximum(usual[taken], 1e-9)
    factors = rates[taken] * system.sds
    return tuple(
        Point(
            dict(zip(pers, (float(one) for one in factors[j]), strict=True)),
            float(min(hands[j], MOST_HAND)),
            bool(grid.power[at[taken[j]]] == 0.0),
        )
        for j in range(POINTS)
    )


def _cloud(grid: PosteriorGrid) -> tuple[Floats, Floats]:
    """Rates in prior deviations, g × j × k, and what each of the j is worth beside the others, g × j."""
    import numpy as np
    from scipy.special import log_ndtr, ndtr, ndtri

    size = grid.mean.shape[1]
    lower = np.linalg.cholesky(grid.cover)
    points = lattice(size, _EACH.get(size, _MANY))
    log_share = np.zeros((len(grid.mean), points.shape[1]))
    drawn = np.zeros((len(grid.mean), size, points.shape[1]))
    for i in range(size):
        known = grid.mean[:, i, None] + np.einsum("gh,ghj->gj", lower[:, i, :i], drawn[:, :i])
        least = -known / lower[:, i, i, None]
        log_share += log_ndtr(-least)
        drawn[:, i] = np.maximum(-ndtri(points[i] * np.maximum(ndtr(-least), 1e-300)), least)
    rates = grid.mean[:, None, :] + np.einsum("gih,ghj->gji", lower, drawn)
    share = np.exp(log_share - log_share.max(axis=1, keepdims=True))
    return np.maximum(rates, 0.0), share / share.sum(axis=1, keepdims=True)
