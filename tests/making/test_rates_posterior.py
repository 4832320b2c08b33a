"""Intervals against brute force on a fine grid, Student's t, and plain truncated normals."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy import special, stats
from searching import examples

from inventory.making.rates.design import design
from inventory.making.rates.interval import HELD, above, shortest
from inventory.making.rates.learning import learn
from inventory.making.rates.model import Observation
from inventory.making.rates.points import points_of
from inventory.making.rates.posterior import RateMixture, log_inside, marginal, posterior
from inventory.making.rates.priors import BELIEFS, HANDS_DIFFER, USUAL_HAND, Prior


def mixture(*parts: tuple[float, float, float]) -> RateMixture:
    """A mixture of (weight, mean, deviation)."""
    weight, mean, sd = (np.array(column) for column in zip(*parts, strict=True))
    return RateMixture(weight, mean, sd)


@pytest.mark.outside
@pytest.mark.parametrize(("mean", "sd"), [(5.0, 1.0), (0.5, 1.0), (-3.0, 1.0), (-20.0, 2.0), (0.0, 0.01)])
def test_a_cut_off_normal_by_the_library(mean: float, sd: float) -> None:
    """P(rate > point) is scipy.stats.truncnorm's, and the interval holds as much of it as it should."""
    one = mixture((1.0, mean, sd))
    library = stats.truncnorm(-mean / sd, np.inf, mean, sd)
    points = library.ppf([0.01, 0.3, 0.7, 0.99])
    assert above(one, points) == pytest.approx(library.sf(points), rel=1e-9)
    low, high = shortest(one)
    assert library.cdf(high) - library.cdf(low) == pytest.approx(HELD, abs=2e-3)


def test_the_shortest_interval_far_from_nothing_is_the_usual_one() -> None:
    """A normal well above 0 gets its mean ± so many deviations as hold that share of it."""
    half = 2.0 * stats.norm.ppf((1 + HELD) / 2)
    assert shortest(mixture((1.0, 50.0, 2.0))) == pytest.approx((50 - half, 50 + half), abs=0.1)


def test_the_shortest_interval_near_nothing_starts_at_nothing() -> None:
    """A distribution piled up at 0 gets an interval that holds 0; so does one within 1.3 deviations of it."""
    for mean in (-2.0, 0.0, 1.0):
        assert shortest(mixture((1.0, mean, 1.0)))[0] == 0.0
    assert shortest(mixture((1.0, 1.6, 1.0)))[0] > 0.0


def test_a_narrow_part_beside_a_wide_one() -> None:
    """The interval finds a peak a thousandth as wide as the rest."""
    low, high = shortest(mixture((0.95, 10.0, 0.01), (0.05, 10.0, 10.0)))
    assert 9.9 < low < 10.0 < high < 10.1


@pytest.mark.outside
@pytest.mark.parametrize("correlation", [-0.95, -0.4, 0.0, 0.8])
def test_the_chance_of_two_rates_being_positive(correlation: float) -> None:
    """P(both ≥ 0) by the arcsine law for a centred pair (Sheppard 1898; from memory): 1/4 + asin(ρ)/2π."""
    cover = np.array([[[1.0, correlation], [correlation, 1.0]]])
    expected = 0.25 + math.asin(correlation) / (2 * math.pi)
    assert math.exp(log_inside(np.zeros((1, 2)), cover)[0]) == pytest.approx(expected, rel=0.02, abs=2e-3)


@pytest.mark.outside
def test_the_chance_of_three_rates_being_positive() -> None:
    """P(all three ≥ 0) for a centred triple (from memory): 1/8 + (asin ρ12 + asin ρ13 + asin ρ23)/4π."""
    cover = np.array([[[1.0, -0.5, 0.2], [-0.5, 1.0, 0.3], [0.2, 0.3, 1.0]]])
    expected = 0.125 + sum(map(math.asin, (-0.5, 0.2, 0.3))) / (4 * math.pi)
    assert math.exp(log_inside(np.zeros((1, 3)), cover)[0]) == pytest.approx(expected, rel=0.02)


@pytest.mark.outside
@pytest.mark.parametrize("sessions", [6, 12, 30])
def test_a_vague_guess_gives_students_t(sessions: int) -> None:
    """Without weighing error or a firm guess the interval is mean ± t·s/√n (scipy.stats.t), to a seventh.

    Sessions differ by as much as is usual, so that what is believed of hands says nothing new.
    """
    used = 10.0 + 3.0 * np.random.default_rng(sessions).normal(size=sessions)
    seen = [Observation(i, float(u), {"session": 1.0}, 0.0) for i, u in enumerate(used)]
    rate = learn(seen, {"session": Prior(10.0, 50.0)}).rates["session"]
    half = stats.t.ppf((1 + HELD) / 2, sessions - 1) * used.std(ddof=1) / math.sqrt(sessions)
    assert (rate.low + rate.high) / 2 == pytest.approx(used.mean(), abs=0.15 * half)
    assert (rate.high - rate.low) / 2 == pytest.approx(half, rel=0.15)


@pytest.mark.parametrize(
    "truth", [(0.5, 3.0), (0.6, 0.1), (0.05, 4.0)], ids=["both", "no pot", "hardly per piece"]
)
def test_intervals_by_brute_force(truth: tuple[float, float]) -> None:
    """The model of the module summed over a fine grid of rates, κ, τ and α: the interval holds what it says."""
    dice = np.random.default_rng(9)
    pieces = np.array([12.0, 25, 18, 30, 10, 22])
    used = truth[0] * pieces + truth[1] + dice.normal(size=6)
    seen = [
        Observation(i, float(u), {"piece": float(n), "session": 1.0}, 0.3)
        for i, (n, u) in enumerate(zip(pieces, used, strict=True))
    ]
    priors = {"piece": Prior(0.5), "session": Prior(3.0)}
    system = design(seen, priors)
    rates = learn(seen, priors).rates
    axes = [np.linspace(0, top, 161) for top in (5.0, 8.0)]  # in prior deviations
    axes[0] = np.linspace(0, rates["piece"].high / system.sds[0] * 2, 161)
    axes[1] = np.linspace(0, rates["session"].high / system.sds[1] * 2.5, 161)
    joint = np.zeros((161, 161))
    residual = system.used - (
        axes[0][:, None, None] * system.matrix[:, 0] + axes[1][None, :, None] * system.matrix[:, 1]
    )
    for kappa, centre, chance in BELIEFS:
        guess = np.ones((161, 161))
        for axis, each in enumerate(axes):
            density = np.exp(-0.5 * ((each - centre * system.prior[axis]) / kappa) ** 2) / kappa
            density /= special.ndtr(centre * system.prior[axis] / kappa)
            guess = guess * (density[:, None] if axis == 0 else density[None, :])
        for tau in np.geomspace(1e-3, 4.0, 60):
            believed = math.exp(-0.5 * (math.log(tau / USUAL_HAND) / HANDS_DIFFER) ** 2)
            for power, often in ((0.0, 0.3), (1.0, 0.7)):
                variance = system.error**2 + tau**2 * system.shape ** (2 * power)
                likelihood = np.exp(-0.5 * (residual**2 / variance + np.log(variance)).sum(axis=2))
                joint += chance * often * believed * guess * likelihood
    for axis, per in enumerate(priors):
        share = joint.sum(axis=1 - axis)
        share /= share.sum()
        below = np.cumsum(share) - share / 2
        ends = np.array([rates[per].low, rates[per].high]) / system.sds[axis]
        held = np.interp(ends, axes[axis], below, left=0.0)
        assert held[1] - (held[0] if ends[0] > 0 else 0.0) == pytest.approx(HELD, abs=0.015)


@given(st.lists(st.tuples(st.floats(0.01, 1), st.floats(-3, 20), st.floats(-9, 2)), min_size=1, max_size=5))
@example([(1.0, 4.0, -6.0), (0.0625, 0.0, 0.0)])  # a needle that once lay just beyond the end
@examples(35)
def test_any_mixture_has_an_interval(parts: list[tuple[float, float, float]]) -> None:
    """Peaks and feet of any width: what lies between the ends is nine tenths or hardly less."""
    whole = sum(weight for weight, _, _ in parts)
    one = mixture(*((weight / whole, mean, 10.0**power) for weight, mean, power in parts))
    low, high = shortest(one)
    assert 0.0 <= low <= high
    margin = 0.02 * (high - low)
    inside = above(one, np.array([max(0.0, low - margin), high + margin]))
    assert inside[0] - inside[1] >= 0.88


def test_marginals_are_whole() -> None:
    """The weights of every marginal add up to 1, and the grid's too."""
    seen = [Observation(i, 10.0 + i, {"a": 10.0 + i, "b": 5.0, "c": 1.0}, 0.1) for i in range(4)]
    grid = posterior(design(seen, {"a": Prior(0.5), "b": Prior(1.0), "c": Prior(2.0)}))
    assert grid.weight.sum() == pytest.approx(1.0)
    for index in range(3):
        assert marginal(grid, index).weight.sum() == pytest.approx(1.0)


def test_what_a_weighing_scatters_by() -> None:
    """error² + τ²·many·shape^2α at every point of the grid: α = 1 in proportion to what was expected, 0 the same."""
    seen = [
        Observation(1, 10.0, {"piece": 10.0}, 0.5),
        Observation(2, 42.0, {"piece": 40.0}, 0.5),
        Observation(3, 55.0, {"piece": 60.0}, 1.0, many=3),
    ]
    system = design(seen, {"piece": Prior(1.0)})
    assert len({float(one) for one in system.shape}) == 3
    grid = posterior(system)
    assert set(grid.power) == {0.0, 1.0}
    for tau, power, variance in zip(grid.scatter, grid.power, grid.variance, strict=True):
        grows = system.shape * system.shape if power == 1.0 else np.ones(3)
        expected = system.error * system.error + tau * tau * system.many * grows
        assert variance == pytest.approx(expected, rel=1e-12)


def test_points_lie_in_the_middles_of_what_is_believed() -> None:
    """One rate that may be next to nothing: the points are the middles of equal shares of its skew distribution."""
    seen = [Observation(i, used, {"session": 1.0}, 1.0) for i, used in enumerate((0.0, 0.1, 0.3, 1.0))]
    system = design(seen, {"session": Prior(0.5, 5.0)})
    grid = posterior(system)
    points = points_of(system, grid, ["session"])
    rates = np.array([one.factors["session"] for one in points]) / system.sds[0]
    reached = 1.0 - above(marginal(grid, 0), rates)
    assert reached == pytest.approx((np.arange(len(points)) + 0.5) / len(points), abs=0.02)
