"""An empty sheet of ordinary days, to be filled on the phone or in a spreadsheet."""

from __future__ import annotations

from pathlib import Path

from inventory.sheets.days.reading import HEADINGS
from inventory.sheets.forms.tables import Form, asked, draw_form, offer
from inventory.sheets.paper import AUTHOR
from inventory.sheets.saving import is_workbook, save_workbook, saving
from inventory.sheets.writing import write_csv

_NOTES = {
    "what": "add, took, found, back (what was lent) or sold",
    "part": "its name; of what is sold, words of the piece's name",
    "how many": "2, 50 ml, 1 bottle. Empty: one piece sold; all that is lent, or out of date",
    "day": "2026-11-28; empty: the day it is booked",
    "why": "of took: gave away, broke, threw out, lent, used up",
    "to": "of took: to whom it was lent or given",
    "paid": "of add: what was paid",
    "for": "of add: for what was paid: each, pack, bottle, all, 50 ml",
    "price": "of sold: for one of them",
    "at": "of sold: where, or to whom",
    "lot": "of took and found: the very lot, as `trace` calls it",
    "use by": "of add and found: the day written on it",
}
_WIDE = {
    "part": 32,
    "to": 15,
    "at": 15,
    "why": 12,
    "day": 10,
    "use by": 10,
    "what": 8,
    "price": 9,
    "paid": 9,
    "for": 8,
    "lot": 8,
}
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
        offer(tab, form.range("what"), '"add,took,found,back,sold"', "One of add, took, found, back, sold.")
        offer(tab, form.range("why"), '"gave away,broke,threw out,lent,used up"')
        workbook.properties.creator, workbook.properties.title = AUTHOR, form.title
        save_workbook(workbook, unfinished)
