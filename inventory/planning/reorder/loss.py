"""How much is expected to be missing: loss functions of the normal law and of whole-number demand.

Source: Snyder and Shen, appendix C (from memory); values for z = 0, 1, 2 are in the tests.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from statistics import NormalDist

_STANDARD = NormalDist()


def standard_loss(z: float) -> float:
    """E[(Z − z)⁺] = φ(z) − z (1 − Φ(z)) of the standard normal law.

    >>> round(standard_loss(1.0), 10)
    0.0833154706
    """
    return _STANDARD.pdf(z) - z * (1 - _STANDARD.cdf(z))


def second_loss(z: float) -> float:
    """½ E[((Z − z)⁺)²] = ½ ((z² + 1)(1 − Φ(z)) − z φ(z)): what the loss adds up to from z on."""
    return ((z * z + 1) * (1 - _STANDARD.cdf(z)) - z * _STANDARD.pdf(z)) / 2


def holding_and_short(pmf: Sequence[float], holding: float, penalty: float) -> tuple[float, ...]:
    """G(y) = h E[(y − D)⁺] + p E[(D − y)⁺] for y = 0 … len(pmf) − 1; pmf: probabilities of D = 0, 1, ….

    Worked out step by step: G(y + 1) = G(y) − p + (h + p) P(D ≤ y).
    """
    below = list(accumulate(pmf))
    mean = sum(many * probability for many, probability in enumerate(pmf))
    costs = [penalty * mean]
    for y in range(len(pmf) - 1):
        costs.append(costs[-1] - penalty + (holding + penalty) * below[y])
    return tuple(costs)
