"""Orders shared out over evenings: what `plan` does with them, and that `can-take` says the same before."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import Order
from inventory.errors import Refused
from inventory.jobs.hours.time_left import promised_work, with_hours
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.requests import OrderRequest
from inventory.jobs.sessions.planning import Ask, PlanReport, plan
from inventory.ledger.shop import Shop
from jobs.goods import OLIVE
from jobs.shop import TODAY, Stock, order, plenty, request, shop

DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
EACH, ONCE = 45, 27
"""Minutes of a Turnstone, and of setting up its stages."""


def with_orders(hours: dict[str, float], *orders: Order) -> Shop:
    """The shop with plenty of everything, these hours and these promises."""
    stock: Stock = plenty()
    stock.orders = [*orders]
    text = ", ".join(f"{day} {many:g}" for day, many in hours.items() if many)
    return shop(stock, settings={"hours": text} if text else {})


def promised(name: str, count: int, days: int) -> Order:
    return order(name, count, due=TODAY + timedelta(days=days), state="promised")


def made(report: PlanReport, name: str) -> list[tuple[date, int, int]]:
    """Day, starts and wanted pieces of an order."""
    return [
        (one.on, row.starts, row.wanted)
        for one in report.sessions
        for row in one.rows
        if row.order.name == name
    ]


hours_of_a_week = st.dictionaries(st.sampled_from(DAYS), st.sampled_from([1.25, 2, 3.5, 5]), min_size=1)


@pytest.mark.cross_check
@examples(30)
@given(hours_of_a_week, st.integers(1, 5), st.integers(1, 12), st.integers(0, 4), st.integers(1, 12))
def test_the_plan_keeps_what_can_take_says(
    hours: dict[str, float], count: int, days: int, other: int, before: int
) -> None:
    """Taken where the time does not lack, every session of it is before its day, and the other order's too.

    Where the time lacks (and the other alone is in time) one of them is not: no plan keeps what is not to be kept.
    """
    others = [promised("Other", other, before)] if other else []
    report = with_hours(
        here := with_orders(hours, *others), check(here, request(count, due=TODAY + timedelta(days=days)))
    )
    assert report.time is not None
    alone = _in_time(plan(here, (), Ask(())), others) if others else True
    new = promised("New", count, days)
    told = _in_time(plan(with_orders(hours, *others, new), (), Ask(())), [*others, new])
    if alone:
        assert (not report.time.lacks) == told


def _in_time(report: PlanReport, orders: list[Order]) -> bool:
    """Whether each is wholly planned on days before its own."""
    rows = {one.name: made(report, one.name) for one in orders}
    return all(
        sum(wanted for _, _, wanted in rows[one.name]) == one.count
        and all(day < one.due for day, _, _ in rows[one.name])
        for one in orders
    )


@examples(20)
@given(hours_of_a_week, st.lists(st.tuples(st.integers(1, 6), st.integers(1, 20)), min_size=1, max_size=4))
def test_no_session_is_longer_than_its_evening(
    hours: dict[str, float], orders: list[tuple[int, int]]
) -> None:
    """Minutes are pieces and setting up once; all starts of every order are begun, all its pieces wanted."""
    several = [promised(f"O{at}", count, days) for at, (count, days) in enumerate(orders)]
    here = with_orders(hours, *several)
    report = plan(here, (), Ask(()))
    for session in report.sessions:
        assert session.minutes == EACH * sum(row.starts for row in session.rows) + ONCE
        assert session.minutes <= 60 * hours[DAYS[session.on.weekday()]]
    starts = {one.name: one.pieces for one in promised_work(here)}
    for one in several:
        rows = made(report, one.name)
        assert sum(begun for _, begun, _ in rows) == starts[one.name]
        assert sum(wanted for _, _, wanted in rows) == one.count


def test_a_part_asks_for_no_more_than_it_makes() -> None:
    """The kits laid out in each session are those of its starts, and the chance is of what it wants."""
    report = plan(with_orders({"wed": 4}, promised("Reed", 4, 30)), (), Ask(()))
    assert made(report, "Reed") == [(TODAY, 4, 3), (TODAY + timedelta(days=7), 1, 1)]
    for one in report.sessions:
        (row,) = one.rows
        assert max(row.report.plan.reach) == row.starts
        kit = next(need for need in row.report.plan.parts if need.role == "the kit")
        assert kit.need <= 1000 * row.starts
        assert row.in_part


def test_the_stall_gets_what_is_left() -> None:
    """Of six pieces two fit: parts are set aside for two, and the rest is said."""
    here = with_orders({})
    stall = OrderRequest("Turnstone gloss", ("chrome",), OLIVE, 6, TODAY)
    report = plan(here, (), Ask((TODAY,), stall=(stall,), hours=(3 * EACH + ONCE) / 60))
    (new,) = report.proposal.orders
    assert (report.sessions[0].rows[0].starts, new.count) == (3, 2)
    kits = [line.quantity for line in report.proposal.lines if line.part.startswith("Turnstone kit")]
    assert sum(kits) <= 3000
    assert any("4 do not fit" in note for note in report.notes)


def test_no_evening_for_a_single_piece() -> None:
    """It is said how long one takes."""
    with pytest.raises(Refused, match=r"one piece takes 72 min with setting up"):
        plan(with_orders({"sat": 1}, promised("Reed", 1, 30)), (), Ask(()))


def test_parts_that_are_due_in_are_waited_for() -> None:
    """The usual evenings begin once the parcel can be counted on; a day that is named is taken as it is."""
    stock = plenty()
    stock.orders = [promised("Reed", 1, 60)]
    bought = stock.coming(OLIVE, 2000, TODAY + timedelta(days=8))
    stock.claim("Reed", OLIVE, 2000, "due claim")
    stock.claims[-1] = type(stock.claims[-1])("Reed", OLIVE, "due claim", 2000, None, bought)
    here = shop(stock, settings={"hours": "wed 5"})
    assert [one.on for one in plan(here, (), Ask(())).sessions] == [TODAY + timedelta(days=14)]
    assert [one.on for one in plan(here, (), Ask((TODAY,))).sessions] == [TODAY]


def test_an_order_of_finished_pieces_takes_no_time() -> None:
    """Nothing is begun for it, so nothing is set up."""
    here = with_orders({"wed": 2})
    kept = check(here, request(2))
    done = with_hours(here, replace(kept, starts=0))
    assert done.time is not None
    assert (done.time.needed, done.time.lacks) == (0, False)
