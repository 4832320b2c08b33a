"""Why a number is what it is: a part's lines in the order of booking, with the running totals after each."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from inventory.catalogue import Part
from inventory.ledger import Account, Balance, Book, Lot
from inventory.ledger.availability import free_by_day, out_of_date
from inventory.ledger.costs import unknown_of
from inventory.ledger.documents.booked import Happening


@dataclass(frozen=True, slots=True)
class TraceStep:
    """One line and the totals after it (thousandths; minor units)."""

    document: int
    kind: str
    title: str
    on: date
    account: Account
    quantity: int
    cost: int
    lot: int | None
    order: str
    reason: str
    on_hand: int
    claimed: int
    worth: int


@dataclass(frozen=True, slots=True)
class Trace:
    """The whole story of a part, what it adds up to, the lots that are left, and from when how much is free.

    worth: of all whose cost is known; unknown: thousandths on hand whose cost is not.
    off: what of it is out of date; left_out: lines that were taken back and are not among the steps.
    """

    part: Part
    balance: Balance
    worth: int
    steps: tuple[TraceStep, ...]
    lots: tuple[Lot, ...]
    free: tuple[tuple[date, int], ...]
    off: int = 0
    left_out: int = 0

    @property
    def unknown(self) -> int:
        """Thousandths on hand whose cost nobody knows."""
        return unknown_of(self.lots)


def trace(part: Part, history: Iterable[Happening], book: Book, today: date, left_out: int = 0) -> Trace:
    """The steps to today's balance; the running totals are computed here, from the lines alone."""
    on_hand = claimed = worth = 0
    steps = []
    for line in history:
        if line.account == "shelf":
            on_hand, worth = on_hand + line.quantity, worth + line.cost
        elif line.account == "claim":
            claimed += line.quantity
        head = line.document
        steps.append(
            TraceStep(
                head.id,
                head.kind,
                head.title,
                head.on,
                line.account,
                line.quantity,
                line.cost,
                line.lot,
                line.order,
                line.reason,
                on_hand,
                claimed,
                worth,
            )
        )
    off = sum(lot.quantity for lot in out_of_date(book, part, today))
    by_day = free_by_day(book, part, today)
    return Trace(
        part, book.balance(part.name), worth, tuple(steps), book.lots_of(part.name), by_day, off, left_out
    )
