"""Ordering and what a parcel brings, on the model's cells."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction

from .goods import LEAD, PACK
from .naming import Naming
from .things import Cell, Document, Purchase, Refusal


@dataclass(frozen=True)
class Came:
    """One line of a parcel: thousandths; price: minor units a pack, None as agreed.

    wrong_for: the part that was ordered, where this came in its place; settles: whether that is no longer to come.
    """

    part: str
    good: int
    damaged: int = 0
    price: int | None = None
    no_more: bool = False
    wrong_for: str = ""
    settles: bool = False

    @property
    def ordered(self) -> str:
        """The part that was ordered."""
        return self.wrong_for or self.part

    @property
    def clears(self) -> int:
        """How much of what was ordered it is."""
        return 0 if self.wrong_for and not self.settles else self.good + self.damaged


class Parcels(Naming):
    """What is bought, and what comes of it."""

    def place(self, rows: Sequence[tuple[str, str, int, int]], *, again: bool = False) -> None:
        """Supplier, part, packs and price of a pack are ordered: due in, and claimed by those who wait for the part.

        What one supplier gets by a list is not ordered twice, on whatever day, unless it is said to be.
        """
        now = {
            supplier: frozenset((part, packs) for of, part, packs, _ in rows if of == supplier)
            for supplier, *_ in rows
        }
        same = [one for one in self.standing() if now.items() & self._ordered(one).items()]
        if same and not again:
            raise Refusal("placed before")
        self._begin(("placed", frozenset(rows), frozenset(one.number for one in same)))
        self.document.ordered = now
        for supplier, part, packs, price in rows:
            number = len(self.purchases) + 1
            self.purchases[number] = Purchase(part, supplier, self.today + timedelta(days=LEAD[supplier]))
            left = PACK[part] * packs
            self._add(("due", number), left)
            self._add(("due cost", number), price * packs)
            if price:  # what comes free says nothing of a price
                for what, many in (("lines", 1), ("packs", packs), ("cost", price * packs)):
                    self.document.facts["ordered", part, supplier, what] += many
            for order, cell in self._wanting(part, number):
                got = min(left, self.cells[cell])
                self._add(cell, -got)
                self._add(("coming", order, part, number), got)
                left -= got
        self._end()

    def _ordered(self, one: Document) -> dict[str, frozenset[tuple[str, int]]]:
        """What a document ordered, of the suppliers and parts as they are now."""
        return {
            self.now(supplier): frozenset((self.now(part), packs) for part, packs in what)
            for supplier, what in one.ordered.items()
        }

    def _wanting(self, part: str, number: int) -> list[tuple[str, Cell]]:
        """Orders that have to buy a part, or wait for it from a late parcel that a new one comes before, in turn."""
        cells = [
            (str(cell[1]), cell)
            for cell, many in self.cells.items()
            if many and cell[0] in ("to buy", "coming") and cell[2] == part and self._takes_over(cell, number)
        ]
        in_turn = self._in_turn({order for order, _ in cells})
        return sorted(cells, key=lambda one: (in_turn.index(one[0]), one[1][0] == "to buy", *one[1][3:]))

    def _takes_over(self, cell: Cell, number: int) -> bool:
        if cell[0] == "to buy":
            return True
        old = int(str(cell[3]))
        mine = self.given_up(old, str(cell[1]))
        return old != number and mine and self.purchases[number].expected < self.counted_on(old)

    def arrive(self, supplier: str, rows: Sequence[Came], postage: int, content: object) -> None:
        """A parcel: postage goes into the lots by their value, goods to the orders that wait for them."""
        self._must_be_due(supplier, rows)
        self._begin(content)
        self.document.came = self.today
        costs = [self._clear(supplier, row) for row in rows]
        known = [cost or 0 for cost in costs]
        weights = known if sum(known) else [row.good + row.damaged for row in rows]
        self.document.facts["spent", supplier, "goods"] += sum(known)
        self.document.facts["spent", supplier, "postage"] += postage
        for row, cost, more in zip(rows, costs, _largest_remainders(postage, weights), strict=True):
            came = row.good + row.damaged
            lot = self._new_lot(row.part, came, (cost or 0) + more, self.today, unknown=cost is None)
            if row.damaged:
                gone = self.cost(lot) * row.damaged // came
                self._add(("lot", lot), -row.damaged)
                self._add(("lot cost", lot), -gone)
        self._settle(row.part for row in rows)
        self._end()

    def _must_be_due(self, supplier: str, rows: Sequence[Came]) -> None:
        """Each line is for something that those before it left due."""
        left: dict[str, int] = {}
        for row in rows:
            due = sum(self.cells["due", n] for n in self._due_from(supplier, row.ordered))
            there = left.get(row.ordered, due)
            if not there:
                raise Refusal("not due in")
            left[row.ordered] = 0 if row.no_more else max(there - row.clears, 0)

    def _due_from(self, supplier: str, part: str) -> list[int]:
        return [n for n in self.due_of(part) if self.purchases[n].supplier == supplier]

    def _clear(self, supplier: str, row: Came) -> int | None:
        """Take what came off what is due, the earliest first, and give it to its orders; what it costs, if known."""
        came = row.good + row.damaged
        left, good, agreed = row.clears, 0 if row.wrong_for else row.good, 0
        for number in self._due_from(supplier, row.ordered):
            there, worth = self.cells["due", number], self.cells["due cost", number]
            taken = min(there, left)
            gone = there if row.no_more else taken
            if not gone:
                continue
            if taken:
                self.document.parcels.append((supplier, self.purchases[number].expected))
            agreed += worth * taken // there
            self._add(("due", number), -gone)
            self._add(("due cost", number), -(worth * gone // there))
            served = min(taken, good)
            self._hand_on(number, row.ordered, served, there - gone)
            left, good = left - taken, good - served
        if row.price is not None:
            return round(Fraction(came, PACK[row.part]) * row.price)
        return round(Fraction(agreed * came, row.clears - left)) if agreed else None

    def _hand_on(self, number: int, part: str, served: int, still: int) -> None:
        """Orders that wait for a purchase: the first get what came, the next wait on, the last have to buy anew."""
        waiting = self.waiting(number)
        for order in self._in_turn(waiting):
            got = min(served, waiting[order])
            keeps = min(still, waiting[order] - got)
            served, still = served - got, still - keeps
            self._add(("coming", order, part, number), keeps - waiting[order])
            self._add(("set aside", order, part), got)
            self._add(("to buy", order, part), waiting[order] - got - keeps)


def _largest_remainders(total: int, weights: Sequence[int]) -> list[int]:
    """Everybody gets the whole coins of his exact share; those with the most left over get one more, first come."""
    exact = [Fraction(total * weight, sum(weights)) for weight in weights]
    shares = [int(one) for one in exact]
    while sum(shares) < total:
        shares[max(range(len(shares)), key=lambda at: exact[at] - shares[at])] += 1
    return shares
