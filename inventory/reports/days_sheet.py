"""What a sheet of ordinary days brings back: a line for each thing that happened."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import Final, Literal, TypeGuard

from inventory.catalogue import Part
from inventory.errors import Place

Done = Literal["add", "took", "found", "back", "sold"]
"""What happens to one part."""
Said = Literal["made", "paid", "spent", "change", "rename", "hours"]
"""What is said of an order, a pattern, money that was spent, a name or the week."""
What = Done | Said
DONE: Final[tuple[Done, ...]] = ("add", "took", "found", "back", "sold")
SAID: Final[tuple[Said, ...]] = ("made", "paid", "spent", "change", "rename", "hours")
WHATS: Final[Mapping[str, What]] = {
    **{one: one for one in DONE},
    **{one: one for one in SAID},
    "make": "made",
    "pay": "paid",
    "spend": "spent",
    "expense": "spent",
    "changed": "change",
    "renamed": "rename",
    "added": "add",
    "bought": "add",
    "got": "add",
    "take": "took",
    "taken": "took",
    "find": "found",
    "returned": "back",
    "sell": "sold",
    "sale": "sold",
}
"""What a line may say it is, in our words and others."""


def happens(what: What) -> TypeGuard[Done]:
    """Whether a line tells what happens to a part."""
    return what in DONE


def is_said(what: What) -> TypeGuard[Said]:
    """Whether a line says something of an order, a pattern, a name or the week."""
    return what in SAID


@dataclass(frozen=True, slots=True)
class DayLine:
    """One filled row. quantity: thousandths, None where nothing is said; cost: minor units a unit of what is added.

    price: minor units of one that is sold; whom: to whom it went, or where it was sold.
    """

    place: Place
    what: Done
    part: Part
    on: date
    quantity: int | None = None
    why: str = ""
    whom: str = ""
    lot: str = ""
    cost: Fraction | None = None
    price: int | None = None
    use_by: date | None = None


@dataclass(frozen=True, slots=True)
class SaidLine:
    """One filled row of what is said. of: an order, a pattern (for `made`), anything with a name, what money was
    spent on, or the week.

    count: pieces, None where nothing is said; money: minor units, what was paid or spent or the new price of a piece.
    on, at: of what was spent, the day and the market.
    """

    place: Place
    what: Said
    of: str
    count: int | None = None
    money: int | None = None
    due: date | None = None
    blank: str = ""
    plating: str = ""
    spoiled: Mapping[str, int] = field(default_factory=dict)
    new: str = ""
    on: date | None = None
    at: str = ""


@dataclass(frozen=True, slots=True)
class FilledDays:
    """What a sheet says; fingerprint: of its content, the same for the same rows; notes: what was left alone."""

    name: str
    lines: tuple[DayLine | SaidLine, ...]
    fingerprint: str
    notes: tuple[str, ...] = ()
