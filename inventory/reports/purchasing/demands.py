"""What is wanted and why, what wears, and what waits for a late parcel."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from inventory.catalogue import Order, Part
from inventory.ledger import DueIn, share


@dataclass(frozen=True, slots=True)
class Overdue:
    """So much of a part (thousandths) that a promise waits for from an overdue parcel.

    counted: the day the parcel can be counted on; anew: the day it could be here if it is ordered anew, None where that
    would not help; again: only from the supplier who is late with it.
    """

    order: Order
    part: Part
    quantity: int
    row: DueIn
    days: int
    counted: date
    anew: date | None
    again: bool = False


def by_line(late: Iterable[Overdue]) -> tuple[tuple[Overdue, ...], ...]:
    """The waits together that are for one bought line and end alike."""
    found: dict[tuple[int, bool, bool], list[Overdue]] = {}
    for one in late:
        found.setdefault((one.row.purchase, one.anew is None, one.again), []).append(one)
    return tuple(map(tuple, found.values()))


def saved(waits: Sequence[Overdue]) -> int:
    """What cancelling the packs of one line saves that these waits were for, shop minor units."""
    row = waits[0].row
    packs = -(-sum(one.quantity for one in waits) // max(row.pack, 1))
    return share(row.quantity, row.cost, min(packs * row.pack, row.quantity))


@dataclass(frozen=True, slots=True)
class Demand:
    """So much of one part, for a reason. needed_by: None where no day is set; tier: the kind of reason.

    orders: the promises that cannot be made without it; trouble: what having it avoids, see TROUBLE.
    """

    part: Part
    quantity: int
    needed_by: date | None
    tier: int
    reason: str
    orders: tuple[str, ...] = ()
    trouble: int = 1


@dataclass(frozen=True, slots=True)
class Wear:
    """How often a tool was used since the one on hand came, and how often it lasts."""

    part: Part
    uses: int
    life: int
