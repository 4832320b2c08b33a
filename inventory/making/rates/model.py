"""Use rates: how much of a supply one piece, barrel, millilitre, square centimetre or session takes.

Each session gives one weighing (used, by difference) and how much was made (exposure). The model is

    used_i = Σ_p x_p · exposure_ip + e_i + t_i,      x_p ≥ 0

with e_i the error of weighing (its standard deviation is known) and t_i what sessions differ by (it is not: τ, or
τ · s_i in proportion, as a hand's does, s_i the session's expected use over the mean). A weighing of m sessions
together has √m · t_i of it, s_i being that of one of them.
`inventory.making.rates.design` gives the estimate, a non-negative least-squares fit with rows for the prior;
`inventory.making.rates.posterior` and `inventory.making.rates.interval` give the 90 % interval,
`inventory.making.rates.points` all that is known of a session to come, for `inventory.making.supply_use`;
`inventory.making.rates.outliers` finds the sessions that belong to another story. A pinned rate is taken as
it is and its share is subtracted from what was used; a rate is reset by learning from no observation.

Results are plain numbers: who only uses a rate never loads numpy.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import isfinite

from inventory.errors import BadInput
from inventory.making.rates.priors import NINE_IN_TEN
from inventory.making.supply_use import Known, first_guess, pinned_points
from inventory.quick import dataclass

Session = str | int


@dataclass(frozen=True, slots=True)
class Observation:
    """What one session used of one supply.

    used      weighed or counted difference, in the supply's unit; below 0 it was topped up or misread
    exposure  per → how many pieces, barrels, ml of glue, cm² it was used for; "session" → 1
    error     standard deviation of `used` from weighing or counting alone, same unit
    many      sessions it is the sum of, the last of them named, where nobody looked in between
    """

    session: Session
    used: float
    exposure: Mapping[str, float]
    error: float
    many: int = 1


@dataclass(frozen=True, slots=True)
class Prior:
    """What a guess claims before any session: nine in ten within `value` ± (`spread` · `value` + `margin`).

    How far that is believed is told by `making.beliefs`.

    value   in the supply's unit for one of its `per`, 0 or more
    spread  a share of the value: 0.5 = off by up to half
    margin  in the rate's own unit; needed where the value is 0, which would otherwise stay 0 for ever
    """

    value: float
    spread: float = 0.5
    margin: float = 0.0

    @property
    def deviation(self) -> float:
        """Standard deviation of the rate: half the range of nine in ten over 1.645."""
        return (self.spread * self.value + self.margin) / NINE_IN_TEN


@dataclass(frozen=True, slots=True)
class Rate:
    """One rate as it stands, in the supply's unit for one of `per`, with its 90 % interval.

    sessions  how many sessions it was learned from: those that had any of this `per`, without outliers
    outliers  sessions that had any of this `per` and were left out
    """

    per: str
    prior: float
    estimate: float
    low: float
    high: float
    sessions: int
    outliers: tuple[Session, ...] = ()
    pinned: bool = False


@dataclass(frozen=True, slots=True)
class Learned:
    """All rates of one supply.

    scatter   standard deviation of what one ordinary session uses beside the expected, in the supply's unit;
              weighing apart
    outliers  sessions left out, in the order of their names
    known     the factors and the hand of sessions to come, pinned rates among them
    """

    rates: Mapping[str, Rate]
    scatter: float
    outliers: tuple[Session, ...]
    known: Known


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
            hint="Add up what all bottles of a supply lost in one session.",
        )
    held = {
        per: Rate(per, priors[per].value, value, value, value, 0, pinned=True) for per, value in fixed.items()
    }
    free = {per: prior for per, prior in priors.items() if per not in fixed}
    if not free:
        return Learned({per: held[per] for per in priors}, 0.0, (), pinned_points(first_guess(()), fixed))
    from inventory.making.rates.learning import learn_free

    rest = sorted((_without(each, fixed) for each in observations), key=lambda each: str(each.session))
    learned = learn_free([each for each in rest if any(each.exposure.values())], free)
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
        if per not in fixed and prior.deviation == 0:
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
