"""Days: "19.12.", "before Easter", "end of November", "12/19" (two readings: asked)."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from inventory.errors import BadMeasure
from inventory.measures.dates import read_date
from inventory.sheets.guess.guesses import Grade
from inventory.sheets.guess.texts.words import lexicon, plainly, tokens

_DOTTED = re.compile(r"\b([0-9]{1,2})\. ?([0-9]{1,2})\.(?: ?([0-9]{2}(?:[0-9]{2})?)\b)?")
_SLASHED = re.compile(r"\b([0-9]{1,2})/([0-9]{1,2})(?:/([0-9]{2}(?:[0-9]{2})?))?\b")
_ISO = re.compile(r"\b([0-9]{4})-([0-9]{1,2})-([0-9]{1,2})\b")
_DAY_MONTH = re.compile(
    r"\b([0-9]{1,2})(?:st|nd|rd|th|er|\.)? (?:of |de )?([a-z]{3,9})\b\.?(?:,? ([0-9]{4}))?"
)
_MONTH_DAY = re.compile(r"\b([a-z]{3,9})\.? ([0-9]{1,2})(?:st|nd|rd|th)?\b(?:,? ([0-9]{4}))?")
_PART = re.compile(
    r"\b(end|ende|fin|mid|mitte|mi|middle|beginning|anfang|debut|early|late)(?: (?:of|de)\b|-| d')? ?([a-z]{3,9})\b"
)
_TENS = {"twenty": 20, "thirty": 30}
_ORDINALS = {
    "first": 1, "second": 2, "third": 3, "fourth": 4,
    "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8,
    "ninth": 9, "tenth": 10, "eleventh": 11, "twelfth": 12,
    "thirteenth": 13, "fourteenth": 14, "fifteenth": 15, "sixteenth": 16,
    "seventeenth": 17, "eighteenth": 18, "nineteenth": 19, "twentieth": 20,
    "thirtieth": 30,
}  # fmt: skip
_SPOKEN = re.compile(
    rf"\b(?:(twenty|thirty)[- ])?({'|'.join(_ORDINALS)})(?: day)?(?: of)? ([a-z]{{3,9}})\b", re.IGNORECASE
)
"""The twenty-first of November."""
_SOON = re.compile(
    r"\b(asap|soon|next week|this week|next month|weekend|urgent|bald|nachste woche|so schnell wie moglich|"
    r"semaine prochaine|bientot|monday|tuesday|wednesday|thursday|friday|saturday|sunday|montag|dienstag|mittwoch|"
    r"donnerstag|freitag|samstag|sonntag|lundi|mardi|mercredi|jeudi|vendredi|samedi|dimanche|"
    r"no hurry|no rush|whenever)\b"
)


@dataclass(frozen=True, slots=True)
class Day:
    """A day in a text: where it stands there, and how sure it is; None: a day that has to be asked."""

    day: date | None
    start: int
    end: int
    grade: Grade = "read"
    why: str = ""


def day_in(text: str, today: date) -> Day | None:
    """The day a text speaks of, or None. Days without a year are the next ones from `today` on."""
    tidy = plainly(text)
    for read in (_iso, _dotted, _slashed, _part, _named, _spoken, _feast, _soon):
        found = read(tidy, today)
        if found is not None:
            return found
    return None


def day_of(raw: object, text: str, today: date) -> Day | None:
    """The day of a cell, which may hold a real date."""
    if isinstance(raw, datetime):
        return Day(raw.date(), 0, len(text))
    if isinstance(raw, date):
        return Day(raw, 0, len(text))
    try:
        return Day(read_date(text), 0, len(text))
    except BadMeasure:
        return day_in(text, today)


def easter(year: int) -> date:
    """Easter Sunday of the Gregorian calendar.

    The anonymous algorithm of Meeus, Jones and Butcher, from memory; the tests hold it against published days.
    """
    a, (b, c) = year % 19, divmod(year, 100)
    (d, e), f = divmod(b, 4), (b + 8) // 25
    g = (b - f + 1) // 3
    h = (19 * a + b - d - g + 15) % 30
    i, k = divmod(c, 4)
    n = (32 + 2 * e + 2 * i - h - k) % 7
    m = (a + 11 * h + 22 * n) // 451
    month, day = divmod(h + n - 7 * m + 114, 31)
    return date(year, month, day + 1)


def _iso(tidy: str, _today: date) -> Day | None:
    found = _ISO.search(tidy)
    day = _on(int(found[1]), int(found[2]), int(found[3])) if found else None
    return Day(day, *found.span()) if found and day else None


def _dotted(tidy: str, today: date) -> Day | None:
    found = _DOTTED.search(tidy)
    if not found:
        return None
    return _with_year(found[3], int(found[2]), int(found[1]), found.span(), today, found[0])


def _slashed(tidy: str, today: date) -> Day | None:
    found = _SLASHED.search(tidy)
    if not found:
        return None
    first, second = int(found[1]), int(found[2])
    month, day = (second, first) if first > 12 else (first, second)
    if first <= 12 and second <= 12 and first != second:
        one = _with_year(found[3], second, first, found.span(), today, found[0])
        return one and Day(one.day, one.start, one.end, "asked", f"“{found[0]}”: which is the month?")
    one = _with_year(found[3], month, day, found.span(), today, found[0])
    return one and Day(
        one.day, one.start, one.end, "read" if found[3] and len(found[3]) == 4 else "asked", one.why
    )


def _with_year(
    year: str | None, month: int, day: int, span: tuple[int, int], today: date, said: str
) -> Day | None:
    if year and len(year) == 4:
        found = _on(int(year), month, day)
        return Day(found, *span) if found else None
    if year:
        found = _on(2000 + int(year), month, day)
        return Day(found, *span, "guessed", f"“{said}” taken as in 20{year}") if found else None
    found = _next(month, day, today)
    return Day(found, *span, "guessed", f"“{said}” has no year") if found else None


def _named(tidy: str, today: date) -> Day | None:
    for pattern, day_at, month_at in ((_DAY_MONTH, 1, 2), (_MONTH_DAY, 2, 1)):
        for found in pattern.finditer(tidy):
            month = lexicon("months", "month").whole(found[month_at])
            if month:
                return _with_year(found[3], int(month), int(found[day_at]), found.span(), today, found[0])
    return None


def _spoken(tidy: str, today: date) -> Day | None:
    """The fifth of December: a day in words."""
    for found in _SPOKEN.finditer(tidy):
        month = lexicon("months", "month").whole(found[3])
        if month:
            day = _TENS.get(found[1] or "", 0) + _ORDINALS[found[2]]
            return _with_year(None, int(month), day, found.span(), today, found[0])
    return None


def _part(tidy: str, today: date) -> Day | None:
    for found in _PART.finditer(tidy):
        month = lexicon("months", "month").whole(found[2])
        if month:
            part = {"e": 28, "f": 28, "l": 28, "m": 15}.get(found[1][0], 1)
            last = found[1] in ("end", "ende", "fin", "late")
            part = 1 if found[1] in ("early",) else part
            day = _next(int(month), part, today)
            if day and last:
                day = (day.replace(day=28) + timedelta(days=4)).replace(day=1) - timedelta(days=1)
            return Day(day, *found.span(), "guessed", f"“{found[0]}” taken as that day")
    return None


def _feast(tidy: str, today: date) -> Day | None:
    said = tokens(tidy)
    found = lexicon("feasts", "rule").find(said)
    if not found:
        return None
    day = _coming(found[0].meaning, today) - timedelta(days=1)
    word = " ".join(said[found[0].start : found[0].end])
    start = tidy.find(said[found[0].start])
    return Day(day, start, start + len(word), "guessed", f"“{word}”: the day before")


def _soon(tidy: str, _today: date) -> Day | None:
    found = _SOON.search(tidy)
    return Day(None, *found.span(), "asked", f"“{found[0]}” is no day") if found else None


def _coming(rule: str, today: date) -> date:
    """The next day of a feast, after today."""
    return next(day for year in (today.year, today.year + 1) if (day := _of_rule(rule, year)) > today)


def _of_rule(rule: str, year: int) -> date:
    kind, _, days = rule.partition("+") if "+" in rule else rule.partition("-")
    if kind == "easter":
        return easter(year) + timedelta(days=int(days) if "+" in rule else -int(days))
    if kind == "advent":  # the fourth Sunday before Christmas Day
        christmas = date(year, 12, 25)
        return christmas - timedelta(days=(christmas.weekday() + 1) % 7 or 7) - timedelta(days=21)
    return date(year, int(kind), int(days))


def _next(month: int, day: int, today: date) -> date | None:
    this = _on(today.year, month, day)
    return this if this and this >= today else _on(today.year + 1, month, day)


def _on(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None
