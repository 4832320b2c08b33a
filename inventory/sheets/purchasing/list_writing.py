"""The supplier lists as a workbook: a summary, a tab a supplier with real formulas, and the reasons."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from inventory.catalogue import fold
from inventory.ledger.shop import Shop
from inventory.reports.purchasing.shopping import Shopping
from inventory.sheets.drawing import ROW_POINTS, Cell, Look, SheetColumn, draw_table
from inventory.sheets.formulas import Formulas
from inventory.sheets.paper import AUTHOR
from inventory.sheets.purchasing.list_summary import write_summary
from inventory.sheets.purchasing.list_supplier import list_form, write_supplier
from inventory.sheets.purchasing.supplier_tabs import titles_of
from inventory.sheets.saving import check_workbook, saving
from inventory.sheets.values import DAY_FORMAT, days_said, measured_cell
from inventory.sheets.writing import page_head, print_ready, write_csv_folder

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_REASONS = (
    SheetColumn("part", 34, wraps=True),
    SheetColumn("wanted", 14, side="right"),
    SheetColumn("needed by", 16, side="center", form=DAY_FORMAT),
    SheetColumn("why", 70, wraps=True),
)


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
        workbook.properties.creator = AUTHOR
        workbook.properties.title = "Supplier lists"
        formulas.save(workbook, unfinished)


def write_csv_lists(folder: Path, shop: Shop, result: Shopping, *, overwrite: bool = False) -> list[Path]:
    """One CSV file a supplier (UTF-8 with its mark, RFC 4180), in a folder that is made where it is missing.

    Prices and costs are in the supplier's currency. Returns the files. Raises Refused, before anything is written,
    where one of them is there already (unless `overwrite`) or the folder cannot be made.
    """
    names = titles_of(shop.catalogue)
    bills = {names[fold(bill.supplier.name)]: bill for bill in result.basket.bills}
    tables = {name: list_form(shop, bill).plain() for name, bill in bills.items()}
    return write_csv_folder(folder, tables, overwrite=overwrite)


def _reasons(sheet: Worksheet, result: Shopping) -> None:
    rows: list[list[Cell]] = [
        [one.part.name, measured_cell(one.quantity, one.part.unit), one.needed_by, days_said(one.reason)]
        for one in result.demands
    ]
    draw_table(sheet, _REASONS, rows, Look("", top=True, least=ROW_POINTS))
    print_ready(sheet)
    page_head(sheet, "Why each part is on the list")
    sheet.auto_filter.ref = f"A1:D{len(rows) + 1}"
