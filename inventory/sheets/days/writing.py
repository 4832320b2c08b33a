"""An empty sheet of ordinary days, to be filled on the phone, in a spreadsheet or with a pen, and how it is filled."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil
from pathlib import Path
from typing import Final

from inventory.reports.days_sheet import DONE, SAID, What, happens
from inventory.sheets.days.reading import HEADINGS, TAKES
from inventory.sheets.forms.pages import Band, Field, Item, Paragraph, PrintedTable, draw_page
from inventory.sheets.forms.tables import Form, asked, draw_form, offer
from inventory.sheets.paper import AUTHOR, TITLE
from inventory.sheets.saving import is_workbook, save_workbook, saving
from inventory.sheets.writing import write_csv

_NOTES = {
    "what": "add, took, found, back (what was lent), sold; made, paid, spent, change, rename, hours",
    "part": "its name; of sold, words of the piece; of made the pattern or order; of paid and change the order; "
    "of spent what for; "
    "of hours the week: tue 2, sat 5",
    "how many": "2, 50 ml, 1 bottle. Empty: one piece sold or made; all that is lent, or out of date",
    "day": "2026-11-28; empty: the day it is booked",
    "why": "of took: gave away, broke, threw out, lent, used up",
    "to": "of took: to whom it was lent or given",
    "paid": "of add: what was paid; of spent: the sum; of paid: the sum, empty for all that is open",
    "for": "of add: for what was paid: each, pack, bottle, all, 50 ml",
    "price": "of sold and change: for one of them",
    "at": "of sold: where, or to whom; of spent: at which market",
    "lot": "of took and found: the very lot, as `trace` calls it",
    "use by": "of add and found: the day written on it",
    "plating": "of made: the kit's",
    "blank": "of made: the blank; of change: the blank, or all that would do",
    "spoiled": "of made: turn=1; drill=2",
    "due": "of change: the day it is wanted now",
    "new name": "of rename",
}
_WIDE = {
    "part": 22,
    "what": 7,
    "how many": 7,
    "day": 9.5,
    "why": 8,
    "to": 8,
    "paid": 7,
    "for": 5.5,
    "price": 6.5,
    "at": 8,
    "lot": 5.5,
    "use by": 9.5,
    "plating": 8,
    "blank": 10,
    "spoiled": 8,
    "due": 9.5,
    "new name": 8,
}
"""Together as wide as A4 and Letter have room for at 10 points; texts go on in a second line."""
_LINES: Final[Mapping[What, tuple[str, str]]] = {
    "add": ("came without a parcel that was ordered", "add, Dunlin kit chrome, 3, paid 4.10 for each"),
    "took": ("gone: gave away, broke, threw out, lent, used up", "took, tube 7 x 53, 2, why lent, to Ann"),
    "found": ("more is there than the book knew", "found, CA thin, 1 bottle"),
    "back": ("what was lent is back; how many empty: all of it", "back, tube 7 x 53, 1"),
    "sold": ("a finished piece nobody had ordered", "sold, Dunlin pen gunmetal, 2, price 38, at market"),
    "made": (
        "finished pieces, of a pattern or for an order",
        "made, Dunlin pen, 2, plating chrome, blank walnut",
    ),
    "paid": ("money for an order; the sum empty: all that is open", "paid, S42, paid 50.00"),
    "spent": ("money for no part: a stall, fuel, postage", "spent, stall fee, paid 45, at harbour market"),
    "change": ("an order is wanted otherwise", "change, S42, 4, due 2026-12-21"),
    "rename": ("a new name for anything", "rename, Dunlin kit chrome, new name Dunlin set"),
    "hours": ("the week's hours for making", "hours, tue 2, sat 5"),
}
"""What each line is for, and one as it may be written."""
_PAGE_MM: Final = 248.0
_ROW: Final = 16.0
_DAYS = frozenset({"day", "use by", "due"})
ROWS = 40
"""Empty rows to fill."""


def write_days(path: Path) -> None:
    """Write it: a name ending in .csv becomes a CSV file, any other a workbook. Raises Refused where one is there."""
    columns = tuple(asked(name, _WIDE.get(name, 10), _NOTES[name]) for name in HEADINGS)
    form = Form("days", columns, (), ROWS, "Ordinary days", landscape=True)
    if path.suffix.casefold() == ".csv" or not is_workbook(path):
        write_csv(path, *form.plain(), overwrite=False)
        return
    from openpyxl import Workbook

    with saving(path, overwrite=False) as unfinished:
        workbook = Workbook()
        tab = workbook.worksheets[0]
        tab.title = form.name
        draw_form(tab, form)
        words = (*DONE, *SAID)
        offer(tab, form.range("what"), f'"{",".join(words)}"', f"One of {', '.join(words)}.")
        offer(tab, form.range("why"), '"gave away,broke,threw out,lent,used up"')
        draw_page(workbook.create_sheet("how"), how_page(), _PAGE_MM, landscape=True, one_page=True)
        workbook.properties.creator, workbook.properties.title = AUTHOR, form.title
        save_workbook(workbook, unfinished)


def how_page() -> list[Item]:
    """A page to lie beside the sheet: what each line is for, and what goes into each column."""
    fills = (
        Field("what", 16, bold=True),
        Field("is for", 78),
        Field("fill in", 68),
        Field("for example", 86),
    )
    lines = [
        {"what": what, "is for": means, "fill in": ", ".join(_filled(what)), "for example": example}
        for what, (means, example) in _LINES.items()
    ]
    columns = [{"column": name, "write": _NOTES[name]} for name in HEADINGS[1:]]
    half = ceil(len(columns) / 2)
    wide = (Field("column", 20, bold=True), Field("what to write", 104, "write"))
    return [
        Paragraph("Ordinary days: how the sheet is filled", TITLE, bold=True),
        Paragraph("A line for each thing that happened, in any order; all are booked as one entry, or none."),
        Band((PrintedTable(fills, lines),), least=_ROW),
        Band((PrintedTable(wide, columns[:half]), PrintedTable(wide, columns[half:])), least=_ROW),
    ]


def _filled(what: What) -> tuple[str, ...]:
    """The columns a line of this kind may fill."""
    day = ("day",) if happens(what) or what == "spent" else ()
    many = ("how many",) if happens(what) or "how many" in TAKES[what] else ()
    return ("part", *many, *day, *(name for name in TAKES[what] if name not in many))
