"""How sheets look: where cells stand, how high rows are."""

from __future__ import annotations

from textwrap import wrap
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

ROW_POINTS = 15.0
"""Height of a line of text in a workbook's default font."""
LETTERS = 1.15
"""Letters of running text in the width of one digit, in which columns are measured."""


def align(cell: Any, where: str | None, *, top: bool = False, wraps: bool = False, indent: int = 0) -> None:
    """Put what a cell holds to one side: numbers right, days in the middle, headings where their column is."""
    from openpyxl.styles import Alignment

    cell.alignment = Alignment(
        horizontal=where,
        vertical="top" if top else "center",
        wrap_text=wraps,
        indent=indent,
    )


def set_height(sheet: Worksheet, row: int, *texts: tuple[str, int], least: float = ROW_POINTS) -> None:
    """Make a row as high as its texts need in columns of these widths; not every program does so by itself."""
    lines = max((len(wrap(text, int(width * LETTERS))) for text, width in texts), default=1)
    sheet.row_dimensions[row].height = max(least, ROW_POINTS * lines)
