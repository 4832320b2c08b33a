"""Counts: what a person found on the shelf, against what the book holds."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from inventory.errors import Place
from inventory.measures import Length


@dataclass(frozen=True, slots=True)
class Count:
    """One counted line. quantity in thousandths of the part's unit; unit_cost in minor units a unit, any fraction.

    container: what one of the part's containers holds, thousandths; number: the very lot of the book (0: by its name).
    """

    part: str
    quantity: int
    unit_cost: Fraction | None = None
    lot: str = ""
    received_on: date | None = None
    opened_on: date | None = None
    use_by: date | None = None
    smallest_diameter: Length | None = None
    length: Length | None = None
    container: int | None = None
    number: int = 0
    place: Place = field(default_factory=Place, compare=False)
