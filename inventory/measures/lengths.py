"""Lengths: read in every notation of the trade, kept exactly in millimetres, shown as a maker reads them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache

from inventory.errors import BadMeasure
from inventory.measures.numbers import decimal_places, read_number, show_number
from inventory.measures.tables import rows
from inventory.measures.text import plain, said

INCH = Fraction("25.4")
"""Millimetres in an inch, exact (NIST SP 811, appendix B.8, from memory)."""
LONGEST_MM = Fraction(10_000)

_UNITS = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": INCH, "thou": INCH / 1000}
_WORDS = {
    "mm": "mm mm. millimetre millimetres millimeter millimeters",
    "cm": "cm cm. centimetre centimetres centimeter centimeters",
    "m": "m metre metres meter meters",
    "in": 'in in. inch inches "',
    "thou": "thou thous",
}
_UNIT_WORDS = {word: unit for unit, words in _WORDS.items() for word in words.split()}
_ACCEPTED = "Write a length such as 7 mm, 27/64, 1-3/16 in, #7 or letter O."
_LETTER = re.compile(r"(?:letter |letter)?([A-Za-z])")
_NUMBER = re.compile(r"(?:#|no\.?|number|nr\.?) ?([0-9]{1,3})", re.IGNORECASE)
_FRACTION = re.compile(r"(?:([0-9]{1,4})(?: - |-| ))?([0-9]{1,5}) ?/ ?([0-9]{1,5})[ -]?(.*)")
_WITH_UNIT = re.compile(r"([-+]?[0-9.,' ]*[0-9])[ -]?([^0-9]*)")
_WITH_MM = re.compile(r"([^()]+?) ?\(([^()]+)\)")
_LETTER_O_AS_ZERO = re.compile(r"[0-9.,][Oo]|[Oo][0-9.,]|[Oo] ?(?:mm|cm|in|inch|\")")


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """A length: exact millimetres, and the designation it was written with.

    Two lengths are equal, ordered and hashed by their millimetres alone: 1/2 in is 12.7 mm.
    """

    mm: Fraction
    written: str = field(compare=False)

    def __str__(self) -> str:
        return show_length(self)


def read_length(text: str) -> Length:
    """The length written in `text`, exactly, in any notation of the trade.

    `7 mm`, `7,5 mm`, `2 cm`, a bare number from 1 up (millimetres), `27/64`, `1-3/16 in`, `0.316 in`,
    `8 thou`, number drills `#7`, letter drills `O`, and whatever `show_length` prints. A diameter sign
    before it is overlooked. A bare decimal below 1 is refused, because it may be inches or millimetres.
    Raises BadMeasure.

    >>> str(read_length("27/64"))
    '27/64 in (10.72 mm)'
    """
    tidy = plain(text, "length").lstrip("Øø⌀∅ ")
    if not tidy:
        raise _not_a_length(text.strip())
    both = _WITH_MM.fullmatch(tidy)
    return _agreeing(tidy, both[1], both[2]) if both else _read(tidy)


def show_length(length: Length) -> str:
    """The designation, with millimetres to two places where it does not give them: `O (8.03 mm)`, `7 mm`."""
    if length.written.endswith(" mm"):
        return length.written
    return f"{length.written} ({show_mm(length.mm)})"


def show_mm(mm: Fraction, places: int = 2) -> str:
    """Millimetres rounded half-even to `places`, more where all of them would be zero: `10.72 mm`, `7 mm`."""
    while mm and not round(mm * 10**places):
        places += 1
    return f"{show_number(Fraction(round(mm * 10**places), 10**places))} mm"


def millimetres(mm: Fraction | int) -> Length:
    """A computed length, written in millimetres. Raises BadMeasure where it is not above 0 and up to 10 m."""
    value = Fraction(mm)
    return _checked(value, f"{show_number(value) if decimal_places(value) is not None else _mixed(value)} mm")


@cache
def drill_sizes() -> dict[str, Fraction]:
    """Number and letter drills by designation (`#7`, `O`), in millimetres (ASME B94.11M)."""
    return {row["designation"]: Fraction(row["inch"]) * INCH for row in rows("drills")}


def _read(tidy: str) -> Length:
    if letter := _LETTER.fullmatch(tidy) or _LETTER.fullmatch(tidy.casefold()):
        return _drill(letter[1].upper())
    if number := _NUMBER.fullmatch(tidy):
        return _number_drill(int(number[1]))
    if fraction := _FRACTION.fullmatch(tidy):
        return _from_fraction(tidy, *fraction.groups())
    if plain_number := _WITH_UNIT.fullmatch(tidy):
        return _from_decimal(tidy, plain_number[1], plain_number[2].strip())
    raise _not_a_length(tidy)


def _drill(designation: str) -> Length:
    return Length(drill_sizes()[designation], designation)


def _number_drill(number: int) -> Length:
    if not 1 <= number <= 80:
        raise BadMeasure(f"There is no number drill #{number}.", hint="Number drills run from #1 to #80.")
    return _drill(f"#{number}")


def _from_fraction(tidy: str, whole: str | None, numerator: str, denominator: str, unit: str) -> Length:
    name = _unit(tidy, unit.strip() or "in")
    if int(denominator) == 0:
        raise BadMeasure(f"{said(tidy)} divides by zero.", hint=_ACCEPTED)
    part = Fraction(int(numerator), int(denominator))
    if whole is not None and part >= 1:
        raise BadMeasure(f"{said(tidy)} is not a mixed number: {part} is one or more.", hint=_ACCEPTED)
    if name in ("in", "thou") and 128 % int(denominator):
        hint = "Inch fractions go by halves, 4ths, 8ths … to 128ths; write other inches as a decimal."
        raise BadMeasure(f"{said(tidy)} is not a fraction on an inch rule.", hint=hint)
    value = int(whole or 0) + part
    return _checked(value * _UNITS[name], f"{_mixed(value)} {name}", tidy)


def _from_decimal(tidy: str, number: str, unit: str) -> Length:
    value = read_number(number)
    if value < 0:
        raise BadMeasure(f"A length cannot be negative: {said(tidy)}.", hint=_ACCEPTED)
    if not unit and 0 < value < 1:
        shown = show_number(value)
        raise BadMeasure(
            f"{said(tidy)} could be {shown} mm or {shown} in.", hint=f"Write {shown} mm or {shown} in."
        )
    name = _unit(tidy, unit or "mm")
    return _checked(value * _UNITS[name], f"{show_number(value)} {name}", tidy)


def _unit(tidy: str, word: str) -> str:
    name = _UNIT_WORDS.get(word.casefold())
    if name is None:
        raise _not_a_length(tidy)
    return name


def _agreeing(tidy: str, first: str, second: str) -> Length:
    length, beside = _read(first), _read(second)
    if abs(length.mm - beside.mm) > Fraction(1, 20):
        raise BadMeasure(
            f"{said(tidy)} says two different lengths: {show_mm(length.mm)} and {show_mm(beside.mm)}.",
            hint=f"Write one of them: {show_mm(length.mm)} or {show_mm(beside.mm)}.",
        )
    return length


def _checked(mm: Fraction, written: str, tidy: str = "") -> Length:
    shown = said(tidy or written)
    if mm == 0:
        hint = "If the letter drill O is meant, write letter O."
        raise BadMeasure(f"{shown} is zero, which is no length.", hint=hint)
    if mm < 0:
        raise BadMeasure(f"A length cannot be negative: {shown}.", hint=_ACCEPTED)
    if mm > LONGEST_MM:
        raise BadMeasure(f"{shown} is longer than 10 m.", hint="Check the unit; nothing here is so long.")
    return Length(mm, written)


def _mixed(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    return f"{whole}-{rest}" if whole else str(rest)


def _not_a_length(tidy: str) -> BadMeasure:
    hint = _ACCEPTED
    if _LETTER_O_AS_ZERO.search(tidy):
        hint = "There is a letter O where a digit 0 may be meant. " + _ACCEPTED
    return BadMeasure(f"{said(tidy)} is not a length.", hint=hint)
