"""An order: a customer's request, or the same once promised."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from inventory.measures import Length

OrderState = Literal["wish", "promised", "made", "handed over", "released"]
"""`made` is said of pieces for the stall: they are finished and stand on the shelf for anybody."""

STALL = "the stall"
"""The customer of what a session makes for nobody in particular."""


def whom(order: str) -> str:
    """For whom pieces are: an order, or the stall, whose orders are named after their day."""
    return STALL if not order or order.startswith("stall ") else order


def state_called(state: OrderState) -> str:
    """How a sentence has it: an order that is `wish` is an enquiry."""
    return "an enquiry" if state == "wish" else state


@dataclass(frozen=True, slots=True)
class Order:
    """platings: accepted ones, the wished first; extra_diameter grows the finished barrel; price in minor units.

    count: pieces still to be handed over; handed: those of a promised order that are with the customer already.
    blanks: the blanks that would do, as a wish says them (`blanks_wished`), empty where only `blank` does; `blank` is
    then the one that was chosen when it was promised, before that the first of them.
    """

    name: str
    pattern: str
    blank: str
    count: int
    due: date
    platings: tuple[str, ...]
    customer: str = ""
    refill: str | None = None
    extra_diameter: Length | None = None
    price: int | None = None
    state: OrderState = "wish"
    handed: int = 0
    blanks: str = ""

    @property
    def wished_blank(self) -> str:
        """What it may be made of: all that would do while it is a wish, the chosen blank once it is promised."""
        return self.blanks if self.blanks and self.state in ("wish", "released") else self.blank

    @property
    def whole(self) -> int:
        """Pieces it was asked for, handed over or not."""
        return self.count + self.handed
