"""One cell: from what a file holds to what its column means, or a sentence why not."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

from inventory.catalogue import fold
from inventory.catalogue.hazards import tidy_code
from inventory.errors import HINT, SLIP, BadMeasure, nearest
from inventory.measures import (
    Drill,
    Length,
    currency,
    read_date,
    read_drill,
    read_fraction,
    read_length,
    read_number,
    read_unit,
    show_mm,
)
from inventory.measures.text import said
from inventory.measures.words import read_yes_or_no
from inventory.sheets.files import NO_VALUE, fold_heading
from inventory.sheets.stock.columns import Notation, StockColumn

LONGEST_NAME, LONGEST_TEXT = 120, 2000
USUAL = " (usual)"
"""What marks a value that is nobody's word: what is usual, written into a sheet by us."""

_ERROR = re.compile(r"#(?:NULL!|DIV/0!|VALUE!|REF!|NAME\?|NUM!|N/A|GETTING_DATA|SPILL!|CALC!)|Err:[0-9]{3}")
_UNSEEN = dict.fromkeys(map(ord, "\u200b\u200c\u200d\u200e\u200f\u2060\ufeff"))
_PERIOD = re.compile(r"(.*?) ?(d|days?|w|weeks?|m|months?|y|years?)\.?", re.IGNORECASE)
_DAYS = {"d": 1, "w": 7, "m": 30, "y": 365}
_MINUTES = re.compile(r"(.*?) ?(?:m|mins?|minutes?)?\.?", re.IGNORECASE)
_DENSITY = re.compile(r"(.*?) ?(?:g ?/ ?(?:ml|cm3|cm³|cc)|kg ?/ ?l)?", re.IGNORECASE)
_DATES_TAKEN: tuple[Notation, ...] = ("date", "name", "text")
_AS_WRITTEN: tuple[Notation, ...] = ("name", "names")
_TRUTHS_TAKEN: tuple[Notation, ...] = ("yes or no", "name", "text")


def text_of(raw: object) -> str:
    """The cell as text: one space between words, 12.0 as 12, 15 digits of a fraction, dates in ISO form."""
    if isinstance(raw, str):
        return " ".join(raw.translate(_UNSEEN).split())
    if raw is None:
        return ""
    if isinstance(raw, bool):
        return "yes" if raw else "no"
    if isinstance(raw, float):
        return _plain_number(raw)
    if isinstance(raw, datetime):
        return raw.date().isoformat() if raw.time() == time() else raw.isoformat(" ", "seconds")
    return raw.isoformat() if isinstance(raw, (date, time)) else str(raw)


def reader(column: StockColumn) -> Callable[[object], Any]:
    """What reads one cell of `column`: the value, None where it is blank, or BadMeasure raised."""
    read = _READERS[column.notation]

    def read_cell(raw: object) -> Any:
        if raw is NO_VALUE:
            hint = "Open and save the file in the program that made it, or write the value."
            raise BadMeasure("The formula here has no stored result.", hint=hint)
        text = text_of(raw)
        if not text:
            return None
        _right_sort(raw, text, column)
        return read(text, column)

    return read_cell


def own_word(raw: object, column: StockColumn) -> tuple[object, str]:
    """The cell without the mark of a usual value, and that mark: `3.2 mm (usual)`. A name may end as it likes."""
    if isinstance(raw, str) and raw.rstrip().endswith(USUAL.strip()) and column.notation not in _AS_WRITTEN:
        return raw.rstrip().removesuffix(USUAL.strip()), USUAL
    return raw, ""


def canonical(value: Any) -> str:
    """What the value says, however it was written: the same for 12, 12.0 and “12”, for 1/2 in and 12.7 mm."""
    if value is None:
        return ""
    if isinstance(value, (Length, Drill)):
        return f"{value.mm} mm"
    if isinstance(value, tuple):
        return ";".join(map(canonical, value))
    if not isinstance(value, str):
        return str(value)
    try:
        return str(read_number(value)) if value[0] in "+0123456789.," else fold(value)
    except BadMeasure:
        return fold(value)


def _plain_number(number: float) -> str:
    if number.is_integer() and abs(number) < 1e15:
        return str(int(number))
    shown = format(number, ".15g")  # what a spreadsheet shows: 0.1 + 0.2 is 0.3
    return format(Decimal(shown), "f") if "e" in shown else shown


def _right_sort(raw: object, text: str, column: StockColumn) -> None:
    if isinstance(raw, str):
        if _ERROR.fullmatch(text):
            raise BadMeasure(
                f"The cell shows the error {text}.", hint="Correct its formula, or write the value."
            )
    elif isinstance(raw, bool):
        if column.notation not in _TRUTHS_TAKEN:
            raise BadMeasure(f"The cell holds {str(raw).upper()}.", hint=f"Write {column.accepted}.")
    elif isinstance(raw, (date, time, timedelta)) and column.notation not in _DATES_TAKEN:
        hint = f"Format the column as text, then write it again: {column.accepted}."
        raise BadMeasure(f"The spreadsheet has turned this into a date or time, {text}.", hint=hint)


def _text(text: str, column: StockColumn, longest: int = LONGEST_TEXT) -> str:
    if len(text) > longest:
        raise BadMeasure(f"It is {len(text)} characters long.", hint=f"At most {longest} are taken.")
    if not text.isprintable():
        raise BadMeasure(
            f"The {column.heading} holds a character that cannot be shown.",
            hint="Type the cell again, without pasting.",
        )
    return text


def _name(text: str, column: StockColumn) -> str:
    return _text(text, column, LONGEST_NAME)


def _choice(text: str, column: StockColumn) -> str:
    wanted = _singular(fold_heading(_name(text, column)))
    for choice in column.choices:
        if _singular(fold_heading(choice)) == wanted:
            return choice
    word = fold(text)
    # a word of one's own is only refused where it looks like a slip
    close = nearest(word, column.choices, 1, alike=SLIP if column.own_words else HINT)
    if column.own_words and not close:
        return word
    near = f"Did you mean “{close[0]}”? " if close else ""
    raise BadMeasure(
        f"{said(text)} is not a {column.heading} known here.", hint=f"{near}Accepted: {column.accepted}."
    )


def _singular(word: str) -> str:
    return word.removesuffix("es") if word.endswith(("shes", "ches", "xes")) else word.removesuffix("s")


def _length(text: str, column: StockColumn) -> Length:
    length = read_length(text)
    if length.mm > column.most:
        hint = f"At most {show_mm(Fraction(column.most))} is taken; check the unit."
        raise BadMeasure(f"{length} is too much for a {column.heading}.", hint=hint)
    return length


def _whole(text: str, column: StockColumn) -> int:
    number = read_number(text)
    if number.denominator != 1:
        raise BadMeasure(
            f"“{text}” is not a whole number.", hint=f"Write a whole number from {column.least} on."
        )
    return _within(int(number), text, column)


def _within(number: int, text: str, column: StockColumn) -> int:
    if not column.least <= number <= column.most:
        hint = f"Write a whole number from {column.least} to {column.most}."
        raise BadMeasure(f"“{text}” is out of reach.", hint=hint)
    return number


def _days(text: str, column: StockColumn) -> int:
    period = _PERIOD.fullmatch(text)
    number, per = (period[1], _DAYS[period[2][0].casefold()]) if period else (text, 1)
    days = read_number(number) * per
    if days.denominator != 1 or not 1 <= days <= 36_500:
        raise BadMeasure(f"“{text}” is not a number of days.", hint=f"Write {column.accepted}.")
    return int(days)


def _minutes(text: str, column: StockColumn) -> int:
    found = _MINUTES.fullmatch(text)
    minutes = read_number(found[1] if found else text)
    if minutes.denominator != 1 or not 1 <= minutes <= 10_000:
        raise BadMeasure(f"“{text}” is not a number of minutes.", hint=f"Write {column.accepted}.")
    return int(minutes)


def _date(text: str, _column: StockColumn) -> date:
    if text.isdecimal() and len(text) == 5:  # a spreadsheet's day number without its format
        raise BadMeasure(
            f"“{text}” is a day number.", hint="Format the column as a date, or write 2026-11-25."
        )
    return read_date(text[:10] if re.fullmatch(r"\d{4}-\d\d-\d\d \d\d:\d\d(:\d\d)?", text) else text)


def _share(text: str, _column: StockColumn) -> Fraction:
    return read_fraction(text)


def _density(text: str, column: StockColumn) -> Fraction:
    found = _DENSITY.fullmatch(text)
    density = read_number(found[1] if found else text)
    if not 0 < density <= 25:
        raise BadMeasure(f"“{text}” is no density.", hint=f"Write {column.accepted}.")
    return density


def _codes(text: str, column: StockColumn) -> tuple[str, ...]:
    codes = re.split(r"\s*[;,]\s*", _text(text, column))
    return tuple(
        dict.fromkeys(tidy_code(code) if any(map(str.isdigit, code)) else code for code in codes if code)
    )


_READERS: dict[Notation, Callable[[str, StockColumn], Any]] = {
    "name": _name,
    "names": _text,
    "text": _text,
    "choice": _choice,
    "yes or no": lambda text, _column: read_yes_or_no(text),
    "length": _length,
    "drill": lambda text, _column: read_drill(text),
    # amounts and money wait as text until their row tells the unit or the currency
    "amount": _text,
    "money": _text,
    "unit price": _text,
    "whole": _whole,
    "days": _days,
    "minutes": _minutes,
    "date": _date,
    "share": _share,
    "density": _density,
    "unit": lambda text, _column: read_unit(text).name,
    "currency": lambda text, _column: currency(text).code,
    "codes": _codes,
}
