"""The first tab of the list: what is bought from whom, what it comes to in the shop's coin, and what to know."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING

from inventory.buying import SupplierOrder
from inventory.ledger.shop import Shop
from inventory.measures import currency
from inventory.reports.purchasing.shopping import Shopping
from inventory.reports.purchasing.shopping_words import (
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
from inventory.sheets.drawing import (
    Cell,
    Look,
    SheetColumn,
    Worked,
    draw_headings,
    draw_row,
    draw_sentences,
    line_above,
)
from inventory.sheets.formulas import Formulas, decimal_of
from inventory.sheets.purchasing.list_supplier import SPARE, rate_of, totals_row
from inventory.sheets.values import DAY_FORMAT, coins, days_said, money_format, show_day
from inventory.sheets.writing import link, page_head, plain_font, print_ready

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

WIDTHS = (40, 8, 18, 18, 18, 17)
Tabs = Sequence[tuple[SupplierOrder, str]]


def write_summary(sheet: Worksheet, shop: Shop, result: Shopping, tabs: Tabs, formulas: Formulas) -> None:
    """Fill the summary. tabs: every bill with the name of its tab."""
    draw_headings(sheet, _columns(shop))
    print_ready(sheet)
    page_head(sheet, f"Supplier lists of {show_day(shop.today)}")
    for row, (bill, title) in enumerate(tabs, start=2):
        _row(sheet, row, shop, bill, title, formulas)
    _together(sheet, len(tabs) + 2, shop, result, formulas)
    row = len(tabs) + 4
    for title, sentences in _blocks(shop, result):
        row = draw_sentences(sheet, row, title, [days_said(one) for one in sentences], WIDTHS)


def _columns(shop: Shop) -> list[SheetColumn]:
    coin, form = shop.currency.code, money_format(shop.currency)
    sums = (f"goods, {coin}", f"postage, {coin}", "total")
    return [
        SheetColumn("supplier", WIDTHS[0]),
        SheetColumn("lines", WIDTHS[1], side="right"),
        *(
            SheetColumn(name, width, side="right", form=form)
            for name, width in zip(sums, WIDTHS[2:], strict=False)
        ),
        SheetColumn("arrives", WIDTHS[5], side="center", form=DAY_FORMAT),
    ]


def _row(sheet: Worksheet, row: int, shop: Shop, bill: SupplierOrder, title: str, formulas: Formulas) -> None:
    tab, goods = f"'{title}'", totals_row(bill)
    rate = rate_of(shop, bill)
    times = "" if rate is None else f"*{tab}!G{goods + 3}"
    one = (rate or 1) * Fraction(1, currency(bill.supplier.currency).scale)
    lines = f'=COUNTIF({tab}!E2:E{len(bill.lines) + SPARE + 1},">0")'
    cells: list[Cell] = [
        bill.supplier.name,
        Worked(lines, len(bill.lines)),
        Worked(f"={tab}!G{goods}{times}", decimal_of(one * bill.goods)),
        Worked(f"={tab}!G{goods + 1}{times}", decimal_of(one * bill.postage)),
        Worked(_whole_coins(f"C{row}+D{row}", shop), coins(bill.landed, shop.currency)),
        bill.arrives,
    ]
    draw_row(sheet, row, _columns(shop), cells, Look(""), formulas)
    link(sheet.cell(row, 1), title)


def _whole_coins(sum_: str, shop: Shop) -> str:
    """A formula that rounds a sum up to a whole coin, after binary fractions' own dust is swept off."""
    return f"=ROUNDUP(ROUND({sum_},9),{shop.currency.exponent})"


def _together(sheet: Worksheet, row: int, shop: Shop, result: Shopping, formulas: Formulas) -> None:
    basket = result.basket
    lines = f"=SUM(B2:B{row - 1})" if basket.bills else "=0"
    cells: list[Cell] = ["together", Worked(lines, len(basket.lines))]
    for first, last, amount in (
        ("C", "C", basket.goods),
        ("D", "D", basket.postage),
        ("C", "D", basket.total),
    ):
        sum_ = f"SUM({first}2:{last}{row - 1})" if basket.bills else "0"
        cells.append(Worked(_whole_coins(sum_, shop), coins(amount, shop.currency)))
    draw_row(sheet, row, _columns(shop), [*cells, None], Look(""), formulas)
    for column in range(1, len(WIDTHS) + 1):
        sheet.cell(row, column).font = plain_font(bold=True)
        line_above(sheet.cell(row, column))


def _blocks(shop: Shop, result: Shopping) -> Iterable[tuple[str, list[str]]]:
    until = f"What is wanted until {show_day(result.until)}, worked out on {show_day(shop.today)}."
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
    yield "Check", list(result.warnings)
    yield "Inspect", [inspect(one) for one in result.inspections]
