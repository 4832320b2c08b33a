"""Forecasts that do not part sizes from intervals: the mean, smoothing, and a rate that is believed and then learned.

Arrays as in `croston`: (periods, series) in, one row more out; row t is what follows the first t periods.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inventory.planning.forecasting.arrays import Floats


def mean(demand: Floats) -> Floats:
    """The mean of all periods so far; 0 before the first."""
    import numpy as np

    periods, series = demand.shape
    sums = np.vstack([np.zeros((1, series)), np.cumsum(demand, axis=0)])
    return sums / np.maximum(np.arange(periods + 1), 1)[:, None]


def smoothing(demand: Floats, alpha: float) -> Floats:
    """Simple exponential smoothing, f += α (d − f), begun with the first period.

    Source: Hyndman and Athanasopoulos, Forecasting: Principles and Practice, 3rd ed., §8.1 (from memory).
    """
    import numpy as np

    done = np.zeros((len(demand) + 1, demand.shape[1]))
    for t, now in enumerate(demand):
        done[t + 1] = now if t == 0 else done[t] + alpha * (now - done[t])
    return done


def poisson_gamma(demand: Floats, believed: Floats, worth: float, keeps: float = 1.0) -> Floats:
    """The posterior mean of a rate with a gamma prior: (w·m + Σ k^age d) / (w + Σ k^age).

    believed: m, what is expected a period before anything is seen, one for each series; worth: w, how many periods of
    seeing that is worth; keeps: k, what is left of a period's weight after another one (1: nothing is forgotten).
    Source: Johnson, Ott and Dogucu, Bayes Rules!, ch. 5 (gamma-Poisson), weights after West and Harrison, Bayesian
    Forecasting and Dynamic Models (discount factors); both from memory.
    """
    import numpy as np

    done = np.zeros((len(demand) + 1, demand.shape[1]))
    prior = worth * np.asarray(believed, dtype=float)
    done[0] = prior / worth
    asked, seen = np.zeros(demand.shape[1]), 0.0
    for t, now in enumerate(demand):
        asked, seen = keeps * asked + now, keeps * seen + 1
        done[t + 1] = (prior + asked) / (worth + seen)
    return done
