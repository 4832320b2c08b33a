"""Workbooks of money as an office program works them out, cell by cell beside what --json says of the same."""

from __future__ import annotations

import csv
import re
import shutil
import subprocess
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from pathlib import Path
from typing import Any

from openpyxl import load_workbook
from openpyxl.utils import get_column_letter

OFFICE = shutil.which("soffice")
TAMPERED = b"<v>987654321</v>"
_RESULT = re.compile(rb'(<c r="[A-Z]+[0-9]+"(?! t="str")[^>]*>(?:<f>[^<]*</f>))<v>[^<]*</v>')
ANEW = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode"
 oor:op="fuse"><value>0</value></prop></item></oor:items>"""
"""The office program's own setting: work every formula out anew as a workbook is opened."""
EVERY_TAB = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,true,false,false,-1"
"""As text, each cell as it is shown, a file a tab."""


@dataclass(frozen=True)
class Figure:
    """A number of a tab that is one of --json. coins: decimals it is shown with, -1 where it is no sum of money."""

    tab: str
    cell: str
    wanted: Decimal
    coins: int = -1
    near: Decimal = Decimal(0)


@dataclass(frozen=True)
class Opened:
    """A workbook as the office program saved it: its values, and what it shows."""

    path: Path
    folder: Path

    @cached_property
    def book(self) -> Any:
        """Values alone."""
        return load_workbook(self.path, data_only=True)

    def shown(self, tab: str) -> list[list[str]]:
        """The texts of a tab, row by row."""
        with (self.folder / f"{self.path.stem}-{tab}.csv").open(encoding="utf-8", newline="") as file:
            return list(csv.reader(file))

    def wrong(self, figure: Figure) -> str:
        """What is not as --json says; nothing where all is."""
        cell = self.book[figure.tab][figure.cell]
        where = f"{self.path.stem}, {figure.tab} {figure.cell}"
        if cell.value is not None and not isinstance(cell.value, int | float):
            return f"{where}: {cell.value!r} is no number"
        # a program's numbers are binary: what they are to the twelfth decimal is what was meant
        if abs(round(Decimal(cell.value or 0), 9) - figure.wanted) > figure.near:
            return f"{where}: {cell.value}, not {figure.wanted}"
        if figure.coins < 0 or cell.value is None:
            return ""
        text = self.shown(figure.tab)[cell.row - 1][cell.column - 1]
        number = re.sub(r"[,\s]|[A-Z]{3}", "", text)
        shown = f"{figure.wanted:.{figure.coins}f}"
        return "" if figure.near or number == shown else f"{where} shows {text!r}, not {shown}"


def worked_out_anew(paths: list[Path], folder: Path) -> dict[str, Opened]:
    """Each workbook opened, worked out and saved by the office program, after what stood beside formulas was spoilt."""
    assert OFFICE is not None
    profile, spoilt = folder / "profile", folder / "spoilt"
    (profile / "user").mkdir(parents=True)
    (profile / "user" / "registrymodifications.xcu").write_text(ANEW, encoding="utf-8")
    spoilt.mkdir()
    files = [str(_spoilt(path, spoilt / path.name)) for path in paths]
    for form, out in (("xlsx", folder / "saved"), (EVERY_TAB, folder / "shown")):
        words = [OFFICE, f"-env:UserInstallation={profile.as_uri()}", "--headless", "--convert-to", form]
        subprocess.run([*words, "--outdir", str(out), *files], check=True, capture_output=True, timeout=280)
    return {path.stem: Opened(folder / "saved" / path.name, folder / "shown") for path in paths}


def _spoilt(path: Path, to: Path) -> Path:
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(to, "w", zipfile.ZIP_DEFLATED) as new:
        for item in old.infolist():
            data = old.read(item)
            if item.filename.startswith("xl/worksheets/sheet"):
                data = _RESULT.sub(rb"\1" + TAMPERED, data)
            new.writestr(item, data)
    return to


class Table:
    """A tab with headings in row 1."""

    def __init__(self, book: Any, tab: str) -> None:
        self.sheet = book[tab]
        heads = [cell.value for cell in self.sheet[1]]
        self.at = {head: get_column_letter(at) for at, head in enumerate(heads, start=1) if head}
        self.rows = {
            str(row[0].value): row[0].row
            for row in self.sheet.iter_rows(min_row=2)
            if row[0].value is not None
        }

    def figure(self, row: int | str, head: str, wanted: Any, coins: int = -1) -> Figure:
        """The figure of a row, by its number or by what its first cell says, and a heading."""
        number = self.rows[row] if isinstance(row, str) else row
        return Figure(self.sheet.title, f"{self.at[head]}{number}", Decimal(wanted or 0), coins)

    def named(self, row: int, *names: object) -> None:
        """The first cells of a row say this: texts are texts, whatever they begin with."""
        cells = [cell.value for cell in self.sheet[row][: len(names)]]
        assert [str(one) for one in cells] == [str(one) for one in names], (self.sheet.title, row)


KINDS = ("bought", "found", "made", "used", "lost", "sold", "given", "lent", "corrected")


def worth_figures(book: Any, told: Any, coins: int) -> Iterator[Figure]:
    """Each lot, each part's way and the sums."""
    lots, way, amounts = (Table(book, tab) for tab in ("worth by lot", "what moved", "quantities"))
    every = [(part, lot) for part in told["parts"] for lot in part["lots"]]
    for row, (part, lot) in enumerate(every, start=2):
        lots.named(row, part["part"], part["kind"])
        yield lots.figure(row, "worth", lot["worth"], coins)
        yield lots.figure(row, "on hand", lot["on_hand"])
    yield lots.figure("together", "worth", told["total"], coins)
    for part in told["parts"]:
        yield way.figure(part["part"], "now", part["worth"], coins)
        yield amounts.figure(part["part"], "now", part["on_hand"])
    for head in ("opening", *KINDS, "closing"):
        name = {"opening": "before", "closing": "now"}.get(head, head)
        yield way.figure("together", name, told[head], coins)
    beside = Table(book, "lent and due in")
    apart = [*(("lent", one) for one in told["lent_out"]), *(("due in", one) for one in told["due_in"])]
    for row, (what, one) in enumerate(apart, start=2):
        beside.named(row, what, one["part"])
        yield beside.figure(row, "worth", one["worth"], coins)


EARNED = {
    "sold for": "sold",
    "packaging": "of_other_packaging",
    **{one: one for one in ("materials", "supplies", "tools", "spoiled", "spent", "left")},
}


def earned_figures(book: Any, told: dict[str, Any], coins: int) -> Iterator[Figure]:
    """Each group of each way to sort it, and the sums. told: by the word that sorts it."""
    for by, said in told.items():
        table = Table(book, f"by {by}")
        rows: list[tuple[int | str, Any]] = [*enumerate(said["groups"], start=2), ("together", said["total"])]
        for row, one in rows:
            if isinstance(row, int):
                table.named(row, f"{one['group']}-01 00:00:00" if by == "month" else one["group"])
            yield table.figure(row, "pieces", one["pieces"])
            for head, key in EARNED.items():
                yield table.figure(row, head, one[key], coins)
            yield table.figure(row, "other", one["other"] - one["of_other_packaging"], coins)


def history_figures(book: Any, told: Any, coins: int) -> Iterator[Figure]:
    """Months or years, patterns, suppliers, prices, what sleeps."""
    coin = told["currency"]
    money = {f"sold for, {coin}": "sold_for", f"spent, {coin}": "spent", f"postage in it, {coin}": "postage"}
    time, patterns, spent = (Table(book, tab) for tab in ("over time", "patterns", "suppliers"))
    steps: list[tuple[int | str, Any]] = [*enumerate(told["steps"], start=2), ("together", told["total"])]
    for row, one in steps:
        for head in ("made", "spoiled", "sold"):
            yield time.figure(row, head, one[head])
        for head, key in money.items():
            yield time.figure(row, head, one[key], coins)
    for row, one in enumerate(told["patterns"], start=2):
        patterns.named(row, one["pattern"], one["made"])
        yield patterns.figure(row, f"sold for, {coin}", one["sold_for"], coins)
    yield patterns.figure("together", f"sold for, {coin}", told["total"]["sold_for"], coins)
    for row, one in enumerate(told["suppliers"], start=2):
        spent.named(row, one["supplier"] or "by hand")
        for what in ("goods", "postage"):
            yield spent.figure(row, f"{what}, {coin}", one[what], coins)
    for what in ("goods", "postage"):
        yield spent.figure("together", f"{what}, {coin}", sum(one[what] for one in told["suppliers"]), coins)
    asleep = Table(book, "asleep")
    for row, one in enumerate(told["asleep"], start=2):
        asleep.named(row, one["part"])
        yield asleep.figure(row, f"worth, {coin}", one["worth"], coins)
    yield asleep.figure("together", f"worth, {coin}", sum(one["worth"] for one in told["asleep"]), coins)


def cost_figures(book: Any, told: Any, coins: int) -> Iterator[Figure]:
    """Each coin, each kind, each price and each difference."""
    into, kinds = Table(book, "goes into"), Table(book, "by kind")
    by_kind: dict[str, Decimal] = {}
    for row, one in enumerate(told["goes_into"], start=2):
        into.named(row, one["what"], one["kind"])
        yield into.figure(row, "cost", one["cost"], coins)
        by_kind[one["kind"]] = by_kind.get(one["kind"], Decimal(0)) + one["cost"]
    yield into.figure("together", "cost", told["total"], coins)
    for kind, cost in by_kind.items():
        yield kinds.figure(kind, "of all pieces", cost, coins)
    if told["prices"]:
        prices = Table(book, "prices")
        for row, one in enumerate(told["prices"], start=2):
            prices.named(row, one["by"])
            yield prices.figure(row, "price", one["price"], coins)
    if told["otherwise"]:
        other = Table(book, "otherwise")
        some = sorted(one["difference"] for one in told["otherwise"] if one["difference"] is not None)
        for row, difference in enumerate(some, start=2):
            yield other.figure(row, "all more", difference, coins)


def rehearse_figures(book: Any, told: Any, coins: int) -> Iterator[Figure]:
    """Money of each way. --json rounds to a thousandth of a unit, the workbook to a coin: so much they may differ."""
    ways, coin = Table(book, "ways"), told["currency"]
    near = Decimal(10) ** -coins / 2 + Decimal("0.0005")
    for row, one in enumerate(told["policies"], start=2):
        ways.named(row, one["policy"])
        for head, key in (("cost", "cost"), ("in stock", "money_in_stock")):
            for name, which in (
                (f"{head}, {coin}", "mean"),
                (f"{head}, low", "low"),
                (f"{head}, high", "high"),
            ):
                figure = ways.figure(row, name, one[key][which], coins)
                yield Figure(figure.tab, figure.cell, figure.wanted, coins, near)
