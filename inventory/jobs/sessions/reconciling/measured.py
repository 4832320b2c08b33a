"""What the scale, the count and the pencil say a session used, and what the bills expected.

How a bottle is weighed is in `weighing`. A count of strips is a count of whole ones: its deviation is 1 / √12
of one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import sqrt
from typing import Final, Protocol

from inventory.catalogue import Supply, fold
from inventory.errors import BadSheet, Place
from inventory.jobs.sessions.reconciling.bills_drawn import less
from inventory.jobs.sessions.reconciling.weighing import Weighed, weigh
from inventory.jobs.stock.drawing import Purpose, take
from inventory.ledger import Count, Line, Lot
from inventory.ledger.bottles.scales import TWELFTH, Impossible
from inventory.ledger.costs import share_like
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.sessions import Observed, Way
from inventory.ledger.shop import Shop
from inventory.reports.filled import FilledBottle, FilledCount, FilledSession


@dataclass(frozen=True, slots=True)
class Checked:
    """One part that was weighed, written down or counted: thousandths expected and found on the shelf afterwards.

    before: it was weighed before the session began, so that nothing of the difference was used in it.
    """

    part: str
    expected: int
    counted: int
    error: int
    way: str
    before: bool = False


NOT_USED: Final = "not used"
"""The word of a line by which something left the shelf that nobody used, and no other word is said."""
Lots = Sequence[tuple[int, int]]
"""Lots by number, with how much may leave each."""


class Word(Protocol):
    """The word of a line: of a part (folded), for what a session took beyond its bills, or what was gone before it."""

    def __call__(self, part: str, *, before: bool = False) -> str:
        """That word."""


@dataclass(slots=True)
class Measures:
    """Everything by folded part: used, its error and way of measuring; named: lots it came from.

    gone: missing before the session began, with the lots it left; fuller: lots with more in them than the book says;
    unsound: parts of which a reading cannot be use, each with its lot: they are used as the bills expect, and what is
    there beyond that was found; sure: parts whose use was seen from its beginning to its end;
    reasons: what the maker says of a difference; counts: parts counted afterwards; earlier: what the bills drew of a
    part in the sessions since anybody looked.
    """

    used: Counter[str] = field(default_factory=Counter)
    error: Counter[str] = field(default_factory=Counter)
    way: dict[str, str] = field(default_factory=dict)
    named: dict[str, list[tuple[int, int]]] = field(default_factory=dict)
    gone: dict[str, list[tuple[int, Lots]]] = field(default_factory=dict)
    fuller: list[tuple[Lot, int]] = field(default_factory=list)
    unsound: dict[str, Lot] = field(default_factory=dict)
    found: Counter[str] = field(default_factory=Counter)
    sure: set[str] = field(default_factory=set)
    reasons: dict[str, list[str]] = field(default_factory=dict)
    counts: list[FilledCount] = field(default_factory=list)
    announced: list[str] = field(default_factory=list)
    bad: list[Place] = field(default_factory=list)
    earlier: Counter[str] = field(default_factory=Counter)

    def gone_of(self, key: str) -> int:
        """What of a part was missing before the session, in all its lots."""
        return sum(quantity for quantity, _ in self.gone.get(key, ()))


def measures_of(
    shop: Shop,
    filled: FilledSession,
    asked: Counter[str] | None = None,
    unseen: Mapping[str, int] | None = None,
) -> Measures:
    """Everything measured, checked. asked: what the bills expect, by folded part; unseen: see `weigh`.

    Raises BadSheet naming every bad cell at once.
    """
    done, asked = Measures(earlier=Counter(unseen)), asked or Counter()
    for bottle in filled.bottles:
        _weigh(shop, bottle, filled.bottles, asked, done)
    for key in done.unsound:
        done.found[key] = max(asked[key] - done.used[key], 0)
        done.used[key] += done.found[key]
    for use in filled.uses:
        key = fold(shop.catalogue.part(use.part).name)
        if key in done.used:
            done.bad.append(
                replace(use.where, said=use.part, problem=f"{use.part} was weighed too. Keep one of the two.")
            )
            continue
        done.used[key], done.error[key], done.way[key] = use.used, round(1000 * TWELFTH), "used"
        done.sure.add(key)
        _reason(done, key, use.reason)
    for count in filled.counts:
        _count(shop, count, done)
    if done.bad:
        raise BadSheet(
            f"{len(done.bad)} measurements cannot be right."
            if len(done.bad) > 1
            else "One measurement cannot be right.",
            hint="Weigh or count again and correct these cells; nothing was booked.",
            where=tuple(done.bad),
        )
    return done


def _reason(done: Measures, key: str, reason: str) -> None:
    if reason:
        done.reasons.setdefault(key, []).append(reason)


def _weigh(
    shop: Shop, bottle: FilledBottle, every: Sequence[FilledBottle], asked: Counter[str], done: Measures
) -> None:
    part = shop.catalogue.part(bottle.part)
    key = fold(part.name)
    rows = {one.lot for one in every if fold(one.part) == key and one.lot}
    try:
        row = weigh(part, shop.book.lots_of(part.name), bottle, rows, asked[key], done.earlier[key])
    except Impossible as error:
        shown = "" if bottle.gross is None else f"{bottle.gross / 1000:g} g"
        column = bottle.where.column if error.column == "gross g" else error.column
        done.bad.append(replace(bottle.where, column=column, said=shown, problem=str(error)))
        return
    _reason(done, key, bottle.reason)
    if row is None:
        return
    done.announced += row.said
    _note(row, key, bottle, done)


def _note(row: Weighed, key: str, bottle: FilledBottle, done: Measures) -> None:
    """What one row adds to the others of its part."""
    before = key in done.used
    done.used[key] += row.used
    done.error[key] = round(sqrt(done.error[key] ** 2 + row.error**2))
    done.way[key] = "weighed"
    if bottle.before is not None and (not before or key in done.sure):
        done.sure.add(key)
    else:
        done.sure.discard(key)
    if not row.sound:
        done.unsound.setdefault(key, row.lot)
    elif row.used < 0:
        done.fuller.append((row.lot, -row.used))
    left = row.used
    for lot, there in row.lots:
        if left > 0:
            done.named.setdefault(key, []).append((lot, min(left, there)))
            left -= there
    if row.gone:
        done.gone.setdefault(key, []).append((row.gone, row.lots))


def _count(shop: Shop, count: FilledCount, done: Measures) -> None:
    part = shop.catalogue.part(count.part)
    key = fold(part.name)
    if key in done.used:
        problem = f"{part.name} was weighed or its use written down too. Keep one of the two."
        done.bad.append(replace(count.where, said=part.name, problem=problem))
    elif count.second is not None and count.second != count.counted:
        problem = "The second count differs from the first. Count a third time and write down what is right."
        done.bad.append(replace(count.where, said=f"{count.counted / 1000:g}", problem=problem))
    else:
        done.counts.append(count)
        _reason(done, key, count.reason)


def observed(
    shop: Shop, done: Measures, taught: Callable[[str], bool] = lambda _: True
) -> tuple[Observed, ...]:
    """What was looked at: weighed and written uses, and counted supplies (before less after).

    taught: whether a reading of a part (folded) says anything of its use.
    """
    seen = [
        Observed(shop.catalogue.part(key).name, used, done.error[key], _way(done, key, taught))
        for key, used in done.used.items()
    ]
    for count in done.counts:
        part = shop.catalogue.part(count.part)
        if isinstance(part.detail, Supply):
            used = shop.book.balance(part.name).on_hand - count.counted
            way: Way = "counted" if taught(fold(part.name)) else "not learned"
            seen.append(Observed(part.name, used, round(1000 * TWELFTH * sqrt(2)), way))
    return tuple(seen)


def _way(done: Measures, key: str, taught: Callable[[str], bool]) -> Way:
    if not taught(key):
        return "not learned"
    if done.way[key] == "used":
        return "used"
    return "weighed twice" if key in done.sure else "weighed"


def by_the_bill(
    shop: Shop, drawn: Mapping[str, int], found: Collection[str], seen: Sequence[Observed]
) -> tuple[Observed, ...]:
    """Supplies that were drawn and nobody looked at. drawn: by folded name; found: parts the book had too little of."""
    looked, short = {fold(one.part) for one in seen}, set(map(fold, found))
    parts = [(key, shop.catalogue.part(key)) for key in drawn if key not in looked]
    return tuple(
        Observed(part.name, drawn[key], 0, "not learned" if key in short else "by the bill")
        for key, part in parts
        if isinstance(part.detail, Supply) and drawn[key]
    )


def beside_the_bills(
    draft: Draft,
    shop: Shop,
    done: Measures,
    drawn: Counter[str],
    word: Word,
) -> None:
    """Lines that bring weighed and written-down parts to what is really left: more used than the bills expect.

    word: by which they leave it.
    """
    for key, used in done.used.items():
        part = shop.catalogue.part(key)
        fuller = sum(more for lot, more in done.fuller if fold(lot.part) == key)  # comes on top, below
        more = used + fuller - drawn[key]
        if more > 0:
            lots = less(done.named.get(key, ()), drawn[key])
            take(draft, part, more, Purpose(None, word(key), shop.today), lots)
        for quantity, left_by in done.gone.get(key, ()):
            if quantity > 0:
                take(draft, part, quantity, Purpose(None, word(key, before=True), shop.today), left_by)


def bring_more(draft: Draft, shop: Shop, done: Measures) -> None:
    """Lines of what is there beyond the book, before anything is drawn: a lot that is drained cannot be filled."""
    for key, several in done.gone.items():
        for quantity, left_by in several:
            _more(draft, shop, left_by[0][0], key, max(-quantity, 0), "found")
    for lot, more in done.fuller:
        _more(draft, shop, lot.id, fold(lot.part), more, "weighed")
    for key, more in done.found.items():
        _more(draft, shop, done.unsound[key].id, key, more, "found")


def _more(draft: Draft, shop: Shop, number: int, key: str, quantity: int, reason: str) -> None:
    """There is more in a lot than the book says; it costs as much as the rest of it."""
    if not quantity:
        return
    lot = next(one for one in shop.book.lots_of(key) if one.id == number)
    cost = share_like(lot, quantity).amount if lot.quantity else 0
    draft.add([Line("shelf", lot.part, quantity, cost, lot=number, reason=reason)])


def counts_of(done: Measures) -> tuple[Count, ...]:
    """The counted parts as the book's counts."""
    return tuple(Count(one.part, one.counted, place=one.where) for one in done.counts)
