"""Whether work fits before its days: whole pieces on evenings of so many minutes, the earliest due day first.

One pair of hands, pieces that are begun and finished in one evening, parts that are there from a day on, and each
stage set up once an evening, whatever is made. What is due first is worked on first, as many whole pieces as go in;
what is left of the evening goes to the next. With pieces of a minute and nothing to set up that rule is late with
nothing wherever some order of work is (Horn 1974, “Some simple scheduling algorithms”, Naval Research Logistics
Quarterly 21, from memory). With whole pieces it is not always: then all ways to share the pieces out are searched.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from itertools import accumulate

MOST_STEPS = 20_000
"""Steps of a search after which the plain rule's answer is taken (some hundredths of a second)."""


@dataclass(frozen=True, slots=True)
class PromisedWork:
    """`pieces` of `each` minutes, possible from the day `begins` on, to be done on days before `due`.

    setting_up: minutes by stage, once an evening on which any of it is made; a stage's are the same for all works.
    """

    name: str
    pieces: int
    each: int
    begins: date
    due: date
    setting_up: tuple[tuple[str, int], ...] = ()

    @property
    def minutes(self) -> int:
        """Of all pieces, nothing set up."""
        return self.pieces * self.each


Minutes = Callable[[date], int]
"""How many minutes of work a day has."""
Share = Mapping[str, int]
"""Pieces by the name of their work."""


@dataclass(slots=True)
class EveningRoom:
    """One evening while pieces are put on it. room: minutes left; stages: those set up already."""

    room: int
    stages: set[str] = field(default_factory=set)

    def most(self, work: PromisedWork, pieces: int) -> int:
        """How many of so many pieces go in."""
        left = self.room - self._more(work)
        if left < work.each:
            return 0
        return min(pieces, left // work.each) if work.each else pieces

    def take(self, work: PromisedWork, pieces: int) -> None:
        """Put so many pieces on it."""
        if pieces:
            self.room -= self._more(work) + pieces * work.each
            self.stages |= {stage for stage, _ in work.setting_up}

    def _more(self, work: PromisedWork) -> int:
        return sum(many for stage, many in work.setting_up if stage not in self.stages)


@dataclass(frozen=True, slots=True)
class SharedOut:
    """The evenings on which anything is made. proven: where a work is late, that no way is late with nothing."""

    evenings: Mapping[date, Share]
    proven: bool = True

    def done_on(self, work: PromisedWork) -> date | None:
        """The last day it is worked on, if that finishes it."""
        days = [day for day, share in self.evenings.items() if share.get(work.name)]
        made = sum(share.get(work.name, 0) for share in self.evenings.values())
        return max(days, default=work.begins) if made == work.pieces else None

    def late(self, works: Iterable[PromisedWork]) -> list[PromisedWork]:
        """Those that are not done before their days."""
        return [one for one in works if (day := self.done_on(one)) is None or (day >= one.due and one.pieces)]


def share_out(works: Sequence[PromisedWork], minutes: Minutes, today: date, last: date) -> SharedOut:
    """Whole pieces over the evenings until `last`: late with nothing where that can be, else earliest due first."""
    plain = SharedOut(_in_turn(works, minutes, today, last))
    if not plain.late(works):
        return plain
    search = _Search(works, minutes, today, last)
    found = search.found()
    return SharedOut(found) if found is not None else replace(plain, proven=search.steps <= MOST_STEPS)


def _in_turn(
    works: Sequence[PromisedWork], minutes: Minutes, today: date, last: date
) -> dict[date, dict[str, int]]:
    left = {one.name: one.pieces for one in works}
    in_turn = sorted(works, key=lambda one: (one.due, one.name))
    done: dict[date, dict[str, int]] = {}
    day = today
    while day <= last and any(left.values()):
        evening = EveningRoom(minutes(day))
        for one in in_turn if evening.room else ():
            many = evening.most(one, left[one.name]) if one.begins <= day else 0
            if many:
                evening.take(one, many)
                left[one.name] -= many
                done.setdefault(day, {})[one.name] = many
        day += timedelta(days=1)
    return done


class _Search:
    """Every way to fill the evenings that leaves no room for a piece more, until one is late with nothing."""

    def __init__(self, works: Sequence[PromisedWork], minutes: Minutes, today: date, last: date) -> None:
        self.works = sorted((one for one in works if one.pieces), key=lambda one: (one.due, one.name))
        end = min(last, max((one.due for one in self.works), default=today) - timedelta(days=1))
        span = max((end - today).days + 1, 0)
        self.days = [day for at in range(span) if minutes(day := today + timedelta(days=at))]
        self.rooms = [minutes(day) for day in self.days]
        self.until = [0, *accumulate(self.rooms)]
        self.spans = [
            (bisect_left(self.days, one.begins), bisect_left(self.days, one.due)) for one in self.works
        ]
        self.steps = 0
        self.vain: set[tuple[int, tuple[int, ...]]] = set()

    def found(self) -> dict[date, dict[str, int]] | None:
        """The evenings; None where there is no way, or the search took too long."""
        way = self._from(0, tuple(one.pieces for one in self.works))
        if way is None:
            return None
        return {
            day: {one.name: many for one, many in zip(self.works, share, strict=True) if many}
            for day, share in zip(self.days, way, strict=False)
            if any(share)
        }

    def _from(self, at: int, left: tuple[int, ...]) -> list[tuple[int, ...]] | None:
        if not any(left):
            return []
        if (at, left) in self.vain or not self._may_be(at, left):
            return None
        for share in self._fill(self.days[at], left, EveningRoom(self.rooms[at]), ()):
            rest = self._from(at + 1, tuple(a - b for a, b in zip(left, share, strict=True)))
            if rest is not None:
                return [share, *rest]
        self.vain.add((at, left))
        return None

    def _may_be(self, at: int, left: tuple[int, ...]) -> bool:
        """Whether the bare minutes of what is due by each day are there: works are in the order of their days."""
        asked = 0
        for many, one, (first, end) in zip(left, self.works, self.spans, strict=True):
            asked += many * one.each
            there = self.until[max(end, at)] - self.until[max(first, at)] if end > first else 0
            every = self.until[max(end, at)] - self.until[at]
            if many and (many * one.each > there or asked > every or not there):
                return False
        return True

    def _fill(
        self, day: date, left: tuple[int, ...], evening: EveningRoom, share: tuple[int, ...]
    ) -> Iterator[tuple[int, ...]]:
        here = len(share)
        self.steps += 1
        if self.steps > MOST_STEPS:
            return
        if here == len(left):
            if not any(self._more_go_in(day, left, evening, share)):
                yield share
            return
        one = self.works[here]
        most = evening.most(one, left[here]) if one.begins <= day else 0
        for many in range(most, -1, -1):
            then = EveningRoom(evening.room, set(evening.stages))
            then.take(one, many)
            yield from self._fill(day, left, then, (*share, many))

    def _more_go_in(
        self, day: date, left: tuple[int, ...], evening: EveningRoom, share: tuple[int, ...]
    ) -> Iterator[bool]:
        for many, taken, one in zip(left, share, self.works, strict=True):
            yield one.begins <= day and evening.most(one, many - taken) > 0


def as_they_stand(
    works: Sequence[PromisedWork], minutes: Minutes, today: date, last: date
) -> list[PromisedWork]:
    """The works with the days of those that are late already put off to when they will be done."""
    shared = share_out(works, minutes, today, last)
    put_off = {one.name: (shared.done_on(one) or last) + timedelta(days=1) for one in shared.late(works)}
    return [replace(one, due=put_off.get(one.name, one.due)) for one in works]


def earliest(
    new: PromisedWork, others: Sequence[PromisedWork], minutes: Minutes, today: date, last: date
) -> date | None:
    """The earliest day new work can be due with nothing else later than it is without it; None beyond `last`.

    Later days only make it easier, so that it is found by halving.
    """
    there = as_they_stand(others, minutes, today, last)

    def fits(days: int) -> bool:
        works = [*there, replace(new, due=today + timedelta(days=days))]
        return not share_out(works, minutes, today, last).late(works)

    low, high = 1, (last - today).days
    if not fits(high):
        return None
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if fits(middle) else (middle + 1, high)
    return today + timedelta(days=low)
