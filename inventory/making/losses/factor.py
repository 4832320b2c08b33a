"""The shop's own factor on the book's losses at one stage, learned from all materials there.

See `inventory.making.losses.learned` for the model. Arrays here are over points of the factor f.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import expm1, log1p
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

_MOST: Final = 0.999  # q is kept below, so that both parameters of a Beta stay above 0
_NEGLIGIBLE: Final = 14.0  # log density below the best, beyond which a factor is left out
_FACTORS: Final = (1e-8, 1e3)
_POINTS: Final = 40


def given_factor(loss: float, factor: Floats, shape: float) -> Floats:
    """q: the loss expected of a material with the book's figure `loss` for each factor f."""
    import numpy as np

    hazard = shape * expm1(-log1p(-loss) / shape)
    given: Floats = np.minimum(-np.expm1(-hazard * factor), _MOST)
    return given


def beta_update(loss: Floats, strength: float, reached: int, lost: int) -> tuple[Floats, Floats]:
    """Beta(K·q, K·(1 − q)) after `lost` of `reached`: Beta(K·q + lost, K·(1 − q) + reached − lost)."""
    return strength * loss + lost, strength * (1 - loss) + reached - lost


def factor_points(
    counts: Sequence[tuple[int, int]], losses: Sequence[float], strength: float, shape: float
) -> tuple[Floats, Floats]:
    """Points of the shop's factor f at one stage, and the probability of each.

    The points are even in log f: first over all f, then again over those that matter, so that many sessions
    are resolved as finely as few.
    """
    import numpy as np

    factor = np.geomspace(*_FACTORS, 5 * _POINTS)
    for _ in range(2):
        log_weight = _log_weights(factor, counts, losses, strength, shape)
        near = np.flatnonzero(log_weight > log_weight.max() - _NEGLIGIBLE)
        first, last = max(near[0] - 1, 0), min(near[-1] + 1, len(factor) - 1)
        factor = np.geomspace(factor[first], factor[last], _POINTS)
    log_weight = _log_weights(factor, counts, losses, strength, shape)
    probabilities = np.exp(log_weight - log_weight.max())
    return factor, probabilities / probabilities.sum()


def _log_weights(
    factor: Floats, counts: Sequence[tuple[int, int]], losses: Sequence[float], strength: float, shape: float
) -> Floats:
    """log Gamma(f; a, a) + Σ over materials of log B(α + lost, β + reached − lost) − log B(α, β).

    Plus log f, for points even in log f.
    """
    import numpy as np
    from scipy.special import betaln

    log_weight = shape * (np.log(factor) - factor)
    for (reached, lost), loss in zip(counts, losses, strict=True):
        given = given_factor(loss, factor, shape)
        log_weight += betaln(*beta_update(given, strength, reached, lost))
        log_weight -= betaln(*beta_update(given, strength, 0, 0))
    return log_weight
