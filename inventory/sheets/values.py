"""Money and amounts as cells hold them."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction
from math import ceil

from inventory.measures import Currency, show_amount

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
DAY_FORMAT = "[$-809]ddd d mmm yyyy"
"""The same of a day that a cell holds as a day."""


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


def amount_cell(steps: int, unit: str) -> str | int:
    """An amount for a cell: a count as a number, anything else with its unit."""
    text = show_amount(steps, unit)
    return int(text) if text.isdecimal() else text
