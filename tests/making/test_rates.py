"""Use rates learned from sessions: published fits, library references, and shops one can follow by hand."""

from __future__ import annotations

import math
import random
import subprocess
import sys

import numpy as np
import pytest
from scipy import optimize, stats

from inventory.errors import BadInput
from inventory.making.rates.design import nonnegative_fit
from inventory.making.rates.learning import learn
from inventory.making.rates.model import Observation
from inventory.making.rates.priors import NINE_IN_TEN, Prior
from making.rate_shop import session, shop

PUBLISHED = np.array([[0.0372, 0.2869], [0.6861, 0.7071], [0.6233, 0.6245], [0.6344, 0.6170]])
WANTED = np.array([0.8587, 0.1781, 0.0747, 0.8405])
NONE = np.zeros(2)


@pytest.mark.outside
def test_published_non_negative_fit() -> None:
    """A numerical package's published example of non-negative least squares (read): x = (0, .6929), residual .9118."""
    found = nonnegative_fit(PUBLISHED, WANTED, np.ones(4), NONE, NONE)
    assert found == pytest.approx([0.0, 0.6929], abs=5e-5)
    assert math.dist(PUBLISHED @ found, WANTED) == pytest.approx(0.9118, abs=5e-5)


@pytest.mark.outside
def test_published_fit_with_prior_rows() -> None:
    """The same with prior rows √.5·I and √.5·(.2, .4) gives (.05690237, .57469181), as numpy's lstsq does."""
    found = nonnegative_fit(PUBLISHED, WANTED, np.ones(4), np.array([0.2, 0.4]), np.full(2, math.sqrt(0.5)))
    assert found == pytest.approx([0.05690237, 0.57469181], abs=5e-9)
    stacked = np.vstack([PUBLISHED, math.sqrt(0.5) * np.eye(2)])
    right = np.concatenate([WANTED, math.sqrt(0.5) * np.array([0.2, 0.4])])
    assert found == pytest.approx(np.linalg.lstsq(stacked, right, rcond=None)[0], abs=1e-12)


@pytest.mark.outside
@pytest.mark.parametrize("seed", range(8))
def test_weighted_fit_agrees_with_a_bounded_solver(seed: int) -> None:
    """Weights and prior rows on random systems, by the trust-region solver scipy.optimize.lsq_linear."""
    dice = np.random.default_rng(seed)
    matrix, wanted, prior = dice.normal(size=(7, 3)), dice.normal(size=7), dice.uniform(0, 1, 3)
    weights, firmness = dice.uniform(0.2, 3, 7), dice.uniform(0.1, 1, 3)
    stacked = np.vstack([matrix * weights[:, None], np.diag(firmness)])
    right = np.concatenate([wanted * weights, prior * firmness])
    bounded = optimize.lsq_linear(stacked, right, bounds=(0, np.inf), tol=1e-13)
    assert nonnegative_fit(matrix, wanted, weights, prior, firmness) == pytest.approx(bounded.x, abs=1e-5)


def test_a_vague_guess_leaves_least_squares() -> None:
    """Where the first guess says nothing, the estimate is the ordinary least-squares fit (numpy's lstsq)."""
    seen = [
        session(i, used, piece=n, session=1) for i, (used, n) in enumerate([(9, 10), (16.5, 20), (24, 30)])
    ]
    rates = learn(seen, {"piece": Prior(0.5, 1000.0), "session": Prior(2.0, 1000.0)}).rates
    fit = np.linalg.lstsq(np.array([[10.0, 1], [20, 1], [30, 1]]), np.array([9.0, 16.5, 24]), rcond=None)[0]
    assert [rates["piece"].estimate, rates["session"].estimate] == pytest.approx(fit, rel=0.02)


def test_no_session_leaves_the_guess() -> None:
    """Without any weighing the estimate is the first guess and its interval about what the guess claims."""
    rate = learn([], {"piece": Prior(2.0, 0.5)}).rates["piece"]
    assert (rate.estimate, rate.prior, rate.sessions) == (2.0, 2.0, 0)
    assert 0.0 <= rate.low <= 1.0
    assert 5.0 <= rate.high <= 8.0  # one sheet in three is off upwards


def test_a_shop_of_its_own_is_learned() -> None:
    """Sixteen sessions at .8 per piece and 5 per session move guesses of .5 and 3 most of the way."""
    learned = learn(
        shop(7, 16, {"piece": 0.8, "session": 5.0}, 0.03), {"piece": Prior(0.5), "session": Prior(3.0)}
    )
    assert learned.rates["piece"].estimate == pytest.approx(0.8, abs=0.08)
    assert learned.rates["session"].estimate == pytest.approx(5.0, abs=1.5)
    assert learned.rates["piece"].sessions == 16
    assert learned.scatter == pytest.approx(0.03 * 21, rel=0.6)


def test_a_sheet_ten_times_off_is_overruled() -> None:
    """Eight sessions outweigh a sheet that was ten times too low, however sure it claims to be."""
    rate = learn(shop(3, 8, {"piece": 1.0}), {"piece": Prior(0.1, 0.5)}).rates["piece"]
    assert rate.estimate == pytest.approx(1.0, rel=0.1)
    assert rate.low <= 1.0 <= rate.high


def test_sessions_all_alike_leave_the_parts_to_the_guess() -> None:
    """Ten pieces every time: the total is known well, its parts hardly better than before."""
    seen = [session(i, 10.0 + 0.1 * (-1) ** i, piece=10, session=1) for i in range(8)]
    priors = {"piece": Prior(0.5, 0.5), "session": Prior(4.0, 0.5)}
    rates = learn(seen, priors).rates
    piece, pot = rates["piece"], rates["session"]
    assert 10 * piece.estimate + pot.estimate == pytest.approx(10.0, rel=0.02)
    # the share of each part in the surplus of 1 is that of its prior's variance: (10 · .25)² to 2²
    assert pot.estimate - 4.0 == pytest.approx(4 / (4 + 6.25), rel=0.15)
    assert 10 * (piece.high - piece.low) > 2.0
    assert pot.high - pot.low > 2.0
    varied = [
        session(i, 4 + 0.6 * n, piece=n, session=1) for i, n in enumerate((5, 10, 15, 20, 25, 30, 12, 8))
    ]
    apart = learn(varied, priors).rates["session"]
    assert apart.high - apart.low < (pot.high - pot.low) / 2


def test_a_pinned_rate_is_kept_and_the_rest_learned() -> None:
    """A pinned rate is its own interval; what it accounts for is subtracted before the rest is learned."""
    seen = shop(5, 8, {"piece": 0.6, "session": 4.0})
    priors = {"session": Prior(3.0), "piece": Prior(0.5)}
    learned = learn(seen, priors, {"session": 4.0})
    pin = learned.rates["session"]
    assert (pin.estimate, pin.low, pin.high, pin.pinned, pin.sessions, pin.prior) == (
        4.0,
        4.0,
        4.0,
        True,
        0,
        3.0,
    )
    rest = [session(i, each.used - 4.0, piece=each.exposure["piece"]) for i, each in enumerate(seen)]
    assert learned.rates["piece"] == learn(rest, {"piece": Prior(0.5)}).rates["piece"]
    assert list(learned.rates) == list(priors)


def test_all_rates_pinned() -> None:
    """With nothing left to learn the pins are the answer, even for a guess without spread."""
    learned = learn(shop(1, 8, {"piece": 1.0}), {"piece": Prior(0.0, 0.0)}, {"piece": 0.0})
    assert learned.rates["piece"].estimate == 0.0
    assert (learned.scatter, learned.outliers) == (0.0, ())


def test_nothing_used_is_a_rate_of_nothing() -> None:
    """A supply that never gets lighter has a rate near 0, with 0 in its interval."""
    seen = [session(i, 0.0, piece=10 + i) for i in range(8)]
    rate = learn(seen, {"piece": Prior(0.5)}).rates["piece"]
    assert rate.low == 0.0
    assert rate.estimate < rate.high < 0.02


def test_weights_that_grew_give_no_negative_rate() -> None:
    """Bottles heavier after than before (topped up every time) still give a rate of 0 or more."""
    seen = [session(i, -50.0 - i, piece=10, session=1) for i in range(8)]
    for rate in learn(seen, {"piece": Prior(0.5), "session": Prior(1.0)}).rates.values():
        assert 0.0 <= rate.low <= rate.estimate <= rate.high


def test_a_counted_supply_has_no_error() -> None:
    """Strips are counted, not weighed; an error of 0 is no certainty about a session."""
    seen = [session(i, 10.0, error=0.0, piece=10) for i in range(6)]
    rate = learn(seen, {"piece": Prior(0.5)}).rates["piece"]
    assert rate.estimate == pytest.approx(1.0, rel=0.01)
    assert rate.low < 1.0 < rate.high


def test_a_margin_lets_a_guess_of_nothing_learn() -> None:
    """A per-session part the sheet does not know starts at 0 with a margin and is found."""
    seen = shop(11, 16, {"piece": 0.5, "session": 6.0}, 0.02)
    rate = learn(seen, {"piece": Prior(0.5), "session": Prior(0.0, margin=3.0)}).rates["session"]
    assert rate.low <= 6.0 <= rate.high
    assert rate.estimate > 4.0
    assert Prior(0.0, margin=3.0).sd == pytest.approx(3.0 / NINE_IN_TEN)


def test_three_kinds_of_use_at_once() -> None:
    """Per piece, barrel and session together: over twenty shops most intervals hold their rates."""
    truth = {"piece": 0.5, "barrel": 0.3, "session": 2.0}
    held = []
    for seed in range(20):
        dice = random.Random(seed)
        seen = []
        for i in range(16):
            exposure = {"piece": dice.randint(5, 30), "barrel": dice.randint(5, 60), "session": 1}
            used = sum(truth[per] * n for per, n in exposure.items()) + dice.gauss(0, 0.5)
            seen.append(Observation(f"weekend {i}", used, exposure, 0.1))
        rates = learn(seen, {"piece": Prior(0.4), "barrel": Prior(0.4), "session": Prior(2.5)}).rates
        assert rates["barrel"].estimate == pytest.approx(0.3, abs=0.06)
        held += [rates[per].low <= rate <= rates[per].high for per, rate in truth.items()]
    assert sum(held) >= 48


@pytest.mark.parametrize(
    ("seen", "priors", "pinned", "says"),
    [
        ([session(1, math.nan, piece=1)], {"piece": Prior(1.0)}, {}, "Session 1: nan cannot have been used"),
        ([session(1, 1.0, -1.0, piece=1)], {"piece": Prior(1.0)}, {}, "an error of -1"),
        ([session(1, 1.0, math.inf, piece=1)], {"piece": Prior(1.0)}, {}, "an error of inf"),
        ([session(1, 1.0, piece=-2)], {"piece": Prior(1.0)}, {}, "-2 per piece"),
        ([session(1, 1.0, barrel=2)], {"piece": Prior(1.0)}, {}, "nothing is known of a rate per barrel"),
        ([session(1, 1.0), session(1, 2.0)], {"piece": Prior(1.0)}, {}, "given twice"),
        ([], {"piece": Prior(-1.0)}, {}, "first guess of the rate per piece is not"),
        ([], {"piece": Prior(1.0, math.nan)}, {}, "first guess of the rate per piece is not"),
        ([], {"piece": Prior(0.0)}, {}, "leaves nothing to learn"),
        ([], {"piece": Prior(1.0)}, {"barrel": 1.0}, "no rate per barrel to pin"),
        ([], {"piece": Prior(1.0)}, {"piece": -1.0}, "-1 per piece cannot be pinned"),
    ],
)
def test_refusals(
    seen: list[Observation], priors: dict[str, Prior], pinned: dict[str, float], says: str
) -> None:
    """Numbers that cannot be are refused in a sentence, with what to do."""
    with pytest.raises(BadInput, match=says) as refusal:
        learn(seen, priors, pinned)
    assert refusal.value.hint


def test_a_rate_is_read_without_numpy() -> None:
    """Commands that only use rates and losses never load the numerical libraries."""
    code = (
        "import sys; from inventory.making.rates.learning import *; from inventory.making.losses.learned import *; "
        "learn([], {'piece': Prior(1.0)}, {'piece': 2.0}); "
        "sys.exit(any(name in sys.modules for name in ('numpy', 'scipy')))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@pytest.mark.outside
def test_a_guess_is_half_right_where_nobody_said_how_far() -> None:
    """Nine in ten within half of it: its deviation is that over the 95 % point of scipy's normal."""
    point = stats.norm.ppf(0.95)
    assert pytest.approx(point, rel=1e-15) == NINE_IN_TEN
    assert Prior(2.0).sd == pytest.approx(1.0 / point)
    assert Prior(2.0, 0.25, 0.5).sd == pytest.approx(1.0 / point)
    assert Observation(1, 2.0, {}, 0.1).many == 1
