"""The sheet of orders that are due soon: to print and pin up, or to sort and filter."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from inventory.measures import STEPS
from inventory.measures.look import LOOKED_AT
from inventory.reports.due_soon import DueSoonRow
from inventory.sheets.drawing import ROW_POINTS, Look, SheetColumn, draw_table
from inventory.sheets.paper import AUTHOR
from inventory.sheets.saving import check_workbook, save_workbook, saving
from inventory.sheets.values import DUE_DAY, days_said, measured_cell
from inventory.sheets.writing import Value, page_head, plain_font, print_ready, write_csv

TAB: Final = "due soon"
_OF_AN_ORDER: Final = 9
"""The first columns: they would say the same in every row of an order."""
_AGAIN: Final = (0, 2)
"""Those of them that do: its name and its day."""
COLUMNS = (
    SheetColumn("order", 7, wraps=True),
    SheetColumn("customer", 11, wraps=True),
    SheetColumn("due", 11, side="center", form=DUE_DAY),
    SheetColumn("how it stands", 11, wraps=True),
    SheetColumn("what", 18, wraps=True),
    SheetColumn("to make", 6, side="right"),
    SheetColumn("minutes", 8, side="right"),
    SheetColumn("needed by then", 7.5, side="right"),
    SheetColumn("there by then", 7, side="right"),
    SheetColumn("short", 14, side="left", wraps=True, indent=1),
    SheetColumn("quantity", 8.5, side="right"),
    SheetColumn("from", 16, side="left", wraps=True, indent=1),
    SheetColumn("order by", 10.5, side="center", form=DUE_DAY),
    SheetColumn("arrives", 10.5, side="center", form=DUE_DAY),
)
"""At 11 points, shrunk to the page: of 10 points at least."""
_HOW = "Minutes: of work, nothing spoiled. Needed by then: for all due no later, spoiled ones too. There: usual hours."


def write_due_soon(path: Path, title: str, rows: Sequence[DueSoonRow], *, overwrite: bool = False) -> None:
    """Write it as a workbook (.xlsx), or as a CSV file (.csv). Raises Refused for other names and places."""
    if path.suffix.casefold() == ".csv":
        headings = [column.heading for column in COLUMNS]
        at = headings.index("quantity") + 1
        cells = [_cells(row) for row in rows]
        write_csv(
            path,
            [*headings[:at], "unit", *headings[at:]],
            [[*one[:at], row.unit, *one[at:]] for one, row in zip(cells, rows, strict=True)],
            overwrite=overwrite,
        )
        return
    check_workbook(path)
    from openpyxl import Workbook

    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        sheet = workbook.worksheets[0]
        sheet.title = TAB
        again = [one.order == before.order for one, before in zip(rows[1:], rows, strict=False)]
        printed = [_printed(row, again=one) for row, one in zip(rows, [False, *again], strict=False)]
        draw_table(sheet, COLUMNS, printed, Look(top=True, least=ROW_POINTS), height=33)
        for at in (number for number, one in enumerate(again, start=3) if one):
            for column in _AGAIN:  # for a filter; said above already
                sheet.cell(at, column + 1).font = plain_font(color=LOOKED_AT)
        print_ready(sheet)
        sheet.freeze_panes = "B2"
        page_head(sheet, f"{days_said(title)}. {_HOW}")
        workbook.properties.creator, workbook.properties.title = AUTHOR, title
        save_workbook(workbook, unfinished)


def _cells(row: DueSoonRow) -> list[Value]:
    return [
        row.order,
        row.customer,
        row.due,
        row.stands,
        row.what,
        row.to_make,
        row.minutes,
        row.needed,
        row.left,
        row.lacking,
        row.quantity,
        row.whence,
        row.order_by,
        row.here_on,
    ]


def _printed(row: DueSoonRow, *, again: bool) -> list[Value]:
    """The same, what is short as a hand can measure it. again: the row before is of the same order."""
    cells = _cells(row)
    if row.quantity is not None:
        at = [one.heading for one in COLUMNS].index("quantity")
        cells[at] = measured_cell(int(row.quantity * STEPS), row.unit or "piece")
    return [
        None if again and at < _OF_AN_ORDER and at not in _AGAIN else cell for at, cell in enumerate(cells)
    ]
