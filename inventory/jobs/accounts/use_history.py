"""What sessions used of each supply beside what the bills write, and the range of the present rate."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from datetime import date
from fractions import Fraction

from inventory.catalogue import Catalogue, fold
from inventory.jobs.learning.billed import BilledUse
from inventory.jobs.learning.learned_figures import standing
from inventory.jobs.learning.readings import Amounts, Reading, looks, readings
from inventory.ledger.learned import LearnedFigures, exactly
from inventory.ledger.sessions import Happened, Outcome, RateWord
from inventory.reports.history import UseLook, UsePast

NEWEST = 60
"""Sessions of each supply that are looked back on."""


def use_history(
    written: Catalogue,
    seen: Iterable[Happened],
    came_of: Callable[[Collection[int]], Mapping[int, Iterable[Outcome]]],
    words: Sequence[RateWord],
    learned: LearnedFigures,
    first: date,
    most: int = NEWEST,
) -> tuple[UsePast, ...]:
    """Supplies that any session looked at from a day on; of each the newest so many of its sessions.

    seen: sessions without what was made in them, which is asked of those alone that count: came_of gives it by number.
    """
    newest = {key: some[-most:] for key, some in looks(seen).items() if key in written.parts}
    asking = BilledUse(written)
    wanted = {one.document for some in newest.values() for one, _ in some}
    asked = {number: asking.of(outcomes) for number, outcomes in came_of(sorted(wanted)).items()}
    since = standing(words).since
    found = []
    for key, some in newest.items():
        mine = {number: amounts.get(key, {}) for number, amounts in asked.items()}
        read = readings(some, mine)
        # the first look may be of sessions from before these as well
        told = read[1:] if len(some) == most else read
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
