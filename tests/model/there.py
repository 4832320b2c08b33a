"""What there is in the plain book, read out of its cells."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from datetime import date, timedelta

from .goods import PARTS, piece_name
from .things import Cell, Document, Lot, Purchase, Wish


class There:
    """The whole book. Quantities are thousandths, money is minor units."""

    def __init__(self, today: date, by_rate: Mapping[int, int]) -> None:
        """by_rate: thousandths of `BY_RATE` that the tool sets aside for so many pieces; no rule says it."""
        self.today, self.by_rate = today, by_rate
        self.cells: Counter[Cell] = Counter()
        self.lots: dict[int, Lot] = {}
        self.purchases: dict[int, Purchase] = {}
        self.wishes: dict[str, Wish] = {}
        self.sessions: dict[int, tuple[tuple[str, str], ...]] = {}
        self.planned_on: dict[int, date] = {}
        self.planned_starts: dict[int, dict[str, int]] = {}
        self.documents: dict[int, Document] = {}
        self.document = Document(0)
        self.priced: dict[int, list[tuple[int, int, int]]] = {}
        self.worked = today
        self.names: dict[str, str] = {}
        self.said: dict[str, str] = {}
        self.into: dict[str, str] = {}
        self.platings: dict[str, str] = {}

    def called(self, part: str) -> str:
        """What a part is called now; whoever says its first name means it."""
        return self.names.get(part, part)

    def now(self, name: str) -> str:
        """The first name of what this is now: another thing where the two were merged."""
        return self.into.get(name) or name

    def piece(self, wish: Wish) -> str:
        """The part that its finished pieces are: whatever is called after what they are made from."""
        name = piece_name(self.now(wish.pattern), wish.kit, wish.blank)
        return self.is_called(name) or name

    def is_called(self, name: str) -> str:
        """The finished piece of that name; empty where there is none."""
        found = [part for part in self.pieces() if self.called(part) == name and self.now(part) == part]
        return found[0] if found else ""

    def pieces(self) -> set[str]:
        """Finished pieces that there ever were: a part stays though what made it is taken back."""
        return {lot.part for lot in self.lots.values()} - set(PARTS)

    def left(self, lot: int) -> int:
        """What a lot holds."""
        return self.cells["lot", lot]

    def cost(self, lot: int) -> int:
        """What it cost."""
        return self.cells["lot cost", lot]

    def unknown(self, lot: int) -> int:
        """2 where nobody knows what it cost, and 0 or a part of the cost stands in the book; 0 where it is known."""
        return self.cells["lot unknown", lot]

    def lots_of(self, part: str) -> list[int]:
        """Lots that hold something, first in, first out; one without a day is the oldest."""
        mine = [n for n, lot in self.lots.items() if lot.part == part and self.left(n)]
        return sorted(mine, key=lambda n: (self.lots[n].received or date.min, n))

    def on_hand(self, part: str) -> int:
        """All there is of a part."""
        return sum(self.left(n) for n in self.lots_of(part))

    def claims(self, part: str, kind: str) -> dict[str, int]:
        """Quantity by order of one kind: set aside, or to buy."""
        found = {
            cell[1]: many for cell, many in self.cells.items() if cell[0] == kind and cell[2] == part and many
        }
        return {str(order): many for order, many in found.items()}

    def free(self, part: str) -> int:
        """On the shelf and nobody's."""
        return self.on_hand(part) - sum(self.claims(part, "set aside").values())

    def due_of(self, part: str) -> list[int]:
        """Purchases of a part still due, the earliest expected first."""
        mine = [n for n, one in self.purchases.items() if one.part == part and self.cells["due", n]]
        return sorted(mine, key=lambda n: (self.purchases[n].expected, n))

    def late(self, purchase: int) -> int:
        """Days since it should have been here."""
        return max((self.today - self.purchases[purchase].expected).days, 0)

    def usual(self, supplier: str) -> int:
        """Days late until which four in five of a supplier's parcels came, with one of a week among them."""
        seen = sorted([7, *(days for one in self.standing() for days in self._lateness(one, supplier))])
        return next(days for at, days in enumerate(seen, start=1) if 5 * at >= 4 * len(seen))

    def _lateness(self, one: Document, supplier: str) -> list[int]:
        days = [expected for of, expected in one.parcels if self.now(of) == supplier]
        return [max((one.came - min(days)).days, 0)] if one.came and days else []

    def counted_on(self, purchase: int) -> date:
        """The day a purchase can be counted on: its own, if late the usual one, if later than usual as late again."""
        one, late = self.purchases[purchase], self.late(purchase)
        usual = self.usual(one.supplier)
        if not late:
            return one.expected
        return one.expected + timedelta(days=usual) if late <= usual else self.today + timedelta(days=late)

    def given_up(self, purchase: int, order: str) -> bool:
        """Whether a late purchase can no longer be counted on for an order."""
        return bool(self.late(purchase)) and self.counted_on(purchase) > self.wishes[order].due

    def waiting(self, purchase: int) -> dict[str, int]:
        """What is set aside of a purchase, by order."""
        return {
            str(cell[1]): many
            for cell, many in self.cells.items()
            if cell[0] == "coming" and cell[3] == purchase and many
        }

    def owed(self, purchase: int) -> tuple[int, int, int]:
        """What is still due of a purchase, what that costs, and how much of it is set aside."""
        held = sum(self.waiting(purchase).values())
        return self.cells["due", purchase], self.cells["due cost", purchase], held

    def standing(self) -> list[Document]:
        """Documents that count: those that are not undone, and do not undo one of which another undo stands."""
        return [one for one in self.documents.values() if self._in_force(one)]

    def _in_force(self, one: Document) -> bool:
        return not one.undoes and self._turns(one) % 2 == 0

    def _turns(self, one: Document) -> int:
        turns = 0
        while one.undone:
            one, turns = self.documents[one.undone], turns + 1
        return turns

    def state(self, order: str) -> str:
        """What the last document that stands says of an order."""
        return str(self._last("states", order, "released" if order.startswith("sold ") else "wish"))

    def open(self, order: str) -> int:
        """Pieces of a promise that are not with the customer yet: what went out since it was promised last is gone."""
        left = self.wishes[order].count
        for one in self.standing():
            if one.states.get(order, "promised") != "promised":
                left = self.wishes[order].count
            left -= one.handed.get(order, 0)
        return left

    def session_state(self, number: int) -> str:
        """What the last document that stands says of a session."""
        return str(self._last("sessions", number, "dropped"))

    def doubtful(self) -> set[str]:
        """Parts that the last document that stands wants counted."""
        names = {part for one in self.documents.values() for part in one.doubts}
        return {part for part in names if self._last("doubts", part, False)}

    def _last(self, what: str, key: object, otherwise: object) -> object:
        said = [getattr(one, what)[key] for one in self.standing() if key in getattr(one, what)]
        return said[-1] if said else otherwise
