"""Usual hours by weekday, days off, and until when that holds; kept in the book as one line of text.

`tue 2, thu 2, sat 5` are hours; `off 2026-12-08, 2026-12-24 to 2026-12-27`; `until 2026-12-24` is the last day.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction

from inventory.errors import BadInput
from inventory.measures import read_date, read_number, show_date, show_number

KEY = "hours"
"""The setting it is kept under."""
DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
FARTHEST = timedelta(days=400)
"""So far ahead a day is looked for on which an order can be ready."""
_ONE = re.compile(r"([a-z]+)\.?\s+(.+?)\s*h?", re.IGNORECASE)
_HINT = 'Write hours by weekday, as "tue 2, thu 2, sat 5".'


@dataclass(frozen=True, slots=True)
class Week:
    """minutes: by weekday from Monday; off: days without any; until: the last day it holds for, None for ever."""

    minutes: tuple[int, ...] = (0,) * 7
    off: frozenset[date] = field(default_factory=frozenset)
    until: date | None = None

    def of(self, day: date) -> int:
        """Minutes of work on a day."""
        if day in self.off or (self.until is not None and day > self.until):
            return 0
        return self.minutes[day.weekday()]

    def between(self, first: date, end: date) -> int:
        """Minutes from one day up to another, that one left out."""
        return sum(self.of(first + timedelta(days=at)) for at in range(max((end - first).days, 0)))

    @property
    def written(self) -> str:
        """As it is kept, and read back by `read_week`."""
        hours = ", ".join(
            f"{day} {show_number(Fraction(many, 60))}"
            for day, many in zip(DAYS, self.minutes, strict=True)
            if many
        )
        off = ", ".join(show_date(day) for day in sorted(self.off))
        until = f"; until {show_date(self.until)}" if self.until else ""
        return f"{hours}{f'; off {off}' if off else ''}{until}"


@dataclass(frozen=True, slots=True)
class TimeLeft:
    """Minutes. needed: for an order, spoiled pieces counted in; before: promised and due no later; there: of work
    until its day; ready: the earliest day it can be due by the hours alone, None where there are too few for so long.
    """

    needed: int
    before: int
    there: int
    ready: date | None
    due: date

    @property
    def lacks(self) -> bool:
        """Whether it cannot be made by its day beside what is promised."""
        return self.ready is None or self.ready > self.due


def week_of(settings: Mapping[str, str]) -> Week | None:
    """What the maker said; None where nothing was."""
    text = settings.get(KEY)
    return read_week(text) if text else None


def read_week(text: str, off: Sequence[str] = (), until: str = "") -> Week:
    """Hours by weekday as they are typed, days off (`2026-12-24`, or `2026-12-24 to 2026-12-27`), and the last day.

    Raises BadInput or BadMeasure.
    """
    bits = [bit.strip() for bit in text.split(";")]
    minutes = [0] * 7
    days: set[date] = set()
    for bit in bits:
        if bit.startswith("off "):
            off = (*off, *bit.removeprefix("off ").split(","))
        elif bit.startswith("until "):
            until = until or bit.removeprefix("until ")
        else:
            for day, many in _hours(bit):
                minutes[day] = many
    for one in off:
        days |= set(_range(one.strip()))
    if not any(minutes):
        raise BadInput("No day has any hours.", hint=_HINT)
    return Week(tuple(minutes), frozenset(days), read_date(until) if until else None)


def _hours(text: str) -> Iterator[tuple[int, int]]:
    seen: set[int] = set()
    for bit in (one.strip() for one in text.split(",") if one.strip()):
        found = _ONE.fullmatch(bit)
        day = _weekday(found[1]) if found else None
        if found is None or day is None:
            raise BadInput(f"“{bit}” is no weekday with its hours.", hint=_HINT)
        if day in seen:
            raise BadInput(f"“{found[1]}” is given twice.", hint=_HINT)
        seen.add(day)
        hours = read_number(found[2])
        if not 0 <= hours <= 24:
            raise BadInput(f"A day of {found[2]} hours is none.", hint="Give 0 to 24.")
        yield day, round(hours * 60)


def _weekday(word: str) -> int | None:
    """The weekday a word of at least two letters begins."""
    names = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
    found = [at for at, name in enumerate(names) if len(word) >= 2 and name.startswith(word.casefold())]
    return found[0] if len(found) == 1 else None


def _range(text: str) -> Iterator[date]:
    first, _, last = text.partition(" to ")
    start, end = read_date(first.strip()), read_date((last or first).strip())
    if end < start or end - start > FARTHEST:
        raise BadInput(f"“{text}” is no range of days.", hint='Write "2026-12-24 to 2026-12-27".')
    yield from (start + timedelta(days=at) for at in range((end - start).days + 1))
