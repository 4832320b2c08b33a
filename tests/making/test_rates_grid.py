"""The grid of what sessions say: its weights by plain integration, its lattice by published constants."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import integrate, stats

from inventory.making.rates.design import LEAST_ERROR, design
from inventory.making.rates.interval import HELD, above, shortest
from inventory.making.rates.learning import learn
from inventory.making.rates.model import Observation
from inventory.making.rates.points import points_of
from inventory.making.rates.posterior import PosteriorGrid, RateMixture, lattice, marginal, posterior
from inventory.making.rates.priors import BELIEFS, HANDS_DIFFER, USUAL_HAND, Prior

SEEN = [
    Observation(1, 13.0, {"piece": 20.0}, 0.5),
    Observation(2, 42.0, {"piece": 60.0}, 0.5, many=2),
    Observation(3, 5.0, {"piece": 10.0}, 1.0),
]
GOLDEN = 1.618033988749894
"""The golden ratio (OEIS A001622)."""
PLASTIC = 1.324717957244746
"""The real root of x³ = x + 1 (OEIS A060006)."""


@pytest.mark.cross_check
def test_each_point_of_the_grid_weighs_what_the_sessions_say_of_it() -> None:
    """p(κ)·p(τ)·p(α) times the sessions' density there, over all rates of 0 and more, by Simpson's rule."""
    system = design(SEEN, {"piece": Prior(0.5)})
    grid = posterior(system)
    beliefs = {(width, centre): share for width, centre, share in BELIEFS}
    expected, rates = [], np.linspace(0.0, 40.0, 8001)
    for width, centre, tau, power in zip(grid.widening, grid.centre, grid.scatter, grid.power, strict=True):
        sd = np.sqrt(system.error**2 + tau**2 * system.many * system.shape ** (2 * power))
        middle = float(centre * system.prior[0])
        guess = stats.truncnorm(-middle / width, np.inf, middle, width)

        told = np.sum(stats.norm.logpdf(system.used, system.matrix[:, 0] * rates[:, None], sd), axis=1)
        whole = integrate.simpson(np.exp(told) * guess.pdf(rates), x=rates)
        believed = math.exp(-0.5 * (math.log(tau / USUAL_HAND) / HANDS_DIFFER) ** 2)
        expected.append(beliefs[width, centre] * believed * {0.0: 0.3, 1.0: 0.7}[power] * whole)
    assert grid.weight == pytest.approx(np.array(expected) / sum(expected), rel=1e-5)
    assert len(expected) > 30


@pytest.mark.cross_check
def test_before_any_session_the_grid_says_what_is_believed() -> None:
    """Three parts in five as the sheet claims, and so on; of two rates as of one, to what a lattice is right."""
    for priors in ({"piece": Prior(0.5)}, {"piece": Prior(0.5), "session": Prior(3.0)}):
        grid = posterior(design([], priors))
        for width, centre, share in BELIEFS:
            here = (grid.widening == width) & (grid.centre == centre)
            assert grid.weight[here].sum() == pytest.approx(share, rel=1e-6)
        assert set(grid.scatter) == {0.0}


@pytest.mark.cross_check
@pytest.mark.parametrize("index", [0, 1])
def test_one_rate_of_two_by_summing_over_the_other(index: int) -> None:
    """Of two rates that go against each other, both cut off below 0: scipy's joint density summed on a fine grid."""
    mean, cover = np.array([0.4, 1.0]), np.array([[1.0, -0.6], [-0.6, 2.0]])
    one = np.ones(1)
    grid = PosteriorGrid(one, one, one, one, one[:, None], one, mean[None], cover[None])
    at = np.linspace(0.0, 9.0, 901)
    places = np.stack(np.meshgrid(at, at, indexing="ij"), axis=-1)
    density = np.asarray(stats.multivariate_normal(mean, cover).pdf(places)).sum(axis=1 - index)
    whole = integrate.simpson(density, x=at)
    for point in (0.3, 0.9, 1.8, 3.0):
        beyond = integrate.simpson(density[at >= point - 1e-9], x=at[at >= point - 1e-9]) / whole
        assert above(marginal(grid, index), np.array([point])) == pytest.approx(beyond, abs=0.004)


@pytest.mark.outside
def test_the_lattice_goes_by_the_golden_ratio_and_its_kin() -> None:
    """Equal steps first; beside them one over the golden ratio, or over the plastic number and its square."""
    at = np.arange(5)
    assert lattice(1, 5) == pytest.approx(np.array([(0.5 + at) / 5]))
    assert lattice(2, 5)[1] == pytest.approx((0.5 + at / GOLDEN) % 1)
    assert lattice(3, 5)[1:] == pytest.approx(
        np.array([(0.5 + at / PLASTIC) % 1, (0.5 + at / PLASTIC**2) % 1])
    )
    assert lattice(0, 3).shape == (0, 3)
    found = stats.qmc.discrepancy(lattice(3, 96).T)
    dice = np.random.default_rng(1)
    assert found < min(stats.qmc.discrepancy(dice.random((96, 3))) for _ in range(20)) / 2


@pytest.mark.outside
@pytest.mark.parametrize("sd", [1e-3, 1e-5])
def test_a_rate_that_is_known_closely_has_a_close_interval(sd: float) -> None:
    """Far from 0 the ends of a normal by scipy.stats.norm, to a hundredth of its width; so beside another, too."""
    half = sd * stats.norm.ppf((1 + HELD) / 2)
    one = RateMixture(np.array([1.0]), np.array([10.0]), np.array([sd]))
    assert shortest(one) == pytest.approx((10 - half, 10 + half), abs=0.02 * half)


def test_sessions_of_a_design_are_told_in_ordinary_ones() -> None:
    """The unit is the middle use of a session; what two used together is shaped as one of them, and weighed so well."""
    one = Observation(1, 10.0, {"piece": 20.0}, 0.1)
    two = Observation(2, 20.0, {"piece": 40.0}, 0.0, many=2)
    large = Observation(3, 33.0, {"piece": 60.0}, 0.5)
    system = design([one, two, large], {"piece": Prior(0.5, 0.5)})
    assert system.unit == 10.0
    assert system.used == pytest.approx([1.0, 2.0, 3.3])
    assert system.error == pytest.approx([0.01, LEAST_ERROR, 0.05])
    assert system.shape == pytest.approx(np.array([10.0, 10.0, 30.0]) / (60 / 4))
    assert (system.matrix[:, 0] * system.prior[0]) == pytest.approx([1.0, 2.0, 3.0])
    nothing = design([Observation(1, 0.0, {"piece": 20.0}, 0.1)], {"piece": Prior(0.5, 0.5)})
    assert nothing.unit == 10.0  # where nothing was used: what was expected
    tiny = design([large, Observation(4, 0.1, {"piece": 0.2}, 0.1)], {"piece": Prior(0.5, 0.5)})
    assert tiny.shape == pytest.approx([30 / 15.05, 0.1])
    empty = design([], {"piece": Prior(0.5, 0.5)})
    assert (empty.unit, empty.matrix.shape, len(empty.used)) == (1.0, (0, 1), 0)


def test_what_is_ordinary_is_the_mean_of_what_was_written() -> None:
    """Half a unit a piece, 20 and 60 pieces and two sessions of 40 together: 15 a session."""
    seen = [
        Observation(1, 10.0, {"piece": 20.0}, 0.1),
        Observation(2, 30.0, {"piece": 60.0}, 0.1),
        Observation(3, 20.0, {"piece": 40.0}, 0.1, many=2),
    ]
    learned = learn(seen, {"piece": Prior(0.5)})
    assert learned.known.ordinary == pytest.approx(60 / 4)
    assert learned.rates["piece"].sessions == 4


@pytest.mark.cross_check
def test_points_of_two_rates_have_their_means_and_deviations() -> None:
    """Of both rates by the marginals, which are summed another way; the hand is that of the grid, a little wilder."""
    seen = [
        Observation(i, 0.5 * n + 3.0 + 0.2 * (-1) ** i, {"piece": float(n), "session": 1.0}, 0.1)
        for i, n in enumerate((5, 30, 12, 22, 8, 17))
    ]
    system = design(seen, {"piece": Prior(0.5), "session": Prior(3.0)})
    grid = posterior(system)
    points = points_of(system, grid, ["piece", "session"])
    for index, per in enumerate(("piece", "session")):
        one = marginal(grid, index)
        cut = stats.truncnorm(-one.mean / one.sd, np.inf, one.mean, one.sd)
        mean = float(one.weight @ cut.mean())
        spread = math.sqrt(float(one.weight @ (cut.var() + (cut.mean() - mean) ** 2)))
        drawn = np.array([point.factors[per] for point in points]) / system.sds[index]
        assert drawn.mean() == pytest.approx(mean, abs=0.12 * spread)
        assert drawn.std() == pytest.approx(spread, rel=0.25)
