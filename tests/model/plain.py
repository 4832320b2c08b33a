"""What each command does to the plain book, written from what the guide promises; it knows nothing of the program."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from fractions import Fraction

from .cells import Cell, Cells, Purchase, Refusal, Wish
from .goods import COUNTED, LEAD, NET, PACK, STAGES, bill, cut, piece_name


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


@dataclass(frozen=True)
class Counted:
    """A part as it was counted, thousandths. unit_cost: minor units a piece or millilitre; received: of what is new."""

    part: str
    quantity: int
    unit_cost: int | None = None
    received: date | None = None


@dataclass(frozen=True)
class Made:
    """A row of a session sheet. row: of the plan, 0 for pieces nobody planned, which say what they are made from.

    good: None where nothing is written, which is not the same as 0: none came out good.
    """

    row: int
    good: int | None
    lost: Mapping[str, int] = field(default_factory=dict)
    pattern: str = ""
    kit: str = ""
    blank: str = ""


class Model(Cells):
    """The book and all that may be done to it."""

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
        if 1000 * pieces > self.free(wish.piece):
            raise Refusal("not so many are free")
        self._begin()
        number = 1
        while (order := f"sold {self.today.isoformat()} {number}") in self.wishes:
            number += 1
        self.wishes[order] = wish
        self.document.states[order] = "handed over"
        self._take(wish.piece, 1000 * pieces)
        self._settle([wish.piece])
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

    def rename(self, part: str) -> None:
        """A part is called otherwise from now on."""
        self._begin()
        self.document.named[part] = self.called(part), f"{part} no. {self.document.number}"
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
        self._begin()
        if wish is not None:
            self.wishes[order] = wish
        self._set_aside(order)
        self.document.states[order] = "promised"
        self._end()

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
        there = max(self.free(wish.piece) + self.cells["set aside", order, wish.piece], 0)
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
            self._take(wish.piece, 1000 * ready)
            parts.add(wish.piece)
        for stage, part, each in bill(wish.kit, wish.blank):
            if pieces := _reached(count - ready, lost, stage):
                self._draw(part, self.wanted(part, each, pieces))
                parts.add(part)
        self.document.states[order] = "handed over" if count == still else "promised"
        if count < still:
            self.document.handed[order] = count
            self._set_aside(order)
        self._settle(parts)
        self._end()

    def place(self, rows: Sequence[tuple[str, str, int, int]], *, again: bool = False) -> None:
        """Supplier, part, packs and price of a pack are ordered: due in, and claimed by those who wait for the part.

        What one supplier gets by a list is not ordered twice, on whatever day, unless it is said to be.
        """
        now = {
            supplier: frozenset((part, packs) for of, part, packs, _ in rows if of == supplier)
            for supplier, *_ in rows
        }
        same = [one for one in self.standing() if now.items() & one.ordered.items()]
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
            for order, cell in self._wanting(part, number):
                got = min(left, self.cells[cell])
                self._add(cell, -got)
                self._add(("coming", order, part, number), got)
                left -= got
        self._end()

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

    def plan(self, *, anew: bool) -> None:
        """A session of every promised order that has pieces to make and is in no other plan."""
        open_ones = [n for n in self.sessions if self.session_state(n) == "planned"]
        taken = set() if anew else {order for n in open_ones for order, _ in self.sessions[n]}
        promised = [order for order in self.wishes if self.state(order) == "promised" and order not in taken]
        rows = tuple(
            (order, self.wishes[order].kit) for order in self._in_turn(promised) if self._to_make(order)
        )
        if not rows:
            raise Refusal("nothing to plan")
        self._begin()
        number = len(self.sessions) + 1
        self.sessions[number], self.planned_on[number] = rows, self.today
        self.document.sessions = {**(dict.fromkeys(open_ones, "dropped") if anew else {}), number: "planned"}
        self._end()

    def _to_make(self, order: str) -> int:
        """Pieces still to be made for an order, what is set aside for it or nobody's counted as finished."""
        wish = self.wishes[order]
        there = max(self.free(wish.piece) + self.cells["set aside", order, wish.piece], 0) // 1000
        return max(self.open(order) - there, 0)

    def weekend(self, number: int, rows: Sequence[Made], really_cut: Mapping[str, int] | None = None) -> None:
        """A session is over: pieces draw their bills, good ones become parts, orders get anew what they still need.

        really_cut: blanks by their kind, where the sheet says how many; else as many as it takes for what was started.
        """
        if self.session_state(number) != "planned" or not any(_said(row) for row in rows):
            raise Refusal("no open session, or an empty sheet")
        planned = self.sessions[number]
        if any(
            row.row and _said(row) and self.state(planned[row.row - 1][0]) == "handed over" for row in rows
        ):
            raise Refusal("handed over before it was made")
        shares = self._blanks(planned, [row for row in rows if _said(row)], really_cut or {})
        self._begin()
        self.worked = self.planned_on[
            number
        ]  # bottles are opened when the work is done, not when it is booked
        moved: set[str] = set()
        mine = self._in_turn(order for order, _ in planned if self.state(order) == "promised")
        for order in mine:
            moved |= self._let_go(order)
        for row, share in zip([row for row in rows if _said(row)], shares, strict=True):
            moved |= self._make(row, planned, share)
        for order in mine:
            self._set_aside(order)
        self._settle(moved | self._touched())
        self.document.sessions[number] = "booked"
        self._end()

    def made(self, row: Made, order: str) -> None:
        """Pieces made of an evening: a session of one row that is planned and over at once."""
        if order:
            self._must_be_promised(order)
            if (row.good or 0) > self._to_make(order):
                raise Refusal("not so many are to be made")
        if not row.good and not row.lost:
            raise Refusal("nothing was made")
        planned = ((order, self.wishes[order].kit),) if order else ()
        (share,) = self._blanks(planned, [row], {})
        self._begin()
        number = len(self.sessions) + 1
        self.sessions[number], self.planned_on[number] = planned, self.today
        moved = self._let_go(order) if order else set()
        moved |= self._make(row, planned, share)
        if order:
            self._set_aside(order)
        self._settle(moved | self._touched())
        self.document.sessions[number] = "booked"
        self._end()

    def _blanks(
        self, planned: Sequence[tuple[str, str]], rows: Sequence[Made], really_cut: Mapping[str, int]
    ) -> list[int]:
        """Each row's thousandths of the blanks that were cut: all of a kind together, shared by the pieces begun."""
        kinds = [self.wishes[planned[row.row - 1][0]].blank if row.row else row.blank for row in rows]
        begun = [_reached(row.good or 0, row.lost, "cut") for row in rows]
        shares = [0] * len(rows)
        for blank in {*kinds, *really_cut}:
            mine = [many if kind == blank else 0 for kind, many in zip(kinds, begun, strict=True)]
            whole = cut(blank, sum(mine))
            if blank in really_cut:
                if bool(sum(mine)) != bool(really_cut[blank]):
                    raise Refusal("blanks without pieces, or pieces without blanks")
                whole = 1000 * really_cut[blank]
            before = running = 0
            for at, many in enumerate(mine):
                running += many
                upto = whole * running // sum(mine) if sum(mine) else 0
                shares[at] += upto - before
                before = upto
        return shares

    def _make(self, row: Made, planned: Sequence[tuple[str, str]], share: int) -> set[str]:
        """Draw the bills of one row and lay its good pieces on the shelf with what they took; the parts moved.

        share: thousandths of the session's blanks that are the row's.
        """
        pattern, kit, blank = row.pattern, row.kit, row.blank
        if row.row:
            order, kit = planned[row.row - 1]
            pattern, blank = self.wishes[order].pattern, self.wishes[order].blank
        spent, dark, parts, good = 0, False, set(), row.good or 0
        for stage, part, each in bill(kit, blank):
            lost = _reached(0, row.lost, stage)
            used, gone_bad = each * good, each * lost
            if part == blank:
                used = share * good // (good + lost) if good else 0
                gone_bad = share - used
            if used:
                gone, unknown = self._draw(part, used)
                spent, dark = spent + gone, dark or unknown
            if gone_bad:
                self._draw(part, gone_bad)
            parts |= {part} if good or lost else set()
        if good:
            piece = piece_name(pattern, kit, blank)
            self._new_lot(piece, 1000 * good, spent, self.today, unknown=dark)
            parts.add(piece)
        return parts

    def _touched(self) -> set[str]:
        """Parts of which this document moved anything."""
        return {str(cell[2]) for cell in self.document.cells if cell[0] in ("set aside", "coming", "to buy")}


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


def _said(row: Made) -> bool:
    return row.good is not None or bool(row.lost)


def _reached(good: int, lost: Mapping[str, int], stage: str) -> int:
    """Pieces that came to a stage: the good ones, and those lost there or later."""
    return good + sum(lost.get(later, 0) for later in STAGES[STAGES.index(stage) :])


def _largest_remainders(total: int, weights: Sequence[int]) -> list[int]:
    """Everybody gets the whole coins of his exact share; those with the most left over get one more, first come."""
    exact = [Fraction(total * weight, sum(weights)) for weight in weights]
    shares = [int(one) for one in exact]
    while sum(shares) < total:
        shares[max(range(len(shares)), key=lambda at: exact[at] - shares[at])] += 1
    return shares
