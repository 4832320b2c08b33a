"""Usual hours by weekday: read as they are typed, kept as one line, counted day by day."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.errors import BadInput
from inventory.jobs.hours.piece_time import read_stages, written
from inventory.jobs.hours.time_left import hours
from inventory.jobs.hours.week import TimeLeft, Week, read_week

MONDAY = date(2026, 11, 30)


def test_days_are_read_by_their_first_letters() -> None:
    """Two letters are enough; half hours, and an h behind, are read too."""
    assert read_week("tu 2, Thursday 1.5 h, sat. 5").minutes == (0, 120, 0, 90, 0, 300, 0)
    assert read_week("mon 24, sun 0").minutes == (1440, 0, 0, 0, 0, 0, 0)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("t 2", "no weekday"),
        ("tue", "no weekday"),
        ("tue 2, tuesday 3", "given twice"),
        ("tue 24.5", "A day of 24.5 hours is none"),
        ("tue 0", "No day has any hours"),
        ("tue 2; off 2026-12-24 to 2026-12-23", "no range of days"),
        ("tue 2; off 2026-12-24 to 2028-12-24", "no range of days"),
    ],
)
def test_what_is_no_week_is_refused(text: str, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        read_week(text)


def test_a_range_of_days_off_may_be_four_hundred_days_long() -> None:
    """And begins and ends with the days it names."""
    assert len(read_week("tue 2; off 2026-01-01 to 2027-02-05").off) == 401
    assert read_week("tue 2", ("2026-12-24 to 2026-12-26",)).off == {
        date(2026, 12, day) for day in (24, 25, 26)
    }


def test_minutes_between_two_days_leave_the_last_one_out() -> None:
    """Two hours on Tuesdays and five on Saturdays; a Saturday off; the last day counts, the one after it does not."""
    week = read_week("tue 2, sat 5; off 2026-12-12; until 2026-12-15")
    assert week.between(MONDAY, MONDAY) == 0
    assert week.between(MONDAY, MONDAY + timedelta(days=1)) == 0
    assert week.between(MONDAY, MONDAY + timedelta(days=2)) == 120
    assert week.between(MONDAY, MONDAY + timedelta(days=7)) == 420
    assert week.between(MONDAY, MONDAY + timedelta(days=14)) == 420 + 120
    assert week.between(MONDAY, MONDAY + timedelta(days=60)) == 420 + 120 + 120
    assert week.between(MONDAY, MONDAY - timedelta(days=9)) == 0
    assert [week.of(date(2026, 12, day)) for day in (12, 15, 19)] == [0, 120, 0]


@given(
    st.lists(st.integers(0, 96), min_size=7, max_size=7).filter(any),
    st.frozensets(st.dates(MONDAY, MONDAY + timedelta(days=99)), max_size=3),
    st.none() | st.dates(MONDAY, MONDAY + timedelta(days=99)),
)
@examples(20)
def test_a_week_is_kept_as_it_is_read(quarters: list[int], off: frozenset[date], until: date | None) -> None:
    """Any week of whole quarters of an hour."""
    week = Week(tuple(15 * many for many in quarters), off, until)
    assert read_week(week.written) == week


def test_minutes_by_stage_are_kept_as_they_are_read() -> None:
    """In working order; ten hours at most, each stage once."""
    assert read_stages("turn 20, Finish 600 min") == {"turn": 20, "finish": 600}
    assert written({"finish": 25, "turn": 20}) == "turn 20, finish 25"
    for bad in ("turn 601", "turn 20, turn 30", "polish 3", "turn"):
        with pytest.raises(BadInput, match="no stage with its minutes"):
            read_stages(bad)


def test_minutes_are_said_in_hours() -> None:
    said = [hours(many) for many in (0, 40, 60, 119, 120, 140)]
    assert said == ["0 min", "40 min", "1 h", "1 h 59 min", "2 h", "2 h 20 min"]


@pytest.mark.parametrize(("ready", "lacks"), [(0, False), (-1, False), (1, True), (None, True)])
def test_time_lacks_where_the_day_is_later_or_none(ready: int | None, lacks: bool) -> None:
    day = None if ready is None else MONDAY + timedelta(days=ready)
    assert TimeLeft(60, 0, 60, day, MONDAY).lacks is lacks
