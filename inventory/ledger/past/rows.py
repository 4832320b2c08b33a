"""What the book tells of a stretch of days, added up as far as a database does, to be grouped further.

Every row is a tuple with names, so that a frame has them as its columns. step: the first day of the month (or, in a
long past, of the year) a row is of. Quantities are thousandths, money minor units of the shop's coin.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple


class MadeRow(NamedTuple):
    """Good pieces of sessions, evenings and hand-overs."""

    step: date
    pattern: str
    material: str
    good: int


class SpoiledRow(NamedTuple):
    """Pieces spoiled at one stage."""

    step: date
    pattern: str
    material: str
    stage: str
    spoiled: int


class HandedRow(NamedTuple):
    """Pieces that went to a customer at once. price: of one, None where nobody said; whole: nothing of it is open."""

    step: date
    on: date
    order: str
    pattern: str
    market: bool
    pieces: int
    price: int | None
    due: date
    whole: bool


class SpentRow(NamedTuple):
    """What one parcel cost, or one entry of what was bought by hand (supplier: empty)."""

    step: date
    document: int
    supplier: str
    goods: int
    postage: int


class AgreedRow(NamedTuple):
    """What packs of one offer were ordered at: how many lines, thousandths in all and their cost."""

    step: date
    part: str
    unit: str
    supplier: str
    pack: int
    lines: int
    quantity: int
    cost: int


@dataclass(frozen=True, slots=True)
class PastRows:
    """Rows of what stands. overdue: orders promised and open whose day was before the last day of the stretch."""

    made: Sequence[MadeRow]
    spoiled: Sequence[SpoiledRow]
    handed: Sequence[HandedRow]
    spent: Sequence[SpentRow]
    agreed: Sequence[AgreedRow]
    overdue: int
