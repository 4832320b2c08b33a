"""A shop that learns: patterns that share bottles, sessions as they were booked, and whole simulated shops."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from inventory.catalogue import Catalogue, Pattern, fold
from inventory.jobs.learning.billed import BilledUse
from inventory.ledger.sessions import Happened, Observed, Outcome
from jobs import goods

if TYPE_CHECKING:
    import numpy as np

TURNSTONE, AVOCET, OILED = "Turnstone gloss", "Avocet gloss", "Turnstone oiled"
FIRST_DAY = date(2026, 1, 3)
SESSIONS = 8
K = 60.0
"""Pieces of experience a book's loss is worth (K of `making.losses.learned`)."""


def shop() -> goods.Goods:
    """Three patterns on the same bottles: two in one family, one with two barrels; two materials that are lost."""
    known = goods.catalogue().with_losses("olive wood", drill="0.02", turn="0.03")
    known = known.with_losses("acrylic", drill="0.04", turn="0.06")
    avocet = (
        goods.line("cut", "the blank", 1000),
        goods.line("glue", "the tubes", 1000, "barrel"),
        goods.line("glue", goods.GLUE, 1500, "tube glue volume"),
        goods.line("glue", goods.EPOXY, 3000, "session"),
        goods.line("finish", goods.FINISH, 40, "barrel area"),
        goods.line("finish", goods.STRIP, 1000),
        goods.line("assemble", goods.EPOXY, 200, "barrel"),
        goods.line("assemble", "the kit", 1000),
    )
    oiled = (goods.line("cut", TURNSTONE, 1000), goods.line("assemble", goods.STRIP, 500))
    known = known.with_pattern(Pattern(AVOCET, "Avocet", bill=avocet))
    return known.with_pattern(Pattern(OILED, "Turnstone", bill=oiled))


def outcome(pattern: str, good: int, blank: str = goods.OLIVE, **lost: int) -> Outcome:
    """So many good ones of a pattern, and those lost by stage."""
    return Outcome(
        "", pattern, goods.AVOCET_KIT if pattern == AVOCET else goods.CHROME_KIT, blank, good, lost
    )


def happened(number: int, *outcomes: Outcome, **used: tuple[float, float]) -> Happened:
    """A session: its outcomes; what was used and the error of it, by glue, epoxy, finish, strip."""
    parts = {"glue": goods.GLUE, "epoxy": goods.EPOXY, "finish": goods.FINISH, "strip": goods.STRIP}
    observed = tuple(
        Observed(parts[key], round(1000 * amount), round(1000 * error))
        for key, (amount, error) in used.items()
    )
    return Happened(number, FIRST_DAY + timedelta(weeks=number), outcomes, observed)


@dataclass(frozen=True)
class Simulated:
    """A shop's sessions and what is true of it. factors: by part and `per`; losses: by material and stage."""

    sessions: tuple[Happened, ...]
    factors: Mapping[tuple[str, str], float]
    losses: Mapping[tuple[str, str], float]


RATES = {
    (goods.GLUE, "tube glue volume"): 0.5,
    (goods.EPOXY, "session"): 1.0,
    (goods.EPOXY, "barrel"): 0.5,
    (goods.FINISH, "barrel area"): 0.5,
    (goods.STRIP, "piece"): 0.5,
}
"""How far nine in ten shops are off the bill's quantity."""


def simulated(known: Catalogue, dice: np.random.Generator, scatter: float = 0.1) -> Simulated:
    """Eight sessions of a shop whose factors and losses are drawn from what is believed at first."""
    factors = {key: _factor(dice, spread) for key, spread in RATES.items()}
    losses = _losses(known, dice)
    sessions = []
    for number in range(1, SESSIONS + 1):
        made = _made(dice, losses)
        sessions.append(Happened(number, FIRST_DAY, made, _observed(known, dice, made, factors, scatter)))
    return Simulated(tuple(sessions), factors, losses)


def _factor(dice: np.random.Generator, spread: float) -> float:
    """Normal about 1, nine in ten within the spread, never below nothing."""
    while (drawn := float(dice.normal(1, spread / 1.645))) < 0:
        pass
    return drawn


def _losses(known: Catalogue, dice: np.random.Generator) -> dict[tuple[str, str], float]:
    """The model of `making.losses.learned`: a factor of the shop for each stage, a material's own share about it."""
    done = {}
    for stage in ("drill", "turn"):
        own = dice.gamma(1.0)
        for name in ("olive wood", "acrylic"):
            given = min(float(known.material(name).losses[stage]) * own, 0.99)
            done[name, stage] = float(dice.beta(K * given, K * (1 - given)))
    return done


def _made(dice: np.random.Generator, losses: Mapping[tuple[str, str], float]) -> tuple[Outcome, ...]:
    done = []
    for pattern, blank, material in (
        (TURNSTONE, goods.OLIVE, "olive wood"),
        (AVOCET, goods.ACRYLIC, "acrylic"),
        (OILED, goods.OLIVE, "olive wood"),
    ):
        left = int(dice.integers(0, 13))
        lost = {}
        for stage in ("drill", "turn"):
            lost[stage] = int(dice.binomial(left, losses[material, stage]))
            left -= lost[stage]
        if left + sum(lost.values()):
            done.append(outcome(pattern, left, blank, **lost))
    return tuple(done)


def _observed(
    known: Catalogue,
    dice: np.random.Generator,
    made: tuple[Outcome, ...],
    factors: Mapping[tuple[str, str], float],
    scatter: float,
) -> tuple[Observed, ...]:
    """Every bottle by what was really used, give or take the session's own tenth and the scale's 2 %."""
    amounts = BilledUse(known).of(made)
    done = []
    for part in dict.fromkeys(part for part, _ in factors):
        usual = {per: float(amount) for per, amount in amounts.get(fold(part), {}).items()}
        if usual:
            used = sum(factors[part, per] * amount for per, amount in usual.items())
            error = 0.02 * sum(usual.values())
            shown = used + dice.normal(0, scatter) * used + dice.normal(0, error)
            done.append(Observed(part, round(1000 * shown), max(round(1000 * error), 1)))
    return tuple(done)


def off_by(known: Catalogue, outcomes: tuple[Outcome, ...], part: str, **factors: float) -> float:
    """What the bills ask of a part for these, each `per` (spaces as _) times a factor (else 1); in its unit."""
    by_per = BilledUse(known).of(outcomes)[fold(part)]
    return sum(float(amount) * factors.get(per.replace(" ", "_"), 1.0) for per, amount in by_per.items())
