"""One supplier's tab of the list: lines to tick, real formulas, and room for what comes to mind."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import TYPE_CHECKING

from inventory.buying import BasketLine, SupplierOrder
from inventory.ledger.shop import Shop
from inventory.measures import Currency, currency, show_money
from inventory.measures.look import WARNING
from inventory.sheets.drawing import Look, SheetColumn, Worked, align, ticked
from inventory.sheets.forms.tables import Cells, Form, draw_form, whole_numbers
from inventory.sheets.formulas import Formulas, Result, decimal_of
from inventory.sheets.paper import PEN
from inventory.sheets.values import DAY_FORMAT, amount_cell, coins, days_said, money_format, show_day
from inventory.sheets.writing import plain_font, put

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

SPARE = 4
"""Empty lines under the list, with their formula, for what comes to mind."""
_PRICE, _COST, _WHY = 6, 7, 9
"""Columns under which the totals and the terms stand."""
_LOOK = Look("lines", least=PEN)
"""A line is so high that a pen finds its box."""


def list_form(shop: Shop, bill: SupplierOrder, told: Callable[[str], str] = str) -> Form:
    """A supplier's list: its lines, and spare ones with the formula of their cost. told: how a reason is said."""
    coin = currency(bill.supplier.currency)
    rows = [_line(shop, bill, line, coin, told) for line in bill.lines]
    title = f"{bill.supplier.name}, prices in {coin.code}"
    blank = {"cost": _cost(0, coin)}
    return Form("", _columns(coin), rows, SPARE, title, 2, landscape=True, look=_LOOK, blank=blank)


def _columns(coin: Currency) -> tuple[SheetColumn, ...]:
    money = f"{money_format(coin)};;;@"  # a sum of 0 stays unseen, so that spare lines look empty
    return (
        SheetColumn("done", 6, quiet=True),
        SheetColumn("part", 28, wraps=True, indent=1),
        SheetColumn("supplier code", 13, wraps=True),
        SheetColumn("pack", 10, side="right"),
        SheetColumn("packs", 7, side="right"),
        SheetColumn("price", 12, side="right", form=money),
        SheetColumn("cost", 12, side="right", form=money),
        SheetColumn("needed by", 18, side="center", form=DAY_FORMAT),
        SheetColumn("why", 36, wraps=True),
        SheetColumn("supplier", 28, own=True, quiet=True),  # for programs: the page has it at its head
    )


def _line(
    shop: Shop, bill: SupplierOrder, line: BasketLine, coin: Currency, told: Callable[[str], str]
) -> Cells:
    part = shop.catalogue.part(line.offer.part)
    return {
        "part": part.name,
        "supplier code": line.offer.code,
        "pack": amount_cell(line.offer.pack, part.unit),
        "packs": line.packs,
        "price": coins(line.price, coin),
        "cost": _cost(line.price * line.packs, coin),
        "needed by": line.needed_by,
        "why": told(line.reasons[0]) if line.reasons else "",
        "supplier": bill.supplier.name,
    }


def _cost(minor: int, coin: Currency) -> Worked:
    return Worked("=E{row}*F{row}", coins(minor, coin))


def write_supplier(sheet: Worksheet, shop: Shop, bill: SupplierOrder, formulas: Formulas) -> None:
    """Fill a supplier's tab."""
    form = list_form(shop, bill, days_said)
    draw_form(sheet, form, formulas)
    for number in range(2, form.last + 1):
        ticked(sheet.cell(number, 1))
    whole_numbers(sheet, [form.range("packs")], "Packs are whole numbers; 0 leaves the line out.")
    coin = currency(bill.supplier.currency)
    last = _totals(sheet, totals_row(bill), shop, bill, coin, formulas)
    sheet.print_area = f"A1:{form.letter('why')}{last}"


def totals_row(bill: SupplierOrder) -> int:
    """The row of a supplier's tab that holds the goods; postage and total follow."""
    return len(bill.lines) + SPARE + 3


def rate_of(shop: Shop, bill: SupplierOrder) -> Fraction | None:
    """The shop's coin for one of the supplier's, None where they are the same."""
    coin = currency(bill.supplier.currency)
    if coin.code == shop.currency.code:
        return None
    minor = shop.rate(coin.code) or Fraction(0)
    return minor * coin.scale / shop.currency.scale


def _totals(
    sheet: Worksheet, row: int, shop: Shop, bill: SupplierOrder, coin: Currency, formulas: Formulas
) -> int:
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


def _sums(row: int, shop: Shop, bill: SupplierOrder, coin: Currency) -> list[tuple[str, str, Result, str]]:
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


def _postage(row: int, bill: SupplierOrder, coin: Currency) -> str:
    terms = bill.supplier
    free = f"SUM(E2:E{row - 1})=0"
    if terms.free_from is not None:
        free = f"OR({free},G{row}>={coins(terms.free_from, coin)})"
    return f"=IF({free},0,{coins(terms.postage, coin)})"


def _terms(sheet: Worksheet, row: int, bill: SupplierOrder, coin: Currency, formulas: Formulas) -> None:
    terms = bill.supplier
    if terms.minimum_order:
        least = coins(terms.minimum_order, coin)
        told = f"under the minimum order of {show_money(terms.minimum_order, coin)}"
        under = 0 < bill.goods < terms.minimum_order
        formula = f'=IF(AND(G{row}>0,G{row}<{least}),"{told}","")'
        formulas.put(sheet.cell(row, _WHY), formula, told if under else "")
        sheet.cell(row, _WHY).font = plain_font(bold=True, color=WARNING)
    if terms.free_from is not None:
        put(sheet.cell(row + 1, _WHY), f"free from {show_money(terms.free_from, coin)} of goods on")
    if bill.arrives is not None:
        put(sheet.cell(row + 2, _WHY), f"arrives {show_day(bill.arrives, year=False)} if ordered today")
