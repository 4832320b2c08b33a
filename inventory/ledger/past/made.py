"""What pieces that are made took, line by line, as their entries say."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from inventory.ledger.past.sales import CostClass


@dataclass(frozen=True, slots=True)
class TookLine:
    """What an entry took of one part with one word, thousandths and minor units, positive where it went out.

    made_in: of finished pieces the entry that made them; unknown: whether nobody knows the cost of any of it.
    """

    document: int
    part: str
    unit: str
    of: CostClass
    word: str
    quantity: int
    cost: int
    made_in: int | None = None
    unknown: bool = False


@dataclass(frozen=True, slots=True)
class MadeLot:
    """Finished pieces of one making: the entry, its day, how many (thousandths), what they cost, minor units."""

    document: int
    on: date
    quantity: int
    cost: int


@dataclass(frozen=True, slots=True)
class PiecesMade:
    """Pieces, what their entries took, and what went out for the order beside them. sums: by entry, of all it made."""

    lots: Sequence[MadeLot]
    took: Sequence[TookLine]
    beside: Sequence[TookLine]
    sums: dict[int, int]
