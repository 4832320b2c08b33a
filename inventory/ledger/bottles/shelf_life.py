"""When a lot goes off: its own use-by, else what its supply keeps, sealed or opened."""

from __future__ import annotations

from datetime import date, timedelta

from inventory.catalogue import Part, Supply
from inventory.ledger.book import Lot


def use_by(part: Part, lot: Lot) -> date | None:
    """The earliest of the lot's written use-by, receipt + days sealed, and opening + days opened; None if unknown."""
    known = [lot.use_by] if lot.use_by else []
    detail = part.detail
    if isinstance(detail, Supply):
        for start, days in ((lot.received_on, detail.keeps_sealed), (lot.opened_on, detail.keeps_opened)):
            if start and days is not None:
                known.append(start + timedelta(days=days))
    return min(known) if known else None


def gone_off(part: Part, lot: Lot, on: date) -> bool:
    """Whether the lot is past its use-by on that day (the day itself still counts as good)."""
    last = use_by(part, lot)
    return last is not None and last < on
