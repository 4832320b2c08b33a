"""The supplier lists as a workbook: a summary with a chart, a tab a supplier with real formulas, and the reasons."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from inventory.catalogue import fold
from inventory.jobs.purchasing.shopping import Shopping
from inventory.jobs.shop import Shop
from inventory.sheets.drawing import align, set_height
from inventory.sheets.formulas import Formulas
from inventory.sheets.purchasing.list_summary import write_summary
from inventory.sheets.purchasing.list_supplier import write_supplier
from inventory.sheets.purchasing.supplier_tabs import titles_of
from inventory.sheets.saving import check_workbook, saving
from inventory.sheets.values import amount_cell
from inventory.sheets.writing import Value, heading, print_ready, put

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_REASONS = (("part", 34), ("wanted", 14), ("needed by", 12), ("why", 70))
_PLACES = (None, "right", "center", None)


def write_lists(path: Path, shop: Shop, result: Shopping, *, overwrite: bool = False) -> None:
    """Write the lists as a workbook (.xlsx) that `read_lists` reads back.

    Formulas hold their results, so that programs which do not compute read the same totals. Sums on a supplier's
    tab are in its currency, those of the summary in the shop's. Raises Refused where the file is there already
    (unless `overwrite`), cannot be written, or is no name for a workbook.
    """
    from openpyxl import Workbook

    check_workbook(path)
    with saving(path, overwrite=overwrite) as unfinished:
        workbook, formulas = Workbook(), Formulas()
        summary = workbook.worksheets[0]
        summary.title = "summary"
        names = titles_of(shop.catalogue)
        tabs = [(bill, names[fold(bill.supplier.name)]) for bill in result.basket.bills]
        for bill, title in tabs:
            write_supplier(workbook.create_sheet(title), shop, bill, formulas)
        _reasons(workbook.create_sheet("reasons"), result)
        write_summary(summary, shop, result, tabs, formulas)
        workbook.properties.creator = "kitdrawer"
        workbook.properties.title = "Supplier lists"
        formulas.save(workbook, unfinished)


def _reasons(sheet: Worksheet, result: Shopping) -> None:
    from openpyxl.utils import get_column_letter

    for at, (name, width) in enumerate(_REASONS, start=1):
        heading(sheet.cell(1, at), name)
        align(sheet.cell(1, at), _PLACES[at - 1], top=True)
        sheet.column_dimensions[get_column_letter(at)].width = width
    print_ready(sheet)
    for row, one in enumerate(result.demands, start=2):
        cells: tuple[Value, ...] = (
            one.part.name,
            amount_cell(one.quantity, one.part.unit),
            one.needed_by,
            one.reason,
        )
        for column, value in enumerate(cells, start=1):
            put(sheet.cell(row, column), value)
            align(sheet.cell(row, column), _PLACES[column - 1], top=True, wraps=column in (1, 4))
        set_height(sheet, row, (one.part.name, _REASONS[0][1]), (one.reason, _REASONS[3][1]))
    sheet.auto_filter.ref = f"A1:D{len(result.demands) + 1}"
