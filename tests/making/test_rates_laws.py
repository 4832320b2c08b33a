"""What must hold for the rates of any shop whatever."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.making.rates.learning import learn
from inventory.making.rates.model import Observation
from inventory.making.rates.priors import Prior
from making.rate_shop import session, shop

SEEDS = st.integers(0, 10_000)


@given(SEEDS, st.integers(0, 12), st.floats(0, 0.5))
@examples(25)
def test_estimates_lie_in_their_intervals(seed: int, sessions: int, scatter: float) -> None:
    """0 ≤ low ≤ estimate ≤ high, all plain finite numbers, in any shop."""
    seen = shop(seed, sessions, {"piece": 0.4, "session": 1.0}, scatter)
    learned = learn(seen, {"piece": Prior(0.5), "session": Prior(3.0)})
    for rate in learned.rates.values():
        assert 0.0 <= rate.low <= rate.estimate <= rate.high < math.inf
        assert type(rate.estimate) is type(rate.low) is type(rate.high) is float
    assert type(learned.scatter) is float


ODD = st.sampled_from([0.0, 1e-9, 1.0, 10.0, 1e6])


@given(
    st.lists(
        st.tuples(
            st.sampled_from([0.0, 1e-9, 5.0, -5.0, 1e7, -1e6]),
            ODD,
            ODD,
            ODD,
            st.sampled_from([0.0, 0.1, 1e6]),
        ),
        max_size=9,
    ),
    st.lists(
        st.tuples(st.sampled_from([0.0, 1e-6, 0.5, 1e6]), st.sampled_from([0.01, 0.5, 3.0])),
        min_size=3,
        max_size=3,
    ),
)
@examples(20)
def test_absurd_numbers_still_give_rates(
    rows: list[tuple[float, float, float, float, float]], guesses: list[tuple[float, float]]
) -> None:
    """Slips of the pen by powers of ten, all at once, give wide intervals, never a crash or a warning."""
    pers = ("piece", "barrel", "session")
    seen = [
        Observation(i, used, dict(zip(pers, made, strict=True)), error)
        for i, (used, *made, error) in enumerate(rows)
    ]
    priors = {per: Prior(value, spread, 0.1) for per, (value, spread) in zip(pers, guesses, strict=True)}
    for rate in learn(seen, priors).rates.values():
        assert 0.0 <= rate.low <= rate.estimate <= rate.high < math.inf


@given(SEEDS, st.randoms(use_true_random=False))
@examples(12)
def test_the_order_of_sessions_is_irrelevant(seed: int, dice: random.Random) -> None:
    """Sessions given in another order teach exactly the same."""
    seen = shop(seed, 9, {"piece": 0.4, "session": 1.0})
    priors = {"piece": Prior(0.5), "session": Prior(3.0)}
    before = learn(seen, priors)
    dice.shuffle(seen)
    assert learn(seen, priors) == before


@given(SEEDS)
@examples(12)
def test_a_session_without_exposure_changes_nothing(seed: int) -> None:
    """A bottle weighed in a session that made nothing with it teaches nothing about its rates."""
    seen = shop(seed, 6, {"piece": 0.4})
    priors = {"piece": Prior(0.5)}
    idle = [session(90, 3.0, piece=0.0), session(91, 0.2)]
    assert learn([*seen, *idle], priors) == learn(seen, priors)


@given(SEEDS, st.sampled_from([0.001, 29.5735, 1000.0]))
@examples(12)
def test_another_unit_gives_the_same_rates(seed: int, scale: float) -> None:
    """Weighing in grams, ounces or kilograms scales rates and intervals, and nothing else."""
    seen = shop(seed, 8, {"piece": 0.4, "session": 1.0})
    other = [Observation(s.session, s.used * scale, s.exposure, s.error * scale) for s in seen]
    rates = learn(seen, {"piece": Prior(0.5), "session": Prior(3.0)}).rates
    scaled = learn(other, {"piece": Prior(0.5 * scale), "session": Prior(3.0 * scale)}).rates
    for per, rate in rates.items():
        ends = [scaled[per].estimate / scale, scaled[per].low / scale, scaled[per].high / scale]
        assert ends == pytest.approx([rate.estimate, rate.low, rate.high], rel=1e-6, abs=1e-9)


def test_more_sessions_narrow_the_intervals_on_average() -> None:
    """Over twelve shops the mean width falls from none to 3, 10 and 32 sessions."""
    priors = {"piece": Prior(0.5), "session": Prior(3.0)}
    means = []
    for sessions in (0, 3, 10, 32):
        learned = [learn(shop(i, sessions, {"piece": 0.6, "session": 2.0}), priors).rates for i in range(12)]
        means.append([sum(each[per].high - each[per].low for each in learned) / 12 for per in priors])
    for per in range(2):
        widths = [each[per] for each in means]
        assert widths == sorted(widths, reverse=True)
        assert widths[-1] < widths[0] / 2
