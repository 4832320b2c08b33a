"""What many futures come to: means, what nine in ten lie between, and how far two ways differ in the same futures."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, sqrt
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inventory.planning.rehearsal.dice import Ints
    from inventory.planning.rehearsal.living import Lived

NORMAL = 1.959964
"""95 % of a normal law lie within so many of its standard deviations."""


@dataclass(frozen=True, slots=True)
class Spread:
    """A mean, and what lies below and above."""

    mean: float
    low: float
    high: float


def spread(by_future: Ints, unit: float = 1.0) -> Spread:
    """The mean, and between which two futures nine in ten lie. unit: what a figure is divided by."""
    import numpy as np

    ranked, many = np.sort(by_future), len(by_future)
    low, high = ranked[ceil(0.05 * many) - 1], ranked[ceil(0.95 * many) - 1]
    return Spread(int(by_future.sum()) / many / unit, int(low) / unit, int(high) / unit)


def difference(one: Ints, other: Ints, unit: float = 1.0) -> Spread:
    """How much more one is than the other in the mean, and the 95 % interval of that mean, from the same futures."""
    import numpy as np

    apart = (one - other).astype(float) / unit
    mean = float(apart.mean())
    half = NORMAL * float(np.std(apart, ddof=1)) / sqrt(len(apart)) if len(apart) > 1 else 0.0
    return Spread(mean, mean - half, mean + half)


def cost(one: Lived, holding: float) -> Ints:
    """By future, minor units: goods and postage, less what more is there at the end, and what holding stock costs.

    holding: a coin's worth in stock a week.
    """
    import numpy as np

    held = np.rint(one.held.sum(axis=0) * holding).astype(np.int64)
    return np.asarray(one.goods + one.postage + one.begun - one.left + held)
