"""A book of the invented shop with two invented years behind it, to try what looks back and ahead.

    python3 scripts/two_years.py two_years.kitdrawer

It loads the sheets of sample_stock and lives through those of sample_stock/past day by day, each day's parcels, orders,
pieces and sales booked as the commands book them; in the end comes what the sample counts of parts that nobody used,
and its six orders. Some ten seconds; an existing file is left alone. The day to look at it on is 28 November 2026:

    KITDRAWER_TODAY=2026-11-28 kitdrawer levels --store two_years.kitdrawer
"""

from __future__ import annotations

import csv
import os
import sys
import tempfile
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import redirect_stdout
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from io import StringIO
from pathlib import Path
from typing import TYPE_CHECKING

from environment import ROOT, Stopped, elsewhere

if TYPE_CHECKING:
    from inventory.jobs.sessions.reconciling.booking import SessionBooking
    from inventory.ledger.sessions import Session
    from inventory.ledger.shop import Shop
    from inventory.reports.days_sheet import DayLine, SaidLine
    from inventory.reports.filled import FilledSession
    from inventory.store import Store

SAMPLE = ROOT / "sample_stock"
FIRST, TODAY = date(2024, 11, 29), date(2026, 11, 28)
AT_THE_END = ("counts.csv", "orders.csv", "offers.csv")
"""Sheets of the sample that are of the last days."""

Row = Mapping[str, str]


def main(arguments: Sequence[str]) -> int:
    """Make the book."""
    if (code := elsewhere(__file__, arguments)) is not None:
        return code
    if len(arguments) != 1:
        raise Stopped("Say where the book is to be: python3 scripts/two_years.py two_years.kitdrawer", 2)
    path = Path(arguments[0])
    if path.exists():
        raise Stopped(f"{path} is there already. Name another file.")
    make(path)
    print(f"{path} is made. Look at it on its day: KITDRAWER_TODAY={TODAY} kitdrawer levels --store {path}")
    return 0


def make(path: Path) -> None:
    """The whole book, in a new file."""
    with tempfile.TemporaryDirectory() as folder:
        first = Path(folder) / "catalogue"
        first.mkdir()
        for sheet in SAMPLE.glob("*.csv"):
            if sheet.name not in AT_THE_END[:2]:
                _copy(sheet, first)
        (first / "counts.csv").write_bytes((SAMPLE / "past" / "opening.csv").read_bytes())
        _command(path, FIRST, "begin", "--rate", "USD=0.92")
        _command(path, FIRST, "load", str(first), "--yes")
    _live(path)
    for row in _sheet("markets"):
        expected = ("--expected", row["expected"]) if row["expected"] else ()
        _command(path, TODAY, "market", row["market"], row["day"], *expected, "--yes")
    with tempfile.TemporaryDirectory() as folder:
        for name in AT_THE_END:
            (Path(folder) / name).write_bytes((SAMPLE / name).read_bytes())
        touched = {row["part"] for row in _sheet("opening")}
        rows = [row for row in _rows(SAMPLE / "counts.csv") if row["part"] not in touched]
        _write(Path(folder) / "counts.csv", rows)
        _command(path, TODAY, "load", folder, "--yes", "--sure")


def _copy(sheet: Path, folder: Path) -> None:
    """The sheet, but for days on which a price was seen: they are still to come."""
    rows = [{**row, "seen on": ""} if "seen on" in row else row for row in _rows(sheet)]
    _write(folder / sheet.name, rows)


def _rows(sheet: Path) -> list[Row]:
    with sheet.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _write(sheet: Path, rows: Sequence[Row]) -> None:
    with sheet.open("w", encoding="utf-8", newline="") as file:
        out = csv.DictWriter(file, list(rows[0]))
        out.writeheader()
        out.writerows(rows)


def _command(path: Path, day: date, *words: str) -> None:
    from inventory.cli.app import make_app
    from inventory.cli.edge import run

    os.environ["KITDRAWER_TODAY"] = day.isoformat()
    words = (*words, "--store", str(path))
    with redirect_stdout(StringIO()) as said:
        code = run(make_app(words), words)
    if code not in (0, 3):
        raise Stopped(f"{said.getvalue()}\n`kitdrawer {' '.join(words)}` ended with exit code {code}.")


def _sheet(name: str) -> list[Row]:
    return _rows(SAMPLE / "past" / f"{name}.csv")


def _live(path: Path) -> None:
    from sqlalchemy import event

    from inventory.errors import KitdrawerError
    from inventory.jobs.learning.learned_figures import relearn
    from inventory.store import open_store

    with open_store(str(path)) as store:
        # what is lost here with the machine's power can be made again
        event.listen(store.engine, "connect", lambda raw, _: raw.execute("PRAGMA synchronous = OFF"))
        store.engine.dispose()
        past = Past(store)
        for day in (FIRST + timedelta(days=1 + at) for at in range((TODAY - FIRST).days - 1)):
            os.environ["KITDRAWER_TODAY"] = day.isoformat()
            try:
                past.live(day)
            except KitdrawerError as error:
                places = " ".join(place.problem for place in error.where)
                raise Stopped(f"{day}: {error.message} {places} {error.hint}") from error
        store.learn(lambda read: relearn(read.written(), read.happened(), read.rate_words()))


class Past:
    """What the sheets tell, day by day."""

    bare: Shop | None
    """The shop as it was read last, without lots: names change only where something is made."""

    def __init__(self, store: Store) -> None:
        self.store, self.bare = store, None
        self.placed, self.came = (
            _by_day(_sheet("purchases"), "ordered"),
            _by_day(_sheet("purchases"), "arrived"),
        )
        self.taken, self.fetched = (
            _by_day(_sheet("orders"), "taken"),
            _by_day(_sheet("orders"), "handed over"),
        )
        self.lines = _by_day(_sheet("days"), "day")

    def live(self, day: date) -> None:
        """One day: parcels, orders, what was made and sold, what was fetched, what was ordered."""
        for supplier, rows in _by(self.came[day], "supplier").items():
            self.arrive(supplier, day, rows)
        for row in self.taken[day]:
            self.promise(row)
        if self.lines[day]:
            self.at_home(self.lines[day])
        for row in self.fetched[day]:
            self.hand_over(row["order"])
        for rows in _by(self.placed[day], "supplier").values():
            self.place(rows)

    def look(self, wanted: Callable[[Shop], Iterable[str]] | None = None) -> Shop:
        """The shop today. wanted: the parts whose lots and offers are looked at."""
        from inventory.cli.session import shop_of, today

        with self.store.reading() as read:
            if self.bare is not None:
                self.bare = replace(self.bare, book=read.book(()), today=today())
            found = shop_of(read, wanted, before=self.bare)
        self.bare = self.bare or replace(found, offers={})
        return found

    def place(self, rows: Sequence[Row]) -> None:
        """A list goes to a supplier."""
        from inventory.jobs.purchasing.placing import place
        from inventory.reports.purchasing.placed import Placed

        shop = self.look(lambda _: [row["part"] for row in rows])
        said = [
            Placed(
                row["supplier"], row["part"], 1000 * int(row["pack"]), int(row["packs"]), _cents(row["price"])
            )
            for row in rows
        ]
        self.store.commit(place(shop, said))

    def arrive(self, supplier: str, day: date, rows: Sequence[Row]) -> None:
        """A parcel with all that was ordered."""
        from inventory.jobs.purchasing.arriving import arrive
        from inventory.reports.purchasing.parcels import Arrived, Delivery

        shop = self.look(lambda _: [row["part"] for row in rows])
        lines = [
            Arrived(row["part"], 1000 * int(row["pack"]) * int(row["packs"]), pack=1000 * int(row["pack"]))
            for row in rows
        ]
        postage = sum(_cents(row["postage"]) for row in rows if row["postage"])
        booked = arrive(shop, Delivery(supplier, day, tuple(lines), postage))
        self.store.commit(booked.proposal, booked.intake)
        self.bare = None

    def promise(self, row: Row) -> None:
        """An order is taken."""
        from inventory.catalogue import Order
        from inventory.jobs.orders.order_check import check, parts_involved
        from inventory.jobs.orders.promising import promise
        from inventory.jobs.orders.requests import request_of

        order = Order(
            *(row["order"], row["pattern"], row["blank"], int(row["count"]), date.fromisoformat(row["due"])),
            (row["platings"],),
            row["customer"],
            price=_cents(row["price"]),
        )
        request = request_of(order, 0.9)
        shop = self.look(lambda bare: parts_involved(bare.catalogue, request, bare.today))
        self.store.commit(promise(shop, order, check(shop, request)))

    def hand_over(self, name: str) -> None:
        """It is fetched, and paid."""
        from inventory.catalogue import find
        from inventory.jobs.orders.handing_over import hand_over
        from inventory.jobs.orders.money.paying import with_hand_over

        shop = self.look()
        order = find(shop.book.orders, "order", name)
        payments = with_hand_over(order, {}, order.count)
        self.store.commit(replace(hand_over(shop, order).proposal, payments=payments))

    def at_home(self, rows: Sequence[Row]) -> None:
        """What was made and sold, as one entry; what it teaches is learned in the end."""
        from inventory.jobs.days.many import many
        from inventory.jobs.days.said_lines import SaidSoFar
        from inventory.reports.days_sheet import FilledDays

        for what, read_line in (("made", _made), ("sold", _sold)):
            mine = [row for row in rows if row["what"] == what]
            if not mine:
                continue
            shop, said = self.look(), SaidSoFar({}, list)
            lines = tuple(read_line(shop, row) for row in mine)
            filled = FilledDays("the notebook", lines, f"{rows[0]['day']} {what}")
            self.store.commit(many(shop, filled, (), said, _at_the_bench).proposal)
            self.bare = None if what == "made" else self.bare


def _at_the_bench(shop: Shop, session: Session, filled: FilledSession) -> SessionBooking:
    from inventory.jobs.differences.reasons import BookMemory
    from inventory.jobs.sessions.reconciling.booking import book_session

    learned = shop.learned
    return book_session(
        shop, session, filled, lambda *_: (learned, shop.catalogue), lambda *_: BookMemory({}, {})
    )


def _made(_: Shop, row: Row) -> SaidLine:
    from inventory.errors import Place
    from inventory.reports.days_sheet import SaidLine

    spoiled = dict(one.split("=") for one in row["spoiled"].split("; ") if one)
    lost = {stage: int(many) for stage, many in spoiled.items()}
    count = int(row["how many"])
    blank, plating = row["blank"], row["plating"]
    return SaidLine(Place(), "made", row["part"], count, blank=blank, plating=plating, spoiled=lost)


def _sold(shop: Shop, row: Row) -> DayLine:
    from inventory.errors import Place
    from inventory.reports.day_words import pieces_called
    from inventory.reports.days_sheet import DayLine

    there = [one for one in pieces_called(shop.catalogue, row["part"]) if shop.book.balance(one.name).on_hand]
    day, quantity = date.fromisoformat(row["day"]), 1000 * int(row["how many"])
    price = _cents(row["price"])
    return DayLine(Place(), "sold", there[0], day, quantity, whom=row["at"], price=price)


def _cents(text: str) -> int:
    return round(Decimal(text) * 100)


def _by_day(rows: Sequence[Row], heading: str) -> Mapping[date, list[Row]]:
    found: dict[date, list[Row]] = defaultdict(list)
    for row in rows:
        if row[heading]:
            found[date.fromisoformat(row[heading])].append(row)
    return found


def _by(rows: Sequence[Row], heading: str) -> Mapping[str, list[Row]]:
    found: dict[str, list[Row]] = {}
    for row in rows:
        found.setdefault(row[heading], []).append(row)
    return found


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
