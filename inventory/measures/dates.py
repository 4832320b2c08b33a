"""Dates: read in the ways people write them, refused where day and month could change places."""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date
from typing import Literal

from inventory.errors import BadMeasure
from inventory.measures.text import plain, said

FIRST_YEAR, LAST_YEAR = 1970, 2200

Order = Literal["day first", "month first"]

_MONTHS = [
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
]
_ACCEPTED = "Write 2026-11-25 or 25 Nov 2026."
_ISO = re.compile(r"([0-9]{4})([-/.])([0-9]{1,2})\2([0-9]{1,2})(?:[T ]00:00(?::00(?:\.0+)?)?)?")
_ISO_IN_TEXT = re.compile(r"(?<![\w-])[0-9]{4}-[0-9]{2}-[0-9]{2}(?![\w-])")
_DOTTED = re.compile(r"([0-9]{1,2})\. ?([0-9]{1,2})\. ?([0-9]{2,4})")
_SLASHED = re.compile(r"([0-9]{1,2})([/-])([0-9]{1,2})\2([0-9]{2,4})")
_DAY_MONTH = re.compile(r"([0-9]{1,2})(?:st|nd|rd|th|\.)?[ -]?([a-z]{3,9})\.?,?[ -]([0-9]{2,4})", re.I)
_MONTH_DAY = re.compile(r"([a-z]{3,9})\.? ?([0-9]{1,2})(?:st|nd|rd|th)?,? ([0-9]{2,4})", re.I)


def read_date(text: str, *, order: Order | None = None) -> date:
    """The day written in `text`.

    `2026-11-25` (a midnight after it is overlooked), `25 Nov 2026`, `November 25, 2026`, `25.11.2026` (with
    dots the day comes first), `25/11/2026`. Where `03/04/2026` could be two days it is refused, unless
    `order` settles it. Days that do not exist, two-digit years and years outside 1970 to 2200 are refused.
    Raises BadMeasure.
    """
    tidy = plain(text, "date")
    if found := _ISO.fullmatch(tidy):
        return _day(found[1], int(found[3]), int(found[4]), tidy)
    if found := _DOTTED.fullmatch(tidy):
        return _day(found[3], int(found[2]), int(found[1]), tidy)
    if found := _SLASHED.fullmatch(tidy):
        return _either(found[4], int(found[1]), int(found[3]), order, tidy)
    if found := _DAY_MONTH.fullmatch(tidy):
        return _day(found[3], _month(found[2], tidy), int(found[1]), tidy)
    if found := _MONTH_DAY.fullmatch(tidy):
        return _day(found[3], _month(found[1], tidy), int(found[2]), tidy)
    raise BadMeasure(f"{said(tidy)} is not a date.", hint=_ACCEPTED)


def show_date(day: date) -> str:
    """ISO 8601: `2026-11-25`."""
    return f"{day.year:04}-{day.month:02}-{day.day:02}"


_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


def show_day(day: date, year: int | None = None) -> str:
    """A day for people, alike in every language of the machine: `Tue 1 Dec`, its year where it is not `year`.

    >>> show_day(date(2026, 12, 1)), show_day(date(2026, 12, 1), 2026)
    ('Tue 1 Dec 2026', 'Tue 1 Dec')
    """
    month = _MONTHS[day.month - 1][:3].capitalize()
    said_year = "" if day.year == year else f" {day.year}"
    return f"{_WEEKDAYS[day.weekday()]} {day.day} {month}{said_year}"


def days_in(sentence: str, year: int) -> str:
    """A sentence with its ISO days as people say them; what stands between “ and ” is a name and stays."""
    parts = re.split("(“[^”]*”)", sentence)
    return "".join(
        part if part.startswith("“") else _ISO_IN_TEXT.sub(lambda found: _said_day(found[0], year), part)
        for part in parts
    )


def _said_day(text: str, year: int) -> str:
    try:
        return show_day(date.fromisoformat(text), year)
    except ValueError:
        return text


def _either(year: str, first: int, second: int, order: Order | None, tidy: str) -> date:
    if order == "month first" or (order is None and second > 12 >= first):
        return _day(year, first, second, tidy)
    if order == "day first" or first > 12 or first == second:
        return _day(year, second, first, tidy)
    one, other = _day(year, second, first, tidy), _day(year, first, second, tidy)
    raise BadMeasure(
        f"{said(tidy)} could be {show_date(one)} or {show_date(other)}.",
        hint=f"Write {show_date(one)} or {show_date(other)}.",
    )


def _month(word: str, tidy: str) -> int:
    stem = "sep" if word.casefold() == "sept" else word.casefold()
    for number, name in enumerate(_MONTHS, start=1):
        if stem in (name, name[:3]):
            return number
    raise BadMeasure(f"{said(tidy)} is not a date: there is no month called {said(word)}.", hint=_ACCEPTED)


def _day(year_text: str, month: int, day: int, tidy: str) -> date:
    year = int(year_text)
    if len(year_text) != 4:
        raise BadMeasure(f"The year in {said(tidy)} needs four digits.", hint=_ACCEPTED)
    if not FIRST_YEAR <= year <= LAST_YEAR:
        hint = f"Write a year from {FIRST_YEAR} to {LAST_YEAR}."
        raise BadMeasure(f"The year {year} in {said(tidy)} is out of reach.", hint=hint)
    if not 1 <= month <= 12:
        raise BadMeasure(f"{said(tidy)} is not a date: there is no month {month}.", hint=_ACCEPTED)
    name, days = _MONTHS[month - 1].capitalize(), monthrange(year, month)[1]
    if not 1 <= day <= days:
        raise BadMeasure(f"There is no {day} {name} {year}: {name} {year} has {days} days.", hint=_ACCEPTED)
    return date(year, month, day)


def month_of(text: str) -> str:
    """A month for people: `2026-11` is `Nov 2026`."""
    year, month = text.split("-")
    return f"{_MONTHS[int(month) - 1][:3].capitalize()} {year}"


def months_before(day: date, months: int) -> date:
    """The same day of the month so many months before; where that month is shorter, its last.

    >>> months_before(date(2026, 8, 31), 6)
    datetime.date(2026, 2, 28)
    """
    years, month = divmod(day.month - 1 - months, 12)
    year = day.year + years
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))
