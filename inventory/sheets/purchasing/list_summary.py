"""The first tab of the list: what is bought from whom, what it comes to in the shop's coin, and what to know."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING

from inventory.buying import Bill
from inventory.jobs.purchasing.shopping import Shopping
from inventory.jobs.purchasing.shopping_words import (
    certainty,
    comes_late,
    inspect,
    late_ones,
    late_parcels,
    left_off,
    nearly,
    not_on_list,
    other_lists,
    within_budget,
)
from inventory.jobs.shop import Shop
from inventory.measures import currency, show_date
from inventory.sheets.drawing import ROW_POINTS, align, set_height
from inventory.sheets.formulas import Formulas, decimal_of
from inventory.sheets.purchasing.list_supplier import SPARE, rate_of, totals_row
from inventory.sheets.values import coins, money_format
from inventory.sheets.writing import heading, link, page_head, plain_font, print_ready, put

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

WIDTHS = (40, 8, 18, 18, 18, 14)
_CM_A_ROW = ROW_POINTS / 72 * 2.54
_GOODS, _POSTAGE = "5B7553", "D9B45B"
"""Bars of the chart: a moss green and a straw yellow, apart in grey print too."""

MOST_CM = 12
"""Height of the chart at most: it stands on the first page with its table."""

Tabs = Sequence[tuple[Bill, str]]


def write_summary(sheet: Worksheet, shop: Shop, result: Shopping, tabs: Tabs, formulas: Formulas) -> None:
    """Fill the summary. tabs: every bill with the name of its tab."""
    coin = shop.currency.code
    named = ("supplier", "lines", f"goods, {coin}", f"postage, {coin}", "total", "here on")
    for at, (name, width) in enumerate(zip(named, WIDTHS, strict=True), start=1):
        heading(sheet.cell(1, at), name)
        sheet.column_dimensions["ABCDEF"[at - 1]].width = width
        if at > 1:
            align(sheet.cell(1, at), "center" if at == len(WIDTHS) else "right", top=True)
    print_ready(sheet)
    page_head(sheet, f"Supplier lists of {show_date(shop.today)}")
    for row, (bill, title) in enumerate(tabs, start=2):
        _row(sheet, row, shop, bill, title, formulas)
    _together(sheet, len(tabs) + 2, shop, result, formulas)
    row = len(tabs) + 4
    if tabs:
        row = _chart(sheet, row, len(tabs), coin)
    for title, sentences in _blocks(shop, result):
        row = _block(sheet, row, title, sentences)


def _row(sheet: Worksheet, row: int, shop: Shop, bill: Bill, title: str, formulas: Formulas) -> None:
    tab, goods = f"'{title}'", totals_row(bill)
    put(sheet.cell(row, 1), bill.supplier.name)
    link(sheet.cell(row, 1), title)
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
    from openpyxl.styles import Border, Side

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
        sheet.cell(row, column).font = plain_font(bold=True)
        sheet.cell(row, column).border = Border(top=Side(style="thin"))


def _money(sheet: Worksheet, row: int, shop: Shop) -> None:
    for column in (3, 4, 5):
        sheet.cell(row, column).number_format = money_format(shop.currency)
    for column in (2, 3, 4, 5):
        align(sheet.cell(row, column), "right")
    align(sheet.cell(row, 6), "center")


def _blocks(shop: Shop, result: Shopping) -> Iterable[tuple[str, list[str]]]:
    until = f"What is wanted until {show_date(result.until)}, worked out on {show_date(shop.today)}."
    if result.basket.bills:
        yield (
            "This list",
            [
                until,
                certainty(shop, result),
                *within_budget(result.basket.choice),
                *other_lists(shop, result),
            ],
        )
    else:
        yield "This list", [until, "Nothing can be ordered." if result.demands else "Nothing is wanted."]
    yield "Late parcels", list(late_parcels(shop, result))
    yield "Too late", [comes_late(shop, one) for one in late_ones(result)]
    yield "Not on the list", [not_on_list(shop, one) for one in left_off(result)]
    yield "Nearly", [nearly(shop, one) for one in result.misses]
    yield "Mind", list(result.warnings)
    yield "Inspect", [inspect(one) for one in result.inspections]


def _block(sheet: Worksheet, row: int, title: str, sentences: Sequence[str]) -> int:
    """A title and its sentences across the table's width; the next free row."""
    if not sentences:
        return row
    put(sheet.cell(row, 1), title)
    sheet.cell(row, 1).font = plain_font(bold=True)
    for at, text in enumerate(sentences, start=row + 1):
        put(sheet.cell(at, 1), text)
        align(sheet.cell(at, 1), None, top=True, wraps=True)
        sheet.merge_cells(start_row=at, end_row=at, start_column=1, end_column=len(WIDTHS))
        set_height(sheet, at, (text, sum(WIDTHS)))
    return row + len(sentences) + 2


def _chart(sheet: Worksheet, row: int, suppliers: int, coin: str) -> int:
    """Goods and postage a supplier, stacked, drawn from the table above so that it follows an edited list.

    Returns the next free row.
    """
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
    chart.height, chart.width = min(3.5 + 0.9 * suppliers, MOST_CM), 21
    sheet.add_chart(chart, f"A{row}")
    return row + ceil(chart.height / _CM_A_ROW) + 1
