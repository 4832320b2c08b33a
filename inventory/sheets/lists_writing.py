"""The supplier lists as a workbook: a summary with a chart, a tab a supplier with real formulas, and the reasons."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING, Any

from inventory.buying import Bill, Line
from inventory.jobs.shop import Shop
from inventory.jobs.shopping import Shopping
from inventory.measures import Currency, currency, show_amount
from inventory.sheets.cached import put_values
from inventory.sheets.lists_common import HEADINGS, titles
from inventory.sheets.writing import Value, heading, print_ready, put, saving

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

WIDTHS = (6, 30, 14, 12, 7, 10, 11, 14, 56)
Values = dict[str, Decimal]


def write_lists(path: Path, shop: Shop, result: Shopping, *, overwrite: bool = False) -> None:
    """Write the lists. Raises Refused where the file is there already or cannot be written."""
    from openpyxl import Workbook

    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        values: dict[int, Values] = {1: _summary(workbook.worksheets[0], shop, result)}
        names = titles(bill.supplier.name for bill in result.basket.bills)
        for number, bill in enumerate(result.basket.bills, start=2):
            values[number] = _supplier(workbook.create_sheet(names[bill.supplier.name]), shop, bill)
        _reasons(workbook.create_sheet("reasons"), result)
        workbook.save(unfinished)
        put_values(unfinished, values)


def coins(amount: int | Fraction, coin: Currency) -> Decimal:
    """Minor units as the decimal people read, rounded up to a whole coin."""
    return Decimal(ceil(amount)).scaleb(-coin.exponent)


def _format(coin: Currency) -> str:
    return "0" + ("." + "0" * coin.exponent if coin.exponent else "")


def _supplier(sheet: Worksheet, shop: Shop, bill: Bill) -> Values:
    """One supplier's tab; returns what its formulas come to."""
    from openpyxl.utils import get_column_letter
    from openpyxl.worksheet.datavalidation import DataValidation

    coin = currency(bill.supplier.currency)
    for at, (name, width) in enumerate(zip(HEADINGS, WIDTHS, strict=True), start=1):
        heading(sheet.cell(1, at), name)
        sheet.column_dimensions[get_column_letter(at)].width = width
    print_ready(sheet)
    header: Any = sheet.oddHeader
    header.left.text = f"{bill.supplier.name.replace('&', '&&')}, prices in {coin.code}"
    values: Values = {}
    for row, line in enumerate(bill.lines, start=2):
        _line(sheet, row, shop, line, coin)
        values[f"G{row}"] = coins(line.cost, coin)
    whole = DataValidation(type="whole", operator="greaterThanOrEqual", formula1="0", allow_blank=True)
    whole.error = "Packs are whole numbers."
    sheet.add_data_validation(whole)
    whole.add(f"E2:E{len(bill.lines) + 40}")
    return values | _totals(sheet, len(bill.lines) + 3, bill, coin)


def _line(sheet: Worksheet, row: int, shop: Shop, line: Line, coin: Currency) -> None:
    from openpyxl.styles import Alignment, Border, Side

    part = shop.catalogue.part(line.offer.part)
    thin = Side(style="thin")
    sheet.cell(row, 1).border = Border(thin, thin, thin, thin)
    cells: tuple[Value, ...] = (
        part.name,
        line.offer.code,
        show_amount(line.offer.pack, part.unit),
        line.packs,
        coins(line.price, coin),
    )
    for column, value in enumerate(cells, start=2):
        put(sheet.cell(row, column), value)
    sheet.cell(row, 6).number_format = sheet.cell(row, 7).number_format = _format(coin)
    sheet.cell(row, 7).value = f"=E{row}*F{row}"
    put(sheet.cell(row, 8), line.needed_by)
    put(sheet.cell(row, 9), "; ".join(line.reasons))
    sheet.cell(row, 9).alignment = Alignment(wrap_text=True, vertical="top")


def _totals(sheet: Worksheet, row: int, bill: Bill, coin: Currency) -> Values:
    """Goods, postage and total as formulas under the price column; a word where the minimum order is missed."""
    from openpyxl.styles import Font

    terms = bill.supplier
    last = row - 1
    postage = str(coins(terms.postage, coin))
    if terms.free_from is not None:
        postage = f"IF(G{row}>={coins(terms.free_from, coin)},0,{postage})"
    rows = (
        ("goods", f"=SUM(G2:G{last})", bill.goods),
        ("postage", f"=IF(G{row}=0,0,{postage})", bill.postage),
        ("total", f"=G{row}+G{row + 1}", bill.goods + bill.postage),
    )
    values: Values = {}
    for at, (label, formula, amount) in enumerate(rows, start=row):
        sheet.cell(at, 6).value = label
        sheet.cell(at, 7).value = formula
        sheet.cell(at, 7).number_format = _format(coin)
        sheet.cell(at, 6).font = sheet.cell(at, 7).font = Font(bold=label == "total")
        values[f"G{at}"] = coins(amount, coin)
    if terms.minimum_order:
        least = coins(terms.minimum_order, coin)
        sheet.cell(row, 9).value = f'=IF(G{row}<{least},"under the minimum order of {least} {coin.code}","")'
    return values


def _summary(sheet: Worksheet, shop: Shop, result: Shopping) -> Values:
    """What is bought from whom and what it comes to in the shop's coin, a chart, and what to know."""
    sheet.title = "summary"
    coin, basket = shop.currency, result.basket
    for at, (name, width) in enumerate(
        (
            ("supplier", 34),
            ("lines", 8),
            (f"goods, {coin.code}", 14),
            (f"postage, {coin.code}", 14),
            ("total", 12),
            ("here on", 12),
        ),
        start=1,
    ):
        heading(sheet.cell(1, at), name)
        sheet.column_dimensions["ABCDEF"[at - 1]].width = width
    print_ready(sheet)
    values: Values = {}
    for row, bill in enumerate(basket.bills, start=2):
        goods = bill.landed * Fraction(bill.goods, max(bill.goods + bill.postage, 1))
        first, second = coins(goods, coin), coins(bill.landed, coin) - coins(goods, coin)
        told: tuple[Value, ...] = (bill.supplier.name, len(bill.lines), first, second)
        for column, value in enumerate(told, start=1):
            put(sheet.cell(row, column), value)
        sheet.cell(row, 5).value = f"=C{row}+D{row}"
        values[f"E{row}"] = first + second
        put(sheet.cell(row, 6), bill.arrives)
    end = len(basket.bills) + 2
    sheet.cell(end, 1).value = "together"
    for letter in "BCDE":
        sheet[f"{letter}{end}"].value = f"=SUM({letter}2:{letter}{end - 1})" if basket.bills else "=0"
        values[f"{letter}{end}"] = sum(
            (_number(sheet[f"{letter}{row}"].value, values, f"{letter}{row}") for row in range(2, end)),
            Decimal(0),
        )
    for row in range(2, end + 1):
        for column in (3, 4, 5):
            sheet.cell(row, column).number_format = _format(coin)
    told = _told(sheet, end + 2, shop, result)
    if basket.bills:
        _chart(sheet, end, told + 1)
    return values


def _number(value: object, values: Values, cell: str) -> Decimal:
    return values.get(cell, Decimal(str(value)) if isinstance(value, (int, float)) else Decimal(0))


def _chart(sheet: Worksheet, end: int, row: int) -> None:
    """Goods and postage a supplier, stacked, under the table so that the page stays readable."""
    from openpyxl.chart import BarChart, Reference

    chart = BarChart()
    chart.type, chart.grouping, chart.overlap = "bar", "stacked", 100
    chart.title = "Goods and postage"
    chart.add_data(Reference(sheet, min_col=3, max_col=4, min_row=1, max_row=end - 1), titles_from_data=True)
    chart.set_categories(Reference(sheet, min_col=1, min_row=2, max_row=end - 1))
    chart.x_axis.delete = chart.y_axis.delete = False
    chart.y_axis.number_format, chart.y_axis.majorGridlines = "0", None
    chart.height, chart.width = 3 + 1.2 * end, 18
    sheet.add_chart(chart, f"A{row}")


def _told(sheet: Worksheet, row: int, shop: Shop, result: Shopping) -> int:
    """What to know before ordering, one sentence a row; returns the row after them."""
    basket, coin = result.basket, shop.currency
    told = [
        "No list costs less (proven)."
        if basket.proven
        else f"Not proven: up to {coins(basket.gap, coin)} less."
    ]
    if result.per_line is not None:
        told.append(f"The cheapest offer line by line would cost {coins(result.per_line, coin)} {coin.code}.")
    if result.one_supplier is not None:
        told.append(
            f"All from {result.one_supplier[0]} would cost {coins(result.one_supplier[1], coin)} {coin.code}."
        )
    told += [f"Not on the list: {one.want.part}, {one.why}." for one in basket.unfilled]
    told += [
        f"Nearly: {one.supplier}, "
        + (
            f"{one.packs} more packs reach the next step."
            if one.kind == "step"
            else "postage is nearly free."
        )
        for one in result.misses
    ]
    told += result.warnings
    for at, text in enumerate(told, start=row):
        put(sheet.cell(at, 1), text)
    return row + len(told)


def _reasons(sheet: Worksheet, result: Shopping) -> None:
    for at, (name, width) in enumerate(
        (("part", 34), ("wanted", 14), ("needed by", 12), ("why", 70)), start=1
    ):
        heading(sheet.cell(1, at), name)
        sheet.column_dimensions["ABCD"[at - 1]].width = width
    print_ready(sheet)
    for row, one in enumerate(result.demands, start=2):
        cells: tuple[Value, ...] = (
            one.part.name,
            show_amount(one.quantity, one.part.unit),
            one.needed_by,
            one.reason,
        )
        for column, value in enumerate(cells, start=1):
            put(sheet.cell(row, column), value)
