"""One supplier's tab of the list: lines to tick, real formulas, and room for what comes to mind."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from inventory.buying import Bill, Line
from inventory.jobs.shop import Shop
from inventory.measures import Currency, currency, show_date, show_money
from inventory.sheets.drawing import align, set_height
from inventory.sheets.formulas import Formulas, Result, decimal_of
from inventory.sheets.purchasing.supplier_tabs import HEADINGS
from inventory.sheets.values import amount_cell, coins, money_format
from inventory.sheets.writing import heading, page_head, plain_font, print_ready, put

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

WIDTHS = (6, 29, 14, 10, 7, 13, 13, 13, 54, 28)
SPARE = 4
"""Empty lines under the list, with their formula, for what comes to mind."""
_PACK, _PACKS, _PRICE, _COST, _NEEDED, _WHY = 4, 5, 6, 7, 8, 9
_NUMBERS = (_PACK, _PACKS, _PRICE, _COST)
_HEIGHT = 18
"""Points of a line: a pen has to find its box."""
_PRINTED = "I"
"""The last printed column; the supplier's name behind it is for programs, the page has it at its head."""


def write_supplier(sheet: Worksheet, shop: Shop, bill: Bill, formulas: Formulas) -> None:
    """Fill a supplier's tab."""
    from openpyxl.utils import get_column_letter

    coin = currency(bill.supplier.currency)
    for at, (name, width) in enumerate(zip(HEADINGS, WIDTHS, strict=True), start=1):
        heading(sheet.cell(1, at), name, required=name not in ("done", "supplier"))
        sheet.column_dimensions[get_column_letter(at)].width = width
        align(sheet.cell(1, at), _where(at), top=True, wraps=True)
    rows = len(bill.lines) + SPARE
    for row, line in enumerate((*bill.lines, *[None] * SPARE), start=2):
        _ruled(sheet, row)
        cost = line.price * line.packs if line else 0
        formulas.put(sheet.cell(row, _COST), f"=E{row}*F{row}", coins(cost, coin))
        for column in (_PRICE, _COST):
            # a sum of 0 stays unseen, so that spare lines look empty
            sheet.cell(row, column).number_format = f"{money_format(coin)};;;@"
        if line is not None:
            _line(sheet, row, shop, line, coin)
            put(sheet.cell(row, len(HEADINGS)), bill.supplier.name)
    _whole_packs(sheet, rows + 1)
    last = _totals(sheet, rows + 3, shop, bill, coin, formulas)
    _page(sheet, bill, coin, last)


def totals_row(bill: Bill) -> int:
    """The row of a supplier's tab that holds the goods; postage and total follow."""
    return len(bill.lines) + SPARE + 3


def rate_of(shop: Shop, bill: Bill) -> Fraction | None:
    """The shop's coin for one of the supplier's, None where they are the same."""
    coin = currency(bill.supplier.currency)
    if coin.code == shop.currency.code:
        return None
    minor = shop.rate(coin.code) or Fraction(0)
    return minor * coin.scale / shop.currency.scale


def _where(column: int) -> str | None:
    return "right" if column in _NUMBERS else "center" if column == _NEEDED else None


def _ruled(sheet: Worksheet, row: int) -> None:
    from openpyxl.styles import Border, Side

    dark, light = Side(style="thin"), Side(style="thin", color="BFBFBF")
    sheet.cell(row, 1).border = Border(dark, dark, dark, dark)
    sheet.row_dimensions[row].height = _HEIGHT
    for column in range(2, len(HEADINGS)):
        sheet.cell(row, column).border = Border(bottom=light)
        align(sheet.cell(row, column), _where(column), wraps=column in (2, 3, _WHY))


def _line(sheet: Worksheet, row: int, shop: Shop, line: Line, coin: Currency) -> None:
    part, why = shop.catalogue.part(line.offer.part), "; ".join(line.reasons)
    put(sheet.cell(row, 2), part.name)
    put(sheet.cell(row, 3), line.offer.code or None)
    put(sheet.cell(row, _PACK), amount_cell(line.offer.pack, part.unit))
    put(sheet.cell(row, _PACKS), line.packs)
    put(sheet.cell(row, _PRICE), coins(line.price, coin))
    put(sheet.cell(row, _NEEDED), line.needed_by)
    put(sheet.cell(row, _WHY), why or None)
    set_height(sheet, row, (part.name, WIDTHS[1]), (why, WIDTHS[_WHY - 1]), least=_HEIGHT)


def _whole_packs(sheet: Worksheet, last: int) -> None:
    from openpyxl.worksheet.datavalidation import DataValidation

    whole = DataValidation(type="whole", operator="greaterThanOrEqual", formula1="0", allow_blank=True)
    whole.errorTitle, whole.error = "packs", "Packs are whole numbers; 0 leaves the line out."
    sheet.add_data_validation(whole)
    whole.add(f"E2:E{last}")


def _totals(sheet: Worksheet, row: int, shop: Shop, bill: Bill, coin: Currency, formulas: Formulas) -> int:
    """Goods, postage, total, in the shop's coin too; beside them the supplier's terms. Returns the last row."""
    lines = _sums(row, shop, bill, coin)
    for at, (label, formula, result, form) in enumerate(lines, start=row):
        put(sheet.cell(at, _PRICE), label)
        cell = sheet.cell(at, _COST)
        align(sheet.cell(at, _PRICE), "right")
        align(cell, "right")
        if formula:
            formulas.put(cell, formula, result)
        else:
            put(cell, result)
        cell.number_format = form
        sheet.cell(at, _PRICE).font = cell.font = plain_font(bold=label.startswith("total"))
    _terms(sheet, row, bill, coin, formulas)
    return row + len(lines) - 1


def _sums(row: int, shop: Shop, bill: Bill, coin: Currency) -> list[tuple[str, str, Result, str]]:
    form, goods = money_format(coin), bill.goods
    lines: list[tuple[str, str, Result, str]] = [
        # rounded: binary fractions must not miss the threshold of free postage by a hair
        ("goods", f"=ROUND(SUM(G2:G{row - 1}),{coin.exponent})", coins(goods, coin), form),
        ("postage", _postage(row, bill, coin), coins(bill.postage, coin), form),
        ("total", f"=G{row}+G{row + 1}", coins(goods + bill.postage, coin), form),
    ]
    rate = rate_of(shop, bill)
    if rate is not None:
        own = shop.currency
        total = f"=ROUNDUP(ROUND(G{row + 2}*G{row + 3},9),{own.exponent})"
        lines += [
            (f"1 {coin.code}", "", decimal_of(rate), f'0.####### "{own.code}"'),
            (f"total, {own.code}", total, coins(bill.landed, own), money_format(own)),
        ]
    return lines


def _postage(row: int, bill: Bill, coin: Currency) -> str:
    terms = bill.supplier
    free = f"SUM(E2:E{row - 1})=0"
    if terms.free_from is not None:
        free = f"OR({free},G{row}>={coins(terms.free_from, coin)})"
    return f"=IF({free},0,{coins(terms.postage, coin)})"


def _terms(sheet: Worksheet, row: int, bill: Bill, coin: Currency, formulas: Formulas) -> None:
    terms = bill.supplier
    if terms.minimum_order:
        least = coins(terms.minimum_order, coin)
        told = f"under the minimum order of {show_money(terms.minimum_order, coin)}"
        under = 0 < bill.goods < terms.minimum_order
        formula = f'=IF(AND(G{row}>0,G{row}<{least}),"{told}","")'
        formulas.put(sheet.cell(row, _WHY), formula, told if under else "")
        sheet.cell(row, _WHY).font = plain_font(bold=True, color="9C2B1F")
    if terms.free_from is not None:
        put(sheet.cell(row + 1, _WHY), f"free from {show_money(terms.free_from, coin)} of goods on")
    if bill.arrives is not None:
        put(
            sheet.cell(row + 2, _WHY), f"here on {show_date(bill.arrives)} if ordered on the day of this list"
        )


def _page(sheet: Worksheet, bill: Bill, coin: Currency, last: int) -> None:
    print_ready(sheet)
    sheet.freeze_panes = "C2"
    sheet.print_area = f"A1:{_PRINTED}{last}"
    page_head(sheet, f"{bill.supplier.name}, prices in {coin.code}")
