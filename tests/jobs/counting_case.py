"""Counts of a sheet and what is booked of them, for the tests of counting."""

from __future__ import annotations

from typing import Any

from inventory.errors import Place
from inventory.jobs.counting.count_booking import CountReport, book_count
from inventory.ledger.shop import Shop
from inventory.reports.filled import FilledCount, FilledCounts
from jobs.booking import booked

MARK = "this book"


VERSION = 7
"""Of the shop's book."""


def row(part: str, units: float, second: float | None = None, lot: int = 0) -> FilledCount:
    """One filled row, in units."""
    again = None if second is None else round(1000 * second)
    return FilledCount(Place("counts.csv", "counts", 2), part, round(1000 * units), again, lot)


def sheet(*rows: FilledCount, mark: str = MARK, version: int = VERSION) -> FilledCounts:
    """A filled sheet."""
    return FilledCounts(mark, version, rows, "as filled")


def count(here: Shop, *rows: FilledCount, **more: Any) -> tuple[CountReport, Shop]:
    """The report, and the shop after it."""
    report = book_count(here, sheet(*rows), MARK, **more)
    return report, booked(here, report.proposal)


def on_hand(here: Shop, *parts: str) -> list[float]:
    """Units of each part."""
    return [here.book.balance(part).on_hand / 1000 for part in parts]
