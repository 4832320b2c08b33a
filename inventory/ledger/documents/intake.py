"""What a set of sheets said, read and cross-checked, ready to be booked."""

from __future__ import annotations

from dataclasses import dataclass, field

from inventory.catalogue import Catalogue, Order
from inventory.ledger.counting.counts import Count
from inventory.ledger.markets import Market


@dataclass(frozen=True, slots=True)
class SheetTab:
    """The rows of one tab of one file, by folded names; instead_of: the file whose rows they take the place of."""

    sheet: str
    tab: str
    rows: frozenset[str]
    instead_of: str = ""


@dataclass(frozen=True, slots=True)
class Unused:
    """A cell that was read and not used: where it stands (`F3`), what it says, and why."""

    file: str
    tab: str
    cell: str
    says: str
    why: str


@dataclass(frozen=True, slots=True)
class Intake:
    """Only what the sheets named: catalogue entries to add or replace, counts, requests.

    fingerprint: a digest of the rows' content, the same for the same rows whatever the file or its order of tabs.
    rows: how many rows each tab gave. notes: what was accepted in a way the person should know of.
    stood: the rows of each tab, so that those gone from it are found when it is loaded again. unused: cells read in
    vain.
    """

    catalogue: Catalogue = field(default_factory=Catalogue)
    counts: tuple[Count, ...] = ()
    orders: tuple[Order, ...] = ()
    fingerprint: str = ""
    rows: tuple[tuple[str, int], ...] = ()
    notes: tuple[str, ...] = ()
    stood: tuple[SheetTab, ...] = ()
    unused: tuple[Unused, ...] = ()
    markets: tuple[Market, ...] = ()
