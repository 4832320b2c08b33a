"""What looks at a part say of its use: each is of every session since the last look.

Whoever weighs a bottle after the third session finds what three sessions took. The book has drawn the first two by
the bill; what is missing beside the book is therefore of all three, and so is the use:

    used = what is missing + Σ what the bills drew, nobody having looked;  exposure = Σ exposures

A look of which nothing was learned, and a count, bring the book to what is there: the next one is of what comes after.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from inventory.catalogue import fold
from inventory.ledger.sessions import UNREAD, Happened, Observed, Way

Amounts = Mapping[str, Fraction]
"""What the bills ask of one part, in its unit, by `per`."""
Seen = tuple[Happened, Observed]


@dataclass(frozen=True, slots=True)
class Reading:
    """One look at a part. used, error: thousandths of its unit; amounts: of all sessions it is of, empty where none.

    first, document: the first and the last of these; sessions: how many of them took the part.
    """

    document: int
    on: date
    way: Way
    used: int
    error: int
    amounts: Amounts
    sessions: int
    first: int


@dataclass(slots=True)
class _Unseen:
    """Sessions that drew a part by the bill while nobody looked."""

    used: int = 0
    amounts: dict[str, Fraction] = field(default_factory=dict)
    documents: list[int] = field(default_factory=list)

    def add(self, document: int, used: int, amounts: Amounts) -> None:
        """One more, where the bills ask the part of it."""
        if amounts:
            self.used += used
            self.amounts = _together(self.amounts, amounts)
            self.documents.append(document)


def looks(happened: Iterable[Happened]) -> dict[str, list[Seen]]:
    """Everything seen of each part, by folded name, in the order it was booked."""
    seen: dict[str, list[Seen]] = {}
    for one in sorted(happened, key=lambda each: each.document):
        for observed in one.observed:
            seen.setdefault(fold(observed.part), []).append((one, observed))
    return seen


def readings(seen: Iterable[Seen], asked: Mapping[int, Amounts]) -> list[Reading]:
    """What is known of the use of one part. seen: of it, in order; asked: of it, by document."""
    done, unseen = [], _Unseen()
    for one, observed in seen:
        amounts = asked.get(one.document, {})
        if observed.way == "by the bill":
            unseen.add(one.document, observed.used, amounts)
            continue
        alone = observed.way in ("used", "weighed twice")
        if observed.way not in UNREAD:
            done.append(_reading(one, observed, amounts, _Unseen() if alone else unseen))
        if observed.way != "used":  # written down, it says nothing of what is left of earlier sessions
            unseen = _Unseen()
    return done


def unseen(seen: Iterable[Seen]) -> int:
    """What the bills drew of a part since anybody looked, thousandths of its unit. seen: of it, in order."""
    drawn = 0
    for _, observed in seen:
        if observed.way == "by the bill":
            drawn += observed.used
        elif observed.way != "used":
            drawn = 0
    return drawn


def _reading(one: Happened, observed: Observed, amounts: Amounts, before: _Unseen) -> Reading:
    return Reading(
        one.document,
        one.on,
        observed.way,
        observed.used + before.used,
        observed.error,
        _together(before.amounts, amounts),
        len(before.documents) + bool(amounts),
        min([one.document, *before.documents]),
    )


def _together(one: Amounts, other: Amounts) -> dict[str, Fraction]:
    return {per: one.get(per, Fraction(0)) + other.get(per, Fraction(0)) for per in (*one, *other)}
