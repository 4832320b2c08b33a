"""How late suppliers usually are, and until when an overdue parcel is counted on."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.ledger import Book, DueIn
from inventory.ledger.lateness import DEFAULT, counted_on, days_late, later_than_usual, usual

TODAY = date(2026, 12, 9)


def due(days: int | None) -> DueIn:
    """Kits that were expected so many days ago."""
    return DueIn(1, "kit", "Seller", 1000, 0, None if days is None else TODAY - timedelta(days=days))


@pytest.mark.parametrize(
    ("seen", "days"),
    [((), 7), ((0, 0, -3), 7), ((0, 0, 0, 0), 0), ((3, 1, 2, 9, 4), 7), ((10, 20, 30, 40), 30)],
)
def test_usual(seen: tuple[int, ...], days: int) -> None:
    """Four in five, with a week as one parcel more; early ones are on time."""
    assert usual(seen) == days


@given(st.lists(st.integers(-9, 60), max_size=40))
def test_four_parcels_in_five_were_no_later(seen: list[int]) -> None:
    """Counted one by one; a day less would not be enough."""
    said, all_ = usual(seen), [*(max(one, 0) for one in seen), DEFAULT]
    assert sum(one <= said for one in all_) >= 0.8 * len(all_)
    assert said == 0 or sum(one < said for one in all_) < 0.8 * len(all_)


@given(st.lists(st.integers(-9, 60), max_size=20), st.none() | st.integers(-20, 60))
def test_counted_on(seen: list[int], days: int | None) -> None:
    """Never a day that is past; on its day until that is past; never sooner for being later."""
    book = Book(late={"seller": tuple(seen)})
    row = due(days)
    day = counted_on(book, row, TODAY)
    if days is None or row.expected_on is None or day is None:
        assert day is None
        assert not later_than_usual(book, row, TODAY)
        return
    assert day >= max(row.expected_on, TODAY)
    assert (day == row.expected_on) == (days <= 0)
    assert days_late(row, TODAY) == max(days, 0)
    later = counted_on(book, due(days + 1), TODAY)
    assert later is not None
    assert later - (TODAY - timedelta(days=days + 1)) >= day - row.expected_on
