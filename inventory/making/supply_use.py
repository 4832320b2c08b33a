"""How much of a supply a session will use: one predictive distribution, for set-asides, lay-out and lists.

What the bills write for each `per` is w_p. Not known are the factors x_p by which more or less is really used, and what
one session does beside another. Both are told by a few points of equal weight, each a set of factors and a hand c:

    use given a point ~ lognormal with mean m = Σ_p x_p · w_p and relative standard deviation c

a hand's differences grow with what it does, and nobody uses less than nothing. So, with s² = log(1 + c²),

    P(use ≤ q) = mean over points of Φ((log(q/m) + s²/2)/s)

(the lognormal's mean and deviation: Johnson, Kotz, Balakrishnan, *Continuous Univariate Distributions* 1, 2nd ed. 1994,
ch. 14, from memory). A hand may also differ by the same amount whatever is made: then c is larger for a small session.
Points come from `making.rates.points` once sessions were weighed, from `first_guess` before: that is what shops are
like, and 90 % of it holds over many shops, not in the first session of one where three times the sheet is used. Plain
numbers, no numpy.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import ceil, erfc, exp, fsum, log, log1p, sqrt
from statistics import NormalDist
from typing import Final

from inventory.making.rates.priors import HANDS_DIFFER, NINE_IN_TEN, USUAL_HAND, factor_quantile

POINTS: Final = 32
"""Points a rate is told by: the 90 % quantile of a plain normal is off by less than a hundredth of its deviation."""
MOST_HAND: Final = 3.0
"""A hand is not taken for wilder than three times what is expected."""

_NORMAL: Final = NormalDist()
_NOTHING: Final = 1e-9
_CLOSE: Final = 1e-5
_STEPS: Final = 80
_ROOT: Final = sqrt(2)
_SURE: Final = 1 - 1e-12
FEW: Final = 4
"""As many amounts tell how many pieces there may be."""
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
class KnownUse:
    """What is known of the use of one supply. ordinary: what the bills write for an ordinary session; 0: none known."""

    points: tuple[Point, ...]
    ordinary: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Doubt:
    """The use of a session for which the present rates reckon some amount: its law, for any such amount.

    Each is its own: what is kept of it need not read all its lines to know it again.

    lines: by point, what is really used for one unit of that amount, and once a session; the hand; whether it is
    steady. written: what the bills write for one unit of it, and once; ordinary: see `KnownUse`.
    """

    lines: tuple[tuple[float, float, float, bool], ...]
    written: tuple[float, float]
    ordinary: float

    def within(self, there: float, amount: float) -> float:
        """P(use ≤ there) where the present rates reckon `amount` beside what is taken once a session."""
        return self.probability(there, ((amount, 1.0),))

    def probability(self, there: float, amounts: Iterable[tuple[float, float]]) -> float:
        """The same where that amount is one of several, each with its probability; many are told by a few."""
        if there < 0:
            return 0.0
        nothing, laws = _laws(self, tuple(amounts))
        return min(nothing + _below(laws, log(there)), 1.0) if there > 0 else min(nothing, 1.0)

    def enough(self, amounts: Iterable[tuple[float, float]], level: float) -> int:
        """The whole amount that suffices with that probability, of what the quantile is known to."""
        return ceil(_quantile(self, tuple(amounts), level) * (1 - 2 * _CLOSE))

    def quantile(self, amounts: Iterable[tuple[float, float]], level: float) -> float:
        """The least q with P(use ≤ q) ≥ level, 0 < level < 1, to a hundred-thousandth; amounts with their weights."""
        nothing, laws = _laws(self, tuple(amounts))
        if nothing >= level or not laws:
            return 0.0
        wanted = level - nothing
        far = _NORMAL.inv_cdf(min(wanted / (1 - nothing), _SURE))
        ends = [middle + far * spread for _, middle, spread, _ in laws]
        return exp(_root(laws, wanted, min(ends), max(ends)))


@lru_cache(
    maxsize=4096
)  # asked for one amount after another of what is there, and for one level after another
def _laws(use: Doubt, amounts: tuple[tuple[float, float], ...]) -> tuple[float, tuple[_Law, ...]]:
    """The chance of no use at all, and the lognormals of the rest."""
    each, once = use.written
    nothing, laws = 0.0, list[_Law]()
    for amount, probability in few(amounts):
        share = probability / len(use.lines)
        for slope, start, hand, steady in use.lines:
            mean = slope * amount + start
            if mean <= _NOTHING:
                nothing += share
                continue
            if steady and use.ordinary:
                hand *= use.ordinary / (each * amount + once)
            under, spread, broad = _spread(hand)
            laws.append((0.5 * share, log(mean) - under, spread, broad))
    return nothing, tuple(laws)


@lru_cache(maxsize=1024)  # every part nobody weighed has the same hands
def _spread(hand: float) -> tuple[float, float, float]:
    """How far a lognormal's median lies under its mean, the deviation of the logarithm, and √2 times that."""
    squared = log1p(min(hand, MOST_HAND) ** 2)
    sure = squared < _NOTHING**2  # then just the mean is enough
    spread = max(sqrt(squared), _NOTHING)
    return _CLOSE / 10 if sure else squared / 2, spread, spread * _ROOT


@lru_cache(maxsize=4096)
def _quantile(use: Doubt, amounts: tuple[tuple[float, float], ...], level: float) -> float:
    return use.quantile(amounts, level)


_Law = tuple[float, float, float, float]
"""A lognormal: half its weight, the logarithm of its median, the deviation of its logarithm, and √2 times that."""


def _below(laws: Iterable[_Law], there: float) -> float:
    """The weight of what is at most exp(there)."""
    return fsum([half * erfc((middle - there) / broad) for half, middle, _, broad in laws])


def _root(laws: Sequence[_Law], level: float, low: float, high: float) -> float:
    """The logarithm below which so much of the weight lies; regula falsi, the end that stays counted less each time.

    (The Illinois method: M. Dowell, P. Jarratt, *BIT* 11, 1971, from memory.) The upper end is given back.
    """
    low, high = low - _CLOSE, high + _CLOSE
    under, over = _below(laws, low) - level, _below(laws, high) - level
    side = 0
    for _ in range(_STEPS):
        if high - low <= _CLOSE:
            break
        middle = (low * over - high * under) / (over - under) if over > under else (low + high) / 2
        middle = min(max(middle, low + _CLOSE / 4), high - _CLOSE / 4)
        found = _below(laws, middle) - level
        if found >= 0:
            high, over = middle, found
            under, side = (under / 2 if side == 1 else under), 1
        else:
            low, under = middle, found
            over, side = (over / 2 if side == -1 else over), -1
    return high


def few(amounts: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """Amounts with their weights, told by `FEW` of equal weight where there are more: means of parts in order."""
    several = sorted(amounts)
    if len(several) <= FEW:
        return several
    whole = fsum(probability for _, probability in several)
    parts: list[tuple[float, float]] = []
    sums, inside = 0.0, 0.0
    for amount, probability in several:
        while probability > 0:
            taken = probability if len(parts) == FEW - 1 else min(probability, whole / FEW - inside)
            sums, inside, probability = sums + taken * amount, inside + taken, probability - taken
            if inside >= whole / FEW * (1 - _NOTHING) and len(parts) < FEW - 1:
                parts.append((sums / inside, inside))
                sums, inside = 0.0, 0.0
    return [*parts, (sums / inside, inside)] if inside > 0 else parts


def doubt(known: KnownUse, each: Mapping[str, float], once: Mapping[str, float]) -> Doubt:
    """each: what the bills write by `per` for one unit of the amount; once: what they write for a session."""
    return Doubt(
        tuple((_times(point, each), _times(point, once), point.hand, point.steady) for point in known.points),
        (fsum(each.values()), fsum(once.values())),
        known.ordinary,
    )


def _times(point: Point, written: Mapping[str, float]) -> float:
    return fsum(point.factors.get(per, 1.0) * many for per, many in written.items())


@lru_cache(maxsize=64)
def first_guess(guesses: tuple[tuple[str, float, float], ...]) -> KnownUse:
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
    return KnownUse(
        tuple(Point({per: column[j] for per, column in apart.items()}, hands[j]) for j in range(POINTS))
    )


def pinned_points(known: KnownUse, pinned: Mapping[str, float]) -> KnownUse:
    """The same with some factors held fast."""
    return KnownUse(
        tuple(Point({**point.factors, **pinned}, point.hand, point.steady) for point in known.points),
        known.ordinary,
    )


def from_intervals(known: KnownUse, ends: Mapping[str, tuple[float, float, float]]) -> KnownUse:
    """The same where of some factors only the 90 % interval is kept. ends: low end, estimate, high end."""
    pinned: list[Mapping[str, float]] = [
        {per: _between(one, level) for per, one in ends.items()} for level in _shuffled(_levels(), _GOLDEN[1])
    ]
    return KnownUse(
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
