"""What the book tells of a day gone by."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class MovedSum:
    """What the lines of one part with one word and sign add up to: thousandths, minor units. part: folded name."""

    part: str
    word: str
    quantity: int
    cost: int


@dataclass(frozen=True, slots=True)
class PastLot:
    """What a lot held at the end of a day. part: folded name; quantity: thousandths; cost: minor units."""

    part: str
    id: int
    name: str
    received_on: date | None
    quantity: int
    cost: int
    cost_from: int


@dataclass(frozen=True, slots=True)
class PastShelf:
    """Lots at the end of a day, and what moved in the stretch of days up to it.

    lent, due: what somebody had and what was on its way at the end, at its cost.
    """

    lots: Sequence[PastLot]
    moved: Sequence[MovedSum]
    lent: Sequence[MovedSum]
    due: Sequence[MovedSum]
