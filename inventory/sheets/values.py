"""Money and amounts as cells hold them."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from fractions import Fraction
from math import ceil

from inventory.measures import Currency, show_amount, show_measurable

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_DAY = re.compile(
    r"\b(for|by|until|on|is|opened|since|before|after|from) ([0-9]{4}-[0-9]{2}-[0-9]{2})\b(?! [a-z]\b)"
)
"""A day behind a word that days stand behind."""
DAY_FORMAT = "[$-809]ddd d mmm yyyy"
"""The same of a day that a cell holds as a day."""
DUE_DAY = "[$-809]ddd d mmm"
"""A day not far off."""
SHORT_DAY = "[$-809]d mmm yy"
"""The shortest that nobody mixes up, for days to be filled in."""
MONTH_FORMAT = "[$-809]mmm yyyy"
"""A month, of its first day."""


def coins(amount: int | Fraction, coin: Currency) -> Decimal:
    """Minor units as the decimal people read, rounded up to a whole coin."""
    return Decimal(ceil(amount)).scaleb(-coin.exponent)


def money_format(coin: Currency, *, code: bool = True) -> str:
    """A spreadsheet's number format for sums of this coin."""
    places = "." + "0" * coin.exponent if coin.exponent else ""
    return f"#,##0{places}" + (f' "{coin.code}"' if code else "")


def show_day(day: date, *, year: bool = True) -> str:
    """A day as a page has it, with its weekday: `Sat 28 Nov 2026`."""
    return f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}{f' {day.year}' if year else ''}"


def days_said(text: str) -> str:
    """A sentence with its days as people say them; a day that is part of a name stays, as in `stall 2026-11-28 a`.

    >>> days_said("S42 is promised for 2026-12-14, opened 2026-10-18; stall 2026-11-28 a is promised for 2026-12-01")
    'S42 is promised for Mon 14 Dec 2026, opened Sun 18 Oct 2026; stall 2026-11-28 a is promised for Tue 1 Dec 2026'
    """
    return _DAY.sub(_day_said, text)


def _day_said(found: re.Match[str]) -> str:
    try:
        return f"{found[1]} {show_day(date.fromisoformat(found[2]))}"
    except ValueError:  # no day of any month: a name, then
        return found[0]


def amount_cell(steps: int, unit: str) -> str | int:
    """An amount for a cell: a count as a number, anything else with its unit."""
    return _number(show_amount(steps, unit))


def measured_cell(steps: int, unit: str) -> str | int:
    """The same of what is needed, as a hand can measure it."""
    return _number(show_measurable(steps, unit))


def _number(text: str) -> str | int:
    return int(text) if text.isdecimal() else text
