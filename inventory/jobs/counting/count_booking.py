"""A filled count sheet becomes one document: differences with their likely reasons, large ones asked for once more.

A count says what is on the shelf now. A part that was counted again since the sheet was made is left out: the later
count stands. A part that was only moved since is taken as counted after that; where it differs it is asked for again.
A difference is large, and is not booked before a second count agrees, where it is more than one unit and at least a
quarter of what was expected, or worth at least 2 % of all that is on the shelf and five of the shop's coin (assumptions
of the trade).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Final

from inventory.catalogue import Part, fold
from inventory.errors import AlreadyBooked, Refused
from inventory.jobs.counting.count_rows import CountedRow, counts_of, rows_of
from inventory.jobs.counting.what_to_count import values
from inventory.jobs.differences.reasons import BookMemory, explain
from inventory.jobs.sessions.reconciling.measured import Checked
from inventory.ledger import Proposal
from inventory.ledger.availability import off_for
from inventory.ledger.bottles.containers import called
from inventory.ledger.costs import UNKNOWN
from inventory.ledger.counting.differences import book_counts
from inventory.ledger.documents.proposal import fingerprint
from inventory.ledger.shop import Shop
from inventory.measures import plural, show_amount
from inventory.reports.filled import FilledCounts
from inventory.reports.session_report import SessionDifference
from inventory.reports.shortfalls import Shortfall, lacking

SHARE: Final = Fraction(1, 4)
VALUE: Final = Fraction(2, 100)
COINS: Final = 5
NAMED: Final = 3
"""Parts named of those that are left out."""


@dataclass(frozen=True, slots=True)
class Moved:
    """What moved a part since the sheet was made: thousandths in all, and the documents by number."""

    quantity: int
    documents: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Since:
    """What happened since the sheet was made, by folded part name. counted: the document of the newest count."""

    moved: Mapping[str, Moved] = field(default_factory=dict)
    counted: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class FoundDifference:
    """One difference. lot: its name where one very lot was counted; value: minor units it is worth, with its sign.

    value is None where nobody knows what the part costs.

    again: why it is to be counted once more before it is booked; empty where it is booked.
    """

    difference: SessionDifference
    lot: str
    value: int | None
    again: str


@dataclass(frozen=True, slots=True)
class CountReport:
    """The proposed document and what it comes from. right: rows where the book was right.

    found: differences that are booked; asked_again: those that are not; short: what promised orders lack through it.
    """

    proposal: Proposal
    found: tuple[FoundDifference, ...]
    asked_again: tuple[FoundDifference, ...]
    right: int
    short: tuple[Shortfall, ...] = ()
    announced: tuple[str, ...] = ()

    @property
    def books(self) -> bool:
        """Whether there is anything to book; else everything is asked for again."""
        return bool(self.proposal.counted)

    @property
    def cost(self) -> int:
        """Minor units the shelf gains, or (negative) loses, as far as they are known."""
        return sum(line.cost for line in self.proposal.lines if line.account == "shelf")

    @property
    def unpriced(self) -> tuple[str, ...]:
        """Parts whose difference is booked and of which nobody knows the cost."""
        return tuple(dict.fromkeys(one.difference.part for one in self.found if one.value is None))


def checked_rows(shop: Shop, filled: FilledCounts) -> tuple[Checked, ...]:
    """What was counted against what the book expects; used to look up the past of the parts that differ."""
    return tuple(row.checked for row in rows_of(shop, filled, []))


def book_count(
    shop: Shop,
    filled: FilledCounts,
    mark: str,
    *,
    since: Since | None = None,
    context: BookMemory | None = None,
    as_counted: bool = False,
) -> CountReport:
    """Everything a filled count sheet changes. as_counted: large differences are booked without a second count.

    Raises Refused for an empty sheet or one of another book, BadSheet naming every row that cannot be, AlreadyBooked
    where all of it was counted since.
    """
    if filled.mark and filled.mark != mark:
        raise Refused(
            "This count sheet is of another book.",
            hint="Book it there (--store), or make a new one: `count sheet`.",
        )
    announced = list(filled.announced)
    known = since if since and filled.mark else Since()
    if not filled.mark:
        announced.append("The sheet does not say which book it is of: its counts are taken as of now.")
    rows = _not_counted_since(rows_of(shop, filled, announced), filled, known, announced)
    again, found = _differences(shop, rows, known, context, as_counted=as_counted)
    held_back = frozenset(again)
    kept = [row for at, row in enumerate(rows) if at not in held_back]
    counted = book_counts(
        counts_of(kept, shop), shop.book, shop.prices, off_for(shop.catalogue.parts, shop.today)
    )
    said = sorted((fold(row.part.name), row.said.lot, row.said.counted) for row in kept)
    proposal = Proposal(
        "count",
        f"Count of {plural(len(counted.parts), 'part')}",
        shop.today,
        lines=tuple(counted.lines),
        lots=tuple(counted.lots),
        fingerprint=fingerprint("count sheet", filled.mark, filled.version, said),
        expected_version=shop.book.version,
        counted=tuple(counted.parts),
    )
    right = sum(1 for row in kept if row.said.counted == row.expected)
    short = lacking(proposal.lines, shop.book, lambda part: shop.catalogue.part(part).unit)
    return CountReport(proposal, found, tuple(again.values()), right, short, tuple(dict.fromkeys(announced)))


def _not_counted_since(
    rows: Sequence[CountedRow], filled: FilledCounts, since: Since, announced: list[str]
) -> list[CountedRow]:
    kept: list[CountedRow] = []
    later: dict[int, list[str]] = {}
    for row in rows:
        document = since.counted.get(fold(row.part.name), 0)
        if document > filled.version:
            later.setdefault(document, []).append(row.part.name)
        else:
            kept.append(row)
    for document, names in later.items():
        more = f" and {len(names) - NAMED} more" if len(names) > NAMED else ""
        announced.append(
            f"Left out, as entry {document} counted them after this sheet was made: "
            f"{', '.join(names[:NAMED])}{more}."
        )
    if later and not kept:
        numbers = " and ".join(str(one) for one in sorted(later))
        raise AlreadyBooked(
            f"All of this sheet was counted since it was made, by entry {numbers}.",
            hint="Nothing was booked. Count again on a new one: `kitdrawer count sheet`.",
        )
    return kept


def _differences(
    shop: Shop, rows: Sequence[CountedRow], since: Since, context: BookMemory | None, *, as_counted: bool
) -> tuple[dict[int, FoundDifference], tuple[FoundDifference, ...]]:
    """Those to be counted again, by the place of their row, and those that are booked."""
    explained = iter(explain(shop, [row.checked for row in rows], context))
    whole = sum(values(shop).values())
    again: dict[int, FoundDifference] = {}
    found: list[FoundDifference] = []
    for at, row in enumerate(rows):
        if row.said.counted == row.expected:
            continue
        difference = _moved(next(explained), since.moved.get(fold(row.part.name)))
        value = _value(shop, row.part, difference.difference)
        lot = called(row.lot) if row.lot else ""
        moved = fold(row.part.name) in since.moved
        why = (
            "" if as_counted or row.said.second is not None else _large(shop, row, value, whole, moved=moved)
        )
        one = FoundDifference(difference, lot, value, why)
        if why:
            again[at] = one
        else:
            found.append(one)
    return again, tuple(found)


def _moved(difference: SessionDifference, moved: Moved | None) -> SessionDifference:
    """What was counted before a later document moved the part is said first."""
    if moved is None:
        return difference
    numbers = " and ".join(str(one) for one in moved.documents)
    if difference.difference == -moved.quantity:
        text = f"counted before it was moved by entry {numbers}: just that was there then"
    else:
        text = f"it was moved by entry {numbers} since the sheet was made"
    return replace(difference, likely=(text, *difference.likely[:2]))


def _value(shop: Shop, part: Part, quantity: int) -> int | None:
    """Minor units of a quantity at what the part's lots of known cost cost on average, else by the offer, else None."""
    lots = [lot for lot in shop.book.lots_of(part.name) if lot.cost_from != UNKNOWN]
    there = sum(lot.quantity for lot in lots)
    if there:
        return round(Fraction(sum(lot.cost for lot in lots) * quantity, there))
    offered = shop.prices(part.name, abs(quantity))
    return None if offered is None else offered if quantity > 0 else -offered


def _large(shop: Shop, row: CountedRow, value: int | None, whole: int, *, moved: bool) -> str:
    """Why a difference is to be counted once more; empty where it is small."""
    off = abs(row.said.counted - row.expected)
    if moved:
        return "it was moved since the sheet was made"
    if off > 1000 and off >= SHARE * row.expected:
        return f"{show_amount(off, row.part.unit)} is a quarter or more of what was expected"
    if value is not None and abs(value) >= max(VALUE * whole, Fraction(COINS * 10**shop.currency.exponent)):
        return "it is worth much"
    return ""
