"""The shop's own factor on the book's losses at one stage, learned from all materials there.

See `inventory.making.losses.learned` for the model. Sequences here are over points of the factor f. They are worked
out without the numerical libraries, whose loading takes longer than an evening's piece to book.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, expm1, lgamma, log, log1p
from typing import Final

Points = tuple[float, ...]

_MOST: Final = 0.999  # q is kept below, so that both parameters of a Beta stay above 0
_NEGLIGIBLE: Final = 14.0  # log density below the best, beyond which a factor is left out
_FACTORS: Final = (1e-8, 1e3)
_POINTS: Final = 40


def given_factor(loss: float, factor: Sequence[float], shape: float) -> Points:
    """q: the loss expected of a material with the book's figure `loss` for each factor f."""
    hazard = shape * expm1(-log1p(-loss) / shape)
    return tuple(min(-expm1(-hazard * one), _MOST) for one in factor)


def beta_update(loss: Sequence[float], strength: float, reached: int, lost: int) -> tuple[Points, Points]:
    """Beta(K·q, K·(1 − q)) after `lost` of `reached`: Beta(K·q + lost, K·(1 − q) + reached − lost)."""
    kept = reached - lost
    return tuple(strength * one + lost for one in loss), tuple(strength * (1 - one) + kept for one in loss)


def factor_points(
    counts: Sequence[tuple[int, int]], losses: Sequence[float], strength: float, shape: float
) -> tuple[Points, Points]:
    """Points of the shop's factor f at one stage, and the probability of each.

    The points are even in log f: first over all f, then again over those that matter, so that many sessions
    are resolved as finely as few.
    """
    factor = _even(*_FACTORS, 5 * _POINTS)
    for _ in range(2):
        log_weight = _log_weights(factor, counts, losses, strength, shape)
        least = max(log_weight) - _NEGLIGIBLE
        near = [at for at, weight in enumerate(log_weight) if weight > least]
        first, last = max(near[0] - 1, 0), min(near[-1] + 1, len(factor) - 1)
        factor = _even(factor[first], factor[last], _POINTS)
    log_weight = _log_weights(factor, counts, losses, strength, shape)
    most = max(log_weight)
    weights = [exp(weight - most) for weight in log_weight]
    whole = sum(weights)
    return factor, tuple(weight / whole for weight in weights)


def _even(first: float, last: float, points: int) -> Points:
    """Points even in their logarithm, both ends among them."""
    step = log(last / first) / (points - 1)
    return tuple(first * exp(at * step) for at in range(points))


def _log_weights(
    factor: Sequence[float],
    counts: Sequence[tuple[int, int]],
    losses: Sequence[float],
    strength: float,
    shape: float,
) -> list[float]:
    """log Gamma(f; a, a) + Σ over materials of log B(α + lost, β + reached − lost) − log B(α, β), but for a constant.

    Plus log f, for points even in log f. α + β is the same for every f, so of the Betas only the rising factorials
    α(α + 1)…(α + lost − 1) and β(β + 1)…(β + reached − lost − 1) are left.
    """
    log_weight = [shape * (log(one) - one) for one in factor]
    for (reached, lost), loss in zip(counts, losses, strict=True):
        given, kept = given_factor(loss, factor, shape), reached - lost
        if lost:
            log_weight = [
                one + lgamma(strength * q + lost) - lgamma(strength * q)
                for one, q in zip(log_weight, given, strict=True)
            ]
        if kept:
            log_weight = [
                one + lgamma(strength * (1 - q) + kept) - lgamma(strength * (1 - q))
                for one, q in zip(log_weight, given, strict=True)
            ]
    return log_weight
