"""A count sheet: parts to count, blind or beside the book's figure."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from inventory.reports.session_sheet import CountSheet
from inventory.sheets.counts.pages import PAGE_MM, by_drawer, count_pages
from inventory.sheets.forms.pages import Spot, draw_pages
from inventory.sheets.forms.tables import weights, whole_numbers
from inventory.sheets.paper import AUTHOR
from inventory.sheets.saving import is_workbook, save_workbook, saving
from inventory.sheets.sessions.tabs import FULL, OPEN, counts_of_stock
from inventory.sheets.writing import write_csv, write_csv_folder


def write_counts(path: Path, sheet: CountSheet, *, overwrite: bool = False) -> list[Path]:
    """Write a count sheet, drawer by drawer, that `read_counts` reads back when it is filled; the files written.

    A name ending in .xlsx becomes a workbook, one in .csv a CSV file, any other a folder with `counts.csv`. Raises
    Refused where something is there already (unless `overwrite`), cannot be written or has the name of another kind
    of file.
    """
    form = counts_of_stock(replace(sheet, rows=tuple(by_drawer(sheet.rows))))
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
        for spot in draw_pages(tab, count_pages(sheet), PAGE_MM, landscape=False):
            _guide(spot)
        workbook.properties.creator, workbook.properties.title = AUTHOR, form.title
        save_workbook(workbook, unfinished)
    return [path]


def _guide(spot: Spot) -> None:
    """Full ones are whole, the open one's weight a weight; neither is negative."""
    whole_numbers(spot.sheet, filter(None, [spot.cells(FULL)]), "A whole number of full ones, 0 or more.")
    weights(spot.sheet, filter(None, [spot.cells(OPEN)]), "What the scale shows, in grams.")
