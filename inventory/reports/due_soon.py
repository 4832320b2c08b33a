"""What a sheet of orders that are due soon says: a row for each part an order lacks, one where nothing is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class DueSoonRow:
    """One row. minutes: of work in what is to make; needed, left: of work until its day, all due no later counted in.

    left: None where no hours were said; lacking, whence: empty where nothing is lacking; order_by, here_on: days.
    """

    order: str
    customer: str
    due: date
    stands: str
    what: str
    to_make: int
    minutes: int
    needed: int
    left: int | None
    lacking: str = ""
    quantity: Decimal | None = None
    unit: str = ""
    whence: str = ""
    order_by: date | None = None
    here_on: date | None = None
