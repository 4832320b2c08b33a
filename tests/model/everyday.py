"""Counts, what is taken and found by hand, promises and handing over, on the model's cells."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from .cells import Cells
from .goods import COUNTED, NET, STAGES, WEEKS, bill
from .things import Refusal, Wish


@dataclass(frozen=True)
class Counted:
    """A part as it was counted, thousandths. unit_cost: minor units a piece or millilitre; received: of what is new."""

    part: str
    quantity: int
    unit_cost: int | None = None
    received: date | None = None


class Everyday(Cells):
    """What happens on any day."""

    def count(self, rows: Sequence[Counted], content: object) -> None:
        """What is there now: only differences are booked."""
        self._begin(content)
        for row in rows:
            lots = self.lots_of(row.part)
            more = row.quantity - self.on_hand(row.part)
            if more > 0:
                cost: int | None = None
                known = [lot for lot in lots if not self.unknown(lot)]
                if row.unit_cost is not None:
                    cost = round(Fraction(more, 1000) * row.unit_cost)
                elif known:
                    cost = self.cost(known[-1]) * more // self.left(known[-1])
                received, opened = row.received, None
                if len(lots) == 1 and self.lots[lots[0]].opened:  # what is found of an open bottle is in it
                    received, opened = received or self.lots[lots[0]].received, self.lots[lots[0]].opened
                self._price(self._new_lot(row.part, more, cost or 0, received, opened, unknown=cost is None))
            elif more < 0:
                self._take(row.part, -more)
            self.document.doubts[row.part] = False
        self._settle(row.part for row in rows)
        self._end()
        self._say_costs([row for row in rows if row.unit_cost is not None])

    def _say_costs(self, rows: Sequence[Counted]) -> None:
        """What is there already costs what the row says, where nobody knew, or a count said otherwise: a document."""
        changes = [
            (lot, round(Fraction(self.left(lot), 1000) * (row.unit_cost or 0)))
            for row in rows
            for lot in self.lots_of(row.part)
            if self.unknown(lot) or self._otherwise(lot, row.unit_cost or 0)
        ]
        if changes:
            self._begin()
            for lot, cost in changes:
                self._add(("lot cost", lot), cost - self.cost(lot))
                self._add(("lot unknown", lot), -self.unknown(lot))
                self._price(lot)
            self._end()

    def _otherwise(self, lot: int, unit_cost: int) -> bool:
        """Whether a count said it cost something else; less than a coin is lost where a lot's cost is shared."""
        said = self.saying(lot)
        return said is not None and abs(said[1] - Fraction(said[0], 1000) * unit_cost) >= 1

    def found(self, part: str, quantity: int) -> None:
        """More is there than was known, of no known day; it costs what the newest lot of known cost does."""
        self._begin()
        self._found(part, quantity)
        self._settle([part])
        self._end()

    def _found(self, part: str, quantity: int) -> None:
        known = [lot for lot in self.lots_of(part) if not self.unknown(lot)]
        cost = self.cost(known[-1]) * quantity // self.left(known[-1]) if known else 0
        self._price(self._new_lot(part, quantity, cost, None, unknown=not known))

    def added(self, part: str, quantity: int, each: int | None) -> None:
        """More came today, at so much for one or a millilitre; else it costs as the newest lot of known cost."""
        self._begin()
        self._added(part, quantity, each)
        self._settle([part])
        self._end()

    def _added(self, part: str, quantity: int, each: int | None) -> None:
        known = [lot for lot in self.lots_of(part) if not self.unknown(lot)]
        cost = self.cost(known[-1]) * quantity // self.left(known[-1]) if known else 0
        if each is not None:
            cost = round(Fraction(quantity, 1000) * each)
        self.document.facts["spent", "", "goods"] += cost
        self._new_lot(part, quantity, cost, self.today, unknown=each is None and not known)

    def took(self, part: str, quantity: int, *, lent: bool) -> None:
        """Less is there: what is nobody's first, then what is set aside, which its orders wait for again."""
        if quantity > self.on_hand(part):
            raise Refusal("not so much there")
        self._begin()
        if lent:
            for lot in self.lots_of(part):
                if out := min(self.left(lot), quantity):
                    dark = bool(self.unknown(lot))
                    self.document.lent.append((lot, out, self._out(lot, out), dark))
                    self._add(("lent", part), out)
                quantity -= out
        else:
            self._use(part, quantity)
        self._settle([part])
        self._end()

    def days(self, lines: Sequence[tuple[str, str, int]]) -> None:
        """Lines of a sheet, found or broken, one after the other as one document; all of them or none."""
        self._begin(("days", tuple(lines)))
        cells, lots = Counter(self.cells), dict(self.lots)
        for what, part, many in lines:
            if what == "found":
                self._found(part, many)
            elif many > self.on_hand(part):
                self.cells, self.lots = cells, lots
                raise Refusal("not so much there")
            else:
                self._use(part, many)
            self._settle([part])
        self._end()

    def sold(self, wish: Wish, pieces: int) -> None:
        """Finished pieces that are nobody's go, as an order of its own that is over with it."""
        piece = self.piece(wish)
        if 1000 * pieces > self.free(piece):
            raise Refusal("not so many are free")
        self._begin()
        number = 1
        while (order := f"sold {self.today.isoformat()} {number}") in self.wishes:
            number += 1
        self._want(order, wish)
        self.document.states[order] = "handed over"
        self.document.facts["handed", order, "market"] += pieces
        self._take(piece, 1000 * pieces)
        self._settle([piece])
        self._end()

    def came_back(self, order: str, part: str, quantity: int) -> None:
        """A repair of what a customer has takes so much off the shelf, set aside or not."""
        state = self.state(order)
        out = state == "promised" and self.open(order) < self.wishes[order].count
        if state != "handed over" and not out:
            raise Refusal("nothing of it went out")
        if quantity > self.on_hand(part):
            raise Refusal("not so much there")
        self._begin()
        self._use(part, quantity)
        self._settle([part])
        self._end()

    def robbed(self, kit: str, quantity: int) -> None:
        """What is left of whole kits is a part of its own, at what they cost."""
        if quantity > self.on_hand(kit):
            raise Refusal("not so many there")
        self._begin()
        spent, _, dark, _ = self._use(kit, quantity)
        self._new_lot(f"{kit} without its clip", quantity, spent, self.today, unknown=dark)
        self._settle([kit])
        self._end()

    def change(self, order: str, count: int, due: date) -> None:
        """An order is wanted otherwise: what is set aside goes free, and what it needs now is set aside anew."""
        before, state = self.wishes[order], self.state(order)
        wanted = replace(before, count=count, due=due)
        gone = before.count - self.open(order) if state == "promised" else 0
        if state not in ("wish", "promised") or count <= gone or wanted == before or due < self.today:
            raise Refusal("over, too few, the same, or past")
        self._begin()
        self.document.agreed[order] = before, wanted
        self._take_up(self.document)
        self.document.states[order] = state
        if state == "promised":
            held = self._let_go(order)
            self._set_aside(order)
            self._settle(held)
        self._end()

    def hours(self, week: str) -> None:
        """The week has these hours from now on."""
        if week not in WEEKS:
            raise Refusal("no weekday with its hours")
        self._say("hours", week)

    def retire(self, kind: str, name: str, *, back: bool) -> None:
        """A thing is no longer had, or is again."""
        if bool(self.said.get(f"retired {kind} {name}")) != back:
            raise Refusal("retired before, or not at all")
        self._say(f"retired {kind} {name}", "" if back else "yes")

    def _say(self, what: str, now: str) -> None:
        self._begin()
        before = self.said.get(what, "")
        if now != before:  # the same said again changes nothing, so that nothing stands on it
            self.document.said[what] = before, now
        self._take_up(self.document)
        self._end()

    def with_others(self, part: str) -> list[tuple[int, int, int, bool]]:
        """What is lent of a part: lot, how much, its cost, whether nobody knows that; the oldest first."""
        left: list[tuple[int, int, int, bool]] = []
        for one in self.standing():
            left += [row for row in one.lent if self.lots[row[0]].part == part]
            if back := one.back.get(part, 0):
                left = _after(left, back)[1]
        return left

    def all_with_others(self) -> dict[str, int]:
        """How much of each part is lent."""
        owed = {part: sum(row[1] for row in self.with_others(part)) for part in (*COUNTED, *NET)}
        return {part: many for part, many in owed.items() if many}

    def come_back(self, part: str, quantity: int) -> None:
        """What was lent is here again, the oldest first, as it went."""
        if quantity > sum(many for _, many, _, _ in self.with_others(part)):
            raise Refusal("not so much is lent")
        self._begin()
        for lot, many, cost, dark in _after(self.with_others(part), quantity)[0]:
            self._new_lot(part, many, cost, self.lots[lot].received, unknown=dark)
        self._add(("lent", part), -quantity)
        self.document.back[part] = quantity
        self._settle([part])
        self._end()

    def promise(self, order: str, wish: Wish | None) -> None:
        """Take an order: one noted before (None), or a new one; one that was given up may be asked for anew."""
        if wish is None and order not in self.wishes:
            raise Refusal("not known")
        if wish is not None and order in self.wishes and self.state(order) != "released":
            raise Refusal("there is one of that name")
        if self.state(order) in ("promised", "handed over"):
            raise Refusal("taken before, or over")
        if (wish or self.wishes[order]).due < self.today:
            raise Refusal("its day is past")
        if self.said.get(f"retired pattern {self.now((wish or self.wishes[order]).pattern)}"):
            raise Refusal("no longer made")
        self._begin()
        if wish is not None:
            self._want(order, wish)
        self._set_aside(order)
        self.document.states[order] = "promised"
        self._end()

    def _want(self, order: str, wish: Wish) -> None:
        """An order is written down, of things as they are called now."""
        self.wishes[order] = replace(wish, pattern=self.now(wish.pattern))
        self.platings[order] = self.now(wish.plating)

    def release(self, order: str) -> None:
        """Give an order up: what it held is free again, or goes to those who wait."""
        self._must_be_promised(order)
        self._begin()
        self.document.states[order] = "released"
        self._settle(self._let_go(order))
        self._end()

    def pay(self, order: str, amount: int, *, back: bool) -> None:
        """Money comes for an order, or goes back: never more than came."""
        if order not in self.wishes or (self.state(order) == "released" and not back):
            raise Refusal("not known, or given up")
        if back and amount > self.cells["paid", order]:
            raise Refusal("not so much was paid")
        self._begin()
        self._add(("paid", order), -amount if back else amount)
        self._end()

    def spend(self, what: str, amount: int, at: str, order: str) -> None:
        """Money goes for no part: at a market, for an order, or for neither."""
        if amount <= 0 or (order and order not in self.wishes):
            raise Refusal("nothing, or for no order")
        self._begin()
        self._add(("spent", what, at, order, self.today), amount)
        self._end()

    def _must_be_promised(self, order: str) -> None:
        if order not in self.wishes or self.state(order) != "promised":
            raise Refusal("not promised")

    def hand_over(self, order: str, lost: Mapping[str, int], count: int | None, *, made_now: bool) -> None:
        """What is finished goes out, then the bill of the rest, and of lost pieces up to the stage they reached.

        count: pieces, None for all that are open; the others stay promised. That pieces nobody booked as made were made
        now has to be said, by the word or by what was lost, of an order some of which is finished or which is planned.
        """
        self._must_be_promised(order)
        wish, still = self.wishes[order], self.open(order)
        count = still if count is None else count
        if not 1 <= count <= still:
            raise Refusal("not so many are open")
        piece = self.piece(wish)
        there = max(self.free(piece) + self.cells["set aside", order, piece], 0)
        ready = min(there // 1000, count)
        planned = any(
            name == order
            for n in self.sessions
            if self.session_state(n) == "planned"
            for name, _ in self.sessions[n]
        )
        if ready < count and (ready or planned) and not (made_now or lost):
            raise Refusal("never booked as made")
        self._begin()
        parts = self._let_go(order)
        if ready:
            self._take(piece, 1000 * ready)
            parts.add(piece)
        for stage, part, each in bill(wish.kit, wish.blank):
            if pieces := reached_by(count - ready, lost, stage):
                self._draw(part, self.wanted(part, each, pieces))
                parts.add(part)
        self.document.states[order] = "handed over" if count == still else "promised"
        self.document.facts["handed", order, "order"] += count
        self.document.facts["made", wish.pattern] += count - ready
        self.document.facts["begun", wish.blank] += count - ready
        if count < still:
            self.document.handed[order] = count
            self._set_aside(order)
        self._settle(parts)
        self._end()

    def _take(self, part: str, quantity: int) -> None:
        """Take from the open bottle and then the oldest lots, as far as there is any."""
        for lot in self._turns_of_lots(part):
            out = min(self.left(lot), quantity)
            if out:
                self._out(lot, out)
            quantity -= out

    def _price(self, lot: int) -> None:
        """Note that just now somebody said what a lot cost: the document, what it holds, that cost."""
        self.priced.setdefault(lot, []).append((self.document.number, self.left(lot), self.cost(lot)))


def _after(
    rows: Sequence[tuple[int, int, int, bool]], back: int
) -> tuple[list[tuple[int, int, int, bool]], list[tuple[int, int, int, bool]]]:
    """What of these comes back, and what stays away; a part of one takes its share of the cost, cost·q // quantity."""
    came, away = [], []
    for lot, many, cost, dark in rows:
        here = min(many, back)
        share = cost * here // many
        came += [(lot, here, share, dark)] if here else []
        away += [(lot, many - here, cost - share, dark)] if many > here else []
        back -= here
    return came, away


def reached_by(good: int, lost: Mapping[str, int], stage: str) -> int:
    """Pieces that came to a stage: the good ones, and those lost there or later."""
    return good + sum(lost.get(later, 0) for later in STAGES[STAGES.index(stage) :])
