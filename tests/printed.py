"""How large a workbook's letters come out on paper."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from openpyxl import load_workbook

from inventory.sheets.paper import DIGIT_MM, WIDER, lines_of

PAPERS = ((210.0, 297.0), (215.9, 279.4))
"""A4 (ISO 216) and Letter (ANSI/ASME Y14.1, from memory), upright, in millimetres."""
LEAST = 10.0
"""Points that nothing is printed smaller than."""


def too_small(path: Path) -> list[str]:
    """Tabs of a workbook, hidden ones left out, with letters that are smaller on A4 or Letter, or columns cut off."""
    every = [tab for tab in load_workbook(path).worksheets if tab.sheet_state == "visible"]
    return [f"{tab.title}: {points:.1f}" for tab in every for points in _points(tab) if points < LEAST]


def too_low(path: Path) -> list[str]:
    """Rows that are lower than the lines of their texts: some programs draw those over the rows beside them."""
    return [
        f"{tab.title} {cell.coordinate}"
        for tab in load_workbook(path).worksheets
        if tab.sheet_state == "visible"
        for cell in _wrapped(tab)
        if (tab.row_dimensions[cell.row].height or 0) < cell.font.sz * _lines(tab, cell)
    ]


def _wrapped(tab: Any) -> Iterator[Any]:
    """Cells below the headings, in columns that are printed, whose texts go on in a second line."""
    last = _last(tab)
    merged = {place for area in tab.merged_cells.ranges for row in area.rows for place in row}
    for row in tab.iter_rows(min_row=2):
        for cell in row:
            wraps = isinstance(cell.value, str) and cell.alignment.wrap_text
            alone = (cell.row, cell.column) not in merged
            if (
                wraps
                and alone
                and _lines(tab, cell) > 1
                and (not last or _at(cell.column_letter) <= _at(last))
            ):
                yield cell


def _lines(tab: Any, cell: Any) -> int:
    return lines_of(cell.value, tab.column_dimensions[cell.column_letter].width * DIGIT_MM, cell.font.sz)


def _last(tab: Any) -> str:
    """The last column that is printed; empty where all are."""
    return tab.print_area.split(":")[-1].replace("$", "").rstrip("0123456789") if tab.print_area else ""


def _points(tab: Any) -> Iterator[float]:
    """Of the smallest letters, on each paper: columns that are printed, in the program that draws them widest.

    Shrunk to the width of so many pages as the tab is fitted to; nothing where it is not fitted and wider than a page.
    """
    last = _last(tab)
    shown = [one for one in tab.column_dimensions.values() if not one.hidden]
    printed = [one for one in shown if not last or _at(one.index) <= _at(last)]
    wide = sum(one.width for one in printed) * 7 / 96 * 25.4 * WIDER
    across = tab.page_setup.orientation == "landscape"
    least = min(cell.font.sz for row in tab.iter_rows() for cell in row if cell.value is not None)
    margins = 25.4 * (tab.page_margins.left + tab.page_margins.right)
    for paper in PAPERS:
        room = (max if across else min)(paper) - margins
        if tab.sheet_properties.pageSetUpPr.fitToPage:
            yield least * min(1.0, room * tab.page_setup.fitToWidth / wide)
        else:
            yield least if wide <= room else 0


def _at(letter: str) -> tuple[int, str]:
    return (len(letter), letter)
