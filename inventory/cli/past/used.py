"""What the book remembers: of parts counted otherwise than expected, and of what was used and made of late."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING

from inventory.catalogue import find, fold
from inventory.measures.dates import months_before

if TYPE_CHECKING:
    from inventory.jobs.differences.reasons import BookMemory
    from inventory.jobs.purchasing.demand import Past
    from inventory.jobs.sessions.reconciling.measured import Checked
    from inventory.ledger.shop import Shop
    from inventory.store import Read

LOOK_BACK = 180
"""Days of use that make the use rate."""
MONTHS = 12
"""Months whose use is told month by month."""
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
    return read.used_since(since), _days(read, shop, since)


def _days(read: Read, shop: Shop, since: date) -> int:
    first = read.first_use(since)
    return max((shop.today - first).days, LEAST_DAYS) if first else 0


def use_by_month(
    read: Read, shop: Shop
) -> tuple[Mapping[str, int], int, Sequence[date], Mapping[str, Sequence[int]]]:
    """What `use_of_late` tells; the first days of twelve months, this one the last, and what each used.

    All of it by one look at the lines of a year.
    """
    late = shop.today - timedelta(days=LOOK_BACK)
    months = [months_before(shop.today.replace(day=1), back) for back in reversed(range(MONTHS))]
    days = sorted({*months, late})
    found = read.used_by_stretch(days)
    at = days.index(late)
    used = {key: sum(sums[at:]) for key, sums in found.items()}
    apart = len(days) - MONTHS  # 1 where that day parts a month in two
    by_month = {
        key: (*sums[: at - apart], sum(sums[at - apart : at + 1]), *sums[at + 1 :])
        for key, sums in found.items()
    }
    return {key: many for key, many in used.items() if many > 0}, _days(read, shop, late), months, by_month


def use_and_wear(read: Read, shop: Shop) -> Past:
    """What was used and made of late."""
    from inventory.jobs.purchasing.demand import Past, made_of

    used, days = use_of_late(read, shop)
    over = [(find(shop.book.orders, "order", name), day) for name, day in read.handed_over()]
    return Past(used, days, made_of(over, read.happened()))
