"""How much of a usual month's custom each month brings, where two years show it.

An index of a month is what it brought over what a year without seasons would have brought in its weeks, drawn towards
1: (κ + asked) / (κ + expected). It counts only where it would have helped: indexes of all years but the last are held
against the last year, and are kept where they are nearer to it than no season at all. Of two forecasts that add up to
what was asked for, μ and ν, the deviance of a Poisson model, 2 Σ (y log(y / μ) − (y − μ)), is less by 2 Σ y log(μ / ν).
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from math import log

YEAR = 52
DRAWN = 12.0
"""κ: pieces of every month's own past that weigh as much as there being no season."""
NONE = (1.0,) * 12


def indexes(weeks: Sequence[float], last: date) -> tuple[float, ...]:
    """The twelve indexes, January first; all 1 where two years do not show any.

    weeks: pieces of the whole shop, oldest week first; last: the last day of the last one.
    """
    if len(weeks) < 2 * YEAR:
        return NONE
    months = [(last - timedelta(days=7 * (len(weeks) - 1 - at) + 3)).month for at in range(len(weeks))]
    before, after = weeks[:-YEAR], weeks[-YEAR:]
    tried = _indexes(before, months[:-YEAR])
    seasonal = [tried[month - 1] for month in months[-YEAR:]]
    usual = sum(seasonal) / YEAR
    nearer = sum(y * log(one / usual) for y, one in zip(after, seasonal, strict=True))
    return _indexes(weeks, months) if nearer > 0 else NONE


def _indexes(weeks: Sequence[float], months: Sequence[int]) -> tuple[float, ...]:
    """Each month's own, a trend taken out by dividing each week by its year's level; their weighted mean is 1."""
    asked, expected = [DRAWN] * 12, [DRAWN] * 12
    for begun in range(len(weeks) % YEAR, len(weeks), YEAR):
        level = sum(weeks[begun : begun + YEAR]) / YEAR
        for at in range(begun, begun + YEAR):
            asked[months[at] - 1] += weeks[at]
            expected[months[at] - 1] += level
    return tuple(a / e for a, e in zip(asked, expected, strict=True))
