"""A proposed document: everything one write will do, shown before it is booked in one transaction."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Literal

from inventory.catalogue import Order, OrderState, Part
from inventory.ledger.documents.lines import Line
from inventory.measures import Length

if TYPE_CHECKING:  # what few documents say: who draws or sets aside makes lines alone
    from inventory.ledger.documents.changes import Change
    from inventory.ledger.learned import LearnedFigures
    from inventory.ledger.sessions import Observed, Outcome, RateWord, Session, SessionState

DocumentKind = Literal[
    "load",
    "promise",
    "release",
    "hand-over",
    "placed",
    "arrival",
    "plan",
    "weekend",
    "count",
    "rates",
    "add",
    "found",
    "took",
    "sold",
    "spent",
    "days",
    "made",
    "paid",
    "hours",
    "markets",
    "goals",
    "rename",
    "merge",
    "retire",
    "change",
    "came back",
    "undo",
]


@dataclass(frozen=True, slots=True)
class NewLot:
    """A lot this document brings; lines speak of it by its `tag`."""

    tag: str
    part: str
    name: str = ""
    received_on: date | None = None
    opened_on: date | None = None
    use_by: date | None = None
    smallest_diameter: Length | None = None
    length: Length | None = None


@dataclass(frozen=True, slots=True)
class NewPurchase:
    """A bought line this document brings; lines speak of it by its `tag`."""

    tag: str
    supplier: str
    part: str
    expected_on: date | None = None
    code: str = ""
    pack: int = 1000


@dataclass(frozen=True, slots=True)
class Payment:
    """What was paid for an order, minor units; below 0 where it is given back, 0 where it is settled for nothing."""

    order: str
    amount: int


@dataclass(frozen=True, slots=True)
class Expense:
    """What was spent beside parts: a stall fee, a commission, fuel. amount: minor units, above 0.

    at: where, as `sold --at` has it; order: the order it was spent for, None where for none.
    """

    what: str
    amount: int
    on: date
    at: str = ""
    order: str | None = None


@dataclass(frozen=True, slots=True)
class Proposal:
    """One document to be booked on top of book version `expected_version` (None: on top of any).

    fingerprint: the same one is booked once; empty: never compared. order_states: what becomes of orders.
    handed: pieces of orders that go out while the rest stays promised (its state is said too).
    orders: requests to be noted or replaced. to_count / counted: parts whose book figure became doubtful / was checked.
    parts: ones that come into being with this document, such as a kit cannibalised for its clip.
    reverses: the document this one undoes. sessions: planned by this document; session_states: what becomes of those
    already there, by number. outcomes, observed: what a session made and used, of the session `session`. rate_words:
    what the maker says of rates. learned: the figures learned so far, in place of all earlier ones (None: as before).
    then: a document of its own that is booked right after this one, with the next number: both or neither.
    changes: of names and of what is used. agreed: promised orders as they are from now on.
    payments: at most one an order.
    """

    kind: DocumentKind
    title: str
    on: date
    lines: tuple[Line, ...] = ()
    lots: tuple[NewLot, ...] = ()
    purchases: tuple[NewPurchase, ...] = ()
    orders: tuple[Order, ...] = ()
    order_states: tuple[tuple[str, OrderState], ...] = ()
    handed: tuple[tuple[str, int], ...] = ()
    fingerprint: str = ""
    expected_version: int | None = None
    to_count: tuple[str, ...] = ()
    counted: tuple[str, ...] = ()
    parts: tuple[Part, ...] = ()
    reverses: int | None = None
    sessions: tuple[Session, ...] = ()
    session_states: tuple[tuple[int, SessionState], ...] = ()
    session: int | None = None
    outcomes: tuple[Outcome, ...] = ()
    observed: tuple[Observed, ...] = ()
    rate_words: tuple[RateWord, ...] = ()
    learned: LearnedFigures | None = None
    then: Proposal | None = None
    changes: tuple[Change, ...] = ()
    agreed: tuple[Order, ...] = ()
    payments: tuple[Payment, ...] = ()
    expenses: tuple[Expense, ...] = ()


def fingerprint(*content: object) -> str:
    """A digest of what a document says, whatever file it came in (SHA-256 of its JSON form)."""
    return hashlib.sha256(json.dumps(content, default=str, sort_keys=True).encode()).hexdigest()
