"""What courses take of one part, and what lasts over a stretch of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil
from typing import TYPE_CHECKING

from inventory.planning.futures import Courses

if TYPE_CHECKING:
    from inventory.planning.forecasting.arrays import Floats

SUREST = 0.999
"""No level is asked to last more surely: the courses are too few to tell."""


def taken_of(drawn: Courses, uses: Mapping[int, float], factors: Sequence[float]) -> Floats:
    """Units of a part by week and course. uses: units a piece by row; factors: handed round the courses."""
    import numpy as np

    total: Floats = np.zeros(drawn.pieces.shape[1:])
    for row, units in uses.items():
        total += units * drawn.pieces[row]
    return total * np.resize(np.array(factors, dtype=float), drawn.pieces.shape[2])


def lasting(taken: Floats, days: float, later: Sequence[int], chance: float) -> tuple[float, float]:
    """Units that last with that chance over some days and as many more as parcels were late; the mean of these weeks.

    taken: (weeks, courses); later: days, handed round the courses. The last week known ends the longest stretch.
    """
    import numpy as np

    weeks, many = taken.shape
    over = np.minimum((days + np.resize(np.array(later, dtype=float), many)) / 7, weeks - 1)
    sums = np.vstack([np.zeros((1, many)), np.cumsum(taken, axis=0)])
    whole, at = over.astype(int), np.arange(many)
    asked = sums[whole, at] + (over - whole) * (sums[whole + 1, at] - sums[whole, at])
    enough = float(np.sort(asked)[min(ceil(chance * many), many) - 1]) if chance > 0 else 0.0
    return enough, float(over.mean())


def asked_between(asked: Floats, begin: float, end: float) -> Floats:
    """Units asked for from one day to another, by course; the last week known goes on."""
    import numpy as np

    sums = np.vstack([np.zeros((1, asked.shape[1])), np.cumsum(asked, axis=0)])

    def until(days: float) -> Floats:
        week = min(days / 7, asked.shape[0] - 1e-9)
        whole = int(week)
        total: Floats = sums[whole] + (week - whole) * asked[whole]
        return total

    difference: Floats = until(end) - until(begin)
    return difference


def nothing(courses: int) -> Floats:
    """Nothing asked for in any course."""
    import numpy as np

    none: Floats = np.zeros(courses)
    return none


def quantiles(units: Floats, chances: Sequence[float]) -> list[float]:
    """The least units that suffice in these shares of the courses."""
    import numpy as np

    return [float(one) for one in np.quantile(units, chances, method="inverted_cdf")]
