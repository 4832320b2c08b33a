"""Loading sheets: what they said becomes one proposed document, shown before it is booked."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from inventory.catalogue import fold
from inventory.ledger import Book, Intake, Proposal
from inventory.ledger.counting import Difference, book_counts

NAMED = 3


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
    return Load(proposal, intake.rows, tuple(counted.differences), (*intake.notes, *counted.notes))


MovedSince = Callable[[int, Collection[str]], Mapping[str, tuple[int, tuple[int, ...]]]]
"""Of a document's number and folded names of parts: how their shelf changed after it, and by which documents."""


def with_doubt(done: Load, counted_by: Mapping[str, int], moved_since: MovedSince) -> Load:
    """The load with a word on counts that only say what the last count said: an old tab, most likely.

    A sheet that is kept and loaded again whenever a price changes still has the counts of the first evening in it.
    counted_by: the document that counted each part last, by folded name.
    """
    found = _as_last_time(done.differences, counted_by, moved_since)
    if not found:
        return done
    by = ", ".join(str(document) for document in sorted(found)[-NAMED:])
    told = (
        f"Just as last counted (document {by}), though moved since: {sum(found.values())} of these counts. If nobody"
        " has counted anew, take the counts out of the sheet: what was used would come back."
    )
    return replace(done, notes=(*done.notes, told))


def _as_last_time(
    differences: Iterable[Difference], counted_by: Mapping[str, int], moved_since: MovedSince
) -> dict[int, int]:
    """How many parts were found as a document found them that counted them last, by that document's number."""
    differing: dict[int, dict[str, Difference]] = {}
    for one in differences:
        if (document := counted_by.get(fold(one.part))) is not None:
            differing.setdefault(document, {})[fold(one.part)] = one
    found = {}
    for document, parts in differing.items():
        moved = moved_since(document, parts.keys())
        found[document] = sum(one.booked - moved.get(key, (0,))[0] == one.found for key, one in parts.items())
    return {document: many for document, many in found.items() if many}
