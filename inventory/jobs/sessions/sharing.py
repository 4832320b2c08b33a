"""An order's whole pieces over the evenings there are, earliest due first, each stage set up once an evening."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from inventory.catalogue import STALL, fold
from inventory.errors import Refused
from inventory.jobs.hours.earliest_due import PromisedWork, SharedOut, share_out
from inventory.jobs.hours.piece_time import piece_time
from inventory.jobs.hours.time_left import begins_on
from inventory.jobs.hours.week import FARTHEST, Week, week_of
from inventory.jobs.sessions.plan_rows import PlannedStarts, PlanRow, good_of
from inventory.ledger.sessions import Session
from inventory.ledger.shop import Shop
from inventory.measures import plural, show_date

NO_END = 10**6
"""Minutes of an evening of which nobody said how long it is."""
_NAMES = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True, slots=True)
class Room:
    """The evenings that are planned, and how many minutes each day has.

    unsaid: days that were named and of which nobody said how long they are, though the hours of the week are known.
    """

    days: tuple[date, ...]
    minutes: Mapping[date, int]
    week: Week | None
    unsaid: tuple[date, ...] = ()
    by_parts: bool = False
    """Whether an order is begun only once its parts are there: days that were named are taken as they are."""

    def of(self, day: date) -> int:
        """Minutes of a day: of those planned, then of the usual evenings after the last of them."""
        if day in self.minutes:
            return self.minutes[day]
        return self.week.of(day) if self.week is not None and day > self.days[-1] else 0


@dataclass(frozen=True, slots=True)
class Parts:
    """What of an order goes on which evening: starts, and good pieces wanted of them."""

    row: PlanRow
    on: tuple[tuple[date, int, int], ...] = ()

    @property
    def left(self) -> int:
        """Good pieces wanted that go on no evening."""
        return self.row.wanted - sum(wanted for _, _, wanted in self.on)


def room_for(
    shop: Shop,
    days: Sequence[date],
    until: date | None,
    hours: float | None,
    planned: Sequence[Session],
) -> Room:
    """The evenings of a plan: the days named, else those with usual hours until a day, else today.

    planned: sessions of the book that take their part of them. Raises Refused where no evening is known until then.
    """
    week = week_of(shop.settings)
    if not days and until is not None and week is None:
        raise Refused(
            "No hours are known, so nobody knows which evenings there are.",
            hint='Say them: kitdrawer hours "tue 2, thu 2, sat 5", or name the days: --on DATE.',
        )
    usual = not days and week is not None
    chosen = tuple(_usual_days(shop, week, until)) if usual and week else tuple(days) or (shop.today,)
    if not chosen:
        raise Refused(
            f"There are no hours{f' until {show_date(until)}' if until else ' any more'}.",
            hint="Say a later day, or what hours there are: kitdrawer hours",
        )
    said = None if hours is None else int(hours * 60)
    unsaid = [day for day in chosen if said is None and week is not None and not week.of(day)]
    minutes = {
        day: max((said or (week.of(day) if week else 0) or NO_END) - _taken(shop, planned, day), 0)
        for day in chosen
    }
    return Room(chosen, minutes, week, tuple(unsaid), by_parts=usual)


def _usual_days(shop: Shop, week: Week, until: date | None) -> Iterator[date]:
    end = min(until or date.max, shop.today + FARTHEST)
    for at in range((end - shop.today).days + 1):
        if week.of(day := shop.today + timedelta(days=at)):
            yield day


def _taken(shop: Shop, planned: Sequence[Session], day: date) -> int:
    """Minutes the sessions of the book take of a day."""
    taken, stages = 0, dict[str, int]()
    for session in planned:
        for row in session.rows if session.on == day else ():
            order = shop.book.orders.get(fold(row.order))
            if order is not None and order.state == "promised":
                time = piece_time(shop.catalogue, shop.settings, shop.catalogue.pattern(order.pattern))
                taken += row.starts * time.minutes
                stages |= dict(time.setting_up)
    return taken + sum(stages.values())


def shared(
    shop: Shop, rows: Sequence[PlanRow], room: Room, begun: PlannedStarts
) -> tuple[tuple[Parts, ...], bool]:
    """Each row's pieces over the evenings, in the order of the rows; whether no better way exists where one is late."""
    works = [_work(shop, at, row, room, begun) for at, row in enumerate(rows)]
    last = room.days[-1] if room.week is None else shop.today + FARTHEST
    found = share_out(works, room.of, room.days[0], max(last, room.days[-1]))
    parts = (_parts(row, work.name, found, begun) for row, work in zip(rows, works, strict=True))
    return tuple(parts), found.proven or not found.late(works)


def _work(shop: Shop, at: int, row: PlanRow, room: Room, begun: PlannedStarts) -> PromisedWork:
    """The stall's pieces come after all that is promised."""
    starts = row.starts - begun.starts[fold(row.order.name)]
    stall = row.order.customer == STALL
    due = date.max if stall else row.order.due
    begins = begins_on(shop, row.order) if room.by_parts and not stall else room.days[0]
    return PromisedWork(
        f"{at:05}", starts, row.minutes // max(row.starts, 1), max(begins, room.days[0]), due, row.setting_up
    )


def _parts(row: PlanRow, name: str, found: SharedOut, begun: PlannedStarts) -> Parts:
    before = begun.starts[fold(row.order.name)]
    so_far = good_of(row, before)
    rest = PlanRow(row.order, row.report, row.starts, row.wanted - so_far, row.minutes, row.setting_up)
    done = []
    for day in sorted(found.evenings):
        if starts := found.evenings[day].get(name, 0):
            before += starts
            good = good_of(row, before)
            done.append((day, starts, good - so_far))
            so_far = good
    return Parts(rest, tuple(done))


def evening_words(day: date) -> str:
    """`Thu 2026-12-03`."""
    return f"{_NAMES[day.weekday()]} {show_date(day)}"


def notes_of(parts: Parts, room: Room) -> Iterator[str]:
    """What of an order goes where, unless it all goes on one of the evenings planned; and what comes too late."""
    order, whole = parts.row.order, parts.row.wanted
    here = [(day, wanted) for day, _, wanted in parts.on if day in room.minutes]
    later = [(day, wanted) for day, _, wanted in parts.on if day not in room.minutes]
    if len(here) > 1 or (here and (later or parts.left)):
        yield f"{order.name}: {_on(here, whole)}{_more(later, parts)}."
    elif later:
        yield f"{order.name} does not fit this session: {_on(later, whole)}, not planned yet."
    elif parts.left:
        each = parts.row.minutes // max(parts.row.starts, 1)
        set_up = sum(many for _, many in parts.row.setting_up)
        yield (
            f"{order.name} ({parts.row.minutes} min) does not fit this session: one piece takes {each + set_up} min "
            "with setting up; give more hours or days."
        )
    last = max((day for day, _, _ in parts.on), default=None)
    if last is not None and order.customer != STALL and last >= order.due:
        yield (
            f"{order.name} is due on {show_date(order.due)}, "
            f"{'before its session' if last > order.due else 'the day of its last session'}."
        )


def _on(several: Sequence[tuple[date, int]], whole: int) -> str:
    (day, first), *rest = several
    return ", ".join(
        [
            f"{first} of {whole} on {evening_words(day)}",
            *(f"{many} on {evening_words(at)}" for at, many in rest),
        ]
    )


def _more(later: Sequence[tuple[date, int]], parts: Parts) -> str:
    if later:
        also = ", ".join(f"{many} on {evening_words(day)}" for day, many in later)
        return f"; {also}, not planned yet"
    if not parts.left:
        return ""
    return f"; {plural(parts.left, 'does', 'do')} not fit: give more hours or days"
