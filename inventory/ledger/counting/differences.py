"""From counts to movements: the difference between what was found and what the book holds.

Of which lots a row speaks is said in `counting_lots`. What one lot lacks and another has too much of only moved: it
keeps its cost. A part no row speaks of stays as it is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from inventory.catalogue import fold
from inventory.ledger.book import Book, Lot
from inventory.ledger.bottles.containers import called, opened_first
from inventory.ledger.claims import settle, settle_lots, with_lines
from inventory.ledger.costs import UNKNOWN, Cost, Offered, nothing_offered, share_like, unsaid
from inventory.ledger.counting.counts import Count
from inventory.ledger.counting.lots import Target, alike, containers, targets_of
from inventory.ledger.documents.lines import Line
from inventory.ledger.documents.proposal import NewLot
from inventory.ledger.fifo import Take, draw, share

Off = Callable[[str, Iterable[Lot]], int]
"""How much of a part's lots can be nobody's any more (see `availability.gone_of`)."""


@dataclass(slots=True)
class Difference:
    """One part: what the book held and what was found, thousandths of its unit."""

    part: str
    booked: int
    found: int


@dataclass(slots=True)
class Counted:
    """Lots and lines that bring the book to the counts, and the parts where it had been wrong.

    notes: what the person should know of how rows and lots were taken together.
    """

    lots: list[NewLot] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    differences: list[Difference] = field(default_factory=list)
    parts: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def book_counts(
    counts: Iterable[Count], book: Book, offered: Offered = nothing_offered, off: Off = lambda *_: 0
) -> Counted:
    """Everything a set of counts changes, claims included.

    offered: what stock costs of which no row says it and no lot there tells it; off: how much of a part's lots is out
    of date.
    """
    by_part: dict[str, list[Count]] = {}
    for count in counts:
        by_part.setdefault(fold(count.part), []).append(count)
    done = Counted()
    on_hand: dict[str, int] = {}
    gone: dict[str, int] = {}
    lots_after: dict[int, int] = {}
    for rows in by_part.values():
        part = rows[0].part
        start, born = len(done.lines), len(done.lots)
        _count_part(rows, book.lots_of(part), done, offered)
        moved = done.lines[start:]
        booked = book.balance(part).on_hand
        found = booked + sum(line.quantity for line in moved)
        on_hand[part] = found
        gone[part] = off(part, _as_they_will_be(book.lots_of(part), moved, done.lots[born:]))
        done.parts.append(part)
        if booked and found != booked:
            done.differences.append(Difference(part, booked, found))
        if booked:
            _lots_after(book.lots_of(part), moved, lots_after)
    first = settle_lots(book, lots_after)
    claimed = replace(book, claims=with_lines(book.claims, first))
    done.lines += [*first, *settle(claimed, on_hand, off=gone.__getitem__)]
    return done


def cost_of(quantity: int, unit_cost: Fraction) -> int:
    """Minor units for a quantity in thousandths at a unit cost, rounded half-even."""
    return round(Fraction(quantity, 1000) * unit_cost)


def _as_they_will_be(lots: Sequence[Lot], moved: Sequence[Line], new: Sequence[NewLot]) -> list[Lot]:
    """A part's lots after these lines, those that come into being among them."""
    brought = {line.lot for line in moved if isinstance(line.lot, str)}
    born = [
        Lot(0, n.part, n.name, n.received_on, 0, 0, 0, n.opened_on, n.use_by) for n in new if n.tag in brought
    ]
    tags: list[int | str] = [*(lot.id for lot in lots), *(n.tag for n in new if n.tag in brought)]
    return [
        replace(lot, quantity=lot.quantity + sum(line.quantity for line in moved if line.lot == tag))
        for lot, tag in zip([*lots, *born], tags, strict=True)
    ]


def _lots_after(lots: Sequence[Lot], moved: Sequence[Line], after: dict[int, int]) -> None:
    for lot in lots:
        out = sum(line.quantity for line in moved if line.lot == lot.id)
        if out:
            after[lot.id] = lot.quantity + out


def _count_part(rows: Sequence[Count], lots: Sequence[Lot], done: Counted, offered: Offered) -> None:
    if not lots:
        for row in (row for same in alike(rows, lots) for row in same):
            _opening(row, _cost(row, row.quantity, (), offered), done)
        return
    targets = targets_of(rows, lots)
    moves = _Moves(done, offered)
    for target in targets:
        moves.give(target)
    moves.take(targets)
    moves.gone()
    done.notes += _unspoken(targets, lots)


def _opening(row: Count, cost: Cost, done: Counted) -> None:
    """The first of a part: the open container a lot of its own beside the full ones."""
    amount, whole = cost.amount, row.quantity
    for one in containers(row):
        part = share(whole, amount, one.quantity)
        _new_lot(one, one.quantity, Cost(part, cost.cost_from), "opening", done)
        amount, whole = amount - part, whole - one.quantity


@dataclass(slots=True)
class _Want:
    """What still has to come to a target, as its row says."""

    target: Target
    row: Count
    more: int


class _Moves:
    """What one lot lacks and another has too much of only moved, and keeps its cost. The rest was found, or not."""

    def __init__(self, done: Counted, offered: Offered) -> None:
        self.done, self.offered = done, offered
        self.out: list[tuple[Target, Take]] = []

    def give(self, target: Target) -> None:
        """What is missing from a target's lots, the open one first. One-offs are not taken for one another."""
        plain = [replace(lot, claimed=0) for lot in opened_first(target.lots)]
        takes, _ = draw(plain, target.missing)
        if target.sized:
            for take in takes:
                self._leaves(take, "not found")
        else:
            self.out += [(target, take) for take in takes]

    def take(self, targets: Sequence[Target]) -> None:
        """What targets have more than their lots: from what their own row or name misses, then from what others do.

        The rest was found, at what the row says that costs. A row of one very lot has to do with no other.
        """
        wants = [_Want(target, *want) for target in targets for want in target.wanted()]
        for others in (False, True):
            for want in wants:
                if not want.target.sized and not (others and want.row.number):
                    want.more -= self._moved(want, others=others)
        for want in wants:
            target, row = want.target, want.row
            like = target.like[-1] if row.opened_on and target.like and not target.lots else None
            cost = _cost(row, want.more, target.like, self.offered)
            _new_lot(target.described(row, like) if like else row, want.more, cost, "found", self.done)

    def _moved(self, want: _Want, *, others: bool) -> int:
        """So much of it as they miss, as lots of its own, each with its receipt. Returns how much."""
        target, left = want.target, want.more
        kept: list[tuple[Target, Take]] = []
        for giver, take in self.out:
            part = min(take.quantity, left) if others or giver.group == target.group else 0
            now = Take(take.lot, part, share(take.quantity, take.cost, part))
            if take.quantity > part:
                kept.append((giver, Take(take.lot, take.quantity - part, take.cost - now.cost)))
            if part:
                self._leaves(now, "moved")
                cost = Cost(now.cost, take.lot.cost_from)
                _new_lot(target.described(want.row, take.lot), part, cost, "moved", self.done)
            left -= part
        self.out = kept
        return want.more - left

    def gone(self) -> None:
        """What nobody has."""
        for _, take in self.out:
            self._leaves(take, "not found")

    def _leaves(self, take: Take, reason: str) -> None:
        line = Line("shelf", take.lot.part, -take.quantity, -take.cost, lot=take.lot.id, reason=reason)
        self.done.lines.append(line)


def _unspoken(targets: Sequence[Target], lots: Sequence[Lot]) -> list[str]:
    """A word where a row names a lot nobody knew while no row speaks of others: it may be one of them, renamed."""
    spoken = {lot.id for target in targets for lot in target.lots}
    others = [called(lot) for lot in lots if lot.id not in spoken and not lot.measured]
    new = [
        row
        for target in targets
        if not target.lots and not target.sized
        for row in target.rows
        if row.quantity
    ]
    if not others or not new:
        return []
    stays = f"no row speaks of {' and '.join(others[:3])}, which stays as it is"
    return [f"{new[0].part}: {stays}. If “{new[0].lot}” is a new name for it, give the old one a row with 0."]


def _cost(row: Count, quantity: int, lots: Sequence[Lot], offered: Offered) -> Cost:
    """As the row says, else as what is found costs."""
    if row.unit_cost is not None:
        return Cost(cost_of(quantity, row.unit_cost))
    return found_cost(row.part, quantity, lots, offered)


def found_cost(part: str, quantity: int, lots: Sequence[Lot], offered: Offered) -> Cost:
    """What is found costs: as the newest of these lots whose cost is known; else by the offer; else unknown."""
    known = [lot for lot in lots if lot.cost_from != UNKNOWN]
    return share_like(known[-1], quantity) if known else unsaid(part, quantity, offered)


def _new_lot(row: Count, quantity: int, cost: Cost, reason: str, done: Counted) -> None:
    if not quantity:
        return
    tag = f"lot {len(done.lots) + 1}"
    done.lots.append(
        NewLot(
            tag,
            row.part,
            row.lot,
            row.received_on,
            row.opened_on,
            row.use_by,
            row.smallest_diameter,
            row.length,
        )
    )
    done.lines.append(
        Line("shelf", row.part, quantity, cost.amount, lot=tag, reason=reason, cost_from=cost.cost_from)
    )
