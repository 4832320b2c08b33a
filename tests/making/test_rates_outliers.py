"""Sessions that belong to another story are named, and no others."""

from __future__ import annotations

import numpy as np
import pytest

from inventory.making.rates.design import Design, design
from inventory.making.rates.learning import learn
from inventory.making.rates.model import Observation
from inventory.making.rates.outliers import ordinary, studentised
from inventory.making.rates.priors import NINE_IN_TEN, Prior

ROSNER = (
    "-0.25 0.68 0.94 1.15 1.20 1.26 1.26 1.34 1.38 1.43 1.49 1.49 1.55 1.56 1.58 1.65 1.69 1.70 1.76 1.77 1.81 "
    "1.91 1.94 1.96 1.99 2.06 2.09 2.10 2.14 2.15 2.23 2.24 2.26 2.35 2.37 2.40 2.47 2.54 2.62 2.64 2.90 2.92 "
    "2.92 2.93 3.21 3.26 3.30 3.59 3.68 4.30 4.64 5.34 5.42 6.01"
)
PIECES = (10.0, 14, 18, 22, 26, 30, 12, 20)
NOISE = (0.2, -0.3, 0.4, -0.1, -0.5, 0.3, 0.1, -0.2)


def sessions(wrong: dict[int, float]) -> list[Observation]:
    """Eight sessions at 2 and .5 per piece with a little noise; some multiplied by a mistake."""
    used = [(2 + 0.5 * n + e) * wrong.get(i, 1.0) for i, (n, e) in enumerate(zip(PIECES, NOISE, strict=True))]
    return [
        Observation(i, u, {"piece": n, "session": 1}, 0.1)
        for i, (n, u) in enumerate(zip(PIECES, used, strict=True))
    ]


PRIORS = {"piece": Prior(0.5), "session": Prior(2.0)}


def _location(values: list[float]) -> Design:
    """Repeated measurements of one number, as sessions of one piece each."""
    seen = [Observation(i, value, {"piece": 1.0}, 0.0) for i, value in enumerate(values)]
    return design(seen, {"piece": Prior(2.0)})


def test_a_use_nobody_expects_counts_as_its_margin() -> None:
    """Two pieces at one each, and a session of none give or take one: expected 2 and 1, so shapes 4/3 and 2/3."""
    seen = [Observation(0, 1.0, {"piece": 2.0}, 0.1), Observation(1, 1.0, {"session": 1.0}, 0.1)]
    system = design(seen, {"piece": Prior(1.0), "session": Prior(0.0, margin=NINE_IN_TEN)})
    assert system.shape == pytest.approx([4 / 3, 2 / 3])
    # One expected to use a hundredth of what the other does scatters as if it were a tenth of the mean.
    little = [Observation(at, 1.0, {"piece": many}, 0.1) for at, many in enumerate((100.0, 1.0))]
    assert design(little, {"piece": Prior(1.0)}).shape == pytest.approx([100 / 50.5, 0.1])


@pytest.mark.outside
def test_published_outliers() -> None:
    """NIST/SEMATECH e-Handbook 1.3.5.17.3 (Rosner's 54 values, α .05): exactly the three largest (from memory)."""
    values = [float(word) for word in ROSNER.split()]
    assert len(values) == 54
    left_out = [
        value for value, good in zip(values, ordinary(_location(values), 0.05), strict=True) if not good
    ]
    assert left_out == [5.34, 5.42, 6.01]


@pytest.mark.outside
def test_published_test_statistics() -> None:
    """The same page: R = 3.118, 2.942, 3.179, 2.810, 2.815 as values are taken away (from memory).

    R is |value − mean|/s with the value still in s; |t| without it follows by t² = R²·n(n − 2)/((n − 1)² − nR²).
    """
    values = sorted(float(word) for word in ROSNER.split())
    for published in (3.118, 2.942, 3.179, 2.810, 2.815):
        n = len(values)
        deviates, freedom = studentised(_location(values))
        assert freedom == n - 2
        t = float(deviates.max())
        assert (n - 1) * t / np.sqrt(n * (n - 2 + t * t)) == pytest.approx(published, abs=1e-3)
        values.pop(int(deviates.argmax()))


def test_studentised_residuals_by_leaving_out() -> None:
    """|t| equals the deviation from a fit without the session over its standard error, done the long way."""
    system = design(sessions({}), PRIORS)
    grown = np.maximum(system.shape, system.shape**2)
    variance = system.error**2 + 0.1**2 * grown
    deviates, freedom = studentised(system)
    assert freedom == 8 - 2 - 1
    for i in range(8):
        rest = np.arange(8) != i
        rows = system.matrix[rest] / np.sqrt(variance[rest])[:, None]
        right = system.used[rest] / np.sqrt(variance[rest])
        fit, residuals, *_ = np.linalg.lstsq(rows, right, rcond=None)
        least = max(system.error[i] ** 2, 0.02**2 * grown[i]) / variance[i]
        spread = max(float(residuals[0]) / freedom, least)
        reach = system.matrix[i] @ np.linalg.inv(rows.T @ rows) @ system.matrix[i]
        expected = abs(system.used[i] - system.matrix[i] @ fit) / np.sqrt(spread * (variance[i] + reach))
        assert deviates[i] == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("wrong", "named"),
    [({}, ()), ({3: 28.35}, (3,)), ({0: -1.0}, (0,)), ({2: 5.0, 5: 5.0}, (2, 5)), ({1: 0.0, 4: 0.1}, (1, 4))],
    ids=["none", "grams for ounces", "topped up", "two that hide each other", "two forgotten"],
)
def test_mistakes_are_named_and_not_used(wrong: dict[int, float], named: tuple[int, ...]) -> None:
    """A session off by a mistake is named, on every rate it had part in, and the rates are those without it."""
    learned = learn(sessions(wrong), PRIORS)
    assert learned.outliers == named
    assert learned.rates["piece"].outliers == named
    assert learned.rates["piece"].sessions == 8 - len(named)
    assert learned.rates["piece"].estimate == pytest.approx(0.5, abs=0.05)


def test_only_rates_concerned_name_an_outlier() -> None:
    """A rate that had no part in an odd session does not name it."""
    plain = [Observation(i, 5.0 + 0.1 * (i % 3), {"piece": 10.0}, 0.1) for i in range(8)]
    odd = Observation("odd", 90.0, {"piece": 10.0}, 0.1)
    other = [Observation(f"b{i}", 3.0 + 0.1 * i, {"barrel": 10.0}, 0.1) for i in range(3)]
    rates = learn([*plain, odd, *other], {"piece": Prior(0.5), "barrel": Prior(0.3)}).rates
    assert rates["piece"].outliers == ("odd",)
    assert rates["barrel"].outliers == ()


def test_never_more_than_a_quarter() -> None:
    """Where four of eight are wild, at most two are left out."""
    learned = learn(sessions({0: 9.0, 2: 40.0, 4: 15.0, 6: 70.0}), PRIORS)
    assert len(learned.outliers) <= 2


def test_fewer_than_five_are_all_used() -> None:
    """Of four sessions none can be told from the others."""
    seen = [Observation(i, used, {"piece": 10.0}, 0.1) for i, used in enumerate((5.0, 5.1, 4.9, 500.0))]
    assert learn(seen, {"piece": Prior(0.5)}).outliers == ()


def test_five_sessions_of_four_rates_are_all_used() -> None:
    """Too few sessions for the number of rates leave nothing to measure residuals by."""
    seen = [Observation(i, 5.0 + i**3, {f"per {i % 4}": 1.0 + i, "session": 1.0}, 0.1) for i in range(5)]
    priors = {**{f"per {i}": Prior(1.0) for i in range(4)}, "session": Prior(1.0)}
    assert learn(seen, priors).outliers == ()


def test_the_only_session_of_its_kind_is_kept() -> None:
    """A session that alone tells of a rate cannot contradict the others."""
    seen = [Observation(i, 5.0, {"piece": 10.0}, 0.1) for i in range(6)]
    learned = learn(
        [*seen, Observation("barrels", 77.0, {"barrel": 10.0}, 0.1)],
        {"piece": Prior(0.5), "barrel": Prior(0.5)},
    )
    assert learned.outliers == ()
    assert learned.rates["barrel"].estimate > 2.0


def test_agreement_by_luck_makes_no_outlier() -> None:
    """Weighings that agree to the last digit do not make one a hundredth off an outlier."""
    seen = [Observation(i, 10.0 if i else 10.1, {"piece": 10.0}, 0.0) for i in range(8)]
    assert learn(seen, {"piece": Prior(1.0)}).outliers == ()


def test_a_maker_unlike_the_sheet_has_no_outlier() -> None:
    """Sessions are held against each other, not against the first guess."""
    assert learn(sessions({}), {"piece": Prior(0.01), "session": Prior(50.0)}).outliers == ()


def test_good_sessions_are_seldom_named() -> None:
    """In 400 shops without a mistake about one in two hundred loses a session."""
    dice = np.random.default_rng(4)
    named = 0
    for _ in range(400):
        used = 2 + 0.5 * np.array(PIECES) + dice.normal(size=8)
        seen = [
            Observation(i, float(u), {"piece": n, "session": 1}, 0.1)
            for i, (n, u) in enumerate(zip(PIECES, used, strict=True))
        ]
        named += not ordinary(design(seen, PRIORS)).all()
    assert named <= 8
