"""A count sheet: parts to count, blind or beside the book's figure."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from inventory.reports.session_sheet import CountRow, CountSheet
from inventory.sheets.drawing import shut
from inventory.sheets.forms.tables import Form, draw_form, weights, whole_numbers
from inventory.sheets.paper import AUTHOR
from inventory.sheets.saving import is_workbook, save_workbook, saving
from inventory.sheets.sessions.tabs import FULL, OPEN, counts_of_stock
from inventory.sheets.writing import write_csv, write_csv_folder

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet


def write_counts(path: Path, sheet: CountSheet, *, overwrite: bool = False) -> list[Path]:
    """Write a count sheet that `read_counts` reads back when it is filled; the files written.

    A name ending in .xlsx becomes a workbook, one in .csv a CSV file, any other a folder with `counts.csv`. Raises
    Refused where something is there already (unless `overwrite`), cannot be written or has the name of another kind
    of file.
    """
    form = counts_of_stock(sheet)
    if path.suffix.casefold() == ".csv" and not path.is_dir():
        write_csv(path, *form.plain(), overwrite=overwrite)
        return [path]
    if not is_workbook(path):
        return write_csv_folder(path, {form.name: form.plain()}, overwrite=overwrite)
    from openpyxl import Workbook

    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        tab = workbook.worksheets[0]
        tab.title = form.name
        draw_form(tab, form)
        guide_counts(tab, form, sheet.rows)
        workbook.properties.creator, workbook.properties.title = AUTHOR, form.title
        save_workbook(workbook, unfinished)
    return [path]


def guide_counts(sheet: Worksheet, form: Form, rows: Sequence[CountRow]) -> None:
    """Full ones are whole, the open one's weight a weight; both are white where a part comes in no bottles."""
    asked = [name for name in (FULL, OPEN) if name in form.headings]
    if not asked:
        return
    whole_numbers(sheet, [form.range(FULL)], "A whole number of full ones, 0 or more.")
    weights(sheet, [form.range(OPEN)], "What the scale shows, in grams.")
    for number, row in enumerate(rows, start=2):
        for name in () if row.containers else asked:
            shut(sheet[f"{form.letter(name)}{number}"])
