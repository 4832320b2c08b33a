"""The first tab of the list: what is bought from whom, what it comes to in the shop's coin, and what to know."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING, Any

from inventory.buying import Bill
from inventory.jobs.shop import Shop
from inventory.jobs.shopping import Shopping
from inventory.jobs.shopping_words import certainty, inspect, nearly, not_on_list, other_lists
from inventory.measures import currency, show_date
from inventory.sheets.cached import Formulas, decimal_of
from inventory.sheets.lists_common import coins, money_format
from inventory.sheets.lists_supplier import SPARE, rate_of, totals_row
from inventory.sheets.writing import heading, print_ready, put

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

WIDTHS = (40, 8, 18, 18, 18, 14)
_CHARACTERS = sum(WIDTHS)
_ROW_POINTS = 15
_GOODS, _POSTAGE = "5B7553", "D9B45B"
"""Bars of the chart: a moss green and a straw yellow, apart in grey print too."""

Tabs = Sequence[tuple[Bill, str]]


def write_summary(sheet: Worksheet, shop: Shop, result: Shopping, tabs: Tabs, formulas: Formulas) -> None:
    """Fill the summary. tabs: every bill with the name of its tab."""
    coin = shop.currency.code
    named = ("supplier", "lines", f"goods, {coin}", f"postage, {coin}", "total", "here on")
    for at, (name, width) in enumerate(zip(named, WIDTHS, strict=True), start=1):
        heading(sheet.cell(1, at), name)
        sheet.column_dimensions["ABCDEF"[at - 1]].width = width
    print_ready(sheet)
    head: Any = sheet.oddHeader
    head.left.text = f"Supplier lists of {show_date(shop.today)}"
    for row, (bill, title) in enumerate(tabs, start=2):
        _row(sheet, row, shop, bill, title, formulas)
    _together(sheet, len(tabs) + 2, shop, result, formulas)
    row = len(tabs) + 4
    for title, sentences in _blocks(shop, result):
        row = _block(sheet, row, title, sentences)
    if tabs:
        _chart(sheet, row, len(tabs), coin)


def _row(sheet: Worksheet, row: int, shop: Shop, bill: Bill, title: str, formulas: Formulas) -> None:
    from openpyxl.styles import Font

    tab, goods = f"'{title}'", totals_row(bill)
    put(sheet.cell(row, 1), bill.supplier.name)
    sheet.cell(row, 1).hyperlink = f"#{tab}!A1"
    sheet.cell(row, 1).font = Font(underline="single", color="1F4E79")
    lines = f'=COUNTIF({tab}!E2:E{len(bill.lines) + SPARE + 1},">0")'
    formulas.put(sheet.cell(row, 2), lines, len(bill.lines))
    rate = rate_of(shop, bill)
    times = "" if rate is None else f"*{tab}!G{goods + 3}"
    one = (rate or 1) * Fraction(1, currency(bill.supplier.currency).scale)
    formulas.put(sheet.cell(row, 3), f"={tab}!G{goods}{times}", decimal_of(one * bill.goods))
    formulas.put(sheet.cell(row, 4), f"={tab}!G{goods + 1}{times}", decimal_of(one * bill.postage))
    formulas.put(sheet.cell(row, 5), _whole_coins(f"C{row}+D{row}", shop), coins(bill.landed, shop.currency))
    put(sheet.cell(row, 6), bill.arrives)
    _money(sheet, row, shop)


def _whole_coins(sum_: str, shop: Shop) -> str:
    """A formula that rounds a sum up to a whole coin, after binary fractions' own dust is swept off."""
    return f"=ROUNDUP(ROUND({sum_},9),{shop.currency.exponent})"


def _together(sheet: Worksheet, row: int, shop: Shop, result: Shopping, formulas: Formulas) -> None:
    from openpyxl.styles import Border, Font, Side

    basket, coin = result.basket, shop.currency
    put(sheet.cell(row, 1), "together")
    sums = ((3, "C", "C", basket.goods), (4, "D", "D", basket.postage), (5, "C", "D", basket.total))
    lines = f"=SUM(B2:B{row - 1})" if basket.bills else "=0"
    formulas.put(sheet.cell(row, 2), lines, len(basket.lines))
    for column, first, last, amount in sums:
        sum_ = f"SUM({first}2:{last}{row - 1})" if basket.bills else "0"
        formulas.put(sheet.cell(row, column), _whole_coins(sum_, shop), coins(amount, coin))
    _money(sheet, row, shop)
    for column in range(1, len(WIDTHS) + 1):
        sheet.cell(row, column).font = Font(bold=True)
        sheet.cell(row, column).border = Border(top=Side(style="thin"))


def _money(sheet: Worksheet, row: int, shop: Shop) -> None:
    for column in (3, 4, 5):
        sheet.cell(row, column).number_format = money_format(shop.currency)


def _blocks(shop: Shop, result: Shopping) -> Iterable[tuple[str, list[str]]]:
    until = f"What is wanted until {show_date(result.until)}, worked out on {show_date(shop.today)}."
    if result.basket.bills:
        yield "This list", [until, certainty(shop, result), *other_lists(shop, result)]
    else:
        yield "This list", [until, "Nothing can be ordered." if result.demands else "Nothing is wanted."]
    yield "Not on the list", [not_on_list(shop, one) for one in result.basket.unfilled]
    yield "Nearly", [nearly(shop, one) for one in result.misses]
    yield "Mind", list(result.warnings)
    yield "Inspect", [inspect(one) for one in result.inspections]


def _block(sheet: Worksheet, row: int, title: str, sentences: Sequence[str]) -> int:
    """A title and its sentences across the table's width; the next free row."""
    from openpyxl.styles import Alignment, Font

    if not sentences:
        return row
    put(sheet.cell(row, 1), title)
    sheet.cell(row, 1).font = Font(bold=True)
    for at, text in enumerate(sentences, start=row + 1):
        put(sheet.cell(at, 1), text)
        sheet.cell(at, 1).alignment = Alignment(wrap_text=True, vertical="top")
        sheet.merge_cells(start_row=at, end_row=at, start_column=1, end_column=len(WIDTHS))
        # merged cells do not grow with their text by themselves
        sheet.row_dimensions[at].height = _ROW_POINTS * ceil(len(text) / (_CHARACTERS * 0.95))
    return row + len(sentences) + 2


def _chart(sheet: Worksheet, row: int, suppliers: int, coin: str) -> None:
    """Goods and postage a supplier, stacked, drawn from the table above so that it follows an edited list."""
    from openpyxl.chart import BarChart, Reference

    chart = BarChart()
    chart.type, chart.grouping, chart.overlap, chart.gapWidth = "bar", "stacked", 100, 60
    chart.title, chart.style = f"Goods and postage, {coin}", 2
    last = suppliers + 1
    chart.add_data(Reference(sheet, min_col=3, max_col=4, min_row=1, max_row=last), titles_from_data=True)
    chart.set_categories(Reference(sheet, min_col=1, min_row=2, max_row=last))
    for series, colour in zip(chart.series, (_GOODS, _POSTAGE), strict=True):
        series.graphicalProperties.solidFill = colour
    chart.x_axis.delete = chart.y_axis.delete = False
    chart.x_axis.scaling.orientation = "maxMin"  # the first supplier on top, as in the table
    chart.y_axis.number_format, chart.y_axis.crosses = "#,##0", "max"
    chart.legend.position = "b"
    chart.y_axis.majorGridlines = None
    chart.height, chart.width = 4 + suppliers, 21
    sheet.add_chart(chart, f"A{row}")
