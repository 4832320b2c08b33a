"""Whether work fits before its days: the earliest due day first, on days of so many minutes.

One pair of hands, work that may be broken off and taken up again, and parts that are there from a day on: then working
on what is due first, of what can be begun, is late with nothing wherever some order of work is late with nothing (Horn
1974, “Some simple scheduling algorithms”, Naval Research Logistics Quarterly 21, from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta


@dataclass(frozen=True, slots=True)
class PromisedWork:
    """minutes of work, possible from the day `begins` on, to be done on days before `due`."""

    name: str
    minutes: int
    begins: date
    due: date


Minutes = Callable[[date], int]
"""How many minutes of work a day has."""


def done_on(works: Iterable[PromisedWork], minutes: Minutes, today: date, last: date) -> dict[str, date]:
    """The day each work is finished on, earliest due first; those not finished by `last` are left out."""
    left = {one.name: one.minutes for one in works}
    in_turn = sorted(works, key=lambda one: (one.due, one.name))
    finished = {one.name: today for one in in_turn if not one.minutes}
    day = today
    while day <= last and len(finished) < len(in_turn):
        room = minutes(day)
        for one in in_turn:
            if one.begins <= day and room and left[one.name]:
                spent = min(room, left[one.name])
                room -= spent
                left[one.name] -= spent
                if not left[one.name]:
                    finished[one.name] = day
        day += timedelta(days=1)
    return finished


def late(works: Sequence[PromisedWork], minutes: Minutes, today: date, last: date) -> list[PromisedWork]:
    """Those that are not done before their days."""
    done = done_on(works, minutes, today, last)
    return [one for one in works if one.name not in done or done[one.name] >= one.due]


def as_they_stand(
    works: Sequence[PromisedWork], minutes: Minutes, today: date, last: date
) -> list[PromisedWork]:
    """The works with the days of those that are late already put off to when they will be done."""
    done = done_on(works, minutes, today, last)
    put_off = {
        one.name: done.get(one.name, last) + timedelta(days=1) for one in late(works, minutes, today, last)
    }
    return [replace(one, due=put_off.get(one.name, one.due)) for one in works]


def earliest(
    new: PromisedWork, others: Sequence[PromisedWork], minutes: Minutes, today: date, last: date
) -> date | None:
    """The earliest day new work can be due with nothing else later than it is without it; None beyond `last`.

    Later days only make it easier, so that it is found by halving.
    """
    there = as_they_stand(others, minutes, today, last)

    def fits(days: int) -> bool:
        return not late([*there, replace(new, due=today + timedelta(days=days))], minutes, today, last)

    low, high = 1, (last - today).days
    if not fits(high):
        return None
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if fits(middle) else (middle + 1, high)
    return today + timedelta(days=low)
