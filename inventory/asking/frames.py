"""What can be asked for as a frame: the columns of each, and its rows out of one look at the book.

Names are those of `--json`, as far as there is one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date
from functools import cached_property
from typing import Any

from inventory.catalogue import STAGES, Catalogue, Kit, codes_of, fold
from inventory.jobs.stock.shelf import Filters, shelf
from inventory.ledger import Book
from inventory.ledger.bottles.shelf_life import use_by
from inventory.ledger.costs import UNKNOWN, WORDS
from inventory.measures import currency
from inventory.measures.decimals import Exact
from inventory.store import Read

Row = tuple[Any, ...]


class Moment:
    """One look at a book, and what several frames need of it."""

    def __init__(self, read: Read, today: date, *, everything: bool) -> None:
        self.read, self.today, self.everything = read, today, everything
        self.exact = Exact(currency(read.currency).exponent)

    @cached_property
    def catalogue(self) -> Catalogue:
        """What things are."""
        return self.read.catalogue()

    @cached_property
    def book(self) -> Book:
        """What there is."""
        return self.read.book()

    def kit(self, name: str) -> Kit | None:
        """What a part is as a kit; None where it is none."""
        detail = self.catalogue.part(name).detail
        return detail if isinstance(detail, Kit) else None


def _parts(of: Moment) -> Iterator[Row]:
    amount, codes = of.exact.amount, codes_of(of.catalogue.parts)
    for row in shelf(of.catalogue, of.book, Filters(), of.today):
        part, balance = row.part, row.balance
        sums = balance.on_hand, balance.claimed, row.off, row.free, balance.due_in, balance.to_buy
        level = None if part.level is None else amount(part.level)
        which = (one or None for one in (row.family, row.plating, row.tube, row.drill, part.drawer))
        yield (
            part.name,
            codes.get(fold(part.name)),
            part.kind,
            part.unit,
            *map(amount, sums),
            row.low,
            row.to_count,
            *which,
            level,
            part.note,
        )


def _lots(of: Moment) -> Iterator[Row]:
    amount, money = of.exact.amount, of.exact.money
    for key, lots in of.book.lots.items():
        part = of.catalogue.parts[key]
        for lot in lots:
            days = lot.received_on, lot.opened_on, use_by(part, lot)
            cost = money(None if lot.cost_from == UNKNOWN else lot.cost)
            held = amount(lot.quantity), amount(lot.claimed), cost, WORDS[lot.cost_from]
            yield part.name, part.kind, part.unit, lot.id, lot.name or None, *days, *held


def _movements(of: Moment) -> Iterator[Row]:
    amount, money, units = of.exact.amount, of.exact.money, of.catalogue.parts
    for line in of.read.lines(everything=of.everything):
        head = line.document
        what = line.part, units[fold(line.part)].unit, amount(line.quantity), money(line.cost)
        about = (one or None for one in (line.lot, line.order, line.supplier))
        yield (
            head.id,
            head.kind,
            head.title,
            head.on,
            line.account,
            *what,
            *about,
            line.reason,
            line.stage or None,
        )


def _entries(of: Moment) -> Iterator[Row]:
    for one in reversed(of.read.entries()):
        head = one.document
        if of.everything or (head.undoes is None and one.undone_by is None):
            about = one.parts, one.orders, head.undoes, one.undone_by
            yield head.id, head.on, head.title, head.kind, *about, head.booked_at, head.by or None


def _orders(of: Moment) -> Iterator[Row]:
    for one in of.book.orders.values():
        handed = one.whole if one.state == "handed over" else one.handed
        said = one.due, one.platings, one.customer or None, one.refill, of.exact.money(one.price)
        yield one.name, one.state, one.pattern, one.blank, one.whole, handed, *said


def _pieces(of: Moment) -> Iterator[Row]:
    for session in of.read.happened():
        for one in session.outcomes:
            kit = of.kit(one.kit)
            made = one.pattern, one.kit, kit.plating if kit else None, one.blank, _material(of, one.blank)
            lost = [one.lost.get(stage, 0) for stage in STAGES]
            yield (
                session.document,
                session.on,
                one.order or None,
                *made,
                one.started,
                one.good,
                sum(lost),
                *lost,
            )


def _material(of: Moment, blank: str) -> str | None:
    return getattr(of.catalogue.part(blank).detail, "material", None)


def _sessions(of: Moment) -> Iterator[Row]:
    for one in of.read.sessions():
        orders = tuple(dict.fromkeys(row.order for row in one.rows))
        yield one.document, one.name, one.on, one.state, sum(row.starts for row in one.rows), orders


def _prices(of: Moment) -> Iterator[Row]:
    for key, offers in of.read.offers().items():
        part = of.catalogue.parts[key]
        for offer in offers:
            coin = currency(of.catalogue.suppliers[fold(offer.supplier)].currency or of.read.currency)
            said = offer.code or None, of.exact.amount(offer.pack), part.unit
            more = offer.price_group or None, offer.seen_on, offer.at_most
            for step in offer.steps:
                price = Exact(coin.exponent).money(step.price)
                yield part.name, offer.supplier, *said, step.from_packs, price, coin.code, *more


def _columns(text: str) -> tuple[str, ...]:
    return tuple(text.split())


FRAMES: dict[str, tuple[tuple[str, ...], Callable[[Moment], Iterable[Row]]]] = {
    "parts": (
        _columns(
            "part code kind unit on_hand claimed out_of_date free due_in to_buy low to_count family plating tube"
            " drill drawer level note"
        ),
        _parts,
    ),
    "lots": (
        _columns("part kind unit lot name received_on opened_on use_by quantity claimed cost cost_from"),
        _lots,
    ),
    "movements": (
        _columns(
            "document kind title on account part unit quantity cost lot order supplier reason stage",
        ),
        _movements,
    ),
    "entries": (_columns("entry on what kind parts orders undoes undone_by booked_at by"), _entries),
    "orders": (
        _columns("order state pattern blank count handed_over due platings customer refill price"),
        _orders,
    ),
    "pieces": (
        (
            *_columns("document on order pattern kit plating blank material started good lost"),
            *(f"lost_at_{stage}" for stage in STAGES),
        ),
        _pieces,
    ),
    "sessions": (_columns("document session on state planned orders"), _sessions),
    "prices": (
        _columns(
            "part supplier supplier_code pack unit from_packs price currency price_group seen_on at_most"
        ),
        _prices,
    ),
}
"""Columns and rows by name. `pieces` has a row for each row of a booked session; `prices` one for each step."""
