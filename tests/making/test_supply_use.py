"""What a session will use of a supply: against scipy's lognormal, and simulations of all that is believed."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from searching import examples

from inventory.making.rates.learning import learn
from inventory.making.rates.model import Observation
from inventory.making.rates.priors import (
    BELIEFS,
    HANDS_DIFFER,
    NINE_IN_TEN,
    USUAL_HAND,
    Prior,
    factor_quantile,
)
from inventory.making.supply_use import (
    _GOLDEN,
    POINTS,
    Doubt,
    KnownUse,
    Point,
    doubt,
    few,
    first_guess,
    from_intervals,
    pinned_points,
)
from making.rate_shop import session, shop

GUESS = first_guess((("piece", 1.0, 0.5),))
AFTER = [learn(shop(many, many, {"piece": 0.4}), {"piece": Prior(0.5)}).known for many in (0, 1, 4)]


def one_point(hand: float, *, steady: bool = False, ordinary: float = 0.0, **factors: float) -> KnownUse:
    """Factors and a hand as if they were known exactly."""
    return KnownUse((Point(factors, hand, steady),), ordinary)


@pytest.mark.outside
def test_known_rates_leave_a_lognormal() -> None:
    """Of mean 12 and a relative deviation of 0.3: scipy.stats.lognorm's cdf and quantiles."""
    use = doubt(one_point(0.3, piece=1.2), {"piece": 1.0}, {})
    spread = math.sqrt(math.log1p(0.09))
    library = stats.lognorm(spread, scale=12 / math.sqrt(1.09))
    assert library.mean() == pytest.approx(12)
    assert library.std() == pytest.approx(0.3 * 12)
    for there in (0.5, 8.0, 12.0, 16.0, 40.0):
        assert use.within(there, 10.0) == pytest.approx(library.cdf(there), abs=1e-12)
    for level in (0.05, 0.5, 0.9, 0.99):
        assert use.quantile([(10.0, 1.0)], level) == pytest.approx(library.ppf(level), rel=1e-4)


def test_a_hand_without_doubt() -> None:
    """Nothing is uncertain: yes or no, at just the mean yes."""
    use = doubt(one_point(0.0, piece=2.0, session=3.0), {"piece": 0.5}, {"session": 1.0})
    assert use.within(13.0, 10.0) == 1.0  # 2 · 0.5 · 10 + 3
    assert use.within(12.999, 10.0) == 0.0
    assert use.within(-1.0, 10.0) == 0.0
    assert use.quantile([(10.0, 1.0)], 0.9) == pytest.approx(13.0, rel=1e-4)


def test_nothing_asked_is_nothing_used() -> None:
    """What no bill asks for is enough where nothing is there."""
    use = doubt(GUESS, {"piece": 1.0}, {})
    assert use.within(0.0, 0.0) == 1.0
    assert use.quantile([(0.0, 1.0)], 0.9) == 0.0
    assert use.quantile([], 0.9) == 0.0


def test_a_steady_hand_weighs_on_small_sessions() -> None:
    """The same millilitres more or less: a session of a tenth differs ten times as much, of double half as much."""
    known = one_point(0.1, steady=True, ordinary=100.0, piece=1.0)
    use, plain = doubt(known, {"piece": 1.0}, {}), doubt(one_point(0.2, piece=1.0), {"piece": 1.0}, {})
    assert use.within(60.0, 50.0) == pytest.approx(plain.within(60.0, 50.0))
    assert use.within(110.0, 100.0) > plain.within(110.0, 100.0)
    unknown = doubt(one_point(0.2, steady=True, piece=1.0), {"piece": 1.0}, {})
    assert unknown.within(60.0, 50.0) == plain.within(60.0, 50.0)  # of no ordinary session it is what it is


def test_half_a_chance_of_no_use_is_enough_for_a_half() -> None:
    """Of two ways one uses nothing: nothing suffices with 50 %, and what suffices with 75 % is the other's middle."""
    use = Doubt(((0.0, 0.0, 0.3, False), (1.0, 0.0, 0.3, False)), (1.0, 0.0), 0.0)
    assert use.quantile([(10.0, 1.0)], 0.5) == 0.0
    assert use.within(0.0, 10.0) == 0.5
    assert use.quantile([(10.0, 1.0)], 0.75) == pytest.approx(10 / math.sqrt(1.09), rel=1e-4)
    for many in range(2, 13):  # as sure as a number can say: something, though it may be a quotient of just 1
        use = Doubt((*((0.0, 0.0, 0.3, False),) * (many - 1), (1.0, 0.0, 0.3, False)), (1.0, 0.0), 0.0)
        assert 10 < use.quantile([(10.0, 1.0)], 1 - 2**-53) < 100


@pytest.mark.outside
def test_no_hand_is_taken_for_wilder_than_three_times() -> None:
    """Five times what is expected is as three times: scipy.stats.lognorm of mean 10 and deviation 30."""
    library = stats.lognorm(math.sqrt(math.log(10)), scale=10 / math.sqrt(10))
    for hand in (3.0, 5.0):
        use = doubt(one_point(hand, piece=1.0), {"piece": 1.0}, {})
        assert use.within(4.0, 10.0) == pytest.approx(library.cdf(4.0), abs=1e-9)


@pytest.mark.outside
def test_what_is_guessed_apart_is_shuffled_by_powers_of_one_root() -> None:
    """Of x⁵ = x + 1 by numpy's roots, as even sequences in four dimensions are made (from memory)."""
    (root,) = (one.real for one in np.roots([1, 0, 0, 0, -1, -1]) if abs(one.imag) < 1e-12)
    assert pytest.approx(root ** -np.arange(1.0, 5.0)) == _GOLDEN
    first = first_guess((("piece", 1.0, 0.5), ("session", 2.0, 0.5)))
    assert (first.ordinary, {point.steady for point in first.points}) == (0.0, {False})
    assert {round(point.factors["session"] / 2, 9) for point in first.points} == {
        round(point.factors["piece"], 9) for point in first.points
    }


def test_the_whole_amount_that_is_enough() -> None:
    """Thousandths rounded up, but not for what the quantile itself is not known to."""
    sure = doubt(one_point(0.0, piece=1.0), {"piece": 1.0}, {})
    assert [sure.enough([(many, 1.0)], 0.9) for many in (1000.0, 1000.005, 50_000.0)] == [1000, 1000, 50_000]
    assert sure.enough([(1000.5, 1.0)], 0.9) == 1001


@pytest.mark.cross_check
def test_pieces_unknown_too_by_simulation() -> None:
    """Draw the pieces, the point and the hand 200,000 times: the share that sufficed is the chance, to 0.004."""
    known = learn(
        shop(3, 6, {"piece": 0.7, "session": 4.0}), {"piece": Prior(0.5), "session": Prior(3.0)}
    ).known
    use = doubt(known, {"piece": 1.0}, {"session": 1.0})
    pieces = [(8.0, 0.2), (10.0, 0.5), (14.0, 0.3)]
    dice = np.random.default_rng(11)
    which = dice.integers(POINTS, size=200_000)
    many = dice.choice([8.0, 10.0, 14.0], p=[0.2, 0.5, 0.3], size=len(which))
    asked = many + 1.0
    means = np.array([[p.factors["piece"], p.factors["session"]] for p in known.points])[which]
    hands = np.array([p.hand for p in known.points])[which]
    steady = np.array([p.steady for p in known.points])[which]
    hands = np.minimum(np.where(steady, hands * known.ordinary / asked, hands), 3.0)
    spread = np.sqrt(np.log1p(hands**2))
    used = (means[:, 0] * many + means[:, 1]) * np.exp(spread * dice.normal(size=len(which)) - spread**2 / 2)
    for level in (0.5, 0.8, 0.9, 0.95):
        enough = use.quantile(pieces, level)
        assert np.mean(used <= enough) == pytest.approx(level, abs=0.004)
        assert use.probability(enough, pieces) == pytest.approx(level, abs=1e-3)


@pytest.mark.cross_check
@pytest.mark.parametrize("many", [40_000, pytest.param(400_000, marks=pytest.mark.soak)])
@pytest.mark.parametrize("spreads", [(0.5,), (0.5, 0.75), (0.5, 0.5, 0.75)])
def test_the_first_guess_by_drawing_from_what_is_believed(spreads: Sequence[float], many: int) -> None:
    """So many sheets and hands drawn from the words of `beliefs`: to 5 %, with three rates to 8."""
    dice = np.random.default_rng(4)
    total = np.zeros(many)
    for spread in spreads:
        width, centre, weight = (np.array(column) for column in zip(*BELIEFS, strict=True))
        which = dice.choice(len(BELIEFS), p=weight, size=many)
        sd = width[which] * spread / NINE_IN_TEN
        total += stats.truncnorm.ppf(dice.random(many), -centre[which] / sd, np.inf, centre[which], sd)
    spread = np.sqrt(
        np.log1p(np.minimum(USUAL_HAND * np.exp(HANDS_DIFFER * dice.normal(size=many)), 3.0) ** 2)
    )
    used = total * np.exp(spread * dice.normal(size=many) - spread**2 / 2)
    known = first_guess(tuple((f"p{i}", 1.0, spread) for i, spread in enumerate(spreads)))
    use = doubt(known, {f"p{i}": 1.0 for i in range(len(spreads))}, {})
    for level in (0.5, 0.8, 0.9):
        assert use.quantile([(1.0, 1.0)], level) == pytest.approx(
            np.quantile(used, level), rel=0.08 if len(spreads) > 2 else 0.05
        )


@pytest.mark.outside
def test_quantiles_of_a_first_guess_by_the_library() -> None:
    """The mixture of cut-off normals by scipy.stats.truncnorm."""
    for level in (0.05, 0.5, 0.9):
        factor = factor_quantile(level, 0.5)
        below = 0.0
        for width, centre, weight in BELIEFS:
            sd = width * 0.5 / NINE_IN_TEN
            below += weight * stats.truncnorm.cdf(factor, -centre / sd, np.inf, centre, sd)
        assert below == pytest.approx(level, abs=1e-9)


@pytest.mark.cross_check
def test_points_tell_what_the_posterior_tells() -> None:
    """Nine tenths of the points lie where the interval is, and their middle is the estimate."""
    seen = shop(8, 12, {"piece": 0.6, "session": 4.0})
    learned = learn(seen, {"piece": Prior(0.5), "session": Prior(3.0)})
    for per, rate in learned.rates.items():
        factors = np.array([point.factors[per] for point in learned.known.points])
        inside = np.mean((factors >= rate.low) & (factors <= rate.high))
        assert 0.8 <= inside <= 1.0
        assert np.median(factors) == pytest.approx(rate.estimate, abs=0.25 * (rate.high - rate.low))
    assert learned.known.ordinary == pytest.approx(
        np.mean([0.5 * one.exposure["piece"] + 3.0 for one in seen])
    )
    hands = [point.hand for point in learned.known.points]
    assert 0.05 < float(np.median(hands)) < 0.2  # sessions differ by a tenth


def test_sessions_make_it_surer() -> None:
    """The 90 % quantile over the median comes down with every few sessions."""
    found = []
    for many in (0, 2, 6, 30):
        seen = [session(i, 10.0 + (i % 3 - 1), piece=20.0) for i in range(many)]
        use = doubt(learn(seen, {"piece": Prior(0.5)}).known, {"piece": 2.0}, {})
        found.append(use.quantile([(1.0, 1.0)], 0.9) / use.quantile([(1.0, 1.0)], 0.5))
    assert found == sorted(found, reverse=True)
    assert found[0] > 2.0
    assert found[-1] < 1.3


def test_a_pinned_factor_is_sure_and_the_hand_is_not() -> None:
    """Every point has it; sessions go on to differ."""
    known = learn([session(1, 9.0, piece=10.0)], {"piece": Prior(0.5)}, {"piece": 0.8}).known
    assert {point.factors["piece"] for point in known.points} == {0.8}
    assert 0.2 < doubt(known, {"piece": 1.0}, {}).within(8.0, 10.0) < 0.8
    assert pinned_points(GUESS, {"piece": 2.0}).points[3].factors == {"piece": 2.0}


def test_only_an_interval_is_kept() -> None:
    """A book of an earlier version: 1.2 (1 to 1.5) is taken for two halves of normals."""
    known = from_intervals(GUESS, {"piece": (1.0, 1.2, 1.5)})
    factors = np.sort([point.factors["piece"] for point in known.points])
    assert np.median(factors) == pytest.approx(1.2, abs=0.02)
    assert factors[1] == pytest.approx(1.0, abs=0.02)
    assert factors[-2] == pytest.approx(1.5, abs=0.03)
    assert [point.hand for point in known.points] == [point.hand for point in GUESS.points]
    levels = stats.norm.ppf((np.arange(POINTS) + 0.5) / POINTS) / stats.norm.ppf(0.95)
    assert factors == pytest.approx(1.2 + levels * np.where(levels > 0, 0.3, 0.2), abs=1e-9)
    none = from_intervals(GUESS, {"piece": (0.0, 0.1, 1.0)})
    assert min(point.factors["piece"] for point in none.points) == 0.0


@given(
    st.integers(0, 2),
    st.lists(st.tuples(st.floats(0, 1e6), st.floats(0.01, 1)), min_size=1, max_size=5),
    st.floats(0.02, 0.99),
)
@examples(15)
def test_quantile_and_chance_are_each_others_inverse(
    sessions: int, amounts: list[tuple[float, float]], level: float
) -> None:
    """The quantile suffices with its level, a little less does not; more there is never less likely to suffice."""
    whole = sum(weight for _, weight in amounts)
    amounts = [(amount, weight / whole) for amount, weight in amounts]
    use = doubt(AFTER[sessions], {"piece": 1.0}, {})
    enough = use.quantile(amounts, level)
    assert use.probability(enough, amounts) >= level - 1e-9
    if enough > 1e-6:
        assert use.probability(0.99 * enough, amounts) < level
    probabilities = [use.probability(there, amounts) for there in (0.0, 0.5 * enough, enough, 2 * enough)]
    assert probabilities == sorted(probabilities)


@pytest.mark.parametrize("level", [0.02, 0.5, 0.9, 0.99])
def test_the_quantile_is_known_to_a_hundred_thousandth(level: float) -> None:
    """Steady and wild hands mixed: the law is steep here and flat there, and what is found is no more than enough."""
    hands = (0.01, 0.05, 0.3, 1.0, 3.0)
    use = Doubt(
        tuple((4.0 if at % 2 == 0 else 1.0, 0.0, hand, False) for at, hand in enumerate(hands)), (1, 0), 0
    )
    enough = use.quantile([(10.0, 1.0)], level)
    assert use.within(enough, 10.0) >= level > use.within(enough * (1 - 2e-5), 10.0)


def test_many_more_sessions_change_nothing_of_the_shape() -> None:
    """The order of observations does not matter to the points."""
    seen = shop(2, 7, {"piece": 0.6, "session": 2.0})
    priors = {"piece": Prior(0.5), "session": Prior(3.0)}
    assert learn(seen, priors).known == learn(seen[::-1], priors).known
    assert isinstance(seen[0], Observation)


def test_many_amounts_are_told_by_four_of_equal_odds() -> None:
    """Five of a fifth each: 1 and a quarter of 2, then what is left of 2 and half of 3, and so on to 5."""
    told = few([(amount, 0.2) for amount in (5.0, 1.0, 4.0, 2.0, 3.0)])
    assert [share for _, share in told] == pytest.approx([0.25] * 4)
    assert [amount for amount, _ in told] == pytest.approx([1.2, 2.4, 3.6, 4.8])
    assert few([(2.0, 0.5), (1.0, 0.5)]) == [(1.0, 0.5), (2.0, 0.5)]
    four = [(1.0, 0.1), (2.0, 0.2), (3.0, 0.3), (4.0, 0.4)]
    assert few(four) == four


@pytest.mark.parametrize("there", [0.0, 5.0])
def test_no_probability_is_over_one(there: float) -> None:
    """Nine ways that use nothing, a ninth each: certain, though nine of the machine's ninths are a hair over 1."""
    assert Doubt(((0.0, 0.0, 0.3, False),) * 9, (1.0, 0.0), 0.0).within(there, 1.0) == 1.0
