"""What was asked for, as demand ahead is reckoned from it: orders when they were taken, and what went without one."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class AskedFor:
    """So many pieces alike, wanted at once. plating: the one that was wanted first; at: who or where.

    on: the day an order was promised, or a piece sold or given away from the shelf. price: minor units for one.
    """

    on: date
    pattern: str
    plating: str
    blank: str
    pieces: int
    refill: str | None = None
    at: str = ""
    price: int | None = None
    market: bool = False
