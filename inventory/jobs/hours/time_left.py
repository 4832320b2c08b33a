"""Whether there is time for an order beside what is promised: its verdict with the hours of the week counted in.

How work is shared out over evenings loads only where the maker said what hours there are.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from inventory.catalogue import STALL, Blank, Order, Pattern, fold
from inventory.jobs.hours.piece_time import piece_time
from inventory.jobs.hours.week import FARTHEST, TimeLeft, week_of
from inventory.jobs.orders.finished import made_for
from inventory.jobs.orders.needs import survivals_of
from inventory.jobs.orders.order_check import OrderReport
from inventory.ledger.claims import claims_of
from inventory.ledger.lateness import counted_on
from inventory.ledger.shop import Shop
from inventory.making.evening import evening
from inventory.measures import show_date

if TYPE_CHECKING:
    from inventory.jobs.hours.earliest_due import PromisedWork

CONFIDENCE = 0.9
"""How sure to be of a promised order, as `request_of` takes it."""


def with_hours(shop: Shop, report: OrderReport) -> OrderReport:
    """The answer with the time counted in, where the maker said what hours there are; else as it is.

    An order for which the parts are there in time and the hours are not is too late, and says from which day on it
    could be taken without making a promised one late.
    """
    week = week_of(shop.settings)
    if week is None or report.verdict == "cannot":
        return report
    from inventory.jobs.hours.earliest_due import earliest

    others = list(promised_work(shop, but=report.resolved.request.order))
    due = report.resolved.request.due
    begins = max(report.earliest or shop.today, shop.today)
    new = work_of(shop, "", report.resolved.pattern, report.starts, begins, due)
    ready = earliest(new, others, week.of, shop.today, shop.today + FARTHEST) if new.pieces else shop.today
    before = sum(one.minutes for one in others if one.due <= due)
    once = sum(many for _, many in new.setting_up) if new.pieces else 0
    left = TimeLeft(new.minutes + once, before, week.between(shop.today, due), ready, due)
    told = replace(report, time=left, why=(_sentence(left), *report.why))
    if not left.lacks:
        return told
    days = [day for day in (report.earliest, ready) if day is not None]
    return replace(told, verdict="too late", earliest=max(days) if ready else None)


def work_of(shop: Shop, name: str, pattern: Pattern, starts: int, begins: date, due: date) -> PromisedWork:
    """So many starts as whole pieces; where one takes longer than any evening of the week, as minutes to be broken off.

    Such a piece goes on the next evening where it was left, and is set up for once.
    """
    from inventory.jobs.hours.earliest_due import PromisedWork

    time, week = piece_time(shop.catalogue, shop.settings, pattern), week_of(shop.settings)
    if starts and week is not None and time.minutes + time.once > max(week.minutes):
        return PromisedWork(name, starts * time.minutes + time.once, 1, begins, due)
    return PromisedWork(name, starts, time.minutes, begins, due, time.setting_up)


def _sentence(left: TimeLeft) -> str:
    said = (
        f"it takes {hours(left.needed)}, {hours(left.before)} are promised before, "
        f"and there are {hours(left.there)} until {show_date(left.due)} (whole pieces, set up each evening)"
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
    """What is still to be begun for promised orders, so many pieces that the wanted ones come out nine times in ten.

    It can be begun once what is due in for it is there; what is still to be bought is taken as there, for nobody has
    said when it is ordered.
    """
    for order in shop.book.orders.values():
        if order.state == "promised" and order.customer != STALL and fold(order.name) != fold(but):
            starts = starts_for(shop, order)
            if starts:
                pattern = shop.catalogue.pattern(order.pattern)
                yield work_of(shop, order.name, pattern, starts, begins_on(shop, order), order.due)


def starts_for(shop: Shop, order: Order) -> int:
    """Pieces to begin for what an order still lacks, as `plan` and `can-take` reckon them."""
    to_make = max(order.count - made_for(shop, order.name), 0)
    if not to_make:
        return 0
    blank = shop.catalogue.part(order.blank).detail
    if not isinstance(blank, Blank):
        return to_make
    pattern, material = shop.catalogue.pattern(order.pattern), shop.catalogue.material(blank.material)
    return evening(to_make, survivals_of(shop, pattern, material), CONFIDENCE).starts


def begins_on(shop: Shop, order: Order) -> date:
    """The day from which on all that is due in for an order is there."""
    rows = {row.purchase: row for row in shop.book.due}
    days = [
        day
        for claim in claims_of(shop.book, order.name)
        if claim.account == "due claim"
        and claim.purchase in rows
        and (day := counted_on(shop.book, rows[claim.purchase], shop.today)) is not None
    ]
    return max([shop.today, *days])
