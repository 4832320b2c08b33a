"""Whether there is time for an order beside what is promised: its verdict with the hours of the week counted in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from math import ceil

from inventory.catalogue import STALL, Blank, Order, fold
from inventory.jobs.hours.earliest_due import PromisedWork, earliest
from inventory.jobs.hours.week import FARTHEST, TimeLeft, week_of
from inventory.jobs.orders.finished import made_for
from inventory.jobs.orders.money.pricing import MINUTES
from inventory.jobs.orders.order_check import OrderReport
from inventory.ledger.claims import claims_of
from inventory.ledger.lateness import counted_on
from inventory.ledger.shop import Shop
from inventory.measures import show_date


def with_hours(shop: Shop, report: OrderReport) -> OrderReport:
    """The answer with the time counted in, where the maker said what hours there are; else as it is.

    An order for which the parts are there in time and the hours are not is too late, and says from which day on it
    could be taken without making a promised one late.
    """
    week = week_of(shop.settings)
    if week is None or report.verdict == "cannot":
        return report
    others = list(promised_work(shop, but=report.resolved.request.order))
    due = report.resolved.request.due
    begins = max(report.earliest or shop.today, shop.today)
    new = PromisedWork("", report.starts * report.price.minutes, begins, due)
    ready = earliest(new, others, week.of, shop.today, shop.today + FARTHEST) if new.minutes else shop.today
    before = sum(one.minutes for one in others if one.due <= due)
    left = TimeLeft(new.minutes, before, week.between(shop.today, due), ready, due)
    told = replace(report, time=left, why=(_sentence(left), *report.why))
    if not left.lacks:
        return told
    days = [day for day in (report.earliest, ready) if day is not None]
    return replace(told, verdict="too late", earliest=max(days) if ready else None)


def _sentence(left: TimeLeft) -> str:
    said = (
        f"it takes {hours(left.needed)}, {hours(left.before)} are promised before, "
        f"and there are {hours(left.there)} until {show_date(left.due)}"
    )
    if not left.lacks:
        return f"Time: {said}."
    if left.ready is None:
        return f"The time lacks: {said}; with these hours no day can be named."
    return f"The time lacks: {said}; by the hours it can be ready by {show_date(left.ready)}."


def hours(minutes: int) -> str:
    """`40 min`, `2 h`, `2 h 20 min`."""
    whole, rest = divmod(minutes, 60)
    return " ".join([f"{whole} h"] * bool(whole) + [f"{rest} min"] * bool(rest or not whole))


def promised_work(shop: Shop, but: str = "") -> Iterator[PromisedWork]:
    """What is still to be made for promised orders, with the pieces that are expected to be spoiled.

    It can be begun once what is due in for it is there; what is still to be bought is taken as there, for nobody has
    said when it is ordered.
    """
    for order in shop.book.orders.values():
        if order.state == "promised" and order.customer != STALL and fold(order.name) != fold(but):
            minutes = _minutes(shop, order)
            if minutes:
                yield PromisedWork(order.name, minutes, _begins(shop, order), order.due)


def _minutes(shop: Shop, order: Order) -> int:
    pattern = shop.catalogue.pattern(order.pattern)
    to_make = max(order.count - made_for(shop, order.name), 0)
    blank = shop.catalogue.part(order.blank).detail
    survive = 1.0
    if isinstance(blank, Blank):
        for share in shop.catalogue.material(blank.material).losses.values():
            survive *= 1.0 - float(share)
    return ceil(to_make * (MINUTES if pattern.minutes is None else pattern.minutes) / survive)


def _begins(shop: Shop, order: Order) -> date:
    rows = {row.purchase: row for row in shop.book.due}
    days = [
        day
        for claim in claims_of(shop.book, order.name)
        if claim.account == "due claim"
        and claim.purchase in rows
        and (day := counted_on(shop.book, rows[claim.purchase], shop.today)) is not None
    ]
    return max([shop.today, *days])
