"""What a piece costs as a workbook: where each coin goes, with bars; prices by rule; what it would cost otherwise."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from inventory.measures import Currency
from inventory.measures.decimals import Exact
from inventory.measures.look import MAIN, SECOND
from inventory.reports.accounts.cost import COST_OF, TAX_OF_PRICES, CostReport
from inventory.sheets.accounts.sums import LINES, bold
from inventory.sheets.charts import bars
from inventory.sheets.drawing import (
    Cell,
    Look,
    SheetColumn,
    Worked,
    draw_row,
    draw_sentences,
    draw_table,
)
from inventory.sheets.formulas import Formulas, decimal_of
from inventory.sheets.paper import AUTHOR
from inventory.sheets.saving import check_workbook, saving
from inventory.sheets.values import DAY_FORMAT, money_format, show_day
from inventory.sheets.writing import page_head, print_ready

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet


def write_cost(path: Path, made: CostReport, coin: Currency, *, overwrite: bool = False) -> None:
    """Write it as a workbook (.xlsx). Sums are formulas with their results beside them.

    Raises Refused where the file is there already (unless `overwrite`), cannot be written, or is no name for one.
    """
    from openpyxl import Workbook

    check_workbook(path)
    with saving(path, overwrite=overwrite) as unfinished:
        workbook, formulas = Workbook(), Formulas()
        first = workbook.worksheets[0]
        first.title = "goes into"
        _goes_into(first, made, coin, formulas)
        _by_kind(workbook.create_sheet("by kind"), made, coin, formulas)
        if made.prices:
            _prices(workbook.create_sheet("prices"), made, coin, formulas)
        if made.changes:
            _otherwise(workbook.create_sheet("otherwise"), made, coin, formulas)
        workbook.properties.creator = AUTHOR
        workbook.properties.title = f"What {made.what} costs, {show_day(made.on)}"
        formulas.save(workbook, unfinished)


def _title(made: CostReport, coin: Currency) -> str:
    return f"{made.what}, {made.words or 'as made'}: {made.pieces} pieces, {coin.code}, {show_day(made.on)}"


def _goes_into(sheet: Worksheet, made: CostReport, coin: Currency, formulas: Formulas) -> None:
    exact = Exact(coin.exponent)
    columns = (
        SheetColumn("what", 34, wraps=True),
        SheetColumn("kind", 12),
        SheetColumn("quantity", 11, side="right", form="#,##0.###"),
        SheetColumn("unit", 8, indent=1),
        SheetColumn("cost", 12, "Of all pieces.", side="right", form=money_format(coin, code=False)),
        SheetColumn("a piece", 12, side="right", form="#,##0.0000"),
        SheetColumn("share", 9, side="right", form="0.0 %"),
    )
    end = len(made.rows) + 2
    rows: list[list[Cell]] = [
        [
            row.name,
            row.of,
            (row.quantity if row.unit == "min" else exact.amount(row.quantity)) if row.quantity else None,
            row.unit,
            exact.money(row.cost),
            Worked(f"=E{{row}}/{made.pieces}", _part(row.cost, made.pieces, coin)),
            Worked(f"=IF(E${end}=0,0,E{{row}}/E${end})", _part(row.cost, made.total, None)),
        ]
        for row in made.rows
    ]
    after = draw_table(sheet, columns, rows, LINES, formulas)
    sums = Worked(f"=SUM(E2:E{after - 1})" if rows else "=0", exact.money(made.total) or 0)
    each = Worked(f"=E{after}/{made.pieces}", _part(made.total, made.pieces, coin))
    draw_row(sheet, after, columns, ["together", *[None] * 3, sums, each, None], Look(""), formulas)
    bold(sheet, after, len(columns))
    print_ready(sheet, landscape=False)
    page_head(sheet, _title(made, coin))
    unknown = [f"Nobody knows what {name} cost: counted as nothing." for name in made.unknown]
    draw_sentences(sheet, after + 2, "Check", unknown, [column.width for column in columns])


def _part(cost: int, of: int, coin: Currency | None) -> Decimal:
    return decimal_of(Fraction(cost, of * (coin.scale if coin else 1))) if of else Decimal(0)


def _by_kind(sheet: Worksheet, made: CostReport, coin: Currency, formulas: Formulas) -> None:
    exact = Exact(coin.exponent)
    columns = (
        SheetColumn("kind", 16),
        SheetColumn("a piece", 14, side="right", form=money_format(coin, code=False)),
        SheetColumn("of all pieces", 14, side="right", form=money_format(coin, code=False)),
    )
    last = len(made.rows) + 1
    kinds = [of for of in COST_OF if of in made.by_kind]
    rows: list[list[Cell]] = [
        [
            of,
            Worked(f"=C{{row}}/{made.pieces}", _part(made.by_kind[of], made.pieces, coin)),
            Worked(
                f"=SUMIF('goes into'!B$2:B${last},A{{row}},'goes into'!E$2:E${last})",
                exact.money(made.by_kind[of]) or 0,
            ),
        ]
        for of in kinds
    ]
    after = draw_table(sheet, columns, rows, LINES, formulas)
    print_ready(sheet, landscape=False)
    page_head(sheet, _title(made, coin))
    _bars(sheet, f"Where each coin of a piece goes, {coin.code}", len(kinds), after + 1, MAIN)


def _bars(sheet: Worksheet, title: str, many: int, row: int, colour: str) -> None:
    """One bar a row, the first on top; a single one says nothing."""
    if many > 1:
        bars(
            sheet,
            f"A{row}",
            title,
            (2,),
            (2, many + 1),
            upright=False,
            form="#,##0.00",
            below=colour == SECOND,  # what it costs more, or less
            colours=(colour,),
            size=(17, 4 + 0.8 * many),
        )


def _prices(sheet: Worksheet, made: CostReport, coin: Currency, formulas: Formulas) -> None:
    exact = Exact(coin.exponent)
    form = money_format(coin, code=False)
    columns = (
        SheetColumn("price by", 24),
        SheetColumn("price", 17, side="right", form=form),
        SheetColumn("margin", 10, "Of the price.", side="right", form="0.0 %"),
        SheetColumn("markup", 10, "Of the cost.", side="right", form="0.0 %"),
        SheetColumn("an hour", 12, "What an hour of the work earns at it.", side="right", form=form),
    )
    cost = f"{made.total}/{made.pieces * coin.scale}"
    rows: list[list[Cell]] = [
        [
            one.rule,
            exact.money(one.price),
            Worked(f"=IF(B{{row}}=0,0,(B{{row}}-{cost})/B{{row}})", decimal_of(one.margin or Fraction(0))),
            Worked(
                f"=(B{{row}}-{cost})/({cost})" if made.total else "=0", decimal_of(one.markup or Fraction(0))
            ),
            exact.money(one.an_hour),
        ]
        for one in made.prices
    ]
    after = draw_table(sheet, columns, rows, LINES, formulas)
    print_ready(sheet, landscape=False)
    page_head(sheet, _title(made, coin))
    draw_sentences(
        sheet, after + 1, "Check", [f"Prices are {TAX_OF_PRICES}."], [column.width for column in columns]
    )
    if (sold := made.before) is not None:
        row = after + 4
        for at, (name, value) in enumerate(
            (
                ("pieces sold", sold.pieces),
                *((name, exact.money(v)) for name, v in (("lowest", sold.low), ("median", sold.median))),
                *((name, exact.money(v)) for name, v in (("highest", sold.high), ("last", sold.last))),
            )
        ):
            cells: Sequence[Cell] = [name, value, None, None, None]
            draw_row(sheet, row + at, columns, cells, Look(""), formulas)
            if not at:
                sheet.cell(row, 2).number_format = "0"
        draw_row(sheet, row + 5, columns, ["last on", sold.last_on, None, None, None], Look(""), formulas)
        sheet.cell(row + 5, 2).number_format = DAY_FORMAT


def _otherwise(sheet: Worksheet, made: CostReport, coin: Currency, formulas: Formulas) -> None:
    exact = Exact(coin.exponent)
    form = money_format(coin, code=False)
    columns = (
        SheetColumn("made otherwise", 34, wraps=True),
        SheetColumn("a piece more", 13, "Less, below 0.", side="right", form=form),
        SheetColumn("all more", 12, side="right", form=form),
        SheetColumn("what", 10, indent=1),
        SheetColumn("because", 30, wraps=True),
    )
    known = sorted(
        (one for one in made.changes if one.difference is not None), key=lambda one: one.difference or 0
    )
    rows: list[list[Cell]] = [
        [
            f"{one.value} thicker" if one.what == "thicker" else one.value,
            None
            if one.difference is None
            else Worked(f"=C{{row}}/{made.pieces}", _part(one.difference, made.pieces, coin)),
            exact.money(one.difference),
            one.what,
            one.because,
        ]
        for one in [*known, *(one for one in made.changes if one.difference is None)]
    ]
    after = draw_table(sheet, columns, rows, LINES, formulas)
    print_ready(sheet)
    page_head(sheet, _title(made, coin))
    _bars(sheet, f"What a piece costs more made otherwise, {coin.code}", len(known), after + 1, SECOND)
