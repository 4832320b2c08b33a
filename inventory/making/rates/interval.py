"""The shortest interval that holds so much of a rate's distribution that nine in ten hold the rate.

Shortest, not equal-tailed: a rate may well be 0 (a finish of which nothing stays in the pot), and an interval
that leaves a twentieth below its low end never holds 0. Where most of the distribution lies at 0 the shortest
interval starts there; elsewhere it is the usual one.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inventory.making.rates.design import Floats
    from inventory.making.rates.posterior import RateMixture

HELD = 0.93
"""Share of the distribution that an interval holds, so that 90 % of intervals hold the truth at least.

What the model leaves out (hands are skew, the odd session is taken for a mistake) costs two or three in a hundred;
measured by `scripts/soak/rate_intervals.py`.
"""

_TAIL = 3e-4  # beyond this nothing is looked at
_POINTS = 120
_LOOKS = 2  # the second closer, for a peak on a wide foot
_HALVINGS = 18
_STEEP = 0.01  # more than that between two points may all lie at one of them; ordinary ends have half
_SAFE = -5.0  # below this Φ loses digits in a quotient and its logarithm is taken instead


def shortest(mixture: RateMixture) -> tuple[float, float]:
    """Low and high end of the shortest interval that holds `HELD` of the mixture."""
    import numpy as np

    low, high = _ends(mixture)
    for _ in range(_LOOKS):
        points = np.linspace(low, high, _POINTS)
        below = 1.0 - above(mixture, points)
        starts = points[below <= below[-1] - HELD]
        ends = _reaching(below[: len(starts)] + HELD, below, points)
        best = int(np.argmin(ends - starts))
        first, last = float(starts[best]), float(ends[best])
        margin = (
            (last - first) / 4 + points[1] - points[0]
        )  # a whole step: no peak between two points is lost
        low, high = max(low, float(first - margin)), min(high, float(last + margin))
    return first, last


def _reaching(held: Floats, below: Floats, points: Floats) -> Floats:
    """Where the distribution reaches each share: between two points, or the further one where a peak lies between."""
    import numpy as np

    further = np.minimum(np.searchsorted(below, held), len(below) - 1)
    steep = below[further] - below[further - 1] > _STEEP
    return np.where(steep, points[further], np.interp(held, below, points))


def above(mixture: RateMixture, points: Floats) -> Floats:
    """P(rate > point) for each point ≥ 0: Σ weight · Φ((mean − point)/deviation) / Φ(mean/deviation)."""
    mean = mixture.mean / mixture.sd
    safe = mean > _SAFE
    total = _near(mean[safe], mixture.sd[safe], mixture.weight[safe], points)
    if not safe.all():
        total += _far(mean[~safe], mixture.sd[~safe], mixture.weight[~safe], points)
    return total


def _near(mean: Floats, sd: Floats, weight: Floats, points: Floats) -> Floats:
    """By the formula; in place, as new arrays of this size cost as much as Φ."""
    from scipy.special import ndtr

    reached = _reached(mean, sd, points)
    return ndtr(reached, out=reached) @ (weight / ndtr(mean))


def _far(mean: Floats, sd: Floats, weight: Floats, points: Floats) -> Floats:
    """By the logarithms of Φ, which take longer."""
    import numpy as np
    from scipy.special import log_ndtr

    reached = _reached(mean, sd, points)
    log_ndtr(reached, out=reached)
    reached -= log_ndtr(mean)
    return np.exp(reached, out=reached) @ weight


def _reached(mean: Floats, sd: Floats, points: Floats) -> Floats:
    """(mean − point)/deviation, points × components; the mean is in deviations already."""
    import numpy as np

    reached = np.multiply.outer(points, -1 / sd)
    reached += mean
    return np.asarray(reached)


def _ends(mixture: RateMixture) -> tuple[float, float]:
    """Between these ends lies all of the mixture that matters, by halving; the low one is 0 where it is close."""
    import numpy as np

    low = np.zeros(2)
    high = np.full(2, (np.maximum(mixture.mean, 0.0) + 6 * mixture.sd).max())
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        further = above(mixture, middle) > (1 - _TAIL, _TAIL)
        low, high = np.where(further, middle, low), np.where(further, high, middle)
    near_zero = low[0] < (high[1] - low[0]) / _POINTS
    return 0.0 if near_zero else float(low[0]), float(high[1])
