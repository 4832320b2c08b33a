"""Earliest due first, held against an enumeration of every way to share pieces out, written apart from it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from functools import cache
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.jobs.hours.earliest_due import PromisedWork, SharedOut, as_they_stand, earliest, share_out

TODAY = date(2026, 11, 28)
DAYS = 4
Said = tuple[int, int, int, int, str]
"""Pieces, minutes of each, first day, due day, stages."""
SETTING_UP = {"a": 1, "b": 2}
"""Minutes once an evening, by stage."""


def day(number: int) -> date:
    return TODAY + timedelta(days=number)


def every_share(left: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """Every choice of so many pieces or fewer of each work."""
    yield from product(*(range(many + 1) for many in left))


def takes(works: tuple[Said, ...], share: tuple[int, ...]) -> int:
    """Minutes of an evening by what it is made of."""
    there = [work for work, many in zip(works, share, strict=True) if many]
    stages = {stage for work in there for stage in work[4]}
    pieces = sum(many * work[1] for work, many in zip(works, share, strict=True))
    return pieces + sum(SETTING_UP[stage] for stage in stages)


def can_be(rooms: tuple[int, ...], works: tuple[Said, ...]) -> bool:
    """Whether all works can be done before their days, by trying every way to share out their pieces."""

    @cache
    def from_(at: int, left: tuple[int, ...]) -> bool:
        if any(many and work[3] <= at for many, work in zip(left, works, strict=True)):
            return False
        if not any(left):
            return True
        if at == len(rooms):
            return False
        may = tuple(many if work[2] <= at else 0 for many, work in zip(left, works, strict=True))
        return any(
            from_(at + 1, tuple(many - out for many, out in zip(left, share, strict=True)))
            for share in every_share(may)
            if takes(works, share) <= rooms[at]
        )

    return from_(0, tuple(work[0] for work in works))


def as_works(said: tuple[Said, ...]) -> list[PromisedWork]:
    return [
        PromisedWork(f"W{at}", pieces, each, day(first), day(due), tuple((s, SETTING_UP[s]) for s in stages))
        for at, (pieces, each, first, due, stages) in enumerate(said)
    ]


rooms = st.lists(st.integers(0, 9), min_size=DAYS, max_size=DAYS).map(tuple)
work = st.tuples(
    st.integers(0, 3),
    st.integers(1, 4),
    st.integers(0, 3),
    st.integers(1, DAYS),
    st.sampled_from(["", "a", "ab", "b"]),
)
works = st.lists(work, max_size=3).map(tuple)


def shared(rooms: tuple[int, ...], works: tuple[Said, ...]) -> SharedOut:
    hours = dict(zip(map(day, range(DAYS)), rooms, strict=True))
    return share_out(as_works(works), lambda on: hours.get(on, 0), TODAY, day(DAYS - 1))


@pytest.mark.cross_check
@given(rooms, works)
def test_nothing_is_late_wherever_nothing_has_to_be(rooms: tuple[int, ...], works: tuple[Said, ...]) -> None:
    """A way is found exactly where an enumeration of all ways finds one, and no search was cut short."""
    found = shared(rooms, works)
    assert found.proven
    assert (not found.late(as_works(works))) == can_be(rooms, works)


@pytest.mark.cross_check
@given(rooms, works)
def test_no_evening_is_longer_than_it_is(rooms: tuple[int, ...], works: tuple[Said, ...]) -> None:
    """Pieces and setting up go in, nothing is made before its parts are there, nothing more often than wanted."""
    found = shared(rooms, works)
    made = [0] * len(works)
    for at, room in enumerate(rooms):
        names = found.evenings.get(day(at), {})
        share = tuple(names.get(f"W{number}", 0) for number in range(len(works)))
        assert takes(works, share) <= room
        assert all(many == 0 or work[2] <= at for many, work in zip(share, works, strict=True))
        made = [so_far + many for so_far, many in zip(made, share, strict=True)]
    assert all(so_far <= work[0] for so_far, work in zip(made, works, strict=True))


@pytest.mark.cross_check
@given(rooms, works, st.integers(1, 3), st.integers(1, 4), st.integers(0, 3))
def test_the_earliest_day_is_the_earliest(
    rooms: tuple[int, ...], works: tuple[Said, ...], pieces: int, each: int, first: int
) -> None:
    """No earlier day can be had beside the others, and that one can; None where none can within the days looked at."""
    hours = dict(zip(map(day, range(DAYS)), rooms, strict=True))

    def minutes(on: date) -> int:
        return hours.get(on, 0)

    others = as_they_stand(as_works(works), minutes, TODAY, day(DAYS))
    plain = tuple(
        (one.pieces, one.each, (one.begins - TODAY).days, (one.due - TODAY).days, said[4])
        for one, said in zip(others, works, strict=True)
    )
    new = PromisedWork("new", pieces, each, day(first), day(1), (("a", 1),))
    by_trying = [
        at for at in range(1, DAYS + 1) if can_be((*rooms, 0), (*plain, (pieces, each, first, at, "a")))
    ]
    found = earliest(new, as_works(works), minutes, TODAY, day(DAYS))
    assert found == (day(by_trying[0]) if by_trying else None)


def test_whole_pieces_where_the_plain_rule_is_late() -> None:
    """Evenings of 6: earliest due first puts the 4 on the first and is late with a 3; both 3s go in first instead."""
    said = ((1, 4, 0, 3, ""), (2, 3, 0, 3, ""))
    found = shared((6, 4, 0, 0), said)
    assert found.evenings == {day(0): {"W1": 2}, day(1): {"W0": 1}}
    assert not found.late(as_works(said))


def test_what_is_set_up_serves_the_whole_evening() -> None:
    """Two works of one stage share its minute: 1 + 3 × 2 are 7; on evenings of 5 it is set up twice."""
    said = ((2, 2, 0, 4, "a"), (1, 2, 0, 4, "a"))
    assert shared((7, 0, 0, 0), said).evenings == {day(0): {"W0": 2, "W1": 1}}
    assert shared((5, 5, 0, 0), said).evenings == {day(0): {"W0": 2}, day(1): {"W1": 1}}


def test_what_is_late_already_keeps_its_day_of_ending() -> None:
    """A promise that cannot be kept anyway does not keep another order out, but is not put off further."""
    behind = [PromisedWork("S1", 5, 1, TODAY, day(1))]
    (moved,) = as_they_stand(behind, lambda _: 1, TODAY, day(30))
    assert moved.due == day(5)
    assert earliest(PromisedWork("new", 2, 1, TODAY, day(1)), behind, lambda _: 1, TODAY, day(30)) == day(7)


def test_a_search_that_takes_too_long_says_so() -> None:
    """The plain rule's answer then, and it is not called proven."""
    said = [PromisedWork(f"W{at:02}", 9, 7 + at, TODAY, day(60)) for at in range(12)]
    found = share_out(said, lambda _: 29, TODAY, day(90))
    assert found.late(said)
    assert not found.proven


def test_work_of_no_minutes_is_done_at_once() -> None:
    """Nothing to make takes no time, whenever its parts come."""
    nothing = PromisedWork("S1", 0, 10, day(3), day(5))
    assert not share_out([nothing], lambda _: 0, TODAY, day(6)).late([nothing])


def test_no_evening_beyond_the_last_is_filled() -> None:
    """Due in a week, with evenings looked at for two days: what has no room in those is late, not made on the third."""
    work = PromisedWork("W", 3, 4, TODAY, day(7), ())
    found = share_out([work], lambda _: 4, TODAY, day(1))
    assert found.evenings == {day(0): {"W": 1}, day(1): {"W": 1}}
