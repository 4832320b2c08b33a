"""A document while it is being written: each step sees the book as the steps before it will leave it.

New lots have no number yet; in the draft's own picture of the book they go by negative ones, and the finished lines
speak of them by their tags.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date
from typing import TYPE_CHECKING

from inventory.catalogue import fold
from inventory.ledger.book import FIELDS, FOR_ORDERS, Balance, Book, DueIn, Lot
from inventory.ledger.claims import with_lines
from inventory.ledger.costs import Offered, nothing_offered
from inventory.ledger.documents.lines import Line
from inventory.ledger.fifo import share

if TYPE_CHECKING:  # whoever brings a lot has it; who only draws needs none
    from inventory.ledger.documents.proposal import NewLot


@dataclass(slots=True)
class Draft:
    """book: as it will be; lines, lots: what has been written so far. offered: what things cost nobody priced.

    worked_on: the day of the work, where it was before the day of booking: containers were opened then. opened: the
    lots opened here, by the lot they came from.
    """

    book: Book
    offered: Offered = nothing_offered
    lines: list[Line] = field(default_factory=list)
    lots: list[NewLot] = field(default_factory=list)
    worked_on: date | None = None
    opened: dict[int, list[int]] = field(default_factory=dict)

    def bring(self, lot: NewLot) -> str:
        """A new lot under a tag of this document's own. Returns that tag."""
        tag = f"lot {len(self.lots) + 1}"
        self.lots.append(replace(lot, tag=tag))
        return tag

    def add(self, lines: Iterable[Line], lots: Iterable[NewLot] = ()) -> tuple[Line, ...]:
        """Write lines down and move the book on. lots: those the lines bring, which get tags of this document."""
        tags = {lot.tag: self.bring(lot) for lot in lots}
        done = tuple(self._tagged(line, tags) for line in lines)
        for line in done:
            self._move(line)
        claims = [line for line in done if line.account in FOR_ORDERS]
        if any(line.order is not None for line in claims):
            numbered = [replace(line, lot=self._number(line.lot)) for line in claims]
            self.book = replace(self.book, claims=with_lines(self.book.claims, numbered))
        self.lines += done
        return done

    def broach(self, lot: Lot, quantity: int, on: date) -> Lot:
        """So much of a lot, with its share of the cost, becomes an open container of its own. Returns that."""
        from inventory.ledger.documents.proposal import NewLot

        day = min(self.worked_on or on, on)
        day = max(day, lot.received_on or day)
        tag = self.bring(NewLot("", lot.part, lot.name, lot.received_on, day, lot.use_by))
        cost = share(lot.quantity, lot.cost, quantity)
        out = Line("shelf", lot.part, -quantity, -cost, lot=lot.id, reason="opened")
        self.add([out, replace(out, quantity=quantity, cost=cost, lot=tag, cost_from=lot.cost_from)])
        number = -len(self.lots)
        self.opened.setdefault(lot.id, []).append(number)
        return next(one for one in self.book.lots_of(lot.part) if one.id == number)

    def _tagged(self, line: Line, tags: dict[str, str]) -> Line:
        if isinstance(line.lot, str) and line.lot in tags:
            return replace(line, lot=tags[line.lot])
        if isinstance(line.lot, int) and line.lot < 0:
            return replace(line, lot=self.lots[-line.lot - 1].tag)
        return line

    def _number(self, lot: int | str | None) -> int | None:
        if isinstance(lot, str):
            return -1 - next(at for at, new in enumerate(self.lots) if new.tag == lot)
        return lot

    def _move(self, line: Line) -> None:
        key = fold(line.part)
        balances, lots = dict(self.book.balances), dict(self.book.lots)
        old = balances.get(key, Balance())
        name = FIELDS[line.account]
        balances[key] = replace(old, **{name: getattr(old, name) + line.quantity})
        number = self._number(line.lot)
        if number is not None:
            lots[key] = self._layered(lots.get(key, ()), line, number)
        due = self.book.due
        if line.account in ("due", "due claim"):
            due = tuple(row for row in (_owed(row, line) for row in due) if row.quantity)
        self.book = replace(self.book, balances=balances, lots=lots, due=due)

    def _layered(self, lots: tuple[Lot, ...], line: Line, number: int) -> tuple[Lot, ...]:
        known = {lot.id: lot for lot in lots}
        lot = known.get(number) or self._new(number)
        if line.account == "shelf":
            lot = replace(
                lot,
                quantity=lot.quantity + line.quantity,
                cost=lot.cost + line.cost,
                cost_from=lot.cost_from + line.cost_from,
            )
        else:
            lot = replace(lot, claimed=lot.claimed + line.quantity)
        known[number] = lot
        left = [one for one in known.values() if one.quantity]
        return tuple(sorted(left, key=lambda one: (one.received_on or date.min, one.id < 0, abs(one.id))))

    def _new(self, number: int) -> Lot:
        new = self.lots[-number - 1]
        return Lot(
            number,
            new.part,
            new.name,
            new.received_on,
            0,
            0,
            0,
            new.opened_on,
            new.use_by,
            new.smallest_diameter,
            new.length,
        )


def _owed(row: DueIn, line: Line) -> DueIn:
    if row.purchase != line.purchase:
        return row
    if line.account == "due":
        return replace(row, quantity=row.quantity + line.quantity, cost=row.cost + line.cost)
    return replace(row, claimed=row.claimed + line.quantity)
