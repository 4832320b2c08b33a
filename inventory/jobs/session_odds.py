"""How much of a part a session will use, and the odds that what is there suffices.

How many pieces are worked on at a stage is the batch's law (see `making.evening`). With q for what those take and f
for what the session takes once, the use is (q + f)(1 + rZ) + sZ′: r is the doubt left in the rate, s the scatter of
ordinary sessions, Z and Z′ standard normal (a model of our own). So

    P(use ≤ there) = Σ_q P(q) · Φ((there − q − f) / √((r(q + f))² + s²))

Stages of one row are taken as independent; that they are not matters less than the doubt in any rate.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import erf, sqrt

from inventory.making.evening import Pieces

Use = dict[int, float]
"""Thousandths used and the probability of just that."""

NEGLIGIBLE = 1e-13
FINEST = 400
"""Steps a distribution is kept in, where the parts of it do not fall on common ones by themselves."""
WHOLE = 1000


def use_of(worked: Pieces, taken: Callable[[int], int]) -> Use:
    """What the pieces worked on at a stage take of a part. taken: thousandths for so many of them."""
    done: Use = {}
    for pieces, weight in worked.items():
        done[taken(pieces)] = done.get(taken(pieces), 0.0) + weight
    return done


def both(one: Mapping[int, float], other: Mapping[int, float]) -> Use:
    """The sum of two independent uses, on a grid no finer than it has to be (rounded up: on the safe side)."""
    done: Use = {}
    for a, p in one.items():
        for b, q in other.items():
            done[a + b] = done.get(a + b, 0.0) + p * q
    done = {use: weight for use, weight in done.items() if weight > NEGLIGIBLE} or done
    if len(done) <= FINEST or all(use % WHOLE == 0 for use in done):
        return done
    step = -(-(max(done) - min(done)) // FINEST)
    coarse: Use = {}
    for use, weight in done.items():
        at = -(-use // step) * step
        coarse[at] = coarse.get(at, 0.0) + weight
    return coarse


def mean(use: Mapping[int, float]) -> float:
    """What is used on average."""
    return sum(amount * weight for amount, weight in use.items())


def suffices(use: Mapping[int, float], once: int, there: int, rate: float, scatter: float) -> float:
    """P(use ≤ there), see above. once: thousandths; rate: relative deviation; scatter: thousandths."""
    odds = 0.0
    for amount, weight in use.items():
        left, doubt = there - amount - once, sqrt((rate * (amount + once)) ** 2 + scatter**2)
        odds += weight * ((1 + erf(left / doubt / sqrt(2))) / 2 if doubt else float(left >= 0))
    return min(odds / sum(use.values()), 1.0)
