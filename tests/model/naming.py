"""Other names for things, and two names that are one thing's, on the model's cells."""

from __future__ import annotations

from dataclasses import replace

from .everyday import Everyday
from .goods import MADE_ALIKE, PARTS, PLATED
from .things import Refusal


class Naming(Everyday):
    """What things are called, and which are one."""

    def rename(self, part: str) -> None:
        """A part is called otherwise from now on."""
        self._begin()
        self.document.named[part] = self.called(part), f"{part} no. {self.document.number}"
        self._take_up(self.document)
        self._end()

    def merge(self, old: str, new: str) -> None:
        """Two names are one thing's: all there is of the one is the other's, and orders want the other."""
        if self.now(old) == new:
            raise Refusal("they are one")
        self._begin()
        if old in MADE_ALIKE:
            self._one_pattern(old, new)
        elif old in PLATED:
            mine = [order for order, plating in self.platings.items() if plating == old]
            self.document.plated.update(dict.fromkeys(mine, (old, new)))
        else:
            self._one_thing(old, new)
        self.document.joined[old] = self.into.get(old, ""), new
        self._take_up(self.document)
        if new in PARTS:
            self._settle([new])
        self._end()

    def _one_thing(self, old: str, new: str) -> None:
        """What is there and due of a part or from a supplier is the other's, at its cost and of its day."""
        doubtful = old in self.doubtful()
        self._goes_over(old, new)
        for number in [n for n, one in self.purchases.items() if old in (one.part, one.supplier)]:
            if self.cells["due", number]:
                self._bought_again(number, old, new)
        if doubtful:
            self.document.doubts.update({old: False, new: True})

    def _one_pattern(self, old: str, new: str) -> None:
        """Orders want the other; finished pieces are called after it, and where there are such they are those."""
        mine = {order: wish for order, wish in self.wishes.items() if wish.pattern == old}
        self.document.agreed.update({n: (wish, replace(wish, pattern=new)) for n, wish in mine.items()})
        for part in sorted(part for part in self.pieces() if self.now(part) == part):
            called = self.called(part)
            if not called.startswith(f"{old}, of "):
                continue
            then = new + called.removeprefix(old)
            there = self.is_called(then)
            if there:
                self._goes_over(part, there)
                self.document.joined[part] = self.into.get(part, ""), there
            else:
                self.document.named[part] = called, then

    def _goes_over(self, old: str, new: str) -> None:
        """The lots of a part, each at its cost and of its day, and what is set aside of them."""
        for lot in self.lots_of(old):
            many, cost, dark = self.left(lot), self.cost(lot), bool(self.unknown(lot))
            self._add(("lot", lot), -many)
            self._add(("lot cost", lot), -cost)
            there = self.lots[lot]
            self._new_lot(new, many, cost, there.received, there.opened, unknown=dark)
        for order, many in self.claims(old, "set aside").items():
            self._add(("set aside", order, old), -many)
            self._add(("set aside", order, new), many)

    def _bought_again(self, number: int, old: str, new: str) -> None:
        """A line that is due is of the other part or from the other supplier, with what is set aside of it."""
        one, again = self.purchases[number], len(self.purchases) + 1
        part, supplier = (new if name == old else name for name in (one.part, one.supplier))
        self.purchases[again] = replace(one, part=part, supplier=supplier)
        for what in ("due", "due cost"):
            many = self.cells[what, number]
            self._add((what, number), -many)
            self._add((what, again), many)
        for order, many in self.waiting(number).items():
            self._add(("coming", order, one.part, number), -many)
            self._add(("coming", order, part, again), many)
