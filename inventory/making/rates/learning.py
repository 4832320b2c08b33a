"""From sessions to rates: outliers out, the posterior, the fit and the intervals."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import isfinite
from typing import TYPE_CHECKING

from inventory.errors import BadInput
from inventory.making.rates.design import design, nonnegative_fit
from inventory.making.rates.interval import shortest
from inventory.making.rates.model import Learned, Observation, Rate
from inventory.making.rates.outliers import ordinary
from inventory.making.rates.points import points_of
from inventory.making.rates.posterior import PosteriorGrid, marginal, posterior
from inventory.making.rates.priors import Prior
from inventory.making.supply_use import KnownUse, first_guess, pinned_points

if TYPE_CHECKING:
    from inventory.making.rates.design import Design, Floats


def learn(
    observations: Sequence[Observation],
    priors: Mapping[str, Prior],
    pinned: Mapping[str, float] | None = None,
) -> Learned:
    """The rates of one supply from its sessions; one for each `per` in `priors`, pinned ones as they are.

    The order of observations does not matter. Raises BadInput for numbers that cannot be.
    """
    fixed = dict(pinned or {})
    _check_priors(priors, fixed)
    for observation in observations:
        _check_observation(observation, priors)
    if len({observation.session for observation in observations}) < len(observations):
        raise BadInput(
            "One session is given twice for the same supply.",
            hint="Add up what all that went out of the bottles of a supply in one session.",
        )
    held = {
        per: Rate(per, priors[per].value, value, value, value, 0, pinned=True) for per, value in fixed.items()
    }
    free = {per: prior for per, prior in priors.items() if per not in fixed}
    if not free:
        return Learned({per: held[per] for per in priors}, 0.0, (), pinned_points(first_guess(()), fixed))
    rest = sorted((_without(each, fixed) for each in observations), key=lambda each: str(each.session))
    learned = _learn_free([each for each in rest if any(each.exposure.values())], free)
    rates = {per: held[per] if per in held else learned.rates[per] for per in priors}
    return Learned(rates, learned.scatter, learned.outliers, pinned_points(learned.known, fixed))


def _without(observation: Observation, fixed: Mapping[str, float]) -> Observation:
    """The observation less what its pinned rates account for."""
    exposure = observation.exposure
    known = sum(value * exposure.get(per, 0.0) for per, value in fixed.items())
    rest = {per: amount for per, amount in exposure.items() if per not in fixed}
    return replace(observation, used=observation.used - known, exposure=rest)


def _check_priors(priors: Mapping[str, Prior], fixed: Mapping[str, float]) -> None:
    for per, prior in priors.items():
        if not all(isfinite(x) and x >= 0 for x in (prior.value, prior.spread, prior.margin)):
            raise BadInput(f"The first guess of the rate per {per} is not a rate.", hint="Give 0 or more.")
        if per not in fixed and prior.sd == 0:
            raise BadInput(
                f"The first guess of the rate per {per} leaves nothing to learn.",
                hint="Give it a spread (0.5 = off by up to half) or, where it is 0, a margin; or pin the rate.",
            )
    for per, value in fixed.items():
        if per not in priors:
            raise BadInput(f"The supply has no rate per {per} to pin.", hint=f"It has: {', '.join(priors)}.")
        if not (isfinite(value) and value >= 0):
            raise BadInput(f"A rate of {value:g} per {per} cannot be pinned.", hint="Give 0 or more.")


def _check_observation(observation: Observation, priors: Mapping[str, Prior]) -> None:
    where = f"Session {observation.session}"
    if not isfinite(observation.used):
        raise BadInput(f"{where}: {observation.used:g} cannot have been used.", hint="Weigh it again.")
    if not (isfinite(observation.error) and observation.error >= 0):
        raise BadInput(f"{where}: an error of {observation.error:g} cannot be.", hint="Give 0 or more.")
    for per, amount in observation.exposure.items():
        if per not in priors:
            raise BadInput(
                f"{where}: nothing is known of a rate per {per}.", hint="Give its first guess too."
            )
        if not (isfinite(amount) and amount >= 0):
            raise BadInput(f"{where}: {amount:g} per {per} cannot have been made.", hint="Give 0 or more.")


def _learn_free(observations: Sequence[Observation], priors: Mapping[str, Prior]) -> Learned:
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
        scale, best = float(system.sds[index]), float(estimate[index])
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


def _known(
    system: Design, grid: PosteriorGrid, used: Sequence[Observation], priors: Mapping[str, Prior]
) -> KnownUse:
    if not used:
        return first_guess(tuple((per, prior.value, prior.spread) for per, prior in priors.items()))
    written = [sum(priors[per].value * many for per, many in each.exposure.items()) for each in used]
    return KnownUse(points_of(system, grid, tuple(priors)), sum(written) / sum(each.many for each in used))


def _estimate(system: Design, grid: PosteriorGrid) -> Floats:
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
