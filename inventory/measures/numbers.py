"""Numbers as people write them, read exactly: decimal point or comma, thousands, fractions, percent."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

from inventory.errors import BadMeasure
from inventory.measures.text import plain, said

MOST_DIGITS = 24
"""Digits of one number from the first that counts; more is a slip of the keyboard, not a quantity."""

_ACCEPTED = "Write a number such as 12, 12.5, 12,5, 1 234 or 1,234.50."
_PLAIN = re.compile(r"[0-9]*[.,]?[0-9]+")
_COMMAS = re.compile(r"[0-9]{1,3}(?:,[0-9]{3})+\.[0-9]+|[0-9]{1,3}(?:,[0-9]{3}){2,}")
_POINTS = re.compile(r"[0-9]{1,3}(?:\.[0-9]{3})+,[0-9]+|[0-9]{1,3}(?:\.[0-9]{3}){2,}")
_SPACED = re.compile(r"[0-9]{1,3}(?:[ '][0-9]{3})+(?:[.,][0-9]+)?")
_AMBIGUOUS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_FRACTION = re.compile(r"(?:([0-9]{1,6})(?: |-| - ))?([1-9][0-9]{0,3})/([1-9][0-9]{0,3})")
_SCIENTIFIC = re.compile(r"[0-9.,]\s?[eE]\s?[+-]?\s?[0-9]")
_PERCENT = re.compile(r"(.*?) ?(?:%|percent|per cent|pct)", re.IGNORECASE)


def read_number(text: str) -> Fraction:
    """The number written in `text`, exactly.

    Accepts a sign, `.` or `,` for the decimals, thousands parted by `,` `.` `'` or spaces, and simple
    fractions (`1/2`, `1 1/2`). `1,234` alone could be either and is refused, as are exponents, infinities
    and words. Raises BadMeasure.

    >>> read_number("1.234,5")
    Fraction(2469, 2)
    """
    tidy = plain(text, "number")
    sign, digits = (-1 if tidy[0] == "-" else 1), tidy.removeprefix("-").removeprefix("+").strip()
    if not digits or (tidy[0] in "+-" and digits[0] in "+-"):
        raise BadMeasure(f"{said(tidy)} is not a number.", hint=_ACCEPTED)
    fraction = _FRACTION.fullmatch(digits)
    return sign * (_parts(tidy, *fraction.groups()) if fraction else _decimal(digits))


def read_fraction(text: str) -> Fraction:
    """A share from 0 up to, not including, 1: `4 %`, `4%` or `0.04`. Raises BadMeasure.

    A number above 1 without its percent sign is refused rather than guessed at.
    """
    tidy = plain(text, "share")
    percent = _PERCENT.fullmatch(tidy)
    share = read_number(percent[1]) / 100 if percent else read_number(tidy)
    if share < 0:
        raise BadMeasure(f"A share cannot be negative: {said(tidy)}.", hint="Write 4 % or 0.04.")
    if share >= 1:
        hint = (
            "Write a share below 100 %."
            if percent
            else f"A share is below 100 %: if {tidy} % is meant, write {tidy} %."
        )
        raise BadMeasure(f"{said(tidy)} would be everything or more.", hint=hint)
    return share


def show_number(value: Fraction) -> str:
    """`value` in plain digits with a decimal point, exactly where it ends, else as a fraction: `1/3`, `1 1/3`."""
    places = decimal_places(value)
    if places is None:
        whole, rest = divmod(abs(value), 1)
        return ("-" if value < 0 else "") + (f"{whole} {rest}" if whole else str(rest))
    return fixed(int(value * 10**places), places)


def decimal_places(value: Fraction) -> int | None:
    """How many decimals write `value` exactly; None where no number of them does."""
    rest, twos, fives = value.denominator, 0, 0
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    return max(twos, fives) if rest == 1 else None


def fixed(units: int, places: int) -> str:
    """`units` of 10^-places in plain digits, every one of the places shown: fixed(1250, 2) is 12.50."""
    digits = str(abs(units)).rjust(places + 1, "0")
    whole, decimals = digits[: len(digits) - places], digits[len(digits) - places :]
    return ("-" if units < 0 else "") + whole + (f".{decimals}" if places else "")


def exact(steps: int, scale: int) -> Decimal:
    """`steps` / `scale` for JSON, exact and without idle zeros; `scale` is a power of ten such as 1000.

    Raises ValueError for any other scale: `exact(5, 3)` mistakes a number of places for a divisor.

    >>> exact(12500, 1000)
    Decimal('12.5')
    """
    places = len(str(scale)) - 1
    if scale != 10**places:
        raise ValueError(f"{scale} is not a power of ten")
    return Decimal(show_number(Fraction(steps, scale)))


def _parts(tidy: str, whole: str | None, numerator: str, denominator: str) -> Fraction:
    value = Fraction(int(numerator), int(denominator))
    if value >= 1:  # "3/2" or "25/11" is more often a mistyped date or mixed number than a quantity
        raise BadMeasure(f"{said(tidy)} is not a proper fraction.", hint="Write 1 1/2 or 1.5.")
    return int(whole or 0) + value


def _decimal(digits: str) -> Fraction:
    if sum(map(str.isdigit, digits.lstrip("0"))) > MOST_DIGITS:
        raise BadMeasure(f"{said(digits)} has too many digits to be meant.", hint=_ACCEPTED)
    if _AMBIGUOUS.fullmatch(digits):
        raise _two_readings(digits)
    if _PLAIN.fullmatch(digits):
        return Fraction(digits.replace(",", "."))
    if _COMMAS.fullmatch(digits):
        return Fraction(digits.replace(",", ""))
    if _POINTS.fullmatch(digits):
        return Fraction(digits.replace(".", "").replace(",", "."))
    if _SPACED.fullmatch(digits):
        return Fraction(re.sub("[ ']", "", digits).replace(",", "."))
    raise _no_number(digits)


def _two_readings(digits: str) -> BadMeasure:
    return BadMeasure(
        f"{said(digits)} can be read in two ways: {digits.replace(',', '')} or {digits.replace(',', '.')}.",
        hint=f"Write {digits.replace(',', '')} or {digits.replace(',', '.')}.",
    )


def _no_number(digits: str) -> BadMeasure:
    if _SCIENTIFIC.search(digits):
        return BadMeasure(f"{said(digits)} is written with an exponent.", hint="Write all its digits: 1200.")
    if digits.casefold() in {"inf", "infinity", "nan", "∞"}:
        return BadMeasure(f"{said(digits)} is not an amount of anything.", hint=_ACCEPTED)
    return BadMeasure(f"{said(digits)} is not a number.", hint=_ACCEPTED)
