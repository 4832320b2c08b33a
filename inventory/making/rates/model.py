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

from collections.abc import Mapping
from dataclasses import dataclass

from inventory.making.supply_use import KnownUse

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
    known: KnownUse
