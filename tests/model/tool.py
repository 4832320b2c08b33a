"""The tool as the model's random hand uses it: commands in, sheets as CSV files, and what the book then holds."""

from __future__ import annotations

import io
import json
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from inventory.catalogue import fold
from inventory.cli.app import make_app
from inventory.cli.edge import run
from inventory.store import open_store
from inventory.store.check.proof import problems

from .everyday import Counted
from .goods import BY_RATE, LOSING, PACK, PARTS, RETIRING, SHEETS
from .parcels import Came
from .plain import Made, Model
from .things import Wish

FINE, REFUSED, SHORT = 0, 1, 3


@dataclass(frozen=True)
class State:
    """All of the book that both sides must agree on; lots first in, first out: days, quantity, cost and mark."""

    lots: dict[str, list[tuple[date | None, date | None, int, int, int]]]
    claims: Counter[tuple[str, str, str]]
    due: list[tuple[str, str, date | None, int, int, int]]
    orders: dict[str, str]
    sessions: dict[int, str]
    doubtful: set[str]
    paid: dict[str, int]
    spent: Counter[tuple[str, str, str, date]]
    said: dict[str, str]
    documents: int


def state_of(model: Model) -> State:
    """What the model says there is."""
    parts, called = {lot.part for lot in model.lots.values()}, model.called
    lots = {
        called(part): [
            (
                *(model.lots[n].received, model.lots[n].opened),
                *(model.left(n), model.cost(n), model.unknown(n)),
            )
            for n in model.lots_of(part)
        ]
        for part in parts
        if model.lots_of(part)
    }
    claims: Counter[tuple[str, str, str]] = Counter()
    for cell, many in model.cells.items():
        if cell[0] in ("set aside", "coming", "to buy") and many:
            claims[str(cell[0]), str(cell[1]), called(str(cell[2]))] += many
    due = [
        (one.supplier, called(one.part), one.expected, *model.owed(n))
        for n, one in model.purchases.items()
        if model.cells["due", n]
    ]
    orders = {
        name: f"{wish.pattern} in {model.platings[name]}, {_told(model.state(name), model.open(name))}"
        for name, wish in model.wishes.items()
    }
    sessions = {n: model.session_state(n) for n in model.sessions}
    paid = {str(cell[1]): many for cell, many in model.cells.items() if cell[0] == "paid" and many}
    spent: Counter[tuple[str, str, str, date]] = Counter()
    for cell, many in model.cells.items():
        if cell[0] == "spent" and many:
            _, what, at, order, on = cell
            spent[str(what), str(at), str(order), on] += many  # type: ignore[index]  # the day it was spent
    doubtful = {called(part) for part in model.doubtful()}
    documents = len(model.documents) + 1
    told = {what: now for what, now in model.said.items() if now}
    return State(lots, claims, sorted(due, key=str), orders, sessions, doubtful, paid, spent, told, documents)


def _told(state: str, still: int) -> str:
    """An order's state, and pieces that are still to be handed over of a promise."""
    return f"{state}, {still} open" if state == "promised" else state


KINDS = {"claim": "set aside", "due claim": "coming", "to buy": "to buy"}


class Tool:
    """The command line on one book. What a command said last stands in `said`."""

    def __init__(self, place: str, folder: Path, patch: pytest.MonkeyPatch, today: date) -> None:
        self.folder, self.patch, self.place = folder, patch, place
        self.said = ""
        self.sheets = 0
        patch.setenv("KITDRAWER_STORE", place)
        patch.setenv("COLUMNS", "80")
        self.day(today)

    def begin(self) -> None:
        """A new book with the little shop's sheets (its document 1 books nothing)."""
        shop = self.folder / "shop"
        shop.mkdir()
        for name, text in SHEETS.items():
            (shop / f"{name}.csv").write_text(text, encoding="utf-8")
        assert self("begin") == FINE, self.said
        assert self("load", str(shop), "--yes") == FINE, self.said

    def day(self, today: date) -> None:
        """Another day."""
        self.patch.setenv("KITDRAWER_TODAY", today.isoformat())

    def __call__(self, *words: str) -> int:
        """Run a command; its exit code."""
        said = io.StringIO()
        with redirect_stdout(said), redirect_stderr(said):
            code = run(make_app(words), words)
        self.said = f"{' '.join(words)}: {said.getvalue()}"
        return code

    def sheet(self, name: str, head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
        """A CSV file in a folder of its own, so that no two are one."""
        self.sheets += 1
        folder = self.folder / f"sheet {self.sheets}"
        folder.mkdir()
        path = folder / f"{name}.csv"
        lines = [",".join("" if cell is None else str(cell) for cell in row) for row in rows]
        path.write_text("\n".join([",".join(head), *lines]) + "\n", encoding="utf-8")
        return str(path)

    def set_aside_by_rate(self, wish: Wish) -> int:
        """Thousandths of `BY_RATE` that the tool wants for an order."""
        words = (wish.pattern, "--plating", wish.plating, "--blank", wish.blank)
        self("can-take", *words, "--count", str(wish.count), "--by", wish.due.isoformat(), "--json")
        answer = json.loads(self.said.partition(": ")[2], parse_float=Fraction)
        return int(1000 * sum(one["need"] for one in answer["parts"] if one["part"] == BY_RATE))

    def load(self, rows: Sequence[Counted]) -> int:
        """Counts with what things cost, as `load` takes them."""
        cells = [(one.part, amount(one.quantity), coins(one.unit_cost), one.received) for one in rows]
        return self(
            "load",
            self.sheet("counts", ("part", "quantity", "unit cost", "received on"), cells),
            "--yes",
            "--sure",
        )

    def count(self, rows: Sequence[Counted]) -> int:
        """Counts as `count book` takes them, each counted twice."""
        cells = [(one.part, amount(one.quantity), amount(one.quantity)) for one in rows]
        return self(
            "count", "book", self.sheet("counts", ("part", "counted", "second count"), cells), "--yes"
        )

    def by_hand(self, command: str, part: str, quantity: int, *words: str) -> Callable[[], int]:
        """So much of a part comes or goes by hand."""
        return lambda: self(command, part, amount(quantity), *words, "--yes")

    def days(self, lines: Sequence[tuple[str, str, int]]) -> int:
        """A sheet of ordinary days."""
        cells = [(what, part, amount(many), "broke" if what == "took" else "") for what, part, many in lines]
        return self("days", self.sheet("days", ("what", "part", "how many", "why"), cells), "--yes")

    def lent(self) -> dict[str, int]:
        """Thousandths of each part that the tool says are lent."""
        before, _ = self.said, self("entries", "--lent", "--json")
        owed: Counter[str] = Counter()
        for one in json.loads(self.said.partition(": ")[2], parse_float=Fraction)["lent"]:
            owed[one["part"]] += int(1000 * one["quantity"])
        self.said = before
        return dict(owed)

    def promise(self, order: str, wish: Wish | None) -> int:
        """Promise an order: a new one with all its words, or one that was noted."""
        if wish is None:
            return self("promise", order, "--yes")
        words = ("--pattern", wish.pattern, "--plating", wish.plating, "--blank", wish.blank)
        more = ("--count", str(wish.count), "--by", wish.due.isoformat())
        return self("promise", order, *words, *more, "--yes")

    def place_(self, rows: Sequence[tuple[str, str, int, int]], *, again: bool = False) -> int:
        """A list that was ordered."""
        more = ("--again",) if again else ()
        cells = [
            (supplier, part, amount(PACK[part]), packs, coins(price)) for supplier, part, packs, price in rows
        ]
        return self(
            "placed",
            self.sheet("list", ("supplier", "part", "pack", "packs", "price"), cells),
            *more,
            "--yes",
        )

    def arrive(self, supplier: str, rows: Sequence[Came], postage: int, note: str) -> int:
        """A parcel."""
        head = (
            "supplier",
            "part",
            "arrived",
            "damaged",
            "price",
            "rest cancelled",
            "instead of",
            "settles it",
        )
        cells = [
            (
                supplier,
                one.part,
                amount(one.good),
                amount(one.damaged),
                coins(one.price),
                "yes" if one.no_more else "",
                one.wrong_for,
                ("yes" if one.settles else "no") if one.wrong_for else "",
            )
            for one in rows
        ]
        return self(
            "arrived",
            self.sheet("parcel", head, cells),
            "--postage",
            str(coins(postage)),
            "--note",
            note,
            "--yes",
            "--sure",
        )

    def weekend(self, number: int, rows: Sequence[Made], really_cut: Mapping[str, int]) -> int:
        """A session's sheet, filled: a folder where it says how many blanks were cut."""
        with open_store(self.place) as store, store.reading() as read:
            name = next(one.name for one in read.sessions() if one.number == number)
        head = ("row", "pattern", "plating", "blank", "good", *(f"lost at {stage}" for stage in LOSING))
        cells = [
            (
                one.row or None,
                one.pattern,
                one.kit.split()[-1] if one.kit else "",
                one.blank,
                one.good,
                *(one.lost.get(stage) for stage in LOSING),
            )
            for one in rows
        ]
        path = self.sheet("pieces", head, cells)
        if really_cut:
            text = "\n".join(["part,cut", *(f"{blank},{many}" for blank, many in really_cut.items())])
            path = str(Path(path).parent)
            (Path(path) / "cutting.csv").write_text(f"{text}\n", encoding="utf-8")
        return self("weekend", "book", path, "--session", name, "--yes")

    def pay(self, order: str, amount: int, *, back: bool) -> int:
        """Money for an order, or back."""
        return self("paid", order, str(coins(amount)), *(["--back"] if back else []), "--yes")

    def spend(self, what: str, amount: int, at: str, order: str) -> int:
        """Money for no part."""
        more = [*(["--at", at] if at else []), *(["--order", order] if order else [])]
        return self("spent", what, str(coins(amount)), *more, "--yes")

    def made(self, good: int, lost: Mapping[str, int], words: Sequence[str]) -> int:
        """Pieces made of an evening."""
        spoiled = [word for stage, many in lost.items() for word in ("--spoiled", f"{stage}={many}")]
        return self("made", *words, "--count", str(good), *spoiled, "--yes")

    def hand_over(self, order: str, lost: Mapping[str, int], count: int | None, *, made_now: bool) -> int:
        """An order, or so many of its pieces, goes to its customer."""
        losses = [word for stage, many in lost.items() for word in ("--lost", f"{stage}={many}")]
        more = [*(["--count", str(count)] if count else []), *(["--made-now"] if made_now else [])]
        return self("handed-over", order, *losses, *more, "--yes")

    def state(self) -> State:
        """What the book says there is. Fails where the program's own proof finds something wrong."""
        with open_store(self.place) as store, store.reading() as read:
            assert tuple(problems(read.connection)) == (), self.said
            book = read.book()
            names = {fold(part.name): part.name for part in read.written().parts.values()}
            lots = {
                names[key]: [
                    (lot.received_on, lot.opened_on, lot.quantity, lot.cost, lot.cost_from) for lot in several
                ]
                for key, several in book.lots.items()
            }
            claims: Counter[tuple[str, str, str]] = Counter()
            for claim in book.claims:
                claims[KINDS[claim.account], claim.order, claim.part] += claim.quantity
            due = [
                (one.supplier, one.part, one.expected_on, one.quantity, one.cost, one.claimed)
                for one in book.due
            ]
            orders = {
                order.name: f"{order.pattern} in {' or '.join(order.platings)}, {_told(order.state, order.count)}"
                for order in book.orders.values()
            }
            sessions = {one.number: str(one.state) for one in read.sessions()}
            for part in PARTS:
                assert book.balance(part).on_hand == sum(lot.quantity for lot in book.lots_of(part))
            paid = {order.name: many for key, order in book.orders.items() if (many := read.paid().get(key))}
            spent: Counter[tuple[str, str, str, date]] = Counter()
            for out in read.expenses(date.min, date.max):
                order = book.orders[out.order].name if out.order else ""
                spent[out.what, out.at, order, out.on] += out.amount
            doubtful, settings = set(book.to_count), read.settings()
            told = {"hours": week} if (week := settings.get("hours")) else {}
            spelled = {fold(name): name for _, name in RETIRING}
            told |= {f"retired {kind} {spelled[key]}": "yes" for kind, key in read.retired()}
            due = sorted(due, key=str)
            return State(lots, claims, due, orders, sessions, doubtful, paid, spent, told, book.version)


def amount(quantity: int) -> str:
    """Thousandths as a person writes them."""
    return f"{quantity // 1000}.{quantity % 1000:03}" if quantity % 1000 else str(quantity // 1000)


def coins(cents: int | None) -> str | None:
    """Cents as a person writes them."""
    return None if cents is None else f"{cents // 100}.{cents % 100:02}"
