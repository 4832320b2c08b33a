"""A sheet to fill when the parcel is open: one tab or file a supplier with what is due in from it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from inventory.ledger import DueIn
from inventory.ledger.shop import Shop
from inventory.sheets.forms.tables import Form, draw_form, offer, sums
from inventory.sheets.paper import AUTHOR
from inventory.sheets.purchasing.parcel_form import by_supplier, coin_of, delivery_forms
from inventory.sheets.saving import check_workbook, save_workbook, saving
from inventory.sheets.values import money_format
from inventory.sheets.writing import link, write_csv_folder

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet


def write_delivery_sheet(path: Path, shop: Shop, rows: Sequence[DueIn], *, overwrite: bool = False) -> None:
    """Write a workbook (.xlsx) that `read_delivery` reads back when it is filled.

    rows: what is due in; suppliers come in the order of their rows. The tab `delivery` has a row for each parcel's
    note, date and postage. Raises Refused where the file is there already (unless `overwrite`) or cannot be written.
    """
    from openpyxl import Workbook

    check_workbook(path)
    first, *tabs = delivery_forms(shop, rows)
    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        sheet = workbook.worksheets[0]
        sheet.title = first.name
        draw_form(sheet, first)
        sums(sheet, [first.range("postage")], "A sum of money, 0 or more.")
        for number, (key, tab) in enumerate(zip(by_supplier(rows), tabs, strict=True), start=2):
            link(sheet.cell(number, 1), tab.name)
            postage = sheet[f"{first.letter('postage')}{number}"]
            postage.number_format = money_format(coin_of(shop, key))
            _tab(workbook.create_sheet(tab.name), tab)
        workbook.properties.creator, workbook.properties.title = AUTHOR, "Parcels"
        save_workbook(workbook, unfinished)


def write_delivery_csv(
    folder: Path, shop: Shop, rows: Sequence[DueIn], *, overwrite: bool = False
) -> list[Path]:
    """`delivery.csv` and one file a supplier, in a folder that is made where it is missing; `read_delivery` reads it.

    Returns the files. Raises Refused, before anything is written, where one of them is there already (unless
    `overwrite`) or the folder cannot be made.
    """
    forms = delivery_forms(shop, rows)
    return write_csv_folder(folder, {form.name: form.plain() for form in forms}, overwrite=overwrite)


def _tab(sheet: Worksheet, form: Form) -> None:
    draw_form(sheet, form)
    for name in ("rest cancelled", "settles it"):
        offer(sheet, form.range(name), '"yes,no"', "Write yes or no.")
    offer(sheet, form.range("instead of"), f"$A$2:$A${len(form.rows) + 1}")
