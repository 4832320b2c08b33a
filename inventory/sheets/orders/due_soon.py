"""The sheet of orders that are due soon: to print and pin up, or to sort and filter."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from inventory.reports.due_soon import DueSoonRow
from inventory.sheets.drawing import Look, SheetColumn, draw_table
from inventory.sheets.paper import AUTHOR, set_paper
from inventory.sheets.saving import check_workbook, save_workbook, saving
from inventory.sheets.writing import Value, write_csv

TAB, DAY = "due soon", "yyyy-mm-dd"
COLUMNS = (
    SheetColumn("order", 12),
    SheetColumn("customer", 16, wraps=True),
    SheetColumn("due", 11, form=DAY),
    SheetColumn("how it stands", 18, wraps=True),
    SheetColumn("what", 30, wraps=True),
    SheetColumn("to make", 7, "Pieces that are not finished.", side="right"),
    SheetColumn("minutes", 8, "Minutes of work in them, nothing spoiled.", side="right"),
    SheetColumn(
        "needed by then", 9, "Minutes of work in all that is due no later, spoiled ones too.", side="right"
    ),
    SheetColumn("there by then", 9, "Minutes of the usual hours until its day; see `hours`.", side="right"),
    SheetColumn("lacks", 27, wraps=True, indent=1),
    SheetColumn("quantity", 9, side="right", form="#,##0.#"),
    SheetColumn("unit", 7, indent=1),
    SheetColumn("from", 24, wraps=True),
    SheetColumn("order by", 11, "The last day to order it.", form=DAY),
    SheetColumn("here on", 11, form=DAY),
)


def write_due_soon(path: Path, title: str, rows: Sequence[DueSoonRow], *, overwrite: bool = False) -> None:
    """Write it as a workbook (.xlsx), or as a CSV file (.csv). Raises Refused for other names and places."""
    cells = [_cells(row) for row in rows]
    if path.suffix.casefold() == ".csv":
        write_csv(path, [column.heading for column in COLUMNS], cells, overwrite=overwrite)
        return
    check_workbook(path)
    from openpyxl import Workbook

    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        sheet = workbook.worksheets[0]
        sheet.title = TAB
        draw_table(sheet, COLUMNS, cells, Look(top=True, least=15), height=30)
        sheet.freeze_panes = "B2"
        set_paper(sheet, landscape=True, head=True)
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
        row.unit,
        row.whence,
        row.order_by,
        row.here_on,
    ]
