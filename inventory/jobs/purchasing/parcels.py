"""What a parcel brought, as somebody who opened it says: line by line."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from inventory.catalogue import fold
from inventory.errors import BadInput, Refused
from inventory.ledger.shop import Shop
from inventory.reports.purchasing.parcels import Arrived


def everything_due(shop: Shop, supplier: str) -> tuple[Arrived, ...]:
    """Delivery lines for all that is due in from a supplier. Raises Refused where nothing is."""
    name = shop.catalogue.supplier(supplier).name
    sums: Counter[str] = Counter()
    for row in shop.book.due:
        if fold(row.supplier) == fold(name):
            sums[row.part] += row.quantity
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
                hint="Write one row with both amounts together, or a lot beside each.",
                where=[seen[key].place, row.place],
            )
        seen[key] = row
