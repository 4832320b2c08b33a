"""By when a list is to be sent: the day a promise needs its parts, less the days a supplier takes."""

from __future__ import annotations

from datetime import date

from inventory.buying import SupplierOrder
from inventory.reports.purchasing.shopping import Shopping


def order_by(result: Shopping, today: date) -> tuple[SupplierOrder, date] | None:
    """The order that is to be sent first, and the last day for it; None where nothing waits for a day."""
    found = [
        (line.needed_by - (bill.arrives - today), bill)
        for bill in result.basket.bills
        for line in bill.lines
        if line.needed_by is not None and bill.arrives is not None
    ]
    day, bill = min(found, key=lambda one: one[0], default=(None, None))
    return (bill, day) if bill is not None and day is not None else None


def served(result: Shopping) -> list[str]:
    """The promises that wait for something on the list."""
    bought = {line.offer.part for line in result.basket.lines}
    names = (name for one in result.demands if one.part.name in bought for name in one.orders)
    return list(dict.fromkeys(names))
