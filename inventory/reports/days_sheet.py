"""What a sheet of ordinary days brings back: a line for each thing that happened."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Final, Literal

from inventory.catalogue import Part
from inventory.errors import Place

What = Literal["add", "took", "found", "back", "sold"]
WHATS: Final[Mapping[str, What]] = {
    **{one: one for one in ("add", "took", "found", "back", "sold")},
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


@dataclass(frozen=True, slots=True)
class DayLine:
    """One filled row. quantity: thousandths, None where nothing is said; cost: minor units a unit of what is added.

    price: minor units of one that is sold; whom: to whom it went, or where it was sold.
    """

    place: Place
    what: What
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
class FilledDays:
    """What a sheet says; fingerprint: of its content, the same for the same rows; notes: what was left alone."""

    name: str
    lines: tuple[DayLine, ...]
    fingerprint: str
    notes: tuple[str, ...] = ()
