"""What `earned` reads of the shop, and how far the goals are; of goals nothing is read where there is none."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inventory.cli.session import today
from inventory.jobs.accounts.goals import goals_of, stands
from inventory.measures import currency

if TYPE_CHECKING:
    from collections.abc import Sequence

    from inventory.ledger.shop import Shop
    from inventory.reports.accounts.goals import GoalStand
    from inventory.store import Read


def looking_back(read: Read) -> Shop:
    """The shop as far as looking back at sales needs it: names, orders, what tools cost; a third of the whole."""
    from inventory.ledger import Book
    from inventory.ledger.shop import Shop

    known = read.written()
    tools = [part.name for part in known.parts.values() if part.kind == "tool"]
    book = Book(version=read.version, balances={}, lots=read.lots(tools), orders=read.orders())
    offers = known.still_sold(read.offers(tools))
    return Shop(known, book, currency(read.currency), today(), read.settings(), offers)


def goal_stands(read: Read, shop: Shop) -> Sequence[GoalStand]:
    """All goals, the earliest day first."""
    from inventory.jobs.accounts.earned import earned

    goals = goals_of(shop.settings)
    if not goals:
        return ()
    first = min(one.since for one in goals)
    return stands(goals, earned(shop, read.settings(), read.past_sales(first, shop.today), first, shop.today))
