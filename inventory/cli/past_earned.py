"""How far the goals are, for every command that shows them; nothing is read where there is none."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inventory.jobs.accounts.goals import goals_of, stands

if TYPE_CHECKING:
    from collections.abc import Sequence

    from inventory.ledger.shop import Shop
    from inventory.reports.accounts.goals import GoalStand
    from inventory.store import Read


def goal_stands(read: Read, shop: Shop) -> Sequence[GoalStand]:
    """All goals, the earliest day first."""
    from inventory.jobs.accounts.earned import earned

    goals = goals_of(shop.settings)
    if not goals:
        return ()
    first = min(one.since for one in goals)
    return stands(goals, earned(shop, read.settings(), read.past_sales(first, shop.today), first, shop.today))
