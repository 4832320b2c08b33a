"""What a parcel brought, as somebody who opened it says: line by line."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from inventory.errors import Place


@dataclass(frozen=True, slots=True)
class Arrived:
    """One delivered line, thousandths of the part's unit.

    good, damaged: what came; price: minor units of the supplier's coin a pack, None for the price agreed; instead_of:
    the part that was ordered; rest_cancelled: what is still missing will not come; pack: thousandths in the pack it
    comes in and the price is for, None where only one can be meant; settles: whether what came in place of another
    part settles so much of what was ordered, or that is still to come (None: nobody said).
    """

    part: str
    good: int
    damaged: int = 0
    price: int | None = None
    instead_of: str = ""
    rest_cancelled: bool = False
    lot: str = ""
    use_by: date | None = None
    pack: int | None = None
    place: Place = field(default_factory=Place, compare=False)
    settles: bool | None = None


@dataclass(frozen=True, slots=True)
class Delivery:
    """What one parcel brought. postage: minor units of the supplier's coin; note: the delivery note's number.

    unasked: parts that were never ordered are taken as well; understood: what was written by hand and how it was taken.
    announced: what was read in a way the person should know of; of a sheet with the first of its parcels.
    """

    supplier: str
    on: date
    lines: tuple[Arrived, ...]
    postage: int = 0
    note: str = ""
    unasked: bool = False
    understood: tuple[str, ...] = ()
    announced: tuple[str, ...] = ()
