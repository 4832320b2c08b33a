"""Amounts: how much of a part, as exact integers of thousandths of the unit it is counted in."""

from __future__ import annotations

import re
from fractions import Fraction
from math import ceil, floor

from inventory.errors import BadMeasure
from inventory.measures.numbers import read_number, show_number
from inventory.measures.text import plain, said
from inventory.measures.units import CONTAINERS, Unit, convert, plural, read_unit, unit_word

STEPS = 1000
"""Steps in one unit of a part: the book counts thousandths."""
MOST = 10**9
"""Units; more than this of anything is a slip, and the steps stay within a database integer."""

_NUMBER_AND_UNIT = re.compile(r"([-+]? ?(?:[0-9.,'/ ]|(?<=[0-9]) ?- ?(?=[0-9]+/))*[0-9])[ -]?(.*)")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}\.[0-9]{3}")
_EXPONENT = re.compile(r"[0-9] ?[eE] ?[-+]?[0-9]")
_ENDLESS = re.compile(r"[-+]?(?:inf(?:inity)?|nan|∞)", re.IGNORECASE)


def read_amount(
    text: str,
    unit: str,
    *,
    density: Fraction | None = None,
    net: int | None = None,
    whole: bool | str = False,
    signed: bool = False,
) -> int:
    """Steps (thousandths of `unit`) for what `text` says of a part counted in `unit`.

    A bare number is in the part's unit. Other units of the same kind are converted exactly and then rounded
    half-even to a step; a typed number finer than a step is refused, and of counted things `1.000`, which may
    be a thousand. `density` in g/ml lets weights and
    volumes change into each other; `net`, in steps, is what one bottle or pack holds. `whole` refuses parts
    of a unit (a string says what comes whole); `signed` lets negative amounts through. Raises BadMeasure.

    >>> read_amount("0.5 kg", "g"), read_amount("1 fl oz", "ml")
    (500000, 29574)
    """
    own = read_unit(unit)
    tidy = plain(text, "amount")
    number, word = _split(tidy, own)
    if whole or own.kind == "count" or unit_word(word) in CONTAINERS:
        _not_thousands(number.strip(), tidy, always=bool(whole))
    value = read_number(number)
    if value < 0 and not signed:
        raise BadMeasure(
            f"An amount cannot be negative here: {said(tidy)}.", hint="Write it without the minus."
        )
    if not word or unit_word(word) == own.name:
        steps = _typed(value, tidy)
    else:
        steps = _converted(value, word, own, density, net, tidy)
    return _bounded(steps, tidy, whole)


def show_amount(steps: int, unit: str) -> str:
    """`steps` of `unit` in words that `read_amount` reads back unchanged: `12`, `12.5 ml`, `3 sheets`."""
    own = read_unit(unit)
    whole, rest = divmod(abs(steps), STEPS)
    number = ("-" if steps < 0 else "") + (f"{whole}.{rest:03}".rstrip("0") if rest else f"{whole}")
    if own.name == "piece":
        return number
    return f"{number} {own.name if own.kind != 'count' or steps == STEPS else plural(own.name)}"


_FINE = {"kg": 2, "lb": 2, "l": 2, "cl": 1, "fl oz": 1, "oz weight": 1, "cm": 1, "m": 2, "in": 1}
"""Decimals a hand can measure of the larger units; ml, g and mm are measured whole, counted things are."""


def show_measurable(steps: int, unit: str, *, down: bool = False) -> str:
    """`steps` of `unit` as a hand can measure them, rounded up (down: of what is there, never more than there is).

    Counted things are whole, ml, g and mm whole above 1 and with one decimal below.

    >>> show_measurable(21_220, "ml"), show_measurable(401, "set"), show_measurable(300, "ml")
    ('22 ml', '1 set', '0.3 ml')
    """
    grain = _grain(steps, unit)
    rounded = steps // grain * grain if down else -(-steps // grain) * grain
    if steps > 0 and not rounded and read_unit(unit).kind != "count":
        return f"under {show_amount(grain, unit)}"
    return show_amount(rounded, unit)


def show_about(steps: Fraction, unit: str) -> str:
    """What is neither to be bought nor there, such as a pace, to the nearest a hand can measure; never nothing.

    >>> show_about(Fraction(4_090), "pcs"), show_about(Fraction(21_500), "ml"), show_about(Fraction(1), "pcs")
    ('4', '22 ml', '1')
    """
    grain = _grain(ceil(steps), unit)
    return show_amount(max(floor(steps / grain + Fraction(1, 2)), 1) * grain, unit)


def _grain(steps: int, unit: str) -> int:
    """The least difference a hand can measure, thousandths."""
    own = read_unit(unit)
    places = 0 if own.kind == "count" else _FINE.get(own.name, 0 if abs(steps) > STEPS else 1)
    grain: int = STEPS // 10**places
    return grain


def _split(tidy: str, own: Unit) -> tuple[str, str]:
    found = _NUMBER_AND_UNIT.fullmatch(tidy)
    if found and not _EXPONENT.search(tidy):
        return found[1], found[2].strip()
    if _EXPONENT.search(tidy):
        raise BadMeasure(f"{said(tidy)} is written with an exponent.", hint="Write all its digits: 1200.")
    if _ENDLESS.fullmatch(tidy):
        raise BadMeasure(f"{said(tidy)} is not an amount of anything.", hint=_accepted(own))
    raise BadMeasure(f"{said(tidy)} is not an amount: it should begin with a number.", hint=_accepted(own))


def _not_thousands(number: str, tidy: str, *, always: bool) -> None:
    """Of counted things “1.000” is as doubtful as “1,000”. Parts of one are written without idle zeros: 1.125 strips.

    always: the thing comes whole, so that no decimals can be meant.
    """
    found = _THOUSANDS.fullmatch(number)
    if found and (always or number.endswith("0")):
        many, few = number.replace(".", ""), show_number(read_number(number))
        raise BadMeasure(
            f"{said(tidy)} can be read in two ways: {many} or {few}.", hint=f"Write {many} or {few}."
        )


def _typed(value: Fraction, tidy: str) -> int:
    steps = value * STEPS
    if steps.denominator != 1:
        raise BadMeasure(
            f"{said(tidy)} is finer than a thousandth, the smallest step of the book.",
            hint=f"Write {show_number(Fraction(round(steps), STEPS))}.",
        )
    return steps.numerator


def _converted(
    value: Fraction, word: str, own: Unit, density: Fraction | None, net: int | None, tidy: str
) -> int:
    container = CONTAINERS.get(unit_word(word))
    one = _net(container, net, own, tidy) if container else STEPS * convert(word, own, density, tidy)
    exact = value * one
    if value and not round(exact):
        raise BadMeasure(f"{said(tidy)} is less than a thousandth of a {own.name}.", hint=_accepted(own))
    return round(exact)


def _net(container: str, net: int | None, own: Unit, tidy: str) -> int:
    if net is None:
        raise BadMeasure(
            f"{said(tidy)} cannot be counted: nobody has said how much a {container} holds.",
            hint=f"Give the supply its net content, or write the amount in {own.name}.",
        )
    return net


def _bounded(steps: int, tidy: str, whole: bool | str) -> int:
    if abs(steps) > MOST * STEPS:
        raise BadMeasure(f"{said(tidy)} is more than anyone keeps.", hint="Check the number and its unit.")
    if whole and steps % STEPS:
        things = whole if isinstance(whole, str) else "Kits"
        shown = show_number(Fraction(steps, STEPS))
        raise BadMeasure(
            f"{things} come whole: {shown} is not a count.", hint="Write a whole number, such as 3."
        )
    return steps


def _accepted(own: Unit) -> str:
    name = plural(own.name) if own.kind == "count" else own.name
    return f"Write a number of {name}, such as {own.example}."
