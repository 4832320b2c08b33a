"""What the book remembers of what was asked for, for the commands that look ahead."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from inventory.catalogue import fold

if TYPE_CHECKING:
    from inventory.jobs.ahead.levels import DemandPast
    from inventory.jobs.orders.order_check import OrderReport
    from inventory.ledger.shop import Shop
    from inventory.store import Read


def past_of(read: Read, shop: Shop) -> DemandPast:
    """Orders, sales and gifts, shopping trips, and the markets the maker named."""
    from inventory.jobs.ahead.history import asked_for, notices
    from inventory.jobs.ahead.levels import DemandPast
    from inventory.jobs.ahead.markets import markets_of

    markets = markets_of(shop.settings)
    taken = read.first_taken()
    asked = asked_for(shop, taken, read.given_away(), [one.name for one in markets])
    return DemandPast(asked, read.shopping_days(), markets, notices(shop, taken))


def with_all_lateness(read: Read, shop: Shop) -> Shop:
    """The shop with how late each supplier was, whether anything is overdue or not."""
    return replace(shop, book=replace(shop.book, late=read.lateness()))


def with_leaves(read: Read, shop: Shop, report: OrderReport) -> OrderReport:
    """The answer with what a yes leaves too few of; nothing more is read where the book has few orders, or a yes."""
    from inventory.jobs.ahead.history import COUNTED, LEAST_ASKED

    orders = sum(1 for one in shop.book.orders.values() if one.state in COUNTED)
    mine = shop.book.orders.get(fold(report.resolved.request.order))
    if orders < LEAST_ASKED or (mine is not None and mine.state == "promised"):
        return report
    from inventory.jobs.ahead.leaves import leaves

    known = with_all_lateness(read, shop)
    trips = [one.on for one in read.bought()]
    return replace(report, leaves=leaves(known, report, trips, lambda: past_of(read, known)))
