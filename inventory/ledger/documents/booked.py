"""Documents as they were booked, and the lines of one part through all of them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from inventory.catalogue import OrderState
from inventory.ledger.book import Account
from inventory.measures import show_day

if TYPE_CHECKING:
    from inventory.ledger.documents.lines import Line
    from inventory.ledger.sessions import SessionState


@dataclass(frozen=True, slots=True)
class Document:
    """One booked document. booked_at: UTC, ISO 8601; by: who booked it, empty where nobody knows.

    undoes / undone_by: numbers of other documents.

    undo_depth: 0 for what was first booked, 1 for its undo, 2 for the undo of that (which brings it back), and so on.
    """

    id: int
    kind: str
    title: str
    on: date
    booked_at: str
    fingerprint: str = ""
    undoes: int | None = None
    undone_by: int | None = None
    undo_depth: int = 0
    by: str = ""

    def __str__(self) -> str:
        return f"entry {self.id}, “{self.title}”, {show_day(self.on)}"


@dataclass(frozen=True, slots=True)
class Booked:
    """A document with all it said: lines (lots and purchases by number), orders' states, doubts (True: to count).

    session_states: what it made of sessions, by number; teaches: whether rates or losses are learned from it.
    """

    document: Document
    lines: tuple[Line, ...] = ()
    order_states: tuple[tuple[str, OrderState], ...] = ()
    doubts: tuple[tuple[str, bool], ...] = ()
    session_states: tuple[tuple[int, SessionState], ...] = ()
    teaches: bool = False


@dataclass(frozen=True, slots=True)
class Entry:
    """One document, the parts and orders it speaks of, and the one by which it stands no longer (None: it stands)."""

    document: Document
    parts: tuple[str, ...]
    orders: tuple[str, ...]
    undone_by: int | None


@dataclass(frozen=True, slots=True)
class Bought:
    """One line of an order that was placed and stands: thousandths, in packs of `pack`."""

    document: int
    on: date
    supplier: str
    part: str
    code: str
    pack: int
    quantity: int


@dataclass(frozen=True, slots=True)
class Happening:
    """One line of a part's history, with the document that caused it; quantity in thousandths, cost in minor units."""

    document: Document
    part: str
    account: Account
    quantity: int
    cost: int
    lot: int | None = None
    lot_name: str = ""
    purchase: int | None = None
    supplier: str = ""
    order: str = ""
    reason: str = ""
    stage: str = ""
    cost_from: int = 0
