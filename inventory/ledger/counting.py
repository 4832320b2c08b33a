"""From counts to movements: the difference between what was found and what the book holds.

Rows of a part that name a lot (or give a measured blank's size) speak, together, of the lots of that name (and
size) alone. Rows without a name speak, together, of everything else there is of the part. A part no row speaks of
stays as it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from inventory.catalogue import fold
from inventory.ledger.book import Book, Lot
from inventory.ledger.claims import settle, settle_lots, with_lines
from inventory.ledger.costs import UNKNOWN, Cost, Offered, nothing_offered, share_like, unsaid
from inventory.ledger.counts import Count
from inventory.ledger.layers import draw
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


def book_counts(counts: Iterable[Count], book: Book, offered: Offered = nothing_offered) -> Counted:
    """Everything a set of counts changes, claims included.

    offered: what stock costs of which no row says it and no lot there tells it.
    """
    by_part: dict[str, list[Count]] = {}
    for count in counts:
        by_part.setdefault(fold(count.part), []).append(count)
    done = Counted()
    on_hand: dict[str, int] = {}
    lots_after: dict[int, int] = {}
    for rows in by_part.values():
        part = rows[0].part
        start = len(done.lines)
        _count_part(rows, book.lots_of(part), done, offered)
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


def cost_of(quantity: int, unit_cost: Fraction) -> int:
    """Minor units for a quantity in thousandths at a unit cost, rounded half-even."""
    return round(Fraction(quantity, 1000) * unit_cost)


def _lots_after(lots: Sequence[Lot], moved: Sequence[Line], after: dict[int, int]) -> None:
    for lot in lots:
        out = sum(line.quantity for line in moved if line.lot == lot.id)
        if out:
            after[lot.id] = lot.quantity + out


def _count_part(rows: Sequence[Count], lots: Sequence[Lot], done: Counted, offered: Offered) -> None:
    spoken: set[int] = set()
    for same in _alike(rows, lots):
        meant = _lots_meant(same[-1], [lot for lot in lots if lot.id not in spoken])
        spoken.update(lot.id for lot in meant)
        if meant:
            _difference(same[-1], meant, sum(row.quantity for row in same), done, offered)
            continue
        for row in same:
            cost = _cost(row, row.quantity, (), offered)
            _new_lot(row, row.quantity, cost, "found" if lots else "opening", done)


def _alike(rows: Sequence[Count], lots: Sequence[Lot]) -> list[list[Count]]:
    """Rows that speak of the same lots, together: those of a size there is first, those without a name last."""
    groups: dict[tuple[object, ...], list[Count]] = {}
    for row in rows:
        groups.setdefault((fold(row.lot), row.smallest_diameter, row.length), []).append(row)
    sizes = {(fold(lot.name), lot.smallest_diameter, lot.length) for lot in lots if lot.measured}
    nameless = ("", None, None)
    return [groups[key] for key in sorted(groups, key=lambda key: (key == nameless, key not in sizes))]


def _lots_meant(row: Count, lots: Sequence[Lot]) -> list[Lot]:
    """Of the lots nobody has spoken of yet: those of its name and size, else of its name (a size written anew)."""
    named = [lot for lot in lots if not row.lot or fold(row.lot) == fold(lot.name)]
    if row.smallest_diameter is None:
        return named
    size = (row.smallest_diameter, row.length)
    sized = [lot for lot in named if (lot.smallest_diameter, lot.length) == size]
    return sized or (named if row.lot else [])


def _difference(row: Count, lots: Sequence[Lot], found: int, done: Counted, offered: Offered) -> None:
    booked = sum(lot.quantity for lot in lots)
    if found > booked:
        more = found - booked
        _new_lot(row, more, _cost(row, more, lots, offered), "found", done)
    elif found < booked:
        plain = [replace(lot, claimed=0) for lot in lots]
        takes, _ = draw(plain, booked - found)
        for take in takes:
            done.lines.append(
                Line("shelf", row.part, -take.quantity, -take.cost, lot=take.lot.id, reason="not found")
            )


def _cost(row: Count, quantity: int, lots: Sequence[Lot], offered: Offered) -> Cost:
    """As the row says; else as the newest lot it lies with whose cost is known; else by the offer; else unknown."""
    if row.unit_cost is not None:
        return Cost(cost_of(quantity, row.unit_cost))
    known = [lot for lot in lots if lot.cost_from != UNKNOWN]
    return share_like(known[-1], quantity) if known else unsaid(row.part, quantity, offered)


def _new_lot(row: Count, quantity: int, cost: Cost, reason: str, done: Counted) -> None:
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
    done.lines.append(
        Line("shelf", row.part, quantity, cost.amount, lot=tag, reason=reason, cost_from=cost.cost_from)
    )
