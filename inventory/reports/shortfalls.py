"""What promised orders lack by what somebody books."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from inventory.catalogue import fold
from inventory.ledger import Book, Line


@dataclass(frozen=True, slots=True)
class Shortfall:
    """What a promised order now lacks."""

    order: str
    part: str
    quantity: int
    unit: str
    due: date | None = None


def lacking(lines: Iterable[Line], book: Book, unit: Callable[[str], str]) -> tuple[Shortfall, ...]:
    """What promised orders have to wait for anew by these lines, the earliest due first. unit: of a part."""
    sums: dict[tuple[str, str], int] = {}
    for line in lines:
        if line.account == "to buy" and line.order is not None:
            sums[line.order, line.part] = sums.get((line.order, line.part), 0) + line.quantity
    done = []
    for (name, part), quantity in sums.items():
        order = book.orders.get(fold(name))
        if quantity > 0:
            done.append(Shortfall(name, part, quantity, unit(part), order.due if order else None))
    return tuple(sorted(done, key=lambda one: (one.due is None, one.due, one.order, one.part)))
