"""The last row of a table of figures: what its columns come to."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from inventory.sheets.drawing import ROW_POINTS, Cell, Look, SheetColumn, Worked, draw_row, line_above
from inventory.sheets.formulas import Formulas, decimal_of
from inventory.sheets.writing import plain_font

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet


LINES: Final = Look("lines", least=ROW_POINTS)
"""Rows with a line under each, as high as their texts need: not every program makes them so by itself."""


def sums_row(
    sheet: Worksheet,
    row: int,
    columns: Sequence[SheetColumn],
    values: Sequence[Sequence[object]],
    formulas: Formulas,
    first: int = 2,
) -> None:
    """Formulas that add up each column from number `first` on over the rows above; values: what is there."""
    cells: list[Cell] = ["together", *[None] * (first - 2)]
    for at in range(first, len(columns) + 1):
        letter = chr(ord("A") + at - 1)
        every = [exact_of(one[at - first]) for one in values]
        sum_ = f"=SUM({letter}2:{letter}{row - 1})" if values else "=0"
        cells.append(Worked(sum_, decimal_of(sum(every, Fraction(0)))))
    draw_row(sheet, row, columns, cells, Look(""), formulas)
    bold(sheet, row, len(columns))


def exact_of(value: object) -> Fraction:
    """A number of a cell; nothing counts as 0."""
    return Fraction(value) if isinstance(value, int | Decimal | Fraction) else Fraction(0)


def bold(sheet: Worksheet, row: int, many: int) -> None:
    """The look of a row of sums."""
    for at in range(1, many + 1):
        sheet.cell(row, at).font = plain_font(bold=True)
        line_above(sheet.cell(row, at))
