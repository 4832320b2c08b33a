"""Which method is chosen for a series, asked again in plain loops."""

from __future__ import annotations

import numpy as np
import pytest

from inventory.planning.forecasting.averages import poisson_gamma
from inventory.planning.forecasting.choosing import METHODS, PLAIN, choose


@pytest.mark.cross_check
@pytest.mark.parametrize("seed", range(12))
def test_the_method_whose_own_and_whole_errors_together_are_least(seed: int) -> None:
    """(n · own + 20 · whole) / (n + 20), errors as shares of the plain mean's, n the weeks with a demand."""
    dice = np.random.RandomState(seed)
    weeks, horizon = 24 + 4 * seed, 1 + seed % 4
    rates = np.array([0.15, 0.5, 1.5, 4.0])
    busier = 1 + seed % 3 * (np.arange(weeks) > 12)[:, None]
    demand = np.array(dice.poisson(rates * dice.gamma(1, 1, size=(weeks, 4)) * busier), dtype=np.float64)
    said = {name: method(demand) for name, method in METHODS.items()}
    said["believed, then learned"] = poisson_gamma(demand, rates, 6.0)

    def error(name: str, at: int) -> float:
        origins = range(1, weeks - horizon + 1)
        misses = [demand[t : t + horizon, at].sum() - horizon * said[name][t, at] for t in origins]
        return float(sum(one**2 for one in misses) / len(origins))

    errors = {name: [error(name, at) for at in range(4)] for name in said}
    for at, one in enumerate(choose(demand, horizon, rates, 6.0)):
        many = sum(1 for week in demand[:, at] if week)
        together = {
            name: many * (own[at] / errors[PLAIN][at] if errors[PLAIN][at] else 1)
            + 20 * sum(own) / sum(errors[PLAIN])
            for name, own in errors.items()
        }
        assert one.method == min(together, key=lambda name: together[name])
        assert one.error == pytest.approx(errors[one.method][at] ** 0.5)
        assert one.rate == said[one.method][-1, at]


def test_of_a_shop_the_plain_mean_never_misses_it_stays() -> None:
    """One a week, ever: any other method that misses is worse by any share."""
    (one,) = choose(np.ones((30, 1)), 4, np.array([5.0]), 6.0)
    assert (one.method, one.error) == (PLAIN, 0)
