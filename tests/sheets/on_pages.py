"""Where the cells of a printed page stand: what tests fill goes through here, by table, row and heading."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from openpyxl import load_workbook

from inventory.sheets.sessions.pages import PRINTED
from inventory.sheets.writing import safe_text

BEGINS = {
    "pieces": "done",
    "cutting": "cut from",
    "bottles": "bottle of",
    "used": "strips, pads",
    "counts": "count",
    "notes": "notes",
}
"""The heading each table begins with."""


def columns(book: Any, table: str) -> Iterator[tuple[Any, int, dict[str, int]]]:
    """Of every table of this kind: its tab, the row of its headings, and its columns by what they stand for."""
    names = PRINTED[BEGINS[table]] or {}
    for tab in book.worksheets:
        for row in tab.iter_rows():
            for inside in _tables(row, BEGINS[table]) if row[0].value == "table" else ():
                # of two that stand for one thing the last counts: a hidden code goes before what is printed
                yield tab, row[0].row, {names.get(cell.value) or cell.value: cell.column for cell in inside}


def _tables(row: Any, begins: str) -> Iterator[list[Any]]:
    """The headings of each table in a row of them."""
    filled = [cell for cell in row[1:] if cell.value]
    starts = [at for at, cell in enumerate(filled) if cell.value in PRINTED]
    for first, last in zip(starts, [*starts[1:], len(filled)], strict=True):
        if filled[first].value == begins:
            yield filled[first:last]


def place(book: Any, table: str, row: int) -> tuple[Any, int, dict[str, int]]:
    """The tab, the row and the columns of row `row` of a table, counted from 2 over all tables of its kind."""
    left = row - 2
    for tab, heading, found in columns(book, table):
        many = 0
        while tab.cell(heading + 1 + many, 1).value is None and heading + 1 + many <= tab.max_row:
            if table != "pieces" and not _there(tab, heading + 1 + many, found):
                break
            many += 1
        if left < many:
            return tab, heading + 1 + left, found
        left -= many
    raise AssertionError(f"no row {row} in {table}")


def _there(tab: Any, row: int, found: Mapping[str, int]) -> bool:
    first = found.get("counted") or found[next(iter(found))]
    return tab.cell(row, first).fill.fill_type is not None or tab.cell(row, first).value is not None


def fill_page(path: Path, table: str, row: int, values: Mapping[str, Any]) -> Path:
    """Fill cells of one row of a table, by what its headings stand for."""
    book: Any = load_workbook(path)
    tab, number, found = place(book, table, row)
    for name, value in values.items():
        cell = tab.cell(number, found[name])
        if name == "part":
            safe_text(cell, value)  # chosen from a list, not typed: no formula
        else:
            cell.value = value
    book.save(path)
    return path


def row_of(book: Any, table: str, name: str) -> tuple[Any, int, dict[str, int]]:
    """The tab, the row and the columns of the first row of a table that is of this order or part."""
    for tab, heading, found in columns(book, table):
        at = found.get("order") if table == "pieces" else found["part"]
        names = {tab.cell(row, at).value: row for row in range(tab.max_row, heading, -1)}
        if name in names:
            return tab, names[name], found
    raise AssertionError(f"no row of {name} in {table}")
