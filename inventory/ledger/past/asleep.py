"""Stock that slept: what lies on the shelf and neither came nor went for months.

What moves nothing in or out of the shop wakes nothing: names that became one, an opened bottle, a cost said later. A
count that found what the book said has no line and wakes nothing either; one that found more or less does. What a load
first brought came on the day its sheet says, where it says one. Tools are left out: they lie there to be used again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final

from inventory.ledger.costs import POSTAGE, SAID_LATER
from inventory.measures.dates import months_before

MONTHS: Final = (6, 12)
"""From how many on it is said that a part sleeps; whoever waits for the last may well give it away."""
STILL: Final = ("merged", "opened", "moved", SAID_LATER, POSTAGE)
"""Words of lines that move nothing in or out of the shop."""
NOT_STOCK: Final = "tool"
"""The kind of part that cannot sleep."""


@dataclass(frozen=True, slots=True)
class Held:
    """What lies there of a part now: thousandths, minor units; last: the day anything of it came or went."""

    part: str
    kind: str
    unit: str
    quantity: int
    cost: int
    last: date


@dataclass(frozen=True, slots=True)
class Asleep:
    """A part that sleeps; months: the most of MONTHS that have gone by since `last`."""

    part: str
    unit: str
    quantity: int
    cost: int
    last: date
    months: int


def asleep(held: Iterable[Held], today: date) -> tuple[Asleep, ...]:
    """What lay still for MONTHS[0] or longer, most money first."""
    bounds = {months: months_before(today, months) for months in MONTHS}
    found = [
        Asleep(one.part, one.unit, one.quantity, one.cost, one.last, max(passed))
        for one in held
        if one.kind != NOT_STOCK
        and one.quantity > 0
        and (passed := [months for months, day in bounds.items() if one.last <= day])
    ]
    return tuple(sorted(found, key=lambda one: (-one.cost, one.part)))


def money_asleep(some: Iterable[Asleep]) -> Mapping[int, tuple[int, int]]:
    """By MONTHS: how many parts lay still at least so long, and what they cost, minor units."""
    every = tuple(some)
    return {
        months: (
            sum(one.months >= months for one in every),
            sum(one.cost for one in every if one.months >= months),
        )
        for months in MONTHS
    }
