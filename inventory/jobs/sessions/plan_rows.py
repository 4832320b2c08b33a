"""The rows of a planned session: an order with the answer it is made from, whole or a part of it.

An order may be made in several sessions. Together they begin as many pieces as the order begins in one (`order_check`),
so that `can-take`, which counts those against the hours, and the plan cannot disagree. What is wanted of a session is
the most good pieces that all begun until then give at the order's confidence.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date

from inventory.catalogue import Order, fold
from inventory.jobs.hours.piece_time import Minutes
from inventory.jobs.orders.needs import needs_for
from inventory.jobs.orders.order_check import OrderReport
from inventory.ledger.sessions import Session
from inventory.making.evening import evening


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One order in a session, with the answer it was planned from. minutes: for all its starts, nothing set up.

    setting_up: minutes by stage, once an evening.
    """

    order: Order
    report: OrderReport
    starts: int
    wanted: int
    minutes: int
    setting_up: Minutes = ()
    in_part: bool = False
    """Whether it is a part of what its order begins: the rest is begun in other sessions."""


@dataclass(frozen=True, slots=True)
class PlannedSession:
    """One session: its day and its rows, in the order they are due."""

    name: str
    on: date
    rows: tuple[PlanRow, ...]

    @property
    def setting_up(self) -> int:
        """Minutes of setting up, each stage once."""
        return sum(dict(one for row in self.rows if row.starts for one in row.setting_up).values())

    @property
    def minutes(self) -> int:
        """Work in it, setting up with it."""
        return sum(row.minutes for row in self.rows) + self.setting_up


@dataclass(slots=True)
class PlannedStarts:
    """Starts of orders that are planned in sessions of the book, by folded order."""

    starts: Counter[str] = field(default_factory=Counter)

    @classmethod
    def of(cls, sessions: Iterable[Session]) -> PlannedStarts:
        """Of these sessions."""
        done = cls()
        for session in sessions:
            for row in session.rows:
                done.starts[fold(row.order)] += row.starts
        return done


def good_of(row: PlanRow, starts: int) -> int:
    """The good pieces wanted of the first so many starts of an order: one at the least, all of them of all starts."""
    if starts <= 0 or not row.wanted:
        return 0
    if starts >= row.starts:
        return row.wanted
    plan, sure = row.report.plan, row.report.resolved.request.confidence

    def asks(good: int) -> int:
        return evening(good, plan.survivals, sure).starts

    return max(bisect_right(range(1, row.wanted), starts, key=asks), 1)


def part_of(row: PlanRow, starts: int, wanted: int) -> PlanRow:
    """A row's part in one session: what it begins there, what is wanted of it, and parts for no more."""
    if starts >= row.starts:
        return replace(row, starts=starts)
    plan = row.report.plan
    batch = replace(plan.evening, good=wanted).begun(starts)
    part = replace(plan, evening=batch)
    needs = needs_for(part, batch, row.report.resolved.request.confidence)
    parts = tuple(
        replace(one, need=min(one.need, needs.get((fold(one.part.name), one.stage), one.need)))
        for one in plan.parts
        if one.role != "finished"
    )
    report = replace(row.report, starts=starts, plan=replace(part, parts=parts))
    each = row.minutes // max(row.starts, 1)
    return PlanRow(row.order, report, starts, wanted, starts * each, row.setting_up, True)
