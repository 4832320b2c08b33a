"""Dates: one day, or a sentence why not."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.errors import BadMeasure
from inventory.measures import Order, read_date, show_date

DAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    "text",
    [
        "2026-11-25",
        "2026/11/25",
        "2026-11-25 00:00:00",
        "2026-11-25T00:00:00",
        "25 Nov 2026",
        "25 November 2026",
        "25-Nov-2026",
        "25. November 2026",
        "25th Nov. 2026",
        "Nov 25, 2026",
        "November 25th 2026",
        "25.11.2026",
        "25. 11. 2026",
        "25/11/2026",
        "25-11-2026",
        "11/25/2026",
        "\u00a025\u00a0nov\u00a02026 ",
    ],
)
def test_a_date_is_read_in_the_ways_people_write_it(text: str) -> None:
    """Month by name, day first with dots, either way round where only one is a day."""
    assert read_date(text) == DAY


@pytest.mark.parametrize(
    ("text", "order", "day"),
    [
        ("03/04/2026", "day first", date(2026, 4, 3)),
        ("03/04/2026", "month first", date(2026, 3, 4)),
        ("03.04.2026", None, date(2026, 4, 3)),
        ("04/04/2026", None, date(2026, 4, 4)),
        ("1 Sept 2026", None, date(2026, 9, 1)),
        ("29 Feb 2028", None, date(2028, 2, 29)),
        ("1 Jan 1970", None, date(1970, 1, 1)),
        ("31/12/2200", None, date(2200, 12, 31)),
    ],
)
def test_an_order_settles_what_could_be_two_days(text: str, order: Order | None, day: date) -> None:
    """Dots put the day first; the caller may know; twice the same number is no question."""
    assert day == read_date(text, order=order)


@pytest.mark.parametrize(
    ("text", "message", "hint"),
    [
        ("03/04/2026", "could be 2026-04-03 or 2026-03-04", "2026-04-03 or 2026-03-04"),
        ("3-4-2026", "could be 2026-04-03 or 2026-03-04", "2026-04-03 or 2026-03-04"),
        ("30 February 2026", "February 2026 has 28 days", "2026-11-25"),
        ("29.2.2026", "February 2026 has 28 days", "2026-11-25"),
        ("29.2.2100", "February 2100 has 28 days", "2026-11-25"),
        ("31/04/2026", "April 2026 has 30 days", "2026-11-25"),
        ("0 May 2026", "no 0 May 2026", "2026-11-25"),
        ("2026-13-01", "no month 13", "2026-11-25"),
        ("11.25.2026", "no month 25", "2026-11-25"),
        ("30/30/2026", "no month 30", "2026-11-25"),
        ("25 Nov 26", "four digits", "2026-11-25"),
        ("25.11.26", "four digits", "2026-11-25"),
        ("1 Jan 1969", "out of reach", "1970 to 2200"),
        ("2201-01-01", "out of reach", "1970 to 2200"),
        ("25 Brumaire 2026", "no month called “Brumaire”", "2026-11-25"),
        ("2026-11-25 13:30", "not a date", "2026-11-25"),
        ("2026-11/25", "not a date", "2026-11-25"),
        ("46351", "not a date", "2026-11-25"),
        ("tomorrow", "not a date", "2026-11-25"),
        ("", "empty", "Write the date"),
    ],
)
def test_a_day_that_is_none_or_two_is_refused(text: str, message: str, hint: str) -> None:
    """Both readings are named in ISO 8601; a day that does not exist is told why."""
    with pytest.raises(BadMeasure) as refusal:
        read_date(text)
    assert message in refusal.value.message
    assert hint in refusal.value.hint


@given(st.dates(date(1970, 1, 1), date(2200, 12, 31)))
def test_every_day_reads_back(day: date) -> None:
    """As shown, and as the standard library writes it in words."""
    assert day == read_date(show_date(day)) == date.fromisoformat(show_date(day))
    assert day == read_date(f"{day.day} {day:%B} {day.year}") == read_date(f"{day:%d.%m.%Y}")
    assert day == read_date(f"{day:%m/%d/%Y}", order="month first")
