"""What can still be promised, and from when: the shelf, what comes, and what is already promised, day by day."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date, timedelta

from inventory.catalogue import Part, fold
from inventory.ledger.book import Book, Lot
from inventory.ledger.bottles.shelf_life import gone_off, use_by
from inventory.ledger.lateness import counted_on


def free(book: Book, part: Part, on: date, orders: Iterable[str] = ()) -> int:
    """The one meaning of free, thousandths: on hand, not out of date on that day, and not set aside.

    What is out of date serves no claim, so claims on a part weigh on what is good of it; only claims on very lots
    that are out of date weigh on nothing more. Never negative. orders: what is set aside for these counts as free.
    The lots of the part must be in the book.
    """
    bad = {lot.id: lot for lot in out_of_date(book, part, on)}
    mine = {fold(name) for name in orders}
    own = sum(
        claim.quantity
        for claim in (book.claims_on(part.name) if mine else ())
        if claim.account == "claim" and fold(claim.order) in mine and claim.lot not in bad
    )
    balance = book.balance(part.name)
    good = balance.on_hand - sum(lot.quantity for lot in bad.values())
    return max(good - (balance.claimed - sum(lot.claimed for lot in bad.values()) - own), 0)


def gone_of(part: Part, lots: Iterable[Lot], on: date) -> int:
    """How much of these lots of a part is out of date on that day, and not claimed by the very lot."""
    return sum(max(lot.quantity - lot.claimed, 0) for lot in lots if gone_off(part, lot, on))


def off_for(parts: Mapping[str, Part], on: date) -> Callable[[str, Iterable[Lot]], int]:
    """The same by a part's name. parts: by folded name; one that is not among them does not go off."""

    def off(name: str, lots: Iterable[Lot]) -> int:
        part = parts.get(fold(name))
        return 0 if part is None else gone_of(part, lots, on)

    return off


def off_in(book: Book, parts: Mapping[str, Part], on: date) -> Callable[[str], int]:
    """The same of what is in a book."""
    off = off_for(parts, on)
    return lambda name: off(name, book.lots_of(name))


def out_of_date(book: Book, part: Part, on: date) -> tuple[Lot, ...]:
    """The part's lots that are past their day."""
    return tuple(lot for lot in book.lots_of(part.name) if gone_off(part, lot, on))


def free_by_day(book: Book, part: Part, today: date) -> tuple[tuple[date, int], ...]:
    """From which day how much of a part can be promised, thousandths: the days on which it changes, today first.

    What is free on the shelf until it goes off, and from the day a parcel can be counted on what of it is nobody's;
    claims that wait to be bought come before that.
    """
    key = fold(part.name)
    waiting = sum(one.quantity for one in book.claims_on(part.name) if one.account == "to buy")
    receipts: dict[date, int] = {}
    for row in book.due:
        day = counted_on(book, row, today)
        if fold(row.part) == key and day:
            receipts[day] = receipts.get(day, 0) + row.quantity - row.claimed
    last = [use_by(part, lot) for lot in book.lots_of(part.name)]
    off = {day + timedelta(days=1) for day in last if day is not None and day >= today}
    done: list[tuple[date, int]] = []
    for day in sorted({today, *receipts, *off}):
        came = sum(quantity for on, quantity in receipts.items() if on <= day)
        there = free(book, part, day) + max(came - waiting, 0)
        if not done or done[-1][1] != there:
            done.append((day, there))
    return tuple(done)
