"""A cost said by a counts sheet that is loaded again: applied by a document of its own, or told as not used.

A row's unit cost gives the cost of the lots it speaks of where nobody knew it, or an offer stood for it; of lots that a
count brought it corrects what was said. What came by a parcel, or was made, costs what was paid for it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from inventory.catalogue import fold
from inventory.errors import Place
from inventory.ledger import Book, Count, Line, Lot, Proposal
from inventory.ledger.bottles.containers import called
from inventory.ledger.costs import SAID, SAID_LATER, UNKNOWN, Saying
from inventory.ledger.counting.differences import Counted, cost_of
from inventory.ledger.counting.lots import Target, targets_of
from inventory.ledger.documents.drafting import Draft

Sayings = Callable[[Collection[int]], Mapping[int, Saying]]
"""What was said that lots cost, by number."""
BY_COUNT = frozenset({"opening", "found"})
"""Words of lines by which a count brought a lot."""
NAMED = 3
_KEPT = {
    "received on": "received_on",
    "opened on": "opened_on",
    "use by": "use_by",
    "smallest diameter": "smallest_diameter",
    "length": "length",
}
"""Columns of counts that say of a lot what it is."""


@dataclass(frozen=True, slots=True)
class Correction:
    """One lot whose cost is said: thousandths of it, minor units before (None: unknown) and now, and the row."""

    lot: Lot
    quantity: int
    was: int | None
    now: int
    unit_cost: Fraction
    place: Place

    @property
    def called(self) -> str:
        """The part, with the lot's own name where it has one."""
        return f"{self.lot.part}, {called(self.lot)}" if self.lot.name else self.lot.part


def after_counting(counts: Sequence[Count], counted: Counted, book: Book) -> Book:
    """The book as the counts leave what was there before; new lots have negative numbers."""
    there = {fold(row.part) for row in counts if book.lots_of(row.part)}
    draft = Draft(book)
    lines = [line for line in counted.lines if line.account == "shelf" and fold(line.part) in there]
    brought = {line.lot for line in lines if isinstance(line.lot, str)}
    draft.add(lines, [lot for lot in counted.lots if lot.tag in brought])
    return draft.book


def corrections(counts: Iterable[Count], book: Book, sayings: Sayings) -> tuple[Correction, ...]:
    """What the unit costs of these rows change of the lots they speak of."""
    meant = [
        (row, lot)
        for target in _targets(counts, book)
        if (row := _row_with_cost(target)) is not None
        for lot in target.lots
        if lot.id > 0
    ]
    said = sayings({lot.id for _, lot in meant}) if meant else {}
    return tuple(one for row, lot in meant if (one := _correction(row, lot, said.get(lot.id))) is not None)


def correcting(found: Sequence[Correction], title: str, on: date) -> Proposal:
    """The document that books them: lines of no quantity, so that lots and their claims stay as they are.

    It has no expected version of its own: it is booked right after the counts the corrections were worked out with.
    """
    return Proposal(
        "load",
        title,
        on,
        lines=tuple(
            Line(
                "shelf",
                one.lot.part,
                0,
                one.now - one.lot.cost,
                lot=one.lot.id,
                reason=SAID_LATER,
                cost_from=SAID - one.lot.cost_from,
            )
            for one in found
        ),
    )


def not_used(
    counts: Sequence[Count], book: Book, found: Sequence[Correction], sayings: Sayings
) -> Iterable[str]:
    """What rows of counts say and nothing is made of. book: as the counts leave it; found: what they correct."""
    targets = _targets(counts, book)
    corrected = {one.lot.id for one in found}
    left = [
        (row, target.lots)
        for target in targets
        if (row := _row_with_cost(target)) is not None
        if not any(lot.id < 0 or lot.id in corrected for lot in target.lots)
    ]
    said_of = sayings({lot.id for _, lots in left for lot in lots}) if left else {}
    prices = [row for row, lots in left if not _as_said(row, lots, said_of)]
    if prices:
        why = "nothing of it is there, or what is there came otherwise than by a count and costs what it did"
        yield _told("unit cost", prices, why)
    several = [
        row
        for target in targets
        if _row_with_cost(target) is None
        for row in target.rows
        if row.unit_cost is not None
    ]
    if several:
        yield _told("unit cost", several, "rows of the same lots say different ones; give each lot its name")
    for column, name in _KEPT.items():
        rows = [
            row
            for target in targets
            for row in target.rows
            if target.lots and (said := getattr(row, name)) is not None
            if all(getattr(lot, name) != said for lot in target.lots)
        ]
        if rows:
            yield _told(column, rows, "what is there keeps its own")


def _targets(counts: Iterable[Count], book: Book) -> list[Target]:
    """The rows of parts the book has something of, with their lots."""
    by_part: dict[str, list[Count]] = {}
    for row in counts:
        by_part.setdefault(fold(row.part), []).append(row)
    return [
        target
        for key, rows in by_part.items()
        if (lots := book.lots.get(key))
        for target in targets_of(rows, lots)
    ]


def _row_with_cost(target: Target) -> Count | None:
    """The row whose unit cost is that of all these lots; None where none says one, or several differ."""
    saying = [row for row in target.rows if row.unit_cost is not None]
    return saying[0] if len({row.unit_cost for row in saying}) == 1 else None


def _correction(row: Count, lot: Lot, said: Saying | None) -> Correction | None:
    cost = cost_of(lot.quantity, row.unit_cost or Fraction(0))
    known = lot.cost_from == SAID
    if known and (said is None or not _may(said) or _same(row, said)):
        return None
    was = None if lot.cost_from == UNKNOWN else lot.cost
    return Correction(lot, lot.quantity, was, cost, row.unit_cost or Fraction(0), row.place)


def _may(said: Saying) -> bool:
    return said.word in BY_COUNT or said.later


def _same(row: Count, said: Saying) -> bool:
    """Whether the row says what was said before; a share of a lot may have lost less than a coin."""
    return abs(said.cost - Fraction(said.quantity, 1000) * (row.unit_cost or 0)) < 1


def _as_said(row: Count, lots: Sequence[Lot], said_of: Mapping[int, Saying]) -> bool:
    found = (said_of[lot.id] for lot in lots if lot.id in said_of)
    return any(_may(said) and _same(row, said) for said in found)


def _told(column: str, rows: Sequence[Count], why: str) -> str:
    first = rows[0].place
    numbers = [str(row.place.row) for row in rows]
    more = f" and {len(numbers) - NAMED} more" if len(numbers) > NAMED else ""
    where = str(replace(first, row=None, column=""))
    which = f"{'row' if len(numbers) == 1 else 'rows'} {', '.join(numbers[:NAMED])}{more}"
    return f"{f'{where}, ' if where else ''}{which}: “{column}” is not used: {why}."
