"""Forecasts of intermittent demand that smooth the sizes and what lies between them apart.

d_t the demand of period t, z the smoothed size of a demand, p the smoothed interval between two, both moved only in
periods with demand (q periods after the last): z += α (d − z), p += α (q − p). Sources:

- Croston, Forecasting and stock control for intermittent demands, Operational Research Quarterly 23 (1972): z / p.
- Syntetos and Boylan, The accuracy of intermittent demand estimates, International Journal of Forecasting 21 (2005):
  (1 − α/2) z / p, for Croston's ratio is too high on average.
- Teunter, Syntetos and Babai, Intermittent demand: linking forecasting to inventory obsolescence, European Journal of
  Operational Research 214 (2011): the chance π of a demand instead of the interval, moved in every period,
  π += β (1[d > 0] − π); forecast π z. It sinks where nothing is asked for any more.

All from memory but for their equations, which two independent libraries confirm in the tests. Arrays are (periods,
series); what comes back has one row more: row t is the forecast, a period, of what follows the first t periods.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inventory.planning.forecasting.arrays import Floats


def croston(demand: Floats, alpha: float, first_interval: Floats | None = None) -> Floats:
    """Croston's z / p; 0 before a series' first demand.

    The first size is the first demand, the first interval how many periods it took to come, counted from 1 (or
    `first_interval`, a figure for each series).
    """
    import numpy as np

    periods, series = demand.shape
    done = np.zeros((periods + 1, series))
    size, interval, since = np.zeros(series), np.ones(series), np.ones(series)
    seen = np.zeros(series, dtype=bool)
    for t, now in enumerate(demand):
        asked = now > 0
        first, later = asked & ~seen, asked & seen
        size = np.where(first, now, np.where(later, size + alpha * (now - size), size))
        begun = since if first_interval is None else first_interval
        interval = np.where(first, begun, np.where(later, interval + alpha * (since - interval), interval))
        seen |= asked
        since = np.where(asked, 1, since + 1)
        done[t + 1] = np.where(seen, size / interval, 0)
    return done


def syntetos_boylan(demand: Floats, alpha: float, first_interval: Floats | None = None) -> Floats:
    """Croston's forecast less its bias: (1 − α/2) z / p."""
    return (1 - alpha / 2) * croston(demand, alpha, first_interval)


def teunter_syntetos_babai(
    demand: Floats, alpha: float, beta: float, chance: Floats | None = None, size: Floats | None = None
) -> Floats:
    """π z. Begins with `chance` (else the first period's 0 or 1) and `size` (else the first demand), one a series."""
    import numpy as np

    periods, series = demand.shape
    done = np.zeros((periods + 1, series))
    seen = np.full(series, size is not None)
    smoothed = np.zeros(series) if size is None else np.asarray(size, dtype=float)
    likely = None if chance is None else np.asarray(chance, dtype=float)
    if likely is not None:
        done[0] = likely * smoothed
    for t, now in enumerate(demand):
        asked = now > 0
        likely = asked.astype(float) if likely is None else likely + beta * (asked - likely)
        smoothed = np.where(asked, np.where(seen, smoothed + alpha * (now - smoothed), now), smoothed)
        seen |= asked
        done[t + 1] = likely * smoothed
    return done
