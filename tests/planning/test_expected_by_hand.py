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


def past(weeks: int, seed: int, loud: float = 1.0, moody: float = 0.0, burst: int = 0) -> list[AskedFor]:
    """Orders of one or four pieces of two patterns, in December so many times as many, in ten weeks of twenty more.

    burst: orders of the second one in a week in the middle.
    """
    dice, done = np.random.RandomState(seed), []
    for back in range(weeks):
        day = TODAY - timedelta(days=7 * back + 3)
        times = (loud if day.month == 12 else 1.0) * (1 + moody * (back // 10 % 2))
        for name, rate in (("pen", 2.0), ("stopper", 0.4)):
            done += [
                AskedFor(day, name, "", "oak", 4 if dice.uniform() < 0.25 else 1)
                for _ in range(
                    dice.poisson(rate * times) + burst * (name == "stopper" and back == weeks // 2)
                )
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
    ("weeks", "seed", "loud", "moody", "burst"),
    [
        *((40, 5, 1, 0, 0), (40, 8, 1, 0, 0), (40, 5, 1, 2, 0), (156, 5, 4, 0, 0)),
        *((156, 5, 9, 1, 0), (9, 5, 1, 0, 0), (60, 5, 1, 0, 400)),
    ],
)
def test_how_well_rates_and_times_are_known(
    weeks: int, seed: int, loud: float, moody: float, burst: int
) -> None:
    """σ² = μ E[s²] + (μ E[s])² / r over the horizon, solved for r, at most as sure as what was seen and believed of it;

    1 / r + 0.3, r no less than 0.1. Of the whole shop: what misses show beyond chance, and as much as ten more
    stretches the usual.
    """
    horizon = 4
    asked = past(weeks, seed, loud, moody, burst)
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
        assert one.shape == pytest.approx(1 / (1 / max(learned, 0.1) + 0.3))
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


def test_a_shop_whose_weeks_are_all_alike_misses_nothing_beyond_chance() -> None:
    """An order a week for forty: ten stretches of four weeks with no more than chance, ten of the usual 0.2."""
    asked = [AskedFor(TODAY - timedelta(days=7 * back), "pen", "", "oak", 1) for back in range(40)]
    assert expected(asked, COULD, TODAY, 4).swing == pytest.approx((10 * 0.2**2 / 20) ** 0.5)


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


def test_what_is_believed_of_shops_without_a_past() -> None:
    """Half an order a week over all patterns, worth six weeks: 1.5 orders of each of two, of forty at least 0.1."""
    for patterns, known in ((2, 1.5), (40, 0.1)):
        could = {str(at): [("", "oak", None)] for at in range(patterns)}
        (one, *_) = expected([], could, TODAY, 4).patterns
        assert one.shape == pytest.approx(1 / (1 / known + 0.3))
        assert one.orders == pytest.approx(0.5 / patterns)
    assert expected([], {}, TODAY, 4).patterns == ()


def test_a_kind_nobody_ordered_yet_is_as_likely_as_its_plating_and_its_blank() -> None:
    """Of another pattern two in chrome and oak, one in gold and ash: (2 + 1) (2 + 1), (2 + 1) (1 + 1), (0 + 1) …"""
    asked = [AskedFor(TODAY, "stopper", "chrome", "oak", 1) for _ in range(2)]
    asked.append(AskedFor(TODAY, "stopper", "gold", "ash", 1))
    weights = {
        ("chrome", "oak", "gel"): 3 * 3,
        ("chrome", "ash", "oak"): 3 * 2,
        ("gold", "oak", None): 2 * 3,
        ("steel", "elm", None): 1 * 1,
    }
    found = expected(asked, {"pen": list(weights)}, TODAY, 4).patterns[0].kinds
    assert found == pytest.approx({kind: weight / sum(weights.values()) for kind, weight in weights.items()})
