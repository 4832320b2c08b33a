"""A sheet to fill when the parcel is open: one tab a supplier with what is due in from it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from inventory.catalogue import fold
from inventory.jobs.shop import Shop
from inventory.ledger import DueIn
from inventory.measures import currency, show_amount
from inventory.sheets.lists_common import titles
from inventory.sheets.lists_writing import coins
from inventory.sheets.writing import heading, print_ready, put, saving

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

HEADINGS = (
    "part",
    "supplier code",
    "due",
    "arrived",
    "damaged",
    "pack",
    "price",
    "instead of",
    "rest cancelled",
    "use by",
    "lot",
)
WIDTHS = (30, 14, 12, 12, 10, 10, 10, 24, 10, 12, 14)
PARCEL = ("supplier", "delivery note", "date", "postage")


def write_delivery_sheet(path: Path, shop: Shop, rows: Sequence[DueIn], *, overwrite: bool = False) -> None:
    """Write the sheet. Raises Refused where the file is there already or cannot be written."""
    from openpyxl import Workbook

    suppliers = list(dict.fromkeys(row.supplier for row in rows))
    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        _parcels(workbook.worksheets[0], suppliers)
        for supplier, title in titles(suppliers).items():
            _tab(workbook.create_sheet(title), shop, [r for r in rows if fold(r.supplier) == fold(supplier)])
        workbook.save(unfinished)


def _parcels(sheet: Worksheet, suppliers: Sequence[str]) -> None:
    sheet.title = "delivery"
    for at, (name, width) in enumerate(zip(PARCEL, (34, 16, 12, 12), strict=True), start=1):
        heading(sheet.cell(1, at), name, required=False)
        sheet.column_dimensions["ABCD"[at - 1]].width = width
    for row, supplier in enumerate(suppliers, start=2):
        put(sheet.cell(row, 1), supplier)
    print_ready(sheet)


def _tab(sheet: Worksheet, shop: Shop, rows: Sequence[DueIn]) -> None:
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.datavalidation import DataValidation

    for at, (name, width) in enumerate(zip(HEADINGS, WIDTHS, strict=True), start=1):
        heading(sheet.cell(1, at), name, required=name in ("part", "arrived"))
        sheet.column_dimensions[get_column_letter(at)].width = width
    print_ready(sheet)
    for number, row in enumerate(rows, start=2):
        part = shop.catalogue.part(row.part)
        supplier = shop.catalogue.supplier(row.supplier)
        rate = shop.rate(supplier.currency)
        coin = currency(supplier.currency or shop.currency.code)
        price = (
            coins(Fraction(row.cost * row.pack, row.quantity) / rate, coin) if rate and row.quantity else None
        )
        cells = (part.name, row.code, show_amount(row.quantity, part.unit), None, None)
        for column, value in enumerate((*cells, show_amount(row.pack, part.unit), price), start=1):
            put(sheet.cell(number, column), value)
    words = DataValidation(type="list", formula1='"yes,no"', allow_blank=True)
    sheet.add_data_validation(words)
    words.add(f"I2:I{len(rows) + 20}")
