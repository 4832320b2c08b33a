"""What a reader of a page does between its commands, and its commands run."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from pathlib import Path

import openpyxl
from commands.buying import edited
from commands.learned import fill, weekend
from sheets.on_pages import fill_page

from .conftest import Answer, Kitdrawer
from .pages import screens

PENS = "stall 2026-11-28 a"


def filled_shop(_: Kitdrawer, folder: Path) -> None:
    """A supplier written into the empty workbook, under the headings it needs."""
    book = openpyxl.load_workbook(folder / "shop.xlsx")
    sheet = book["suppliers"]
    headings = [cell.value for cell in sheet[1]]
    for heading, value in {"supplier": "Tidewater Kits", "currency": "EUR", "lead days": "4"}.items():
        sheet.cell(4, headings.index(heading) + 1, value)
    book.save(folder / "shop.xlsx")


def own_sheet(_: Kitdrawer, folder: Path) -> None:
    """A stranger's sheet: a title, headings of his own, two rows."""
    book = openpyxl.Workbook()
    for row in (
        ["My drawers"],
        ["what", "how many", "price"],
        ["walnut pen blank", 4, "2,50"],
        ["brass tube 7mm", 20, 0.3],
    ):
        book.worksheets[0].append(row)
    book.save(folder / "my_stock.xlsx")


def made_pens(kitdrawer: Kitdrawer, folder: Path) -> None:
    """Two finished pens that nobody ordered."""
    kitdrawer("plan", "--on", "2026-11-28", "--stall", "Dunlin pen, gunmetal, walnut blank, 2", "--yes")
    kitdrawer("weekend", "sheet", "--save", str(folder / "made.xlsx"))
    fill(folder / "made.xlsx", {("pieces", PENS, "good"): 2})
    assert kitdrawer("weekend", "book", str(folder / "made.xlsx"), "--yes").code in (0, 3)


def filled_session(_: Kitdrawer, folder: Path) -> None:
    """One good piece written on the sheet."""
    fill(folder / "saturday.xlsx", {("pieces", PENS, "good"): 1})


def filled_parcel(_: Kitdrawer, folder: Path) -> None:
    """Some of one line has come."""
    edited(folder / "parcel.xlsx", {"D2": 1})


def filled_count(_: Kitdrawer, folder: Path) -> None:
    """One row counted."""
    fill_page(folder / "count.xlsx", "counts", 2, {"counted": 1})


def filled_days(_: Kitdrawer, folder: Path) -> None:
    """One line of a market day."""
    book = openpyxl.load_workbook(folder / "market.xlsx")
    sheet = book.worksheets[0]
    headings = [cell.value for cell in sheet[1]]
    for heading, value in {"what": "found", "part": "walnut blank", "how many": "1"}.items():
        sheet.cell(2, headings.index(heading) + 1, value)
    book.save(folder / "market.xlsx")


BEFORE: dict[str, Callable[[Kitdrawer, Path], object]] = {
    "load shop.xlsx": filled_shop,
    "begin --from my_stock.xlsx": own_sheet,
    "sold Dunlin pen gunmetal": made_pens,
    "weekend book saturday.xlsx --save": filled_session,
    "arrived parcel.xlsx": filled_parcel,
    "count book count.xlsx": filled_count,
    "days market.xlsx": filled_days,
}
"""What a person does before a command that begins so."""


def shown(kitdrawer: Kitdrawer, page: str, folder: Path) -> list[Answer]:
    """The answers to the commands whose screens a page shows, one after the other on the sample's book."""
    answers = []
    for screen in screens(page):
        if screen.words[:2] == ("weekend", "book"):
            weekend(kitdrawer, folder)
        answers.append(kitdrawer(*screen.words))
    return answers


def walked(
    kitdrawer: Kitdrawer, block: Sequence[Sequence[str]], folder: Path, asks: Callable[[str], bool]
) -> list[tuple[str, Answer]]:
    """The commands of a block in order; asks: whether a command takes `--yes`, which is then said."""
    said = []
    for words in block:
        line = " ".join(words)
        if words[0] == "begin":
            Path(os.environ["KITDRAWER_STORE"]).unlink(missing_ok=True)
        for start, prepare in BEFORE.items():
            if line.startswith(start):
                prepare(kitdrawer, folder)
        name = " ".join(words[:2]) if words[0] in ("weekend", "count") else words[0]
        said.append((line, kitdrawer(*words, *(["--yes"] if asks(name) else []))))
    return said
