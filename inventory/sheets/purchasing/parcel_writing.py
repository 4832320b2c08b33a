"""A sheet to fill when the parcel is open: one tab a supplier with what is due in from it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

from inventory.catalogue import fold
from inventory.jobs.shop import Shop
from inventory.ledger import DueIn
from inventory.measures import Currency, currency, show_date
from inventory.sheets.drawing import ROW_POINTS, align, set_height
from inventory.sheets.forms.tables import narrow
from inventory.sheets.purchasing.supplier_tabs import titles_of
from inventory.sheets.saving import check_workbook, save_workbook, saving
from inventory.sheets.values import amount_cell, coins, money_format
from inventory.sheets.writing import DATE_FORMAT, heading, link, page_head, print_ready, put

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

PARCELS = "delivery"
COLUMNS = {
    "part": (26, "What came. Prepared rows hold what was ordered."),
    "supplier code": (13, ""),
    "due": (8, "What is still to come in this pack, in all orders together."),
    "arrived": (10, "How much came in good order; empty where nothing came."),
    "damaged": (10, "How much came damaged, beside what arrived in good order."),
    "pack": (9, "What one pack holds; a price is for that much."),
    "price": (11, "The price of one pack, where it is another than agreed."),
    "instead of": (
        22,
        "Where something else came: write it as a row of its own, and here the part that was ordered.",
    ),
    "rest cancelled": (10, "yes, where what is missing will not come."),
    "use by": (11, "The use-by date on it."),
    "lot": (11, "A name for the lot, such as the number on it."),
    "paid": (11, "In place of a price: what was paid for what stands under “for”."),
    "for": (9, "What was paid for: pack, bottle, all, or an amount."),
    "settles it": (8, "yes, where it stands for what was ordered; no, where that is still to come."),
    "agreed price": (12, "The price of one pack as it was ordered."),
    "expected": (11, ""),
    "supplier": (28, ""),
}
FILLED = (
    "arrived",
    "damaged",
    "price",
    "instead of",
    "rest cancelled",
    "use by",
    "lot",
    "paid",
    "for",
    "settles it",
)
"""Columns for the maker; the others say what was ordered."""
_UNORDERED = ("part", "pack")
"""Columns for the maker too in the rows under what is due."""
SPARE = 6
"""Empty rows under what is due, for what came in its place."""
_PRINTED = "P"
_GROUND = "FBF8EF"
_HEIGHT = 20
"""Points of a row: it is filled with a pen as often as not."""
_AMOUNTS = ("due", "arrived", "damaged", "pack")
PARCEL = {
    "supplier": (36, ""),
    "delivery note": (20, "Its number: the same note is not booked twice."),
    "date": (14, "The day it came; empty for the day it is booked."),
    "postage": (14, "Postage of this parcel, in the supplier's coin."),
}


@dataclass(frozen=True, slots=True)
class Due:
    """What is due of one part in one pack, all orders together. price: minor units a pack, None where they differ."""

    part: str
    code: str
    quantity: int
    pack: int
    price: int | None
    expected: date | None


def write_delivery_sheet(path: Path, shop: Shop, rows: Sequence[DueIn], *, overwrite: bool = False) -> None:
    """Write a workbook (.xlsx) that `read_delivery` reads back when it is filled.

    rows: what is due in; suppliers come in the order of their rows. The tab `delivery` has a row for each parcel's
    note, date and postage. Raises Refused where the file is there already (unless `overwrite`) or cannot be written.
    """
    from openpyxl import Workbook

    check_workbook(path)
    found = by_supplier(rows)
    names = titles_of(shop.catalogue)
    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        sheet = workbook.worksheets[0]
        _parcels(sheet, shop, [(key, names[key]) for key in found])
        for key, mine in found.items():
            _tab(workbook.create_sheet(names[key]), shop, key, mine)
        workbook.properties.creator = "kitdrawer"
        save_workbook(workbook, unfinished)


def _parcels(sheet: Worksheet, shop: Shop, tabs: Sequence[tuple[str, str]]) -> None:
    from openpyxl.worksheet.datavalidation import DataValidation

    sheet.title = PARCELS
    _headings(sheet, PARCEL, [name for name in PARCEL if name != "supplier"])
    for row, (key, title) in enumerate(tabs, start=2):
        supplier = shop.catalogue.suppliers[key]
        put(sheet.cell(row, 1), supplier.name)
        link(sheet.cell(row, 1), title)
        sheet.row_dimensions[row].height = _HEIGHT
        _to_fill(sheet.cell(row, 2), "@")
        _to_fill(sheet.cell(row, 3), DATE_FORMAT)
        _to_fill(sheet.cell(row, 4), money_format(_coin(shop, supplier.currency)))
    rule = DataValidation("decimal", operator="greaterThanOrEqual", formula1="0", allow_blank=True)
    rule.errorTitle, rule.error = "postage", "A sum of money, 0 or more."
    sheet.add_data_validation(rule)
    rule.add(f"D2:D{max(len(tabs), 1) + 1}")
    print_ready(sheet)
    page_head(sheet, "What came stands on each supplier's tab; here its delivery note, day and postage")


def _coin(shop: Shop, code: str) -> Currency:
    return currency(code or shop.currency.code)


def _headings(sheet: Worksheet, columns: dict[str, tuple[int, str]], bold: Iterable[str]) -> None:
    from openpyxl.comments import Comment
    from openpyxl.utils import get_column_letter

    for at, (name, (width, note)) in enumerate(columns.items(), start=1):
        heading(sheet.cell(1, at), name, required=name in bold)
        sheet.column_dimensions[get_column_letter(at)].width = width
        if note:
            sheet.cell(1, at).comment = Comment(note, "kitdrawer", height=90, width=240)


def _to_fill(cell: Any, number_format: str = "General") -> None:
    """Show that this cell waits for the maker."""
    from openpyxl.styles import Border, PatternFill, Side

    light = Side(style="thin", color="BFBFBF")
    cell.border = Border(light, light, light, light)
    cell.fill = PatternFill("solid", fgColor=_GROUND)
    cell.number_format = number_format


def _tab(sheet: Worksheet, shop: Shop, key: str, rows: Sequence[DueIn]) -> None:
    supplier = shop.catalogue.suppliers[key]
    coin = _coin(shop, supplier.currency)
    _headings(sheet, COLUMNS, FILLED)
    place = {name: number for number, name in enumerate(COLUMNS, start=1)}
    sheet.row_dimensions[1].height = 2 * ROW_POINTS
    due = together(shop, rows)
    for name, number in place.items():
        align(sheet.cell(1, number), _where(name), top=True, wraps=True, indent=name in _AMOUNTS)
    for number in range(2, len(due) + SPARE + 2):
        _look(sheet, number)
        for name in FILLED:
            form = {
                "use by": DATE_FORMAT,
                "price": money_format(coin),
                "paid": money_format(coin),
                "lot": "@",
            }.get(name, "General")
            _to_fill(sheet.cell(number, place[name]), form)
        for name in _UNORDERED if number > len(due) + 1 else ():
            _to_fill(sheet.cell(number, place[name]))
    for number, one in enumerate(due, start=2):
        unit = shop.catalogue.part(one.part).unit
        put(sheet.cell(number, place["part"]), one.part)
        put(sheet.cell(number, place["supplier code"]), one.code or None)
        told = ((one.part, COLUMNS["part"][0]), (one.code, COLUMNS["supplier code"][0]))
        set_height(sheet, number, *told, least=_HEIGHT)
        put(sheet.cell(number, place["due"]), amount_cell(one.quantity, unit))
        put(sheet.cell(number, place["pack"]), amount_cell(one.pack, unit))
        put(
            sheet.cell(number, place["agreed price"]),
            coins(one.price, coin) if one.price is not None else None,
        )
        sheet.cell(number, place["agreed price"]).number_format = money_format(coin)
        put(sheet.cell(number, place["expected"]), one.expected)
        put(sheet.cell(number, place["supplier"]), supplier.name)
    _choices(sheet, len(due))
    _page(sheet, supplier.name, shop, len(due) + SPARE + 1)


def _where(name: str) -> str | None:
    if name in _AMOUNTS:
        return "right"
    return (
        "center"
        if name
        in ("price", "paid", "for", "settles it", "rest cancelled", "use by", "agreed price", "expected")
        else None
    )


def _look(sheet: Worksheet, row: int) -> None:
    sheet.row_dimensions[row].height = _HEIGHT
    for number, name in enumerate(COLUMNS, start=1):
        wraps = name in ("part", "instead of", "supplier code")
        align(sheet.cell(row, number), _where(name), wraps=wraps, indent=name in _AMOUNTS)


def _page(sheet: Worksheet, supplier: str, shop: Shop, last: int) -> None:
    print_ready(sheet)
    narrow(sheet, landscape=True)
    sheet.freeze_panes = "B2"
    sheet.print_area = f"A1:{_PRINTED}{last}"
    page_head(sheet, f"{supplier}, due in on {show_date(shop.today)}")


def _choices(sheet: Worksheet, due: int) -> None:
    from openpyxl.worksheet.datavalidation import DataValidation

    letters = dict(zip(COLUMNS, "ABCDEFGHIJKLMNOPQ", strict=True))
    rules = (
        ("rest cancelled", '"yes,no"', True),
        ("settles it", '"yes,no"', True),
        ("instead of", f"$A$2:$A${due + 1}", False),
    )
    for name, formula, strict in rules:
        rule = DataValidation("list", formula, allow_blank=True, showErrorMessage=strict)
        rule.errorTitle, rule.error = name, "Write yes or no."
        sheet.add_data_validation(rule)
        rule.add(f"{letters[name]}2:{letters[name]}{due + SPARE + 1}")


def by_supplier(rows: Sequence[DueIn]) -> dict[str, list[DueIn]]:
    """What is due in from each supplier, by folded name, in the order of the rows."""
    found: dict[str, list[DueIn]] = {}
    for row in rows:
        found.setdefault(fold(row.supplier), []).append(row)
    return found


def together(shop: Shop, rows: Sequence[DueIn]) -> list[Due]:
    """What is due by part and pack, however many orders it was bought in: a price is that of one pack."""
    by_pack: dict[tuple[str, int], list[DueIn]] = {}
    for row in rows:
        by_pack.setdefault((fold(row.part), row.pack), []).append(row)
    return [_sum(shop, mine) for mine in by_pack.values()]


def _sum(shop: Shop, rows: Sequence[DueIn]) -> Due:
    prices = {_price(shop, row) for row in rows}
    return Due(
        shop.catalogue.part(rows[0].part).name,
        "; ".join(dict.fromkeys(row.code for row in rows if row.code)),
        sum(row.quantity for row in rows),
        rows[0].pack,
        prices.pop() if len(prices) == 1 else None,
        min((row.expected_on for row in rows if row.expected_on), default=None),
    )


def _price(shop: Shop, row: DueIn) -> int | None:
    """What a pack was to cost, minor units of the supplier's coin.

    The book keeps the cost in the shop's coin, rounded up to a whole one; so the price is rounded down.
    """
    rate = shop.rate(shop.catalogue.supplier(row.supplier).currency)
    return int(Fraction(row.cost * row.pack, row.quantity) / rate) if rate and row.quantity else None
