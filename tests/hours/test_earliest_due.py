"""Earliest due first, held against an enumeration of every way to spend each day's hours, written apart from it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.jobs.hours.earliest_due import PromisedWork, as_they_stand, done_on, earliest, late

TODAY = date(2026, 11, 28)
DAYS = 7


def day(number: int) -> date:
    return TODAY + timedelta(days=number)


def every_split(room: int, open_: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """Every way to spend at most so many units on works with so many left."""
    if not open_:
        yield ()
        return
    for spent in range(min(room, open_[0]) + 1):
        for rest in every_split(room - spent, open_[1:]):
            yield (spent, *rest)


def can_be(rooms: tuple[int, ...], works: tuple[tuple[int, int, int], ...]) -> bool:
    """Whether works (units, first day, due day) can all be done before their days, by trying everything."""

    @cache
    def from_(at: int, left: tuple[int, ...]) -> bool:
        if any(many and due <= at for many, (_, _, due) in zip(left, works, strict=True)):
            return False
        if not any(left):
            return True
        if at == len(rooms):
            return False
        may = tuple(many if begins <= at else 0 for many, (_, begins, _) in zip(left, works, strict=True))
        return any(
            from_(at + 1, tuple(many - out for many, out in zip(left, split, strict=True)))
            for split in every_split(rooms[at], may)
        )

    return from_(0, tuple(units for units, _, _ in works))


rooms = st.lists(st.integers(0, 3), min_size=DAYS, max_size=DAYS).map(tuple)
work = st.tuples(st.integers(0, 4), st.integers(0, 4), st.integers(1, DAYS))
works = st.lists(work, max_size=3).map(tuple)


def as_works(said: tuple[tuple[int, int, int], ...]) -> list[PromisedWork]:
    return [
        PromisedWork(f"W{at}", units, day(first), day(due)) for at, (units, first, due) in enumerate(said)
    ]


@pytest.mark.cross_check
@given(rooms, works)
def test_nothing_is_late_wherever_nothing_has_to_be(
    rooms: tuple[int, ...], works: tuple[tuple[int, int, int], ...]
) -> None:
    """The rule finds a way exactly where an enumeration of all ways finds one."""
    hours = dict(zip(map(day, range(DAYS)), rooms, strict=True))
    found = late(as_works(works), lambda on: hours.get(on, 0), TODAY, day(DAYS - 1))
    assert (not found) == can_be(rooms, works)


@pytest.mark.cross_check
@given(rooms, works, st.integers(1, 4), st.integers(0, 3))
def test_the_earliest_day_is_the_earliest(
    rooms: tuple[int, ...], works: tuple[tuple[int, int, int], ...], units: int, first: int
) -> None:
    """No earlier day can be had beside the others, and that one can; None where none can within the days looked at."""
    hours = dict(zip(map(day, range(DAYS)), rooms, strict=True))

    def minutes(on: date) -> int:
        return hours.get(on, 0)

    others = as_they_stand(as_works(works), minutes, TODAY, day(DAYS))
    plain = tuple((one.minutes, (one.begins - TODAY).days, (one.due - TODAY).days) for one in others)
    new = PromisedWork("new", units, day(first), day(1))
    by_trying = [at for at in range(1, DAYS + 1) if can_be((*rooms, 0), (*plain, (units, first, at)))]
    found = earliest(new, as_works(works), minutes, TODAY, day(DAYS))
    assert found == (day(by_trying[0]) if by_trying else None)


def test_what_is_late_already_keeps_its_day_of_ending() -> None:
    """A promise that cannot be kept anyway does not keep another order out, but is not put off further."""
    behind = [PromisedWork("S1", 5, TODAY, day(1))]
    (moved,) = as_they_stand(behind, lambda _: 1, TODAY, day(30))
    assert moved.due == day(5)
    assert earliest(PromisedWork("new", 2, TODAY, day(1)), behind, lambda _: 1, TODAY, day(30)) == day(7)


def test_work_of_no_minutes_is_done_at_once() -> None:
    """Nothing to make takes no time, whenever its parts come."""
    assert done_on([PromisedWork("S1", 0, day(3), day(5))], lambda _: 0, TODAY, day(6)) == {"S1": TODAY}
