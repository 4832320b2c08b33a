"""Where a rate comes from: what every session used of a part beside what was expected, and what is made of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Literal

from inventory.catalogue import Catalogue, fold
from inventory.jobs.learning.billed import BilledUse
from inventory.jobs.learning.learned_figures import standing
from inventory.jobs.learning.readings import Reading, looks, readings
from inventory.ledger.learned import LearnedFigures, exactly
from inventory.ledger.sessions import Happened, RateWord, Way

Standing = Literal["counts", "left out", "forgotten", "nothing made"]
"""Whether a session is learned from; else why not: unlike the others, before a reset, no piece took the part."""


@dataclass(frozen=True, slots=True)
class SessionUse:
    """One look at a part: what the session used of it, or several together where nobody looked before; in its unit.

    sessions: how many that are;
    expected: what the bills write; now: what they ask at the present rates; used: what it really was, with the
    standard deviation of the measuring.
    """

    document: int
    on: date
    expected: Fraction
    now: Fraction
    used: Fraction
    error: Fraction
    way: Way
    standing: Standing
    sessions: int = 1


def session_uses(
    written: Catalogue,
    happened: Sequence[Happened],
    words: Sequence[RateWord],
    learned: LearnedFigures,
    part: str,
) -> tuple[SessionUse, ...]:
    """Every look at a part that says how much was used, in the order it was booked."""
    key = fold(part)
    factors = {one.per: exactly(one.factor) for one in learned.rates if fold(one.part) == key}
    outliers = {number for one in learned.rates if fold(one.part) == key for number in one.outliers}
    since = standing(words).since.get(key, 0)
    asking = BilledUse(written)
    seen = looks(happened).get(key, [])
    asked = {one.document: asking.of(one.outcomes).get(key, {}) for one, _ in seen}
    return tuple(
        SessionUse(
            one.document,
            one.on,
            _sum(one.amounts, {}),
            _sum(one.amounts, factors),
            Fraction(one.used, 1000),
            Fraction(one.error, 1000),
            one.way,
            _standing(one, since, outliers),
            one.sessions,
        )
        for one in readings(seen, asked)
    )


def _sum(amounts: Mapping[str, Fraction], factors: Mapping[str, Fraction]) -> Fraction:
    return sum((amount * factors.get(per, 1) for per, amount in amounts.items()), Fraction(0))


def _standing(one: Reading, since: int, outliers: set[int]) -> Standing:
    if one.first <= since:
        return "forgotten"
    if not one.amounts:
        return "nothing made"
    return "left out" if one.document in outliers else "counts"
