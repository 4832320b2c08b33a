"""Which method forecasts a series: the one that would have been nearest, asked again and again in the shop's own past.

At each origin t every method says what the next h periods bring, knowing only what came before (a rolling origin:
Tashman, Out-of-sample tests of forecasting accuracy, International Journal of Forecasting 16 (2000), from memory).
Its error is the mean square of what was asked for in these h periods less what was said. A thin series says little of
which method suits it, so its errors are shrunk towards those of the whole shop: (n·own + κ·whole) / (n + κ), n the
demands it has, both as shares of what the plain mean errs.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from inventory.planning.forecasting.averages import mean, poisson_gamma, smoothing
from inventory.planning.forecasting.croston import croston, syntetos_boylan, teunter_syntetos_babai

if TYPE_CHECKING:
    from inventory.planning.forecasting.arrays import Floats

PLAIN = "mean of all weeks"
"""The method others are measured by, and the one taken where the past is too short to choose."""
LEAST_ORIGINS = 8
"""Origins below which nothing is chosen."""
WHOLE = 20.0
"""κ: as many demands of its own as weigh as much as the whole shop (chosen by no table yet: a guess that is said)."""

METHODS: Mapping[str, Callable[[Floats], Floats]] = {
    PLAIN: mean,
    "smoothing, 0.1": partial(smoothing, alpha=0.1),
    "Croston, 0.1": partial(croston, alpha=0.1),
    "Syntetos and Boylan, 0.1": partial(syntetos_boylan, alpha=0.1),
    "Syntetos and Boylan, 0.2": partial(syntetos_boylan, alpha=0.2),
    "Teunter, Syntetos and Babai, 0.1, 0.05": partial(teunter_syntetos_babai, alpha=0.1, beta=0.05),
}


@dataclass(frozen=True, slots=True)
class Chosen:
    """One series' method, what it expects a period, and its root mean square error over the horizon.

    error: in units over `horizon` periods; None where the past was too short to ask.
    """

    method: str
    rate: float
    error: float | None


def choose(demand: Floats, horizon: int, believed: Floats, worth: float) -> tuple[Chosen, ...]:
    """The method of each series and its forecast. demand: (periods, series); horizon: periods looked ahead, at least 1.

    believed, worth: the gamma prior of a rate, see `poisson_gamma`; it is one of the methods, and takes part in each
    choice as the others do.
    """
    import numpy as np

    every = {name: method(demand) for name, method in METHODS.items()}
    every["believed, then learned"] = poisson_gamma(demand, believed, worth)
    names = tuple(every)
    forecasts = np.stack([every[name] for name in names])  # (methods, periods + 1, series)
    errors = rolling_errors(demand, forecasts, horizon)
    if errors is None:
        last = every["believed, then learned"][-1]
        return tuple(Chosen("believed, then learned", float(rate), None) for rate in last)
    best = np.argmin(_shrunk(errors, (demand > 0).sum(axis=0), names.index(PLAIN)), axis=0)
    return tuple(
        Chosen(names[m], float(forecasts[m, -1, s]), float(np.sqrt(errors[m, s]))) for s, m in enumerate(best)
    )


def rolling_errors(demand: Floats, forecasts: Floats, horizon: int) -> Floats | None:
    """Mean square errors, (methods, series), of sums over the horizon; None for fewer than `LEAST_ORIGINS` origins."""
    import numpy as np

    periods = len(demand)
    origins = periods - horizon + 1 - 1  # the first period is known before the first origin
    if origins < LEAST_ORIGINS:
        return None
    sums = np.vstack([np.zeros((1, demand.shape[1])), np.cumsum(demand, axis=0)])
    came = sums[horizon + 1 :] - sums[1 : periods - horizon + 1]
    said = horizon * forecasts[:, 1 : periods - horizon + 1]
    return np.asarray(((came - said) ** 2).mean(axis=1))


def _shrunk(errors: Floats, demands: Floats, plain: int) -> Floats:
    import numpy as np

    base = errors[plain]
    own = np.divide(errors, base, out=np.ones_like(errors), where=base > 0)
    whole = errors.sum(axis=1) / max(float(base.sum()), 1e-300)
    return np.asarray((demands * own + WHOLE * whole[:, None]) / (demands + WHOLE))
