"""Classes of parts: by what a year's use of them is worth, and by how unsteadily they are asked for.

By value: parts sorted by a year's use, the dearest first; A is what makes up the first four fifths of it, B the next
up to 95 %, C the rest (Silver, Pyke and Thomas, Inventory and Production Management in Supply Chains, ch. 2, from
memory; the two shares are common practice). By demand: p, periods for each with demand (ADI), and CV², the squared
coefficient of variation of what was asked for in those, parted at 1.32 and 0.49 (Syntetos, Boylan and Croston, On the
categorization of demand patterns, Journal of the Operational Research Society 56 (2005), from memory).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import accumulate
from statistics import mean, pvariance
from typing import Final, Literal

ValueClass = Literal["A", "B", "C"]
DemandClass = Literal["smooth", "intermittent", "erratic", "lumpy"]
DEMAND_CLASSES: Final[tuple[DemandClass, ...]] = ("smooth", "intermittent", "erratic", "lumpy")
A_SHARE, B_SHARE = 0.8, 0.95
ADI, CV2 = 1.32, 0.49
ROUNDING = 1e-12


def by_value(values: Mapping[str, float]) -> dict[str, tuple[ValueClass, float]]:
    """Class and cumulative share of each, the dearest first. values: what a year's use is worth, 0 or more.

    What crosses a bound belongs to the class before it, so that A really has its four fifths.

    >>> by_value({"kit": 70, "tube": 20, "glue": 7, "card": 3})
    {'kit': ('A', 0.7), 'tube': ('A', 0.9), 'glue': ('B', 0.97), 'card': ('C', 1.0)}
    """
    order = sorted(values, key=lambda one: (-values[one], one))
    whole = sum(values.values())
    done: dict[str, tuple[ValueClass, float]] = {}
    before = 0.0
    for key, upto in zip(order, accumulate(values[one] for one in order), strict=True):
        share = upto / whole if whole else 1.0
        done[key] = _class(before) if whole else "C", share
        before = share
    return done


def _class(before: float) -> ValueClass:
    if before < A_SHARE - ROUNDING:
        return "A"
    return "B" if before < B_SHARE - ROUNDING else "C"


def by_demand(periods: Sequence[float]) -> DemandClass | None:
    """The class of a series of what was asked for by period; None where fewer than two had any.

    >>> by_demand([0, 0, 5, 0, 0, 5]), by_demand([3, 4, 3, 4]), by_demand([0, 0, 1, 0, 0, 9])
    ('intermittent', 'smooth', 'lumpy')
    """
    some = [one for one in periods if one > 0]
    if len(some) < 2:
        return None
    seldom = len(periods) / len(some) >= ADI
    unsteady = pvariance(some) / mean(some) ** 2 >= CV2
    if unsteady:
        return "lumpy" if seldom else "erratic"
    return "intermittent" if seldom else "smooth"
