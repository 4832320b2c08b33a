"""What each command does to the plain book, written from what the guide promises; it knows nothing of the program."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from .everyday import reached_by
from .goods import bill, cut
from .parcels import Parcels
from .things import Refusal, Wish


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


class Model(Parcels):
    """The book and all that may be done to it."""

    def plan(self, *, anew: bool) -> None:
        """A session of every promised order that has pieces to make beyond those of other plans; nothing is spoiled."""
        open_ones = [n for n in self.sessions if self.session_state(n) == "planned"]
        taken = Counter[str]()
        for n in () if anew else open_ones:
            taken.update(self.planned_starts[n])
        left = {
            order: self._to_make(order) - taken[order]
            for order in self.wishes
            if self.state(order) == "promised"
        }
        rows = tuple((order, self.wishes[order].kit) for order in self._in_turn(left) if left[order] > 0)
        if not rows:
            raise Refusal("nothing to plan")
        self._begin()
        number = len(self.sessions) + 1
        self.sessions[number], self.planned_on[number] = rows, self.today
        self.planned_starts[number] = {order: left[order] for order, _ in rows}
        self.document.sessions = {**(dict.fromkeys(open_ones, "dropped") if anew else {}), number: "planned"}
        self._end()

    def _to_make(self, order: str) -> int:
        """Pieces still to be made for an order, what is set aside for it or nobody's counted as finished."""
        wish = self.wishes[order]
        piece = self.piece(wish)
        there = max(self.free(piece) + self.cells["set aside", order, piece], 0) // 1000
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
        self.planned_starts[number] = {}  # it is over at once
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
        begun = [reached_by(row.good or 0, row.lost, "cut") for row in rows]
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
            lost = reached_by(0, row.lost, stage)
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
        self.document.facts["made", pattern] += good
        self.document.facts["begun", blank] += good + sum(row.lost.values())
        for stage, many in row.lost.items():
            self.document.facts["spoiled", blank, stage] += many
        if good:
            piece = self.piece(Wish(pattern, kit, blank, good, self.today))
            self._new_lot(piece, 1000 * good, spent, self.today, unknown=dark)
            parts.add(piece)
        return parts

    def _touched(self) -> set[str]:
        """Parts of which this document moved anything."""
        return {str(cell[2]) for cell in self.document.cells if cell[0] in ("set aside", "coming", "to buy")}


def _said(row: Made) -> bool:
    return row.good is not None or bool(row.lost)
