"""What a yes leaves for orders that usually come before the next parcel."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from inventory.catalogue import Part


@dataclass(frozen=True, slots=True)
class TooFewLeft:
    """One part an order takes that may then lack. left: thousandths of its unit; asked: units usually asked for till

    `parcel`, the day more of it is here, as parcels were; days: to the next trip, on the way and usually late.
    chance, without: that an order at a better price goes without and is late, with a yes to this one and without.
    pattern, price: the dearest of those, minor units a piece; weeks: of the past this is told from.
    """

    part: Part
    left: int
    asked: float
    parcel: date
    days: tuple[int, int, int]
    chance: float
    without: float
    pattern: str
    price: int
    weeks: int
