"""The book in plain Python, written from what the guide promises; it knows nothing of the program.

Everything there is lies in cells: quantity and cost of a lot and whether anybody knows that cost, quantity and cost
still due from a purchase, what is set aside or to buy for an order. A document is what it adds to cells, the states it
gives to orders and sessions, and the parts it doubts or counts. So taking a document back is adding the same with the
other sign, and a document is refused where a cell would go below nothing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from datetime import date

from .goods import BLANKS, BY_RATE, NET, bill, cut
from .there import There
from .things import Cell, Document, Lot, Refusal, Wish


class Cells(There):
    """What is done to it: documents, and what they take, set aside and hand on."""

    def _begin(self, content: object = None) -> None:
        if content and self._booked(content):
            raise Refusal("already booked")
        self.document = Document(max(self.documents, default=0) + 1, content=content, day=self.today)
        self.worked = self.today

    def _booked(self, content: object) -> bool:
        """Whether a document that counts says the same."""
        return any(one.content == content for one in self.standing())

    def _add(self, cell: Cell, many: int) -> None:
        if many:
            self.cells[cell] += many
            self.document.cells[cell] += many

    def _end(self) -> None:
        assert not self._below(), "the model itself books more than there is"
        self.documents[self.document.number] = self.document

    def _below(self) -> bool:
        """Whether anything would be less than nothing, or worth something without being there."""
        if any(many < 0 for many in self.cells.values()):
            return True
        for holds, costs, all_ in (("lot", "lot cost", self.lots), ("due", "due cost", self.purchases)):
            if any(self.cells[costs, n] and not self.cells[holds, n] for n in all_):
                return True
        if any(sum(self.waiting(n).values()) > self.cells["due", n] for n in self.purchases):
            return True
        return any(self.free(part) < 0 for part in {lot.part for lot in self.lots.values()} | self._claimed())

    def _claimed(self) -> set[str]:
        return {str(cell[2]) for cell, many in self.cells.items() if cell[0] == "set aside" and many}

    def _meant(self, number: int | None) -> Document:
        """Without a number the newest first-hand document that stands; one that was brought back goes by its own."""
        standing = [one.number for one in self.standing()]
        number = max(standing, default=0) if number is None else number
        if number not in self.documents:
            raise Refusal("no such document, or nothing to undo")
        told = self.documents[number]
        while told.undone and number in standing:
            told = self.documents[told.undone]
        if told.undone:
            raise Refusal("undone before")
        return told

    def undo(self, number: int | None) -> None:
        """Take a document back, or back again."""
        told = self._meant(number)
        number = told.number
        if self._decided_later(told):
            raise Refusal("later documents decided about its orders or sessions")
        first = told
        while first.undoes:
            first = self.documents[first.undoes]
        if told.turn % 2 and first.content and self._booked(first.content):
            raise Refusal("the same was booked anew meanwhile")
        before = Counter(self.cells)
        for cell, many in told.cells.items():
            self.cells[cell] -= many
        if self._below():
            self.cells = before
            raise Refusal("later documents stand on it")
        if told.undoes and self._something_new(told):
            self.cells = before
            raise Refusal("there is something of what would be another thing again, or its name is taken")
        done = Document(max(self.documents) + 1, undoes=number, turn=told.turn + 1)
        done.cells = Counter({cell: -many for cell, many in told.cells.items()})
        done.states, done.sessions = dict.fromkeys(told.states, ""), dict.fromkeys(told.sessions, "")
        done.named = {part: (now, before) for part, (before, now) in told.named.items()}
        done.agreed = {order: (now, before) for order, (before, now) in told.agreed.items()}
        done.joined = {name: (now, before) for name, (before, now) in told.joined.items()}
        done.plated = {order: (now, before) for order, (before, now) in told.plated.items()}
        done.said = {what: (now, before) for what, (before, now) in told.said.items()}
        self._take_up(done)
        told.undone = done.number
        self.documents[done.number] = done

    def _take_up(self, one: Document) -> None:
        """Names and orders are as the document says."""
        self.names.update({part: now for part, (_, now) in one.named.items()})
        self.wishes.update({order: now for order, (_, now) in one.agreed.items()})
        self.said.update({what: now for what, (_, now) in one.said.items()})
        self.into.update({name: now for name, (_, now) in one.joined.items()})
        self.platings.update({order: now for order, (_, now) in one.plated.items()})

    def _something_new(self, told: Document) -> bool:
        """Whether what a merge that is brought back does not know speaks of what would be another thing again."""
        taken = {
            called for part, (called, _) in told.named.items() if self.is_called(called) not in ("", part)
        }
        return bool(taken) or any(self._something_of(name, told) for name in told.joined)

    def _something_of(self, name: str, told: Document) -> bool:
        """Whether there is anything of a part, due of it or from a supplier, or wanted or made like it."""
        due = [n for n, one in self.purchases.items() if name in (one.part, one.supplier)]
        wanted = {n for n, one in self.wishes.items() if one.pattern == name} - told.agreed.keys()
        plated = {n for n, one in self.platings.items() if one == name} - told.plated.keys()
        known = told.named.keys() | told.joined.keys()
        made = [part for part in self.pieces() - known if self.called(part).startswith(f"{name}, of ")]
        there = self.on_hand(name) or any(self.cells["due", n] for n in due)
        return bool(there or wanted or plated or made)

    def _decided_later(self, told: Document) -> bool:
        """Whether a later document that stands, or an undo of an earlier one, decided about the same things."""
        later = [
            one
            for one in self.documents.values()
            if one.number > told.number and not one.undone and one.undoes < told.number
        ]
        return any(
            one.states.keys() & told.states.keys()
            or one.sessions.keys() & told.sessions.keys()
            or one.named.keys() & told.named.keys()
            or one.said.keys() & told.said.keys()
            or one.joined.keys() & told.joined.keys()
            or one.agreed.keys() & told.agreed.keys()
            or one.plated.keys() & told.plated.keys()
            for one in later
        )

    # -- taking, setting aside, handing on

    def _new_lot(
        self,
        part: str,
        quantity: int,
        cost: int,
        received: date | None,
        opened: date | None = None,
        *,
        unknown: bool = False,
        of: int = 0,
    ) -> int:
        number = len(self.lots) + 1
        self.lots[number] = Lot(part, received, opened, of)
        self._add(("lot unknown", number), 2 * unknown)
        self._add(("lot", number), quantity)
        self._add(("lot cost", number), cost)
        return number

    def _turns_of_lots(self, part: str) -> list[int]:
        """Nobody opens a second bottle while one is open."""
        return sorted(self.lots_of(part), key=lambda n: self.lots[n].opened is None)

    def _out(self, lot: int, quantity: int) -> int:
        """What leaves a lot takes cost·q // quantity, the last of it all that is left. That cost."""
        gone = self.cost(lot) * quantity // self.left(lot)
        self._add(("lot", lot), -quantity)
        self._add(("lot cost", lot), -gone)
        return gone

    def _open(self, lot: int, quantity: int) -> int:
        """A bottle that is opened is a lot of its own from then on, never before it came."""
        old = self.lots[lot]
        day = max(self.worked, old.received or self.worked)
        unknown = bool(self.unknown(lot))
        cost = self._out(lot, quantity)
        return self._new_lot(old.part, quantity, cost, old.received, day, unknown=unknown, of=lot)

    def saying(self, lot: int) -> tuple[int, int] | None:
        """What a lot held and cost when its cost was last said by a count; None where it came otherwise.

        One that was opened was said to cost what the whole lot did.
        """
        there = {one.number for one in self.standing()}
        found = [(many, cost) for number, many, cost in self.priced.get(lot, ()) if number in there]
        if found:
            return found[-1]
        return self.saying(self.lots[lot].of) if self.lots[lot].of else None

    def _use(self, part: str, quantity: int) -> tuple[int, int, bool, tuple[int, int] | None]:
        """Take for work, opening what is not used up at once.

        Cost of what was there, how much was not, whether any of the cost is unknown. Last: cost and quantity, before,
        of the last lot of known cost that was taken from.
        """
        spent, dark, last = 0, False, None
        while quantity and (lots := self._turns_of_lots(part)):
            lot = lots[0]
            bottle = self.left(lot)
            if part in NET and self.lots[lot].opened is None:
                bottle = bottle % NET[part] or NET[part]  # a broached one before a full one
                if quantity < bottle:
                    lot = self._open(lot, bottle)
            if self.unknown(lot):
                dark = True
            else:
                last = self.cost(lot), self.left(lot)
            out = min(bottle, quantity)
            spent, quantity = spent + self._out(lot, out), quantity - out
        return spent, quantity, dark, last

    def _draw(self, part: str, quantity: int) -> tuple[int, bool]:
        """Use, and take what the book does not hold for found: it is to be counted. Its cost, and if some is unknown.

        What is found costs as the lot drawn last (nobody offers anything in this shop), else nobody knows.
        """
        spent, missing, dark, last = self._use(part, quantity)
        if missing:
            self._new_lot(part, 0, 0, self.today, unknown=last is None)
            self.document.doubts[part] = True
            self.document.went.add(part)
            spent += last[0] * missing // last[1] if last else 0
            dark = dark or last is None
        return spent, dark

    def _let_go(self, order: str) -> set[str]:
        """End every claim of an order; the parts that were set aside."""
        held = set()
        for cell, many in list(self.cells.items()):
            if cell[0] in ("set aside", "coming", "to buy") and cell[1] == order and many:
                self._add(cell, -many)
                held |= {str(cell[2])} if cell[0] == "set aside" else set()
        return held

    def _finished(self, wish: Wish) -> int:
        """Finished pieces that are nobody's and are what a wish asks for."""
        return max(self.free(self.piece(wish)), 0) // 1000

    def _set_aside(self, order: str) -> None:
        """Finished pieces first; for the others the shelf, then what is due in by the day; the rest is to buy."""
        wish, count = self.wishes[order], self.open(order) - self.document.handed.get(order, 0)
        ready = min(self._finished(wish), count)
        if ready:
            self._add(("set aside", order, self.piece(wish)), 1000 * ready)
        for _, part, each in bill(wish.kit, wish.blank):
            left = self._kept(part, each, count - ready)
            got = min(left, max(self.free(part), 0))
            self._add(("set aside", order, part), got)
            left -= got
            for number in self.due_of(part):
                if self.counted_on(number) <= wish.due:
                    got = min(left, self.cells["due", number] - sum(self.waiting(number).values()))
                    self._add(("coming", order, part, number), got)
                    left -= got
            self._add(("to buy", order, part), left)

    def _kept(self, part: str, each: int, pieces: int) -> int:
        """What is set aside for so many pieces: what they take; of what goes by a rate, as much as the tool says."""
        return self.by_rate[pieces] if part == BY_RATE and pieces else self.wanted(part, each, pieces)

    @staticmethod
    def wanted(part: str, each: int, pieces: int) -> int:
        """What so many pieces take of a part: blanks are cut for all of them together."""
        return cut(part, pieces) if part in BLANKS else each * pieces

    def _in_turn(self, orders: Iterable[str]) -> list[str]:
        """Earliest due first."""
        return sorted(orders, key=lambda order: (self.wishes[order].due, order))

    def _settle(self, parts: Iterable[str]) -> None:
        """What is over goes to those who wait, earliest due first; what is lacking, the last ones wait for again."""
        for part in parts:
            over = self.free(part)
            if over >= 0:
                waiting = self.claims(part, "to buy")
                for order in self._in_turn(waiting):
                    got = min(over, waiting[order])
                    self._add(("to buy", order, part), -got)
                    self._add(("set aside", order, part), got)
                    over -= got
                continue
            held = self.claims(part, "set aside")
            for order in reversed(self._in_turn(held)):
                back = min(-over, held[order])
                self._add(("set aside", order, part), -back)
                self._add(("to buy", order, part), back)
                over += back
