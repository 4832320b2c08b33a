"""Loading sheets: what they said becomes one proposed document, shown before it is booked."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from inventory.ledger import Book, Intake, Proposal
from inventory.ledger.counting import Difference, book_counts


@dataclass(frozen=True, slots=True)
class Load:
    """The proposed document; rows by tab; parts whose count differs from what the book held."""

    proposal: Proposal
    rows: tuple[tuple[str, int], ...]
    differences: tuple[Difference, ...]
    notes: tuple[str, ...]


def load(intake: Intake, book: Book, on: date, title: str) -> Load:
    """One document for everything the sheets said: counts, wishes, and the catalogue that goes with it."""
    counted = book_counts(intake.counts, book)
    proposal = Proposal(
        "load",
        title,
        on,
        lines=tuple(counted.lines),
        lots=tuple(counted.lots),
        orders=intake.orders,
        fingerprint=intake.fingerprint,
        basis=book.version,
        counted=tuple(counted.parts),
    )
    return Load(proposal, intake.rows, tuple(counted.differences), intake.notes)
