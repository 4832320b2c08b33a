"""Ten years of a busy made-up shop for scripts/soak/years.py and its tests, booked document by document.

Only the catalogue is put into the tables at once; everything that happened goes through `Store.commit` and
`Store.undo` as it does for a person. A week orders and receives parcels, promises orders, makes two sessions, hands
over, counts a few drawers and takes something back. The same numbers give the same book.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "bench"))

from big_catalogue import (
    BLANK,
    BOX,
    FAMILIES,
    GLUE,
    KIT,
    PAPER,
    PLATINGS,
    REFILL,
    SUPPLIERS,
    TUBE,
    catalogue_rows,
)
from sqlalchemy import insert

from inventory.catalogue import Order, Part, Piece
from inventory.jobs.learning.learned_figures import relearn
from inventory.ledger import Line, NewLot, NewPurchase, Proposal, share
from inventory.ledger.sessions import Observed, Outcome, Planned, RateWord, Session
from inventory.store import Store
from inventory.store.schema.models import METADATA

FIRST_DAY = date(2016, 1, 4)
DAYS, WEEKS = 7, 52
PARTS = 2000
OPEN_LOTS = 2
"""Lots of a part that are open at once; what was bought before is used up."""


@dataclass(frozen=True, slots=True)
class Size:
    """How busy a week is; as it stands a year comes to about 100,000 lines."""

    bought: int = 260
    orders: int = 8
    rows: int = 40
    counted: int = 100


@dataclass(slots=True)
class Lots:
    """What the shelf holds of one part, first in, first out: [lot, quantity, cost]; and what is set aside of it."""

    lots: list[list[int]] = field(default_factory=list)
    claimed: int = 0
    kind: str = "part"

    @property
    def on_hand(self) -> int:
        """Thousandths on the shelf."""
        return sum(lot[1] for lot in self.lots)


@dataclass(frozen=True, slots=True)
class Due:
    """A bought line on its way."""

    purchase: int
    part: str
    quantity: int
    cost: int


class Years:
    """The shop's hand: it keeps its own small picture of the shelf, so that no document needs a look at the book."""

    def __init__(self, store: Store, size: Size | None = None, parts: int = PARTS) -> None:
        self.store, self.size, self.dice = store, size or Size(), random.Random(11)
        self.parts, self.day = parts, FIRST_DAY
        self.shelf: dict[str, Lots] = {}
        self.names: list[str] = []
        self.due: list[Due] = []
        self.promised: list[tuple[Order, dict[str, int]]] = []
        self.lot = self.purchase = self.session = self.order = self.lines = 0
        self.turn = 0

    def begin(self) -> None:
        """Write the catalogue: names, kinds, bills and offers, and balances of nothing."""
        with self.store.writing() as connection:
            for name, rows in catalogue_rows(self.parts).items():
                connection.execute(insert(METADATA.tables[name]), rows)
                if name == "part":
                    self.names = [row["name"] for row in rows]
            nothing = dict.fromkeys(("on_hand", "claimed", "due_in", "due_claimed", "to_buy"), 0)
            balances = [{"part_id": n, **nothing, "to_count": False} for n in range(1, self.parts + 1)]
            connection.execute(insert(METADATA.tables["part_balance"]), balances)
        self.shelf = {name: Lots() for name in self.names}
        self._buy(range(self.parts), 400)
        self._receive()

    def years(self, years: int) -> Iterator[int]:
        """Live through so many years; each is yielded when it is over and what it taught is worked out."""
        for year in range(1, years + 1):
            for week in range(WEEKS):
                self.week(week)
            self.learn()
            yield year

    def week(self, week: int) -> None:
        """One week of the shop."""
        self.day += timedelta(days=DAYS)
        self._receive()
        first = self.turn * self.size.bought
        wanted = [(first + n) % self.parts for n in range(self.size.bought)]
        self._buy(wanted, 30)
        self._buy([GLUE, BOX, PAPER], 400)
        self._use_up([self.names[n] for n in (*wanted, GLUE, BOX, PAPER)])
        self.turn += 1
        self._promises(undone=week % 4 == 0)
        for half in (0, 1):
            self._weekend(half, undone=week % 13 == 12 and not half)
        for order, held in self.promised:
            self._hand_over(order, held)
        self.promised = []
        self._use_up([part for part in self.shelf if self.shelf[part].kind == "piece"])
        self._count(undone=week % 8 == 4)

    def learn(self) -> None:
        """A word on a rate, with all figures worked out anew."""
        word = RateWord(self.names[PAPER], "barrel area", "free")
        with self.store.reading() as read:
            learned = relearn(read.written(), read.happened(), (*read.rate_words(), word))
        self._book(
            Proposal("rates", "A word on a rate", self.day, rate_words=(word,), learned=learned), undone=False
        )

    def _book(self, proposal: Proposal, *, undone: bool) -> None:
        """Book a document; undone: take it back and bring it back again, as somebody unsure would."""
        number = self.store.commit(proposal)
        self.lines += len(proposal.lines)
        for _ in range(2 if undone else 0):
            number = self.store.commit(self.store.undo(number, on=self.day))
            self.lines += len(proposal.lines)

    def _buy(self, parts: list[int] | range, packs: int) -> None:
        lines: list[Line] = []
        bought: list[NewPurchase] = []
        for number in parts:
            part = self.names[number]
            tag = f"p{len(bought)}"
            supplier = f"Supplier {number % SUPPLIERS + 1}"
            quantity, cost = 1000 * packs, packs * (100 + number % 900) + self.dice.randrange(50)
            bought.append(NewPurchase(tag, supplier, part, self.day + timedelta(days=5), f"C{number + 1}"))
            lines.append(Line("due", part, quantity, cost, purchase=tag, reason="ordered"))
            self.purchase += 1
            self.due.append(Due(self.purchase, part, quantity, cost))
        said = Proposal("placed", "Order of the week", self.day, lines=tuple(lines), purchases=tuple(bought))
        self._book(said, undone=False)

    def _receive(self) -> None:
        lines: list[Line] = []
        lots: list[NewLot] = []
        for row in self.due:
            lines.append(
                Line("due", row.part, -row.quantity, -row.cost, purchase=row.purchase, reason="arrived")
            )
            lots.append(NewLot(f"l{len(lots)}", row.part, received_on=self.day))
            cost = row.cost + self.dice.randrange(40)
            lines.append(Line("shelf", row.part, row.quantity, cost, lot=lots[-1].tag, reason="arrived"))
            self.lies(row.part, row.quantity, cost)
        self.due = []
        self._book(
            Proposal("arrival", "Parcels of the week", self.day, lines=tuple(lines), lots=tuple(lots)),
            undone=False,
        )

    def lies(self, part: str, quantity: int, cost: int) -> None:
        """A new lot lies on the shelf, under the next number the book will give."""
        self.lot += 1
        self.shelf.setdefault(part, Lots(kind="piece")).lots.append([self.lot, quantity, cost])

    def _promises(self, *, undone: bool) -> None:
        for number in range(self.size.orders):
            self.order += 1
            family, plating = self.order % FAMILIES, self.dice.randrange(PLATINGS)
            blank = self.names[BLANK + (family * PLATINGS + plating) % 600]
            order = Order(
                f"Stall {self.order}",
                f"Pattern {family + 1}",
                blank,
                2,
                self.day + timedelta(days=20),
                (f"Plating {plating + 1}",),
            )
            held = {part: 2000 for part in self.bill(order) if self.free(part) >= 2000}
            lines = tuple(
                Line("claim", part, quantity, order=order.name, reason="claimed")
                for part, quantity in held.items()
            )
            said = Proposal(
                "promise",
                f"Promise {order.name}",
                self.day,
                lines=lines,
                orders=(order,),
                order_states=((order.name, "promised"),),
            )
            self._book(said, undone=undone and not number)
            for part, quantity in held.items():
                self.shelf[part].claimed += quantity
            self.promised.append((order, held))

    def bill(self, order: Order) -> tuple[str, ...]:
        """The whole things one piece of an order takes."""
        family = int(order.pattern.split()[-1]) - 1
        places = (TUBE + 2 * family, TUBE + 2 * family + 1, REFILL + family, BOX)
        return (order.blank, self.kit(order), *(self.names[n] for n in places))

    def kit(self, order: Order) -> str:
        """The kit of an order."""
        family, plating = int(order.pattern.split()[-1]) - 1, int(order.platings[0].split()[-1]) - 1
        return self.names[KIT + family * PLATINGS + plating]

    def free(self, part: str) -> int:
        """Thousandths on the shelf and nobody's."""
        there = self.shelf[part]
        return there.on_hand - there.claimed

    def _weekend(self, half: int, *, undone: bool) -> None:
        """Plan a session for half of the week's orders, make them and some stall pieces, weigh the glue."""
        mine = self.promised[half::2]
        plan = Session(
            f"{self.day.isoformat()} {half + 1}",
            self.day,
            tuple(Planned(order.name, self.kit(order), 3) for order, _ in mine),
        )
        self.session += 1
        self._book(Proposal("plan", f"Plan {plan.name}", self.day, sessions=(plan,)), undone=False)
        work = _Session(self)
        for order, held in mine:
            work.make(order, held)
        for number in range(self.size.rows - len(mine)):
            work.make(self.promised[number % len(self.promised)][0], None)
        work.weigh(self.names[GLUE], self.names[PAPER])
        said = replace(work.document(), session=self.session, session_states=((self.session, "booked"),))
        self._book(said, undone=undone)

    def _use_up(self, parts: list[str]) -> None:
        """What of these lies there longest goes, sold or used for what nobody plans."""
        lines: list[Line] = []
        for part in parts:
            old = [lot[1] for lot in self.shelf[part].lots[:-OPEN_LOTS]]
            lines += self.taken(part, min(sum(old), self.free(part)), "used")
        self._book(Proposal("count", "Used up", self.day, lines=tuple(lines)), undone=False)

    def _hand_over(self, order: Order, held: dict[str, int]) -> None:
        lines = []
        for part, quantity in held.items():
            lines.append(Line("claim", part, -quantity, order=order.name, reason="let go"))
            self.shelf[part].claimed -= quantity
            lines += self.taken(part, quantity, "handed over", order.name)
        said = Proposal(
            "hand-over",
            f"Hand over {order.name}",
            self.day,
            lines=tuple(lines),
            order_states=((order.name, "handed over"),),
        )
        self._book(said, undone=False)

    def _count(self, *, undone: bool) -> None:
        """A drawer counted: every third part of it has a few less than the book says."""
        first = self.turn * self.size.counted
        parts = [self.names[(first + n) % self.parts] for n in range(self.size.counted)]
        lines = []
        for part in parts[::3]:
            if self.free(part) >= 3000:
                lines += self.taken(part, 1000 * self.dice.randrange(1, 3), "not found")
        self._book(
            Proposal("count", "A drawer counted", self.day, lines=tuple(lines), counted=tuple(parts)),
            undone=undone,
        )

    def taken(self, part: str, quantity: int, reason: str, order: str | None = None) -> list[Line]:
        """Lines that take so much of a part off the shelf, the oldest lot first; less where there is less."""
        lines = []
        there = self.shelf[part].lots
        while quantity and there:
            lot, left, cost = there[0]
            out = min(left, quantity)
            gone = share(left, cost, out)
            lines.append(Line("shelf", part, -out, -gone, lot=lot, order=order, reason=reason))
            there[0][1:] = [left - out, cost - gone]
            if left == out:
                del there[0]
            quantity -= out
        return lines


class _Session:
    """One session on its way into a document."""

    def __init__(self, years: Years) -> None:
        self.years = years
        self.lines: list[Line] = []
        self.lots: list[NewLot] = []
        self.outcomes: list[Outcome] = []
        self.parts: dict[str, Part] = {}
        self.observed: list[Observed] = []

    def make(self, order: Order, held: dict[str, int] | None) -> None:
        """Two good pieces of what an order asks for, and now and then a lost one; held None: for the stall."""
        years = self.years
        lost = {"turn": 1} if years.dice.random() < 0.05 else {}
        name = order.name if held is not None else None
        for part, quantity in (held or {}).items():
            self.lines.append(Line("claim", part, -quantity, order=name, reason="let go"))
            years.shelf[part].claimed -= quantity
        cost = 0
        for part in years.bill(order):
            if years.free(part) >= 3000:
                used = years.taken(part, 2000, "used", name)
                cost -= sum(line.cost for line in used)
                self.lines += used
                self.lines += years.taken(part, 1000, "lost", name) if lost else []
        self._piece(order, name, cost, held)
        kit = years.kit(order)
        self.outcomes.append(Outcome(name or "", order.pattern, kit, order.blank, 2, lost))

    def _piece(self, order: Order, name: str | None, cost: int, held: dict[str, int] | None) -> None:
        years, kit = self.years, self.years.kit(order)
        piece = Part(f"{order.pattern}, of {kit}, {order.blank}", Piece(order.pattern, kit, order.blank))
        self.parts[piece.name] = piece
        self.lots.append(NewLot(f"l{len(self.lots)}", piece.name, received_on=years.day))
        self.lines.append(
            Line("shelf", piece.name, 2000, cost, lot=self.lots[-1].tag, order=name, reason="made")
        )
        years.lies(piece.name, 2000, cost)
        if held is not None:
            self.lines.append(Line("claim", piece.name, 2000, order=name, reason="made"))
            years.shelf[piece.name].claimed += 2000
            held.clear()
            held[piece.name] = 2000

    def weigh(self, *supplies: str) -> None:
        """What the session used of supplies that go by measure."""
        for part in supplies:
            used = round(1000 * len(self.outcomes) * self.years.dice.uniform(0.5, 0.7))
            if self.years.free(part) > used:
                self.lines += self.years.taken(part, used, "weighed")
                self.observed.append(Observed(part, used, 410))

    def document(self) -> Proposal:
        """The finished document."""
        return Proposal(
            "weekend",
            f"Session of {self.years.day.isoformat()}",
            self.years.day,
            lines=tuple(self.lines),
            lots=tuple(self.lots),
            parts=tuple(self.parts.values()),
            outcomes=tuple(self.outcomes),
            observed=tuple(self.observed),
        )


def made(store: Store, weeks: int, size: Size, said: Callable[[int], None] = lambda _: None) -> Years:
    """A book of so many weeks in an empty store; `said` is told each week's end."""
    shop = Years(store, size)
    shop.begin()
    for week in range(weeks):
        shop.week(week)
        said(week)
    shop.learn()
    return shop
