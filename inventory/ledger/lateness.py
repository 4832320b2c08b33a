"""How late a supplier's parcels usually are, and the day on which one that is overdue can still be counted on.

A parcel that is not overdue is counted on for the day it is expected. One that is overdue is counted on for the
day its supplier is usually late until; once that is past too, for as many days from now as it is late already: of a
wait whose scale nobody knows, half last longer than as long again (P(longer than x more | waited a) = a/(a + x)).
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from inventory.catalogue import fold
from inventory.ledger.book import Book, DueIn

DEFAULT = 7
"""Days late where a supplier's past says nothing yet (an assumption): a week, as long as most lead times."""


def usual(seen: Iterable[int]) -> int:
    """Days by which four parcels in five were late at most; the default stands among them as one parcel more.

    seen: days of each parcel after the day it was expected, negative where it was early.
    """
    days = sorted([*(max(one, 0) for one in seen), DEFAULT])
    return days[-(-4 * len(days) // 5) - 1]


def days_late(row: DueIn, today: date) -> int:
    """Days since it should have been here; 0 where it is not overdue or nobody knows when it comes."""
    return max((today - row.expected_on).days, 0) if row.expected_on else 0


def later_than_usual(book: Book, row: DueIn, today: date) -> bool:
    """Whether it is overdue by more than its supplier usually is."""
    return days_late(row, today) > usual(book.late.get(fold(row.supplier), ()))


def counted_on(book: Book, row: DueIn, today: date) -> date | None:
    """The day for which it can be counted on; None where no day was ever said."""
    late = days_late(row, today)
    if row.expected_on is None or not late:
        return row.expected_on
    if later_than_usual(book, row, today):
        return today + timedelta(days=late)
    return row.expected_on + timedelta(days=usual(book.late.get(fold(row.supplier), ())))
