"""How much of a supply a session will use: one predictive distribution, for odds, set-asides, lay-out and lists.

What the bills write for each `per` is w_p. Not known are the factors x_p by which more or less is really used, and what
one session does beside another. Both are told by a few points of equal weight, each a set of factors and a hand c:

    use given a point ~ lognormal with mean m = Σ_p x_p · w_p and relative standard deviation c

a hand's differences grow with what it does, and nobody uses less than nothing. So, with s² = log(1 + c²),

    P(use ≤ q) = mean over points of Φ((log(q/m) + s²/2)/s)

(the lognormal's mean and deviation: Johnson, Kotz, Balakrishnan, *Continuous Univariate Distributions* 1, 2nd ed. 1994,
ch. 14, from memory). A hand may also differ by the same amount whatever is made: then c is larger for a small session.
Points come from `making.rates_posterior` once sessions were weighed, from `first_guess` before. Plain numbers, no numpy.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import exp, fsum, log, log1p, sqrt
from statistics import NormalDist
from typing import Final

from inventory.making.beliefs import HANDS_DIFFER, USUAL_HAND, factor_quantile

POINTS: Final = 32
"""Points a rate is told by: the 90 % quantile of a plain normal is off by less than a hundredth of its deviation."""
MOST_HAND: Final = 3.0
"""A hand is not taken for wilder than three times what is expected."""

_NORMAL: Final = NormalDist()
_SMALLEST: Final = 1e-9
_LEAST_HAND: Final = 1e-6
_CLOSE: Final = 1e-5
_GOLDEN: Final = (0.6180339887498949, 0.7548776662466927, 0.5698402909980532, 0.8191725133961645)


@dataclass(frozen=True, slots=True)
class Point:
    """One way it may be. factors: by `per`, times what the bills write; hand: relative deviation of an ordinary session.

    steady: whether sessions differ by the same amount, whatever is made.
    """

    factors: Mapping[str, float]
    hand: float
    steady: bool = False


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of the use of one supply. ordinary: what the bills write for an ordinary session, any unit; 0: none."""

    points: tuple[Point, ...]
    ordinary: float = 0.0

    def of(self, written: Mapping[str, float]) -> Use:
        """The use of a session for which the bills write so much for each `per`, in the unit of `ordinary`."""
        amount = fsum(written.values())
        if amount <= 0:
            return Use(())
        smaller = self.ordinary / amount if self.ordinary else 1.0
        return Use(
            tuple(
                _lognormal(
                    fsum(point.factors.get(per, 1.0) * many for per, many in written.items()),
                    point.hand * (smaller if point.steady else 1.0),
                )
                for point in self.points
            )
        )


@dataclass(frozen=True, slots=True)
class Use:
    """A use that is not known exactly: lognormals of equal weight, each a median and a deviation of its logarithm."""

    parts: tuple[tuple[float, float], ...]

    def within(self, there: float) -> float:
        """P(use ≤ there)."""
        if there < 0:
            return 0.0
        if not self.parts:
            return 1.0
        return min(fsum(_below(there, *one) for one in self.parts) / len(self.parts), 1.0)

    def quantile(self, level: float) -> float:
        """The least q with P(use ≤ q) ≥ level, 0 < level < 1."""
        return quantile(((self, 1.0),), level)


def within(uses: Iterable[tuple[Use, float]], there: float) -> float:
    """P(use ≤ there) of a mixture: uses with the odds of each."""
    return min(fsum(odds * use.within(there) for use, odds in uses), 1.0)


def quantile(uses: Sequence[tuple[Use, float]], level: float) -> float:
    """The least q with P(use ≤ q) ≥ level of a mixture: uses with the odds of each, which add up to 1."""
    low, high = 0.0, max((_far(use) for use, _ in uses), default=0.0)
    while high and within(uses, high) < level and high < 1e30:
        low, high = high, 2 * high
    while high - low > _CLOSE * high:
        middle = (low + high) / 2
        low, high = (low, middle) if within(uses, middle) >= level else (middle, high)
    return high


def _far(use: Use) -> float:
    return max((median * exp(2 * deviation) for median, deviation in use.parts), default=0.0)


def _lognormal(mean: float, hand: float) -> tuple[float, float]:
    """Median, and deviation of the logarithm."""
    spread = log1p(min(hand, MOST_HAND) ** 2)
    return mean / exp(spread / 2), sqrt(spread)


def _below(there: float, median: float, deviation: float) -> float:
    if median <= _SMALLEST or there <= 0:
        return float(there >= median)
    if deviation < _LEAST_HAND:
        return float(there >= median * (1 - _LEAST_HAND))
    return _NORMAL.cdf(log(there / median) / deviation)


@lru_cache(maxsize=64)
def first_guess(spreads: tuple[tuple[str, float], ...]) -> Known:
    """What is known before any session. spreads: each `per` with the spread of its first guess (`rates.Prior`)."""
    columns = {per: [factor_quantile(level, spread) for level in _levels()] for per, spread in spreads}
    hands = [
        USUAL_HAND * exp(HANDS_DIFFER * _NORMAL.inv_cdf(level)) for level in _shuffled(_levels(), _GOLDEN[0])
    ]
    apart = {
        per: _shuffled(column, _GOLDEN[1 + at % 3] if at else 0.0)
        for at, (per, column) in enumerate(columns.items())
    }
    return Known(
        tuple(Point({per: column[j] for per, column in apart.items()}, hands[j]) for j in range(POINTS))
    )


def pinned_points(known: Known, pinned: Mapping[str, float]) -> Known:
    """The same with some factors held fast."""
    return Known(
        tuple(Point({**point.factors, **pinned}, point.hand, point.steady) for point in known.points),
        known.ordinary,
    )


def _levels() -> list[float]:
    return [(j + 0.5) / POINTS for j in range(POINTS)]


def _shuffled(column: Sequence[float], step: float) -> list[float]:
    """The column in the order of the multiples of a step, modulo 1: spread evenly beside the first column."""
    order = sorted(range(len(column)), key=lambda j: (j + 0.5) * step % 1.0 if step else j)
    done = [0.0] * len(column)
    for rank, j in enumerate(order):
        done[j] = column[rank]
    return done
