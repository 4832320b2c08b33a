"""What is lent: it left the shelf, and is owed until it comes back. What comes back is what went first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from inventory.catalogue import fold
from inventory.ledger.fifo import share

if TYPE_CHECKING:
    from inventory.ledger.documents.booked import Document
    from inventory.ledger.documents.proposal import NewLot

LENT: Final = "lent"
BACK: Final = "back"
"""The words of lines by which something was lent, and came back."""
LENDING: Final = ("took", "found", "days")
"""Documents that lend and bring back: few, so that nobody has to look through all lines of a long book."""


@dataclass(frozen=True, slots=True)
class Lending:
    """So much of one lot that somebody has: thousandths, and minor units it cost; negative where it came back.

    lot: what it is, as it comes back; cost_from: how far its cost was known when it went (`ledger.costs`).
    """

    document: Document
    lot: NewLot
    quantity: int
    cost: int
    cost_from: int = 0


def still_lent(moved: Iterable[Lending]) -> tuple[Lending, ...]:
    """What is still owed, the oldest first, of all that went and came back, in the order it did."""
    owed: list[Lending] = []
    for one in moved:
        if one.quantity > 0:
            owed.append(one)
        else:
            _, owed = _split(owed, one.lot.part, -one.quantity)
    return tuple(owed)


def coming_back(owed: Iterable[Lending], part: str, quantity: int) -> list[Lending]:
    """Of what is owed of a part so much, the oldest first, each with its share of the cost; less where less is owed."""
    return _split(owed, part, quantity)[0]


def left_owed(owed: Iterable[Lending], part: str, quantity: int) -> list[Lending]:
    """What is owed once so much of a part is back."""
    return _split(owed, part, quantity)[1]


def _split(owed: Iterable[Lending], part: str, quantity: int) -> tuple[list[Lending], list[Lending]]:
    """What comes back of it, and what is owed then."""
    back: list[Lending] = []
    left: list[Lending] = []
    for one in owed:
        many = min(quantity, one.quantity) if fold(one.lot.part) == fold(part) else 0
        cost = share(one.quantity, one.cost, many)
        if many:
            back.append(replace(one, quantity=many, cost=cost))
        if one.quantity > many:
            left.append(replace(one, quantity=one.quantity - many, cost=one.cost - cost))
        quantity -= many
    return back, left
