"""What a set of sheets said, read and cross-checked, ready to be booked."""

from __future__ import annotations

from dataclasses import dataclass, field

from inventory.catalogue import Catalogue, Order
from inventory.ledger.counting.counts import Count


@dataclass(frozen=True, slots=True)
class Intake:
    """Only what the sheets named: catalogue entries to add or replace, counts, requests.

    fingerprint: a digest of the rows' content, the same for the same rows whatever the file or its order of tabs.
    rows: how many rows each tab gave. notes: what was accepted in a way the person should know of.
    """

    catalogue: Catalogue = field(default_factory=Catalogue)
    counts: tuple[Count, ...] = ()
    orders: tuple[Order, ...] = ()
    fingerprint: str = ""
    rows: tuple[tuple[str, int], ...] = ()
    notes: tuple[str, ...] = ()
