"""What the book remembers: of parts counted otherwise than expected, and of what was used and made of late."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import timedelta
from typing import TYPE_CHECKING

from inventory.catalogue import find, fold

if TYPE_CHECKING:
    from inventory.jobs.differences.reasons import BookMemory
    from inventory.jobs.purchasing.demand import Past
    from inventory.jobs.sessions.reconciling.measured import Checked
    from inventory.ledger.shop import Shop
    from inventory.store import Read

LOOK_BACK = 180
"""Days of use that make the use rate."""
LEAST_DAYS = 28
"""A first weekend is no habit: what it used is taken for four weeks' use."""


def past_of(read: Read, rows: Iterable[Checked], scatter: Mapping[str, int] | None = None) -> BookMemory:
    """The lines of the parts that differ, and how much ordinary sessions scatter (None: as their rates say)."""
    from inventory.jobs.differences.reasons import (  # `shopping` needs only the other half
        BookMemory,
        differing,
    )

    known = read.written().parts
    names = [name for name in differing(rows) if fold(name) in known]
    recent = {fold(name): read.history(name) for name in names}
    return BookMemory(recent, read.learned().scatter() if scatter is None else scatter)


def use_of_late(read: Read, shop: Shop) -> tuple[Mapping[str, int], int]:
    """Thousandths used of each part, by folded name, and in how many days."""
    since = shop.today - timedelta(days=LOOK_BACK)
    first = read.first_use(since)
    days = (shop.today - first).days if first else 0
    return read.used_since(since), max(days, LEAST_DAYS) if first else 0


def use_and_wear(read: Read, shop: Shop) -> Past:
    """What was used and made of late."""
    from inventory.jobs.purchasing.demand import Past, made_of

    used, days = use_of_late(read, shop)
    over = [(find(shop.book.orders, "order", name), day) for name, day in read.handed_over()]
    return Past(used, days, made_of(over, read.happened()))
