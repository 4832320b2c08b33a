"""The supplier list and all that is said about it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from inventory.buying import (
    Basket,
    NearMiss,
)
from inventory.reports.demands import Demand, Overdue, Wear


@dataclass(frozen=True, slots=True)
class Shopping:
    """The list and all that is said about it. per_line, one_supplier: what the lists a person would write cost
    (shop minor units, None where there is none); warnings: sentences;
    late: promises that wait for parcels which come too late for them.
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
