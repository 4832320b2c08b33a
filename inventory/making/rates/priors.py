"""What is believed of use rates and hands before anything was weighed; the one place that says it.

A first guess is off by a factor: in three sheets of five as little as they claim, else upwards, by waste, by up to
three times; one in ten is of no use. Sessions of one hand differ by about three tenths of what they use. Assumptions,
tried on shops whose sheets are right, or say half or a third of what is used (`scripts/soak/rate_intervals.py`,
`scripts/soak/set_asides.py`).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from statistics import NormalDist
from typing import Final

NINE_IN_TEN: Final = 1.6448536269514722
"""Nine in ten of a normal distribution lie within this many standard deviations of its mean."""

BELIEFS: Final = ((1.0, 1.0, 0.6), (3.0, 2.0, 0.3), (8.0, 1.0, 0.1))
"""How many times as wide as claimed, about how many times the guess, and how probable that is."""

USUAL_HAND: Final = 0.3
HANDS_DIFFER: Final = 0.7
"""Sessions of an ordinary hand differ by three tenths; the logarithm of that is normal with this standard deviation."""

_NORMAL: Final = NormalDist()
_HALVINGS: Final = 50


@dataclass(frozen=True, slots=True)
class Prior:
    """What a guess claims before any session: nine in ten within `value` ± (`spread` · `value` + `margin`).

    How far that is believed is told by `BELIEFS`.

    value   in the supply's unit for one of its `per`, 0 or more
    spread  a share of the value: 0.5 = off by up to half
    margin  in the rate's own unit; needed where the value is 0, which would otherwise stay 0 for ever
    """

    value: float
    spread: float = 0.5
    margin: float = 0.0

    @property
    def sd(self) -> float:
        """Standard deviation of the rate: half the range of nine in ten over 1.645."""
        return (self.spread * self.value + self.margin) / NINE_IN_TEN


@lru_cache(maxsize=1024)
def factor_quantile(level: float, spread: float) -> float:
    """The factor below which a first guess of that spread (see `Prior`) lies with probability `level`.

    Of Σ probability · (normal about centre, deviation width · spread / 1.645, cut off below 0), by halving.
    """
    low, high = 0.0, 100.0 * (1.0 + spread)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if _below(middle, spread / NINE_IN_TEN) >= level else (middle, high)
    return high


def _below(factor: float, sd: float) -> float:
    total = 0.0
    for width, centre, probability in BELIEFS:
        none = _NORMAL.cdf(-centre / (width * sd))
        total += probability * (_NORMAL.cdf((factor - centre) / (width * sd)) - none) / (1 - none)
    return total
