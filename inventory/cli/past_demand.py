"""What the book remembers of what was asked for, for the commands that look ahead."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inventory.jobs.ahead.levels import DemandPast
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
