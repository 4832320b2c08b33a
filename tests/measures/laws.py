"""What holds for every reader of measures, whatever it is given: for property tests and scripts/soak/fuzz.py."""

from __future__ import annotations

import inspect
import time
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Generic, TypeVar

from inventory import measures
from inventory.errors import BadMeasure
from inventory.measures import (
    Unit,
    currency,
    read_amount,
    read_date,
    read_drill,
    read_fraction,
    read_grit,
    read_length,
    read_money,
    read_number,
    read_unit,
    read_unit_price,
    show_amount,
    show_date,
    show_grit,
    show_length,
    show_money,
    show_number,
    show_unit_price,
)
from inventory.measures.text import LONGEST

T = TypeVar("T")
LONGEST_SECONDS = 0.5
"""Of work for one text; a reader takes some microseconds, and up to a tenth of a second where it loads a table."""


@dataclass(frozen=True)
class Law(Generic[T]):
    """A reader and what prints its values. of: its public name; exact: what has to stay the same, beside the value."""

    of: str
    read: Callable[[str], T]
    show: Callable[[T], str]
    exact: Callable[[T], object] = lambda value: value


def readers() -> set[str]:
    """The public functions of the room that begin with a text to be read."""
    found = set()
    for name in measures.__all__:
        one = inspect.unwrap(getattr(measures, name))  # some remember what they were asked
        first = (
            next(iter(inspect.signature(one).parameters.values()), None) if inspect.isfunction(one) else None
        )
        if first is not None and first.annotation in ("str", str):
            found.add(name)
    return found


EUR, JPY = currency("EUR"), currency("JPY")
read_amount("1 oz", "g")  # loads the tables of units, which no text is to wait for
LAWS: dict[str, Law[Any]] = {
    "length": Law("read_length", read_length, show_length, lambda one: (one.mm, one.written)),
    "drill": Law("read_drill", read_drill, str),
    "grit": Law("read_grit", read_grit, show_grit),
    "number": Law("read_number", read_number, show_number),
    "share": Law("read_fraction", read_fraction, lambda share: f"{show_number(share * 100)} %"),
    "unit": Law("read_unit", read_unit, lambda unit: Unit(unit.name, unit.kind).name),
    "volume": Law(
        "read_amount",
        lambda text: read_amount(text, "ml", density=Fraction(11, 10), net=1000, signed=True),
        lambda steps: show_amount(steps, "ml"),
    ),
    "weight": Law("read_amount", lambda text: read_amount(text, "g"), lambda steps: show_amount(steps, "g")),
    "count": Law(
        "read_amount",
        lambda text: read_amount(text, "piece", whole=True),
        lambda steps: show_amount(steps, "piece"),
    ),
    "money": Law(
        "read_money", lambda text: read_money(text, EUR, signed=True), lambda coins: show_money(coins, EUR)
    ),
    "price": Law(
        "read_unit_price",
        lambda text: read_unit_price(text, JPY),
        lambda price: show_unit_price(price, JPY),
    ),
    "currency": Law("currency", currency, lambda money: money.code),
    "date": Law("read_date", read_date, show_date),
    "date, month first": Law("read_date", lambda text: read_date(text, order="month first"), show_date),
}


def check(law: Law[Any], text: str) -> bool:
    """Whether `text` was read; AssertionError where the reader breaks a promise, any other error where it breaks.

    A text is read or refused with a short sentence and a remedy, in bounded time. What was read, printed and read
    again is the same, and prints the same.
    """
    started = time.process_time()
    try:
        value = law.read(text)
    except BadMeasure as refusal:
        _sentence(refusal)
        return False
    finally:
        assert time.process_time() - started < LONGEST_SECONDS
    shown = law.show(value)
    assert shown.isprintable(), shown
    assert len(shown) <= LONGEST, shown
    again = law.read(shown)
    assert (value, law.exact(value)) == (again, law.exact(again)), (value, shown, again)
    assert law.show(again) == shown
    return True


def _sentence(refusal: BadMeasure) -> None:
    assert refusal.message.endswith("."), refusal.message
    assert len(refusal.message) < 200, refusal.message
    assert refusal.message.isprintable(), refusal.message
    assert refusal.hint, refusal.message
