"""From counts to movements: the difference between what was found and what the book holds.

Rows of a part that name a lot (or give a measured blank's size) speak of that lot alone. Rows without a name speak,
together, of everything else there is of the part. A part no row speaks of stays as it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from inventory.catalogue import fold
from inventory.ledger.book import Book, Lot
from inventory.ledger.claims import settle, settle_lots, with_lines
from inventory.ledger.counts import Count
from inventory.ledger.layers import draw, share
from inventory.ledger.proposal import Line, NewLot


@dataclass(slots=True)
class Difference:
    """One part: what the book held and what was found, thousandths of its unit."""

    part: str
    booked: int
    found: int


@dataclass(slots=True)
class Counted:
    """Lots and lines that bring the book to the counts, and the parts where it had been wrong."""

    lots: list[NewLot] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    differences: list[Difference] = field(default_factory=list)
    parts: list[str] = field(default_factory=list)


def book_counts(counts: Iterable[Count], book: Book) -> Counted:
    """Everything a set of counts changes, claims included."""
    by_part: dict[str, list[Count]] = {}
    for count in counts:
        by_part.setdefault(fold(count.part), []).append(count)
    done = Counted()
    on_hand: dict[str, int] = {}
    lots_after: dict[int, int] = {}
    for rows in by_part.values():
        part = rows[0].part
        start = len(done.lines)
        _count_part(rows, book.lots_of(part), done)
        moved = done.lines[start:]
        booked = book.balance(part).on_hand
        found = booked + sum(line.quantity for line in moved)
        on_hand[part] = found
        done.parts.append(part)
        if booked and moved:
            done.differences.append(Difference(part, booked, found))
            _lots_after(book.lots_of(part), moved, lots_after)
    first = settle_lots(book, lots_after)
    claimed = replace(book, claims=with_lines(book.claims, first))
    done.lines += [*first, *settle(claimed, on_hand)]
    return done


def cost_of(quantity: int, unit_cost: Fraction | None) -> int:
    """Minor units for a quantity in thousandths at a unit cost, rounded half-even; nothing known costs nothing."""
    return 0 if unit_cost is None else round(Fraction(quantity, 1000) * unit_cost)


def _lots_after(lots: Sequence[Lot], moved: Sequence[Line], after: dict[int, int]) -> None:
    for lot in lots:
        out = sum(line.quantity for line in moved if line.lot == lot.id)
        if out:
            after[lot.id] = lot.quantity + out


def _count_part(rows: Sequence[Count], lots: Sequence[Lot], done: Counted) -> None:
    if not lots:
        for row in rows:
            _new_lot(row, row.quantity, cost_of(row.quantity, row.unit_cost), "opening", done)
        return
    unnamed: list[Count] = []
    spoken: set[int] = set()
    for row in rows:
        lot = _lot_meant(row, lots, spoken)
        if lot is not None:
            spoken.add(lot.id)
            _difference(row, [lot], row.quantity, done)
        elif row.lot or row.smallest_diameter is not None:
            _new_lot(row, row.quantity, cost_of(row.quantity, row.unit_cost), "found", done)
        else:
            unnamed.append(row)
    if unnamed:
        others = [lot for lot in lots if lot.id not in spoken]
        _difference(unnamed[-1], others, sum(row.quantity for row in unnamed), done)


def _lot_meant(row: Count, lots: Sequence[Lot], spoken: set[int]) -> Lot | None:
    for lot in lots:
        if lot.id in spoken:
            continue
        if row.lot:
            if fold(row.lot) == fold(lot.name):
                return lot
        elif row.smallest_diameter is not None and (row.smallest_diameter, row.length) == (
            lot.smallest_diameter,
            lot.length,
        ):
            return lot
    return None


def _difference(row: Count, lots: Sequence[Lot], found: int, done: Counted) -> None:
    booked = sum(lot.quantity for lot in lots)
    if found > booked:
        more = found - booked
        known = row.unit_cost is not None or not lots
        cost = cost_of(more, row.unit_cost) if known else share_like(lots[-1], more)
        _new_lot(row, more, cost, "found", done)
    elif found < booked:
        plain = [replace(lot, claimed=0) for lot in lots]
        takes, _ = draw(plain, booked - found)
        for take in takes:
            done.lines.append(
                Line("shelf", row.part, -take.quantity, -take.cost, lot=take.lot.id, reason="not found")
            )


def share_like(lot: Lot, quantity: int) -> int:
    """What `quantity` costs at the lot's own cost a unit: cost·quantity / lot quantity, rounded down."""
    return (
        lot.cost * quantity // lot.quantity
        if quantity >= lot.quantity
        else share(lot.quantity, lot.cost, quantity)
    )


def _new_lot(row: Count, quantity: int, cost: int, reason: str, done: Counted) -> None:
    if not quantity:
        return
    tag = f"lot {len(done.lots) + 1}"
    done.lots.append(
        NewLot(
            tag,
            row.part,
            row.lot,
            row.received_on,
            row.opened_on,
            row.use_by,
            row.smallest_diameter,
            row.length,
        )
    )
    done.lines.append(Line("shelf", row.part, quantity, cost, lot=tag, reason=reason))
