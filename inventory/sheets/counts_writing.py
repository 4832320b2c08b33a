"""A count sheet: parts to count, blind or beside the book's figure."""

from __future__ import annotations

from pathlib import Path

from inventory.jobs.session_sheet import CountSheet
from inventory.sheets.forms import draw_form, is_workbook, save_csv, table
from inventory.sheets.sessions_forms import counts_of_stock
from inventory.sheets.writing import save_workbook, saving, write_csv


def write_counts(path: Path, sheet: CountSheet, *, overwrite: bool = False) -> list[Path]:
    """Write a count sheet that `read_counts` reads back when it is filled; the files written.

    A name ending in .xlsx becomes a workbook, one in .csv a CSV file, any other a folder with `counts.csv`. Raises
    Refused where something is there already (unless `overwrite`), cannot be written or has the name of another kind
    of file.
    """
    form = counts_of_stock(sheet)
    if path.suffix.casefold() == ".csv" and not path.is_dir():
        write_csv(path, [one.heading for one in form.fields], table(form), overwrite=overwrite)
        return [path]
    if not is_workbook(path):
        return save_csv(path, [form], overwrite=overwrite)
    from openpyxl import Workbook

    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        tab = workbook.worksheets[0]
        tab.title = form.name
        draw_form(tab, form)
        workbook.properties.creator, workbook.properties.title = "kitdrawer", form.title
        save_workbook(workbook, unfinished)
    return [path]
