"""What is known of a part that was counted otherwise than the book expected, before anybody guesses why.

All quantities are thousandths of the part's unit.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from inventory.catalogue import Part
from inventory.ledger.documents.booked import Happening
from inventory.measures import STEPS, show_amount


@dataclass(frozen=True, slots=True)
class BookMemory:
    """What the book remembers beside its balances, by folded part name.

    recent: lines of the parts that differ, in the order of booking (`Read.history`); scatter: by how much ordinary
    sessions differ from the learned rate, one standard deviation.
    """

    recent: Mapping[str, Sequence[Happening]] = field(default_factory=dict)
    scatter: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Case:
    """One part checked. error: standard deviation of the measuring, 0 where whole things were counted."""

    part: Part
    expected: int
    counted: int
    error: int
    way: str

    @property
    def difference(self) -> int:
        """More (or, negative, less) than expected."""
        return self.counted - self.expected

    def explains(self, quantity: int) -> bool:
        """Whether a difference of so much would be this one, but for twice the error of measuring."""
        return quantity != 0 and abs(self.difference - quantity) <= 2 * self.error

    def amount(self, quantity: int) -> str:
        """So much of the part, without a sign."""
        return show_amount(abs(quantity), self.part.unit)

    def about(self, quantity: int) -> str:
        """The same as a hand can tell it: whole from ten on, else to a tenth."""
        grain = STEPS if abs(quantity) >= 10 * STEPS else STEPS // 10
        return self.amount(-(-abs(quantity) // grain) * grain)


@dataclass(frozen=True, slots=True)
class Reason:
    """A possible reason. weight: its place in the order of plausibility, 0 to 1 (see `differences`).

    use: whether by it the work took what is missing.
    """

    weight: float
    text: str
    use: bool = False
