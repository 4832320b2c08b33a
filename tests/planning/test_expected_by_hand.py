"""What is expected, reckoned again from the weeks: shapes, good and bad times, and how busy weeks are."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

import numpy as np
import pytest

from inventory.ledger.asked import AskedFor
from inventory.planning.demand.expected import Expected, PatternDemand, expected
from inventory.planning.forecasting.choosing import choose

if TYPE_CHECKING:
    from inventory.planning.forecasting.arrays import Floats

TODAY = date(2026, 12, 31)
COULD = {name: [("", "oak", None)] for name in ("pen", "stopper")}
LEVEL = (1.0,) * 12


def past(weeks: int, seed: int, loud: float = 1.0, moody: float = 0.0) -> list[AskedFor]:
    """Orders of one or four pieces of two patterns, in December so many times as many, in ten weeks of twenty more."""
    dice, done = np.random.RandomState(seed), []
    for back in range(weeks):
        day = TODAY - timedelta(days=7 * back + 3)
        times = (loud if day.month == 12 else 1.0) * (1 + moody * (back // 10 % 2))
        for name, rate in (("pen", 2.0), ("stopper", 0.4)):
            done += [
                AskedFor(day, name, "", "oak", 4 if dice.uniform() < 0.25 else 1)
                for _ in range(dice.poisson(rate * times))
            ]
    return done


def by_week(asked: Sequence[AskedFor], weeks: int, found: Expected) -> Floats:
    """Pieces of the two patterns by week, oldest first, each week divided by the index of the month it begins in."""
    pieces: Floats = np.zeros((weeks, 2))
    for one in asked:
        pieces[weeks - 1 - (TODAY - one.on).days // 7, int(one.pattern == "stopper")] += one.pieces
    begins = [TODAY - timedelta(days=7 * (weeks - at) - 1) for at in range(weeks)]
    pieces /= np.array([[found.months[day.month - 1]] for day in begins])
    return pieces


def moments(one: PatternDemand) -> tuple[float, float]:
    """E[s] and E[s²]."""
    first, second = (sum(size**power * share for size, share in one.sizes.items()) for power in (1, 2))
    return first, second


@pytest.mark.cross_check
@pytest.mark.parametrize(
    ("weeks", "loud", "moody"), [(40, 1, 0), (40, 1, 2), (156, 4, 0), (156, 9, 1), (9, 1, 0)]
)
def test_how_well_rates_and_times_are_known(weeks: int, loud: float, moody: float) -> None:
    """σ² = μ E[s²] + (μ E[s])² / r over the horizon, solved for r, at most as sure as what was seen and believed of it;

    1 / r + 0.3; of the whole shop, what misses show beyond chance, and as much as ten more stretches the usual.
    """
    horizon = 4
    asked = past(weeks, 5, loud, moody)
    found = expected(asked, COULD, TODAY, horizon)
    assert found.weeks == weeks
    series = by_week(asked, weeks, found)
    assert (found.months == LEVEL) is (loud == 1)
    sizes = Counter(one.pieces for one in asked)
    leaning = {1: 0.6, 2: 0.25, 4: 0.1, 6: 0.05}
    of_all = {size: (sizes[size] + 8 * leaning[size]) / (len(asked) + 8) for size in leaning}
    mean = sum(size * share for size, share in of_all.items())
    chosen = choose(series, horizon, np.full(2, mean * 0.5 / 2), 6.0)
    for one, said in zip(found.patterns, chosen, strict=True):
        first, second = moments(one)
        assert one.method == said.method
        assert one.orders == pytest.approx(said.rate / first)
        own = sum(row.pattern == one.pattern for row in asked)
        assert own == one.seen
        learned = own + 6 * 0.5 / 2
        if said.error is not None:
            beyond = said.error**2 - one.orders * horizon * second
            learned = min(learned, (one.orders * horizon * first) ** 2 / beyond) if beyond > 0 else learned
        assert one.shape == pytest.approx(1 / (1 / learned + 0.3))
    usual = 0.2 if loud == 1 else 0.1
    (whole,) = choose(series.sum(axis=1, keepdims=True), horizon, np.array([mean * 0.5]), 6.0)
    swing = usual
    if whole.error is not None:
        pieces = sum(one.pieces for one in asked) / weeks * horizon
        second = sum(size**2 * share for size, share in of_all.items())
        beyond = max(whole.error**2 - pieces * second / mean, 0) / pieces**2
        stretches = weeks / horizon
        swing = ((10 * usual**2 + stretches * beyond) / (10 + stretches)) ** 0.5
    assert found.swing == pytest.approx(swing)


def test_how_busy_a_week_is_goes_by_its_middle_day() -> None:
    """Wednesday the 28th of January: its week's fourth day is the 31st, the next week's the 7th of February."""
    some = Expected((), tuple(float(month) for month in range(1, 13)), 0)
    assert some.season(date(2026, 1, 28), 2) == [1, 2]
    assert some.season(date(2026, 1, 29), 2) == [2, 2]
    assert some.season(date(2026, 12, 28), 2) == [12, 1]


def test_a_shop_that_expects_nothing_has_shares_all_the_same() -> None:
    """Of nothing, each none."""
    nothing = PatternDemand("pen", 0.0, 1.0, {1: 1.0}, {("", "oak", None): 1.0}, "", 0)
    assert Expected((nothing,), LEVEL, 0).shares() == {("pen", ("", "oak", None)): 0.0}
