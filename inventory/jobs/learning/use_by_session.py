"""Where a rate comes from: what every session used of a part beside what was expected, and what is made of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Literal

from inventory.catalogue import Catalogue, fold
from inventory.jobs.learning.billed import Asking
from inventory.jobs.learning.learned_figures import standing
from inventory.ledger.sessions import Happened, LearnedFigures, RateWord, Way, exactly

Standing = Literal["counts", "left out", "forgotten", "nothing made"]
"""Whether a session is learned from; else why not: unlike the others, before a reset, no piece took the part."""


@dataclass(frozen=True, slots=True)
class SessionUse:
    """One session's use of one part, in its unit.

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


def session_uses(
    written: Catalogue,
    happened: Sequence[Happened],
    words: Sequence[RateWord],
    learned: LearnedFigures,
    part: str,
) -> tuple[SessionUse, ...]:
    """Every session that measured a part, oldest first."""
    key = fold(part)
    factors = {one.per: exactly(one.factor) for one in learned.rates if fold(one.part) == key}
    outliers = {number for one in learned.rates if fold(one.part) == key for number in one.outliers}
    since = standing(words).since.get(key, 0)
    asking = Asking(written)
    done = []
    for one in happened:
        for observed in one.observed:
            if fold(observed.part) != key:
                continue
            amounts = asking.of(one.outcomes).get(key)
            done.append(
                SessionUse(
                    one.document,
                    one.on,
                    _sum(amounts or {}, {}),
                    _sum(amounts or {}, factors),
                    Fraction(observed.used, 1000),
                    Fraction(observed.error, 1000),
                    observed.way,
                    _standing(one.document, since, outliers, amounts is not None),
                )
            )
    return tuple(done)


def _sum(amounts: Mapping[str, Fraction], factors: Mapping[str, Fraction]) -> Fraction:
    return sum((amount * factors.get(per, 1) for per, amount in amounts.items()), Fraction(0))


def _standing(document: int, since: int, outliers: set[int], made: bool) -> Standing:
    if document <= since:
        return "forgotten"
    if not made:
        return "nothing made"
    return "left out" if document in outliers else "counts"
