"""Loading sheets: what they said becomes one proposed document, shown before it is booked."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from inventory.catalogue import Catalogue, Offer, Order, Part, fold
from inventory.catalogue.merging import merged
from inventory.errors import Place
from inventory.jobs.ahead.markets import said_by_sheets
from inventory.jobs.counting.cost_corrections import (
    Correction,
    Sayings,
    after_counting,
    correcting,
    corrections,
    not_used,
)
from inventory.jobs.counting.doubts import Usual, count_doubts, quantity_doubts
from inventory.jobs.stock.sheet_changes import RowChange, changes, left_out, succeeding, vanished
from inventory.jobs.stock.sheet_rows import (
    TABS_OF,
    RowKey,
    SheetRow,
    market_rows,
    order_rows,
    row_key,
    rows_of,
)
from inventory.ledger import Book, Intake, Proposal
from inventory.ledger.availability import off_for
from inventory.ledger.costs import BY_OFFER, UNKNOWN, Prices
from inventory.ledger.counting.differences import Difference, book_counts
from inventory.ledger.documents.intake import SheetTab
from inventory.ledger.markets import Market
from inventory.measures import Currency, listed
from inventory.reports.shortfalls import Shortfall, lacking

NAMED = 3


@dataclass(frozen=True, slots=True)
class Load:
    """The proposed document; rows by tab; parts whose count differs from what the book held.

    by_offer, unknown: parts that came in without a cost, which is now as an offer says, or which nobody knows.
    changes: its rows that are new, say something else, or are gone; sheets: its tabs, each with what it succeeds.
    doubts: rows that are asked about; short: what promised orders wait for anew, as fewer were found than set aside.
    corrected: what the rows' unit costs change of lots that are there, booked by a document of its own right after.
    """

    proposal: Proposal
    rows: tuple[tuple[str, int], ...]
    differences: tuple[Difference, ...]
    notes: tuple[str, ...]
    by_offer: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    doubts: tuple[Place, ...] = ()
    short: tuple[Shortfall, ...] = ()
    corrected: tuple[Correction, ...] = ()
    changes: tuple[RowChange, ...] = ()
    sheets: tuple[SheetTab, ...] = ()

    @property
    def gone(self) -> tuple[RowChange, ...]:
        """Rows that stood in the sheet when it was loaded last and do no more, though the book still has them."""
        return tuple(one for one in self.changes if one.what == "gone" and not one.replaced)


@dataclass(frozen=True, slots=True)
class Before:
    """What the book says of everything a sheet may name, and which rows stood in which sheet.

    written: the catalogue as the sheets wrote it, with its offers; orders: by folded name.
    """

    written: Catalogue
    orders: Mapping[str, Order]
    stood: Sequence[SheetTab]
    coin: Currency
    markets: Sequence[Market] = ()


@dataclass(frozen=True, slots=True)
class KnownShop:
    """What the shop knows that counts are held against. parts: by folded name, those of the sheets included."""

    parts: Mapping[str, Part]
    prices: Prices
    coin: Currency
    usual: Usual = lambda _: {}
    sayings: Sayings = lambda _: {}
    markets: Sequence[Market] = ()


def load(intake: Intake, book: Book, on: date, title: str, known: KnownShop) -> Load:
    """One document for everything the sheets said: counts, requests, and the catalogue that goes with it."""
    counted = book_counts(intake.counts, book, known.prices, off_for(known.parts, on))
    proposal = Proposal(
        "load",
        title,
        on,
        lines=tuple(counted.lines),
        lots=tuple(counted.lots),
        orders=intake.orders,
        fingerprint=intake.fingerprint,
        expected_version=book.version,
        counted=tuple(counted.parts),
        changes=said_by_sheets(known.markets, intake.markets) if intake.markets else (),
    )
    by_offer, unknown = (_brought(proposal, mark) for mark in (BY_OFFER, UNKNOWN))
    doubts = (
        *count_doubts(intake.counts, known.parts, known.prices, book, known.coin),
        *quantity_doubts(intake.counts, known.parts, book, known.usual),
    )
    short = lacking(proposal.lines, book, lambda part: known.parts[fold(part)].unit)
    then = after_counting(intake.counts, counted, book)
    corrected = corrections(intake.counts, then, known.sayings)
    if corrected:
        costs = correcting(corrected, title.replace("Load", "Costs said by", 1), on)
        proposal = replace(proposal, then=costs)
    notes = (*intake.notes, *counted.notes, *not_used(intake.counts, then, corrected, known.sayings))
    differences = tuple(counted.differences)
    return Load(proposal, intake.rows, differences, notes, by_offer, unknown, doubts, short, corrected)


def with_changes(done: Load, intake: Intake, before: Before) -> Load:
    """The load with what it changes row by row, and what is gone from its sheets."""
    whole = merged(before.written, intake.catalogue)
    now = {
        **rows_of(intake.catalogue, whole, before.coin),
        **order_rows(intake.orders, before.coin),
        **market_rows(intake.markets),
    }
    there = {
        **rows_of(before.written, whole, before.coin),
        **order_rows(before.orders.values(), before.coin),
        **market_rows(before.markets),
    }
    done_with = [one for one in before.orders.values() if one.state not in ("wish", "promised")]
    sheets = succeeding(intake.stood, before.stood)
    missed = vanished(sheets, before.stood) - order_rows(done_with, before.coin).keys()
    retired = {(tab, row_key(name)) for what, name in whole.retired for tab in TABS_OF[what]}
    gone = [RowChange(row.tab, row.name, "gone") for key, row in there.items() if key in missed - retired]
    found = (*changes(there, now), *left_out(there, now), *gone)
    return replace(done, changes=found, sheets=sheets, notes=(*done.notes, *_retired(now, retired)))


def _retired(now: Mapping[RowKey, SheetRow], retired: Collection[RowKey]) -> Iterator[str]:
    """A word on rows of what is retired: that a sheet still has them does not bring it back."""
    names = [row.name for key, row in now.items() if key in retired]
    if names:
        yield f"Retired, and stays so: {listed(names)}. Back again: kitdrawer retire NAME --back."


def _brought(proposal: Proposal, mark: int) -> tuple[str, ...]:
    """Parts of which lots come with such a mark."""
    return tuple(dict.fromkeys(line.part for line in proposal.lines if line.cost_from == mark))


def offers_with(
    known: Mapping[str, Sequence[Offer]], new: Mapping[str, Sequence[Offer]]
) -> Mapping[str, list[Offer]]:
    """The offers as they are once the new ones are noted: the same supplier, pack and code is the same offer."""
    done: dict[str, list[Offer]] = {}
    for key in (*known, *new):
        if key not in done:
            same = {
                (fold(one.supplier), one.pack, one.code): one
                for one in (*known.get(key, ()), *new.get(key, ()))
            }
            done[key] = list(same.values())
    return done


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
        f"Just as last counted (entry {by}), though moved since: {sum(found.values())} of these counts. If nobody"
        " has counted again, take the counts out of the sheet: what was used would come back."
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
