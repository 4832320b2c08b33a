"""What a parcel brought, as somebody who opened it says: line by line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date

from inventory.catalogue import fold
from inventory.errors import BadInput, Place, Refused
from inventory.jobs.shop import Shop


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
    """

    supplier: str
    on: date
    lines: tuple[Arrived, ...]
    postage: int = 0
    note: str = ""
    unasked: bool = False
    understood: tuple[str, ...] = ()


def everything_due(shop: Shop, supplier: str) -> tuple[Arrived, ...]:
    """Delivery lines for all that is due in from a supplier. Raises Refused where nothing is."""
    name = shop.catalogue.supplier(supplier).name
    sums: dict[str, int] = {}
    for row in shop.book.due:
        if fold(row.supplier) == fold(name):
            sums[row.part] = sums.get(row.part, 0) + row.quantity
    if not sums:
        raise Refused(f"Nothing is due in from {name}.", hint="`kitdrawer due-in` shows what is on its way.")
    return tuple(Arrived(part, quantity) for part, quantity in sums.items())


def check_rows(rows: Sequence[Arrived]) -> None:
    """Refuse the same part, pack and lot twice in one delivery: nobody could tell which line is meant."""
    seen: dict[tuple[str, str, str, int | None], Arrived] = {}
    for row in rows:
        key = (fold(row.part), fold(row.lot), fold(row.instead_of), row.pack)
        if key in seen:
            raise BadInput(
                f"{row.part} stands twice in this delivery.",
                hint="Add the lines up.",
                where=[seen[key].place, row.place],
            )
        seen[key] = row
