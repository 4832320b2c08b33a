"""Forecasts of intermittent demand: published equations by hand, and what they must do on demand that is known."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest

from inventory.ledger.asked import AskedFor
from inventory.planning.demand.expected import expected
from inventory.planning.demand.season import NONE, indexes
from inventory.planning.demand.weeks import weekly
from inventory.planning.forecasting.averages import mean, poisson_gamma, smoothing
from inventory.planning.forecasting.choosing import METHODS, PLAIN, choose
from inventory.planning.forecasting.croston import croston, syntetos_boylan, teunter_syntetos_babai
from inventory.planning.futures import courses
from inventory.planning.predictive import compound, enough
from inventory.planning.windows import lasting, taken_of

NINE = np.array([[0.0], [3], [0], [4], [0], [0], [0], [2], [0]])
TODAY = date(2026, 11, 28)


@pytest.mark.outside
def test_croston_as_an_independent_library_says() -> None:
    """Nine periods, smoothing 0.3, first interval the mean of all: as intermittent-forecast 1.0.0 has it."""
    theirs = [1.125, 1.125, 1.33783784, 1.33783784, 1.33783784, 1.33783784, 0.99430524, 0.99430524]
    ours = croston(NINE, 0.3, np.array([8 / 3]))[:, 0]
    assert ours[:2].tolist() == [0, 0]
    assert ours[2:] == pytest.approx(theirs, abs=5e-9)
    assert syntetos_boylan(NINE, 0.3, np.array([8 / 3]))[:, 0] == pytest.approx(0.85 * ours)


@pytest.mark.cross_check
def test_chances_and_sizes_apart() -> None:
    """Teunter, Syntetos and Babai by hand: the chance moves every week, the size only with a demand."""
    seen = np.array([[2.0], [0], [4]])
    assert teunter_syntetos_babai(seen, 0.5, 0.2)[:, 0] == pytest.approx([0, 2, 1.6, (0.8 + 0.2 * 0.2) * 3])
    begun = teunter_syntetos_babai(seen, 0.5, 0.2, np.array([0.5]), np.array([1.0]))[:, 0]
    assert begun[:2] == pytest.approx([0.5, (0.5 + 0.2 * 0.5) * 1.5])


def test_plain_averages() -> None:
    """The mean, smoothing, and a believed rate that what is seen moves."""
    seen = np.array([[2.0], [4]])
    assert mean(seen)[:, 0] == pytest.approx([0, 2, 3])
    assert smoothing(seen, 0.5)[:, 0] == pytest.approx([0, 2, 3])
    assert poisson_gamma(seen, np.array([5.0]), 2.0)[:, 0] == pytest.approx([5, 4, 4])


@pytest.mark.outside
def test_gamma_poisson_of_a_textbook() -> None:
    """Johnson, Ott and Dogucu, Bayes Rules!, ch. 5: Gamma(10, 2) with 6, 2, 2, 1 has mean 3.5 (from memory)."""
    counts = np.array([[6.0], [2], [2], [1]])
    assert poisson_gamma(counts, np.array([5.0]), 2.0)[-1, 0] == pytest.approx(3.5)


def test_the_method_that_was_nearest_is_taken() -> None:
    """Demand that dies away is forecast by what forgets; steady demand by the plain mean; a short past by belief."""
    dice = np.random.RandomState(3)
    steady = dice.poisson(2.0, size=(120, 1)).astype(float)
    gone = np.vstack([dice.poisson(6.0, size=(60, 1)), np.zeros((60, 1))])
    (one,) = choose(steady, 4, np.array([2.0]), 6.0)
    (other,) = choose(gone, 4, np.array([2.0]), 6.0)
    assert one.rate == pytest.approx(2.0, abs=0.35)
    assert other.method != PLAIN
    assert other.rate < 1
    (short,) = choose(steady[:5], 4, np.array([2.0]), 6.0)
    assert short.error is None


def test_a_season_is_believed_when_a_second_year_shows_it() -> None:
    """Three loud Decembers are seen; noise of the same size without a season is none; a single year shows nothing."""
    last = date(2026, 12, 31)
    months = [(last - timedelta(days=7 * (155 - at) + 3)).month for at in range(156)]
    loud = [9.0 if month == 12 else 3.0 for month in months]
    found = indexes(loud, last)
    assert found[11] > 1.8
    assert indexes(loud[-60:], last) == NONE
    assert max(indexes([3.0] * 156, last)) == pytest.approx(1, abs=0.01)


def test_no_season_is_believed_that_the_last_year_does_not_bear_out() -> None:
    """A flat year before tells no index that could be; a loud month that is as usual now would have misled.

    Where the last year brought one piece, or none, what little there is decides: whether it came in the loud month.
    """
    last = date(2026, 12, 31)
    months = [(last - timedelta(days=7 * (103 - at) + 3)).month for at in range(104)]
    loud, flat, none = [9.0 if month == 12 else 3.0 for month in months[:52]], [3.0] * 52, [0.0] * 52
    assert indexes(flat + loud, last) == NONE
    assert indexes(loud + flat, last) == NONE
    assert indexes(loud + none, last) == NONE
    assert indexes(loud + loud, last) != NONE
    assert indexes((loud + loud)[1:], last) == NONE  # a week less than two years
    december, june = (months[52:].index(month) for month in (12, 6))
    for week, believed in ((december, True), (june, False)):
        one = [float(at == week) for at in range(52)]
        assert (indexes(loud + one, last) != NONE) is believed


@pytest.mark.cross_check
def test_the_law_of_pieces_is_that_of_many_draws() -> None:
    """Rates from a gamma law, orders by Poisson, sizes one by one: 200,000 of them beside the recursion."""
    sizes, dice = (0.5, 0.3, 0.0, 0.2), np.random.default_rng(5)
    rates = 1.7 * dice.gamma(2.5, 1 / 2.5, 200_000)
    drawn = sum((s + 1) * dice.poisson(rates * share) for s, share in enumerate(sizes))
    law = compound(1.7, 2.5, sizes, 40)
    for pieces in range(8):
        assert law[pieces] == pytest.approx(float(np.mean(drawn == pieces)), abs=0.004)
    assert enough(law, 0.9) == int(np.sort(drawn)[int(0.9 * 200_000)])


def test_courses_are_what_is_expected_and_a_seed_is_one_course() -> None:
    """Two years of Saturdays with an order each: about that many pieces, every one of a kind that was asked for."""
    asked = [
        AskedFor(
            TODAY - timedelta(days=7 * back), "pen", "chrome" if back % 3 else "gold", "walnut", 1 + back % 2
        )
        for back in range(104)
    ]
    looked = expected(asked, {"pen": [("chrome", "walnut", None), ("gold", "walnut", None)]}, TODAY, 4)
    (one,) = looked.patterns
    assert one.pieces == pytest.approx(1.5, abs=0.15)
    assert one.kinds["chrome", "walnut", None] == pytest.approx(2 / 3, abs=0.05)
    drawn = courses(looked, TODAY, 26, 400, seed=7)
    assert drawn.pieces.sum() / 400 / 26 == pytest.approx(one.pieces, rel=0.05)
    assert (courses(looked, TODAY, 26, 400, seed=7).pieces == drawn.pieces).all()
    assert (courses(looked, TODAY, 26, 400, seed=8).pieces != drawn.pieces).any()


def test_what_lasts_is_a_quantile_over_late_parcels() -> None:
    """One piece a week in every course: two weeks and half of a third take two and a half; the late ones decide."""
    from inventory.planning.futures import Courses

    drawn = Courses((("pen", ("chrome", "walnut", None)),), np.ones((1, 10, 4), dtype=np.int32))
    taken = taken_of(drawn, {0: 2.0}, (1.0,))
    assert lasting(taken, 17.5, (0,), 0.9) == pytest.approx((5.0, 2.5))
    assert lasting(taken, 14, (0, 0, 0, 14), 0.75)[0] == pytest.approx(4)
    assert lasting(taken, 14, (0, 0, 0, 14), 0.9)[0] == pytest.approx(8)
    assert lasting(taken, 14, (0,), 0.0)[0] == 0


def test_a_short_past_is_what_was_believed_and_then_seen() -> None:
    """Five weeks of one demand each: (6 · 2 + 5) / (6 + 5); eight origins are enough to choose, seven are not."""
    (short,) = choose(np.ones((5, 1)), 4, np.array([2.0]), 6.0)
    assert short.rate == pytest.approx(17 / 11)
    assert choose(np.ones((12, 1)), 4, np.array([2.0]), 6.0)[0].error is not None
    assert choose(np.ones((11, 1)), 4, np.array([2.0]), 6.0)[0].error is None


def test_a_series_of_nothing_is_forecast_beside_others() -> None:
    """No demand at all has no error to be measured by, and is expected to go on so."""
    none, some = choose(np.hstack([np.zeros((40, 1)), np.ones((40, 1))]), 4, np.array([1.0, 1.0]), 6.0)
    assert none.rate < some.rate


def test_a_method_is_called_by_what_it_smooths_with() -> None:
    """The numbers in its name."""
    name = "Teunter, Syntetos and Babai, 0.1, 0.05"
    assert METHODS[name](NINE) == pytest.approx(teunter_syntetos_babai(NINE, alpha=0.1, beta=0.05))
    assert METHODS["smoothing, 0.1"](NINE) == pytest.approx(smoothing(NINE, alpha=0.1))
    assert METHODS["Croston, 0.1"](NINE) == pytest.approx(croston(NINE, alpha=0.1))
    for share in (0.1, 0.2):
        assert METHODS[f"Syntetos and Boylan, {share}"](NINE) == pytest.approx(
            syntetos_boylan(NINE, alpha=share)
        )


def test_weeks_leave_out_what_is_of_others_or_still_to_come() -> None:
    """A pattern nobody named, and a day after today."""
    asked = [
        AskedFor(TODAY, "Pen", "chrome", "walnut", 2),
        AskedFor(TODAY - timedelta(days=8), "pen", "chrome", "walnut", 1),
        AskedFor(TODAY, "stopper", "chrome", "walnut", 5),
        AskedFor(TODAY + timedelta(days=1), "pen", "chrome", "walnut", 7),
    ]
    found = weekly(asked, ["pen"], TODAY)
    assert found.pieces[:, 0].tolist() == [1, 2]
    assert found.orders[:, 0].tolist() == [1, 1]


def test_what_is_told_is_what_the_method_says_after_the_last_week() -> None:
    """Not what it said a week before; its error is the root of its own mean square."""
    series = np.array([[0.0, 3, 1], [2, 0, 1], [0, 0, 1], [5, 1, 0]] * 9 + [[7, 2, 3]])
    every = {name: method(series)[-1] for name, method in METHODS.items()}
    every["believed, then learned"] = poisson_gamma(series, np.ones(3), 6.0)[-1]
    for at, one in enumerate(choose(series, 4, np.ones(3), 6.0)):
        assert one.rate == every[one.method][at]


def test_ten_years_are_looked_back_on() -> None:
    """The oldest week of 520 is in, the one before it is not, nor does it move the others."""
    days = (0, 7 * 519 + 6, 7 * 520)
    found = weekly(
        [AskedFor(TODAY - timedelta(days=one), "pen", "", "oak", 2) for one in days], ["pen"], TODAY
    )
    assert (found.many, found.pieces.sum(), found.orders.sum()) == (520, 4, 2)
    assert (found.pieces[0, 0], found.pieces[-1, 0]) == (2, 2)
    assert (found.orders[0, 0], found.orders[-1, 0]) == (1, 1)
    assert found.begins(519) == TODAY - timedelta(days=6)
    assert found.begins(0) == TODAY - timedelta(days=7 * 519 + 6)
