"""Forecasts of intermittent demand held against independent libraries, to 1e-9 where the definition is the same.

- intermittent-forecast 1.0, asked here. Its Croston begins with the mean interval of the whole series (given to ours);
  its SBA takes the interval's smoothing for the bias, the same where both are; its Teunter, Syntetos and Babai takes
  the first period for known, with the share of periods with demand and the first demand as beginnings.
- sktime 1.2.0 and statsforecast 2.1.1, asked by `scripts/soak/forecasts_elsewhere.py` and kept beside this file: they
  weigh too much to be installed for each run. Their beginnings are ours.

The series: J06 of the Australian prescription data, as sktime ships it (PBS_dataset, BSD-3).
"""

from __future__ import annotations

import csv
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest
from intermittent_forecast.forecasters import Croston, SimpleExponentialSmoothing

from inventory.planning.forecasting.averages import smoothing
from inventory.planning.forecasting.croston import croston, syntetos_boylan, teunter_syntetos_babai

if TYPE_CHECKING:
    from inventory.planning.forecasting.arrays import Floats

HERE = Path(__file__).resolve().parent
J06 = np.loadtxt(HERE / "j06.csv", skiprows=1)
SHORT = np.array([0.0, 3, 0, 4, 0, 0, 0, 2, 0])
DICE = np.random.RandomState(7)
THIN = DICE.poisson(0.3, size=120) * DICE.randint(1, 6, size=120).astype(float)
SERIES = [pytest.param(one, id=name) for name, one in (("J06", J06), ("nine", SHORT), ("thin", THIN))]

pytestmark = pytest.mark.outside


def theirs(series: Floats, variant: str, alpha: float, beta: float) -> Floats:
    """What the library says before each period, and after the last."""
    made = Croston().fit(series, variant=variant, alpha=alpha, beta=beta)
    return np.asarray(made.forecast(0, len(series) + 1))


@pytest.mark.parametrize("series", SERIES)
@pytest.mark.parametrize("alpha", [0.05, 0.1, 0.3])
def test_croston_and_its_correction(series: Floats, alpha: float) -> None:
    """Both from the first demand on, through the whole series."""
    there = np.flatnonzero(series)
    begun = np.array([np.diff(there, prepend=-1).mean()])
    after = there[0] + 1
    for variant, ours in (("CRO", croston), ("SBA", syntetos_boylan)):
        mine = ours(series[:, None], alpha, begun)[:, 0]
        assert mine[after:] == pytest.approx(
            theirs(series, variant, alpha, alpha)[after:], rel=1e-9, abs=1e-12
        )


@pytest.mark.parametrize("series", SERIES)
@pytest.mark.parametrize(("alpha", "beta"), [(0.1, 0.05), (0.3, 0.2)])
def test_chances_and_sizes(series: Floats, alpha: float, beta: float) -> None:
    """Teunter, Syntetos and Babai, from the second period on."""
    there = np.flatnonzero(series)
    chance, size = np.array([len(there) / len(series)]), np.array([series[there[0]]])
    mine = teunter_syntetos_babai(series[1:, None], alpha, beta, chance, size)[:, 0]
    assert mine == pytest.approx(theirs(series, "TSB", alpha, beta)[1:], rel=1e-9, abs=1e-12)


@pytest.mark.parametrize("series", SERIES)
def test_smoothing(series: Floats) -> None:
    """Begun with the first period."""
    said = SimpleExponentialSmoothing().fit(series, alpha=0.2).forecast(0, len(series))
    assert smoothing(series[:, None], 0.2)[1:, 0] == pytest.approx(said[1:], rel=1e-9, abs=1e-12)


def test_as_two_heavier_libraries_have_it() -> None:
    """After 24, 60, 120 and 204 months: sktime 1.2.0 and statsforecast 2.1.1, as kept."""
    with (HERE / "j06_elsewhere.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == 56
    for row in rows:
        seen = J06[: int(row["months"]), None]
        alpha, beta = float(row["alpha"]), float(row["beta"] or 0)
        every = {
            "croston": croston(seen, alpha),
            "smoothing": smoothing(seen, alpha),
            "syntetos boylan": syntetos_boylan(seen, alpha),
            "teunter syntetos babai": teunter_syntetos_babai(seen, alpha, beta),
        }
        assert every[row["method"]][-1, 0] == pytest.approx(float(row["forecast"]), rel=1e-9, abs=1e-12), row


@pytest.mark.parametrize(("alpha", "said"), [(0.1, 0.8688921), (0.5, 0.6754646), (0.05, 1.405808)])
def test_croston_as_another_language_has_it(alpha: float, said: float) -> None:
    """J06 by R's forecast package, as sktime's own test quotes it.

    Hyndman and Athanasopoulos, Forecasting: Principles and Practice, 3rd ed., §13.2, have 2.419 / 2.484 = 0.974 for it:
    there sizes and intervals are smoothed by two figures, each chosen to fit, and ours by one that is given.
    """
    assert croston(J06[:, None], alpha)[-1, 0] == pytest.approx(said, abs=5e-7)
    assert (len(J06), J06.sum(), (J06 == 0).sum()) == (204, 331, 90)
