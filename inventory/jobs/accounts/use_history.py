"""What sessions used of each supply beside what the bills write, and the range of the present rate."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from fractions import Fraction

from inventory.catalogue import Catalogue, fold
from inventory.jobs.learning.billed import BilledUse
from inventory.jobs.learning.learned_figures import standing
from inventory.jobs.learning.readings import Amounts, Reading, looks, readings
from inventory.ledger.learned import LearnedFigures, exactly
from inventory.ledger.sessions import Happened, RateWord
from inventory.reports.history import UseLook, UsePast

NEWEST = 60
"""Sessions of each supply that are looked back on."""


def use_history(
    written: Catalogue,
    happened: Sequence[Happened],
    words: Sequence[RateWord],
    learned: LearnedFigures,
    first: date,
    most: int = NEWEST,
) -> tuple[UsePast, ...]:
    """Supplies that any session looked at from a day on; of each the newest so many of its sessions."""
    newest = {key: seen[-most:] for key, seen in looks(happened).items() if key in written.parts}
    wanted = {one.document for seen in newest.values() for one, _ in seen}
    asking = BilledUse(written)
    asked = {one.document: asking.of(one.outcomes) for one in happened if one.document in wanted}
    since = standing(words).since
    found = []
    for key, seen in newest.items():
        mine = {number: amounts.get(key, {}) for number, amounts in asked.items()}
        read = readings(seen, mine)
        # the first look may be of sessions from before these as well
        told = read[1:] if len(seen) == most else read
        uses = tuple(
            _look(one, key, learned, since.get(key, 0)) for one in told if one.amounts and one.on >= first
        )
        if any(one.expected for one in uses):
            found.append(UsePast(written.parts[key], uses))
    return tuple(sorted(found, key=lambda one: (-len(one.looks), fold(one.part.name))))


def _look(one: Reading, key: str, learned: LearnedFigures, since: int) -> UseLook:
    rates = [rate for rate in learned.rates if fold(rate.part) == key]
    low, high = ({rate.per: exactly(getattr(rate, end)) for rate in rates} for end in ("low", "high"))
    left_out = {number for rate in rates for number in rate.outliers}
    counts = one.first > since and one.document not in left_out
    used = Fraction(one.used, 1000)
    return UseLook(
        one.on, used, _asked(one.amounts, {}), _asked(one.amounts, low), _asked(one.amounts, high), counts
    )


def _asked(amounts: Amounts, factors: Mapping[str, Fraction]) -> Fraction:
    return sum((amount * factors.get(per, 1) for per, amount in amounts.items()), Fraction(0))
