"""How much of a supply a session will use: one predictive distribution, for odds, set-asides, lay-out and lists.

What the bills write for each `per` is w_p. Not known are the factors x_p by which more or less is really used, and what
one session does beside another. Both are told by a few points of equal weight, each a set of factors and a hand c:

    use given a point ~ lognormal with mean m = Σ_p x_p · w_p and relative standard deviation c

a hand's differences grow with what it does, and nobody uses less than nothing. So, with s² = log(1 + c²),

    P(use ≤ q) = mean over points of Φ((log(q/m) + s²/2)/s)

(the lognormal's mean and deviation: Johnson, Kotz, Balakrishnan, *Continuous Univariate Distributions* 1, 2nd ed. 1994,
ch. 14, from memory). A hand may also differ by the same amount whatever is made: then c is larger for a small session.
Points come from `making.rates_points` once sessions were weighed, from `first_guess` before. Plain numbers, no numpy.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import erfc, exp, fsum, log, log1p, sqrt
from statistics import NormalDist
from typing import Final

from inventory.making.beliefs import HANDS_DIFFER, NINE_IN_TEN, USUAL_HAND, factor_quantile

POINTS: Final = 32
"""Points a rate is told by: the 90 % quantile of a plain normal is off by less than a hundredth of its deviation."""
MOST_HAND: Final = 3.0
"""A hand is not taken for wilder than three times what is expected."""

_NORMAL: Final = NormalDist()
_NOTHING: Final = 1e-9
_ENDLESS: Final = 1e30
_CLOSE: Final = 1e-5
_GOLDEN: Final = (0.8566748838545029, 0.733891856627126, 0.6287067210378087, 0.5385972572236101)


@dataclass(frozen=True, slots=True)
class Point:
    """One way it may be. factors: by `per`, times what the bills write; hand: relative deviation of a session.

    steady: whether sessions differ by the same amount, whatever is made.
    """

    factors: Mapping[str, float]
    hand: float
    steady: bool = False


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of the use of one supply. ordinary: what the bills write for an ordinary session; 0: none known."""

    points: tuple[Point, ...]
    ordinary: float = 0.0


@dataclass(frozen=True, slots=True)
class Doubt:
    """The use of a session for which the present rates reckon some amount: its law, for any such amount.

    lines: by point, what is really used for one unit of that amount, and once a session; the hand; whether it is
    steady. written: what the bills write for one unit of it, and once; ordinary: see `Known`.
    """

    lines: tuple[tuple[float, float, float, bool], ...]
    written: tuple[float, float]
    ordinary: float

    def within(self, there: float, amount: float) -> float:
        """P(use ≤ there) where the present rates reckon `amount` beside what is taken once a session."""
        return self.chance(there, ((amount, 1.0),))

    def chance(self, there: float, amounts: Iterable[tuple[float, float]]) -> float:
        """The same where that amount is one of several, each with its odds."""
        if there < 0:
            return 0.0
        total = fsum(odds * self._below(there, amount) for amount, odds in amounts)
        return min(total / len(self.lines), 1.0)

    def quantile(self, amounts: Sequence[tuple[float, float]], level: float) -> float:
        """The least q with P(use ≤ q) ≥ level, 0 < level < 1; amounts with their odds."""
        low, high = 0.0, max((self._far(amount) for amount, _ in amounts), default=0.0)
        while high and self.chance(high, amounts) < level and high < _ENDLESS:
            low, high = high, 2 * high
        while high - low > _CLOSE * high:
            middle = (low + high) / 2
            low, high = (low, middle) if self.chance(middle, amounts) >= level else (middle, high)
        return high

    def _below(self, there: float, amount: float) -> float:
        """Sum over the points of P(use ≤ there)."""
        each, once = self.written
        asked = each * amount + once
        smaller = self.ordinary / asked if self.ordinary and asked else 1.0
        return fsum(
            _within(there, slope * amount + start, hand * smaller if steady else hand)
            for slope, start, hand, steady in self.lines
        )

    def _far(self, amount: float) -> float:
        return max(slope * amount + start for slope, start, _, _ in self.lines)


def doubt(known: Known, each: Mapping[str, float], once: Mapping[str, float]) -> Doubt:
    """each: what the bills write by `per` for one unit of the amount; once: what they write for a session."""
    return Doubt(
        tuple((_times(point, each), _times(point, once), point.hand, point.steady) for point in known.points),
        (fsum(each.values()), fsum(once.values())),
        known.ordinary,
    )


def _times(point: Point, written: Mapping[str, float]) -> float:
    return fsum(point.factors.get(per, 1.0) * many for per, many in written.items())


def _within(there: float, mean: float, hand: float) -> float:
    """P(use ≤ there) of a lognormal of that mean and relative deviation."""
    if mean <= _NOTHING:
        return 1.0
    spread = log1p(min(hand, MOST_HAND) ** 2)
    if spread < _NOTHING:
        return float(there >= mean * (1 - _NOTHING))
    if there <= _NOTHING * mean:
        return 0.0
    return 0.5 * erfc(-(log(there / mean) + spread / 2) / sqrt(2 * spread))


@lru_cache(maxsize=64)
def first_guess(guesses: tuple[tuple[str, float, float], ...]) -> Known:
    """What is known before any session. guesses: each `per` with the value and the spread of its `rates.Prior`."""
    columns = {
        per: [value * factor_quantile(level, spread) for level in _levels()] for per, value, spread in guesses
    }
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


def from_intervals(known: Known, ends: Mapping[str, tuple[float, float, float]]) -> Known:
    """The same where of some factors only the 90 % interval is kept. ends: low end, estimate, high end."""
    pinned: list[Mapping[str, float]] = [
        {per: _between(one, level) for per, one in ends.items()} for level in _shuffled(_levels(), _GOLDEN[1])
    ]
    return Known(
        tuple(
            Point({**point.factors, **fixed}, point.hand, point.steady)
            for point, fixed in zip(known.points, pinned, strict=True)
        ),
        known.ordinary,
    )


def _between(ends: tuple[float, float, float], level: float) -> float:
    low, middle, high = ends
    far = _NORMAL.inv_cdf(level) / NINE_IN_TEN
    return max(middle + far * (high - middle if far > 0 else middle - low), 0.0)


def _levels() -> list[float]:
    return [(j + 0.5) / POINTS for j in range(POINTS)]


def _shuffled(column: Sequence[float], step: float) -> list[float]:
    """The column in the order of the multiples of a step, modulo 1: spread evenly beside the first column."""
    order = sorted(range(len(column)), key=lambda j: (j + 0.5) * step % 1.0 if step else j)
    done = [0.0] * len(column)
    for rank, j in enumerate(order):
        done[j] = column[rank]
    return done
