"""How blanks are cut across all pieces of a session: measured ones shared out, the others with least waste.

Pieces of one kind are cut as one, whichever orders they are for, and dealt out to the orders in turn.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from inventory.catalogue import Blank, Part, fold
from inventory.jobs.orders.needs import usable_lots
from inventory.ledger import Lot
from inventory.ledger.availability import free
from inventory.ledger.shop import Shop
from inventory.making.blanks.fitting import PieceSize, stock_of
from inventory.making.blanks.model import BlankStock, CutPattern, Segment, Wanted
from inventory.making.blanks.planning import cutting_plan
from inventory.making.consumption import blank_stage

if TYPE_CHECKING:
    from inventory.jobs.sessions.plan_rows import PlanRow


@dataclass(frozen=True, slots=True)
class ToCut:
    """So many pieces to be cut. name: whose; each: pieces one blank of the catalogue's size gives."""

    name: str
    blank: Part
    size: PieceSize
    each: int
    count: int


@dataclass(frozen=True, slots=True)
class Cutting:
    """`blanks` blanks (or the measured one called `name`) cut alike: pieces by order, mm left over of each."""

    part: Part
    blanks: int
    pieces: tuple[tuple[str, int], ...]
    offcut: Fraction | None
    name: str = ""
    lot: int | None = None


@dataclass(frozen=True, slots=True)
class CutReport:
    """The cutting of all pieces together.

    missing: likewise, of blanks that are not there; proven: nothing cuts better.
    """

    cuts: tuple[Cutting, ...]
    missing: tuple[Cutting, ...]
    proven: bool

    @property
    def every(self) -> tuple[Cutting, ...]:
        """What is cut, of blanks that are there and of those that are not."""
        return (*self.cuts, *self.missing)

    @property
    def short(self) -> tuple[tuple[str, int], ...]:
        """By order, the pieces no blank is there for."""
        sums: Counter[str] = Counter()
        for cut in self.missing:
            for name, many in cut.pieces:
                sums[name] += cut.blanks * many
        return tuple(sums.items())


def cut_together(shop: Shop, rows: Sequence[PlanRow]) -> CutReport:
    """All pieces of a session from the fewest millimetres of blank; measured blanks first, with the least waste."""
    return cut_pieces(shop, [_to_cut(row) for row in rows], [row.order.name for row in rows])


def _to_cut(row: PlanRow) -> ToCut:
    plan = row.report.plan
    takes = plan.takes_blank
    count = plan.reach[blank_stage(plan.uses)] if takes else 0
    return ToCut(row.order.name, row.report.resolved.blank, plan.size, plan.blanks.each, count)


def cut_pieces(shop: Shop, pieces: Iterable[ToCut], orders: Sequence[str]) -> CutReport:
    """Cut them from what is free or set aside for these orders. Of equal ways it always takes the same."""
    by_blank: dict[str, list[ToCut]] = {}
    for one in pieces:
        if one.count > 0:
            by_blank.setdefault(fold(one.blank.name), []).append(one)
    done = [_OneBlank(shop, several, orders) for several in by_blank.values()]
    return CutReport(
        tuple(cut for one in done for cut in one.cuts),
        tuple(cut for one in done for cut in one.missing),
        all(one.proven for one in done),
    )


class _OneBlank:
    """All pieces from one kind of blank, on their way to being cut. left: pieces still to be cut, by whose they are."""

    def __init__(self, shop: Shop, pieces: Sequence[ToCut], orders: Sequence[str]) -> None:
        self.shop, self.part, self.pieces = shop, pieces[0].blank, pieces
        self.left = {one.name: one.count for one in pieces}
        self.cuts: list[Cutting] = []
        self.missing: list[Cutting] = []
        self.proven = True
        lots = self._one_offs(orders)
        there = free(shop.book, self.part, shop.today, orders) // 1000
        self._measured(lots, min(len(lots), there))
        self._unsized(lots, min(len(lots), there) - len(self.cuts))
        self._plain(max(there - len(lots), 0))
        self._not_there()

    def _one_offs(self, orders: Sequence[str]) -> list[Lot]:
        """The measured blanks that are nobody's or set aside for these orders, each as a lot."""
        names = {fold(name) for name in orders}
        claims = self.shop.book.claims_on(self.part.name)
        held = {claim.lot for claim in claims if claim.lot and fold(claim.order) in names}
        return [
            lot
            for lot in usable_lots(self.shop, self.part)
            if lot.measured and (lot.id in held or lot.quantity - lot.claimed >= 1000)
        ]

    def _kinds(self, *, plain: bool) -> dict[tuple[Segment, ...], list[ToCut]]:
        """Pieces still to be cut whose size is known, alike ones together; plain: that a plain blank gives."""
        kinds: dict[tuple[Segment, ...], list[ToCut]] = {}
        for one in self.pieces:
            if one.size.wanted is not None and self.left[one.name] > 0 and (one.each or not plain):
                kinds.setdefault(one.size.wanted.segments, []).append(one)
        return kinds

    def _demand(self, several: Iterable[ToCut]) -> int:
        return sum(self.left[one.name] for one in several)

    def _deal(self, several: Iterable[ToCut], many: int) -> list[tuple[str, int]]:
        """So many pieces of a kind to those who still want some, in turn."""
        dealt = []
        for one in several:
            got = min(many, self.left[one.name])
            if got:
                self.left[one.name] -= got
                many -= got
                dealt.append((one.name, got))
        return dealt

    def _wanted(self, kinds: Mapping[tuple[Segment, ...], Sequence[ToCut]]) -> list[Wanted]:
        """What is still to be cut, by the number of its kind."""
        return [Wanted(n, segments, self._demand(kinds[segments])) for n, segments in enumerate(kinds)]

    def _dealt(self, kinds: Sequence[Iterable[ToCut]], cut: CutPattern) -> tuple[tuple[str, int], ...]:
        """The pieces of one blank, to those who want them."""
        return tuple(one for kind, many in cut.pieces for one in self._deal(kinds[int(str(kind))], many))

    def _measured(self, lots: Sequence[Lot], most: int) -> None:
        kinds = self._kinds(plain=False)
        sized = {lot.id: stock_of(lot) for lot in lots}
        if not kinds or not most:
            return
        packed = cutting_plan(list(sized.values()), self._wanted(kinds), self.shop.kerf, most=most)
        self.proven = packed.proven
        several = list(kinds.values())
        names = {lot.id: lot.name for lot in lots}
        for cut in packed.patterns:
            number = int(str(cut.stock))
            pieces = self._dealt(several, cut)
            self.cuts.append(Cutting(self.part, 1, pieces, cut.offcut, names[number], number))

    def _unsized(self, lots: Sequence[Lot], most: int) -> None:
        """A measured blank each for pieces whose size nobody knows."""
        cut = {one.lot for one in self.cuts}
        spare = [lot for lot in lots if lot.id not in cut][: max(most, 0)]
        for one in self.pieces:
            while spare and one.size.wanted is None and self.left[one.name]:
                self.left[one.name] -= 1
                lot = spare.pop(0)
                self.cuts.append(Cutting(self.part, 1, ((one.name, 1),), None, lot.name, lot.id))

    def _plain(self, there: int) -> None:
        cuts = self._by_length(there)
        self.cuts += cuts
        self.cuts += self._one_each(there - sum(cut.blanks for cut in cuts))

    def _by_length(self, there: int | None) -> list[Cutting]:
        """Pieces and blanks of known size; there: blanks, None for as many as it takes."""
        detail, kinds = self.part.detail, self._kinds(plain=True)
        if not isinstance(detail, Blank) or detail.length is None or not kinds:
            return []
        several = list(kinds.values())
        found = cutting_plan([BlankStock(0, detail.length.mm, there)], self._wanted(kinds), self.shop.kerf)
        self.proven = self.proven and found.proven
        cuts: Counter[tuple[tuple[tuple[str, int], ...], Fraction]] = Counter()
        for pattern in found.patterns:
            for _ in range(pattern.times):
                cuts[self._dealt(several, pattern), pattern.offcut] += 1
        return [Cutting(self.part, many, pieces, offcut) for (pieces, offcut), many in cuts.items()]

    def _one_each(self, there: int | None) -> list[Cutting]:
        """A piece from each: of a size nobody wrote down, or of blanks that by their size give none."""
        cuts = []
        by_length = {one.name for several in self._kinds(plain=True).values() for one in several}
        known = isinstance(self.part.detail, Blank) and self.part.detail.length is not None
        for one in self.pieces:
            if known and one.name in by_length:
                continue
            many = self.left[one.name] if there is None else min(self.left[one.name], there)
            if many > 0:
                self.left[one.name] -= many
                there = None if there is None else there - many
                cuts.append(Cutting(self.part, many, ((one.name, 1),), None))
        return cuts

    def _not_there(self) -> None:
        """What is still to be cut needs more blanks than there are."""
        self.missing += self._by_length(None)
        self.missing += self._one_each(None)
