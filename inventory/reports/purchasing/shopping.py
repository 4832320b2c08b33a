"""The supplier list and all that is said about it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from inventory.buying import (
    Basket,
    NearMiss,
)
from inventory.reports.purchasing.demands import Demand, Overdue, Wear


@dataclass(frozen=True, slots=True)
class LookedAhead:
    """What a list that looks ahead leaves for the next trip. waits: what, and from whom it is likely to be bought then;

    trip: the day of the next trip; likely: by supplier the share of courses in which that trip sends to it; gap: coins
    by which another choice might be expected to cost less, 0 where none is; courses: how many were drawn.

    Assumed of it: dearness, times its profit an order is worth that comes late; making, days from a parcel to the
    finished piece.
    """

    waits: tuple[tuple[Demand, str], ...]
    trip: date
    likely: tuple[tuple[str, float], ...]
    gap: float
    courses: int
    dearness: float
    making: int


@dataclass(frozen=True, slots=True)
class Shopping:
    """The list and all that is said about it. per_line, one_supplier: what the lists a person would write cost
    (shop minor units, None where there is none); warnings: sentences;
    late: promises that wait for parcels which come too late for them; ahead: what waits, None for today's list.
    """

    basket: Basket
    demands: tuple[Demand, ...]
    per_line: Fraction | None
    one_supplier: tuple[str, Fraction] | None
    misses: tuple[NearMiss, ...]
    warnings: tuple[str, ...]
    inspections: tuple[Wear, ...]
    until: date
    late: tuple[Overdue, ...] = ()
    ahead: LookedAhead | None = None
