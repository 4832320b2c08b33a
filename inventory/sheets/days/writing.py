"""An empty sheet of ordinary days, to be filled on the phone or in a spreadsheet."""

from __future__ import annotations

from pathlib import Path

from inventory.reports.days_sheet import DONE, SAID
from inventory.sheets.days.reading import HEADINGS
from inventory.sheets.forms.tables import Form, asked, draw_form, offer
from inventory.sheets.paper import AUTHOR
from inventory.sheets.saving import is_workbook, save_workbook, saving
from inventory.sheets.writing import write_csv

_NOTES = {
    "what": "add, took, found, back (what was lent), sold; made, paid, change, rename, hours",
    "part": "its name; of sold, words of the piece; of made the pattern or order; of paid and change the order; "
    "of hours the week: tue 2, sat 5",
    "how many": "2, 50 ml, 1 bottle. Empty: one piece sold or made; all that is lent, or out of date",
    "day": "2026-11-28; empty: the day it is booked",
    "why": "of took: gave away, broke, threw out, lent, used up",
    "to": "of took: to whom it was lent or given",
    "paid": "of add: what was paid; of paid: the sum, empty for all that is open",
    "for": "of add: for what was paid: each, pack, bottle, all, 50 ml",
    "price": "of sold and change: for one of them",
    "at": "of sold: where, or to whom",
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
        workbook.properties.creator, workbook.properties.title = AUTHOR, form.title
        save_workbook(workbook, unfinished)
