"""A workbook of plain tables, written with the program's own cells."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from openpyxl import Workbook

from inventory.sheets.saving import save_workbook
from inventory.sheets.writing import Value, heading, print_ready, put


def write_table(path: Path, title: str, headings: Sequence[str], rows: Sequence[Sequence[Value]]) -> None:
    """One tab of bold headings and values."""
    workbook = Workbook()
    sheet = workbook.worksheets[0]
    sheet.title = title
    for column, name in enumerate(headings, start=1):
        heading(sheet.cell(1, column), name)
    for number, row in enumerate(rows, start=2):
        for column, value in enumerate(row, start=1):
            put(sheet.cell(number, column), value)
    print_ready(sheet)
    save_workbook(workbook, path)
