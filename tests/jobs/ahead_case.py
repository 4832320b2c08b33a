"""The shop of `goods` with a past of orders a week, its losses and rates known exactly."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

from inventory.catalogue import fold
from inventory.jobs.ahead.levels import DemandPast, Levels, levels
from inventory.ledger.asked import AskedFor
from inventory.ledger.shop import Shop
from jobs import goods
from jobs.shop import TODAY, exactly, shop

NEAR, FAR = goods.SUPPLIERS
OWN = ("chrome", fold(goods.OLIVE), None)
"""The kind that is asked for."""


def weekly(weeks: int = 40, pieces: int = 4) -> tuple[AskedFor, ...]:
    """An order a week for four Turnstones at 30.00 each."""
    days = [TODAY - timedelta(days=7 * week + 1) for week in range(weeks)]
    return tuple(AskedFor(day, "Turnstone gloss", "chrome", goods.OLIVE, pieces, price=3000) for day in days)


def here(**changes: Any) -> Shop:
    """The shop; fields of its book changed."""
    there = exactly(shop())
    return replace(there, book=replace(there.book, **changes))


def made(there: Shop, **past: Any) -> Levels:
    """Levels of that past."""
    return levels(there, DemandPast(weekly(), **past))
