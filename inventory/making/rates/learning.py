"""From sessions to rates: outliers out, the posterior, the fit and the intervals."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from inventory.making.rates.design import design, nonnegative_fit
from inventory.making.rates.interval import shortest
from inventory.making.rates.model import Learned, Observation, Prior, Rate
from inventory.making.rates.outliers import ordinary
from inventory.making.rates.points import points_of
from inventory.making.rates.posterior import Grid, marginal, posterior
from inventory.making.supply_use import Known, first_guess

if TYPE_CHECKING:
    from inventory.making.rates.design import Design, Floats


def learn_free(observations: Sequence[Observation], priors: Mapping[str, Prior]) -> Learned:
    """The rates that are not pinned. Every observation has some exposure, every prior some spread."""
    import numpy as np

    kept = ordinary(design(observations, priors))
    used = [each for each, good in zip(observations, kept, strict=True) if good]
    left = [each for each, good in zip(observations, kept, strict=True) if not good]
    system = design(used, priors)
    grid = posterior(system)
    estimate = _estimate(system, grid)
    rates = {}
    for index, (per, prior) in enumerate(priors.items()):
        low, high = shortest(marginal(grid, index))
        scale, best = float(system.deviations[index]), float(estimate[index])
        rates[per] = Rate(
            per,
            prior.value,
            best * scale,
            min(low, best) * scale,
            max(high, best) * scale,
            sum(each.many for each in used if each.exposure.get(per, 0.0) > 0),
            tuple(each.session for each in left if each.exposure.get(per, 0.0) > 0),
        )
    scatter = float(np.sqrt(grid.weight @ grid.scatter**2)) * system.unit
    return Learned(rates, scatter, tuple(each.session for each in left), _known(system, grid, used, priors))


def _known(system: Design, grid: Grid, used: Sequence[Observation], priors: Mapping[str, Prior]) -> Known:
    if not used:
        return first_guess(tuple((per, prior.value, prior.spread) for per, prior in priors.items()))
    written = [sum(priors[per].value * many for per, many in each.exposure.items()) for each in used]
    return Known(points_of(system, grid, tuple(priors)), sum(written) / sum(each.many for each in used))


def _estimate(system: Design, grid: Grid) -> Floats:
    """The non-negative fit with weights averaged over the grid: minimises the mean of ‖W(Cy − d)‖² + ‖(y − c·y₀)/κ‖².

    In prior deviations. A mean of quadratic forms is a quadratic form, so one fit serves.
    """
    if not len(system.used):
        return system.prior
    import numpy as np

    weights = np.sqrt(grid.weight @ (1.0 / grid.variance))
    firmness = grid.weight / grid.widening**2
    prior = system.prior * (firmness @ grid.centre) / firmness.sum()
    return nonnegative_fit(
        system.matrix, system.used, weights, prior, np.full(len(prior), np.sqrt(firmness.sum()))
    )
