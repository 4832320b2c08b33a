"""Earnings as a workbook: by month with a chart, by everything else, and each sale."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from inventory.measures import Currency
from inventory.measures.decimals import Exact
from inventory.reports.accounts.earned import ESTIMATE, GROUPS, By, Earned, EarnedSums
from inventory.sheets.accounts.sums import LINES, sums_row
from inventory.sheets.charts import TALLEST, bars, keep_whole
from inventory.sheets.drawing import Cell, SheetColumn, Worked, draw_sentences, draw_table
from inventory.sheets.formulas import Formulas
from inventory.sheets.paper import AUTHOR
from inventory.sheets.saving import check_workbook, saving
from inventory.sheets.values import DAY_FORMAT, MONTH_FORMAT, money_format, show_day
from inventory.sheets.writing import page_head, print_ready

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

MONEY = ("sold for", "materials", "supplies", "packaging", "tools", "spoiled", "other", "spent")
"""Columns of money, in order; what is left follows as a formula."""


def write_earned(path: Path, made: Earned, coin: Currency, *, overwrite: bool = False) -> None:
    """Write it as a workbook (.xlsx): a tab a way to sort it, and one of every sale and loss.

    What is left and the sums are formulas with their results beside them. Raises Refused where the file is there
    already (unless `overwrite`), cannot be written, or is no name for a workbook.
    """
    from openpyxl import Workbook

    check_workbook(path)
    with saving(path, overwrite=overwrite) as unfinished:
        workbook, formulas = Workbook(), Formulas()
        workbook.remove(workbook.worksheets[0])
        for by in GROUPS:
            _sorted_by(workbook.create_sheet(f"by {by}"), made, coin, by, formulas)
        _each(workbook.create_sheet("each"), made, coin, formulas)
        workbook.properties.creator = AUTHOR
        workbook.properties.title = f"Earned from {show_day(made.first)} to {show_day(made.last)}"
        formulas.save(workbook, unfinished)


def _money(coin: Currency) -> list[SheetColumn]:
    form = money_format(coin, code=False)
    return [SheetColumn(name, 10, side="right", form=form) for name in (*MONEY, "left")]


def _cells(sums: EarnedSums, coin: Currency, first: int) -> list[Cell]:
    """Money from column number `first` (1 is A) on, and what is left of it as a formula."""
    exact = Exact(coin.exponent)
    costs = (sums.materials, sums.supplies, sums.packaging, sums.tools, sums.spoiled, sums.other, sums.outlay)
    at, next_, last = (chr(ord("A") + first - 1 + step) for step in (0, 1, len(costs)))
    formula = f"={at}{{row}}-SUM({next_}{{row}}:{last}{{row}})"
    return [*(exact.money(one) for one in (sums.sold, *costs)), Worked(formula, exact.money(sums.left) or 0)]


def _sorted_by(sheet: Worksheet, made: Earned, coin: Currency, by: By, formulas: Formulas) -> None:
    columns = [
        SheetColumn(by, 12, side="center", form=MONTH_FORMAT)
        if by == "month"
        else SheetColumn(by, 24, wraps=True),
        SheetColumn("pieces", 8, side="right"),
        *_money(coin),
        SheetColumn("hours", 8, side="right", form="0.0"),
    ]
    groups = made.by(by)
    rows: list[list[Cell]] = [
        [_name(name, by), sums.pieces, *_cells(sums, coin, 3), round(sums.hours, 2)]
        for name, sums in groups.items()
    ]
    after = draw_table(sheet, columns, rows, LINES, formulas)
    every = [[cell.result if isinstance(cell, Worked) else cell for cell in row[1:]] for row in rows]
    sums_row(sheet, after, columns, every, formulas)
    print_ready(sheet)
    page_head(sheet, f"Earned from {show_day(made.first)} to {show_day(made.last)}, {coin.code}, by {by}")
    widths = [column.width for column in columns]
    row = draw_sentences(sheet, after + 2, "Check", [ESTIMATE], widths)
    if len(groups) > 3:  # fewer are read sooner than looked at
        _chart(sheet, len(groups), by, coin, row + 1)
        keep_whole(sheet)


def _name(group: str, by: By) -> str | date:
    """A month as its first day, which is shown as a month."""
    return date.fromisoformat(f"{group}-01") if by == "month" else group


def _chart(sheet: Worksheet, many: int, by: By, coin: Currency, row: int) -> None:
    """Sold for and left side by side."""
    upright = by == "month"
    bars(
        sheet,
        f"A{row}",
        f"Sold for and left, {coin.code}, by {by}",
        (3, 11),
        (2, many + 1),
        upright=upright,
        form="#,##0",
        below=True,
        size=(24, 7.5 if upright else min(max(7.5, 0.7 * many + 5), TALLEST)),
    )


_WIDER = {"pattern": 22, "material": 18, "session": 20}


def _each(sheet: Worksheet, made: Earned, coin: Currency, formulas: Formulas) -> None:
    columns = [
        SheetColumn("day", 16, side="center", form=DAY_FORMAT),
        *(SheetColumn(by, _WIDER.get(by, 14), wraps=True) for by in GROUPS[1:]),
        SheetColumn("pieces", 8, side="right"),
        *_money(coin),
        SheetColumn("spent on", 16, wraps=True, indent=1),
    ]
    rows: list[Sequence[Cell]] = [
        [
            part.on,
            *(part.groups[by] for by in GROUPS[1:]),
            part.sums.pieces,
            *_cells(part.sums, coin, 9),
            ", ".join(part.sums.spent),
        ]
        for part in sorted(made.parts, key=lambda one: one.on)
    ]
    draw_table(sheet, columns, rows, LINES, formulas)
    print_ready(sheet)
    sheet.page_setup.fitToWidth = 2  # who and what on one page, the money beside it on the next
    sheet.print_title_cols = "A:A"
    page_head(sheet, f"Earned from {show_day(made.first)} to {show_day(made.last)}, {coin.code}, each sale")
    sheet.auto_filter.ref = f"A1:{chr(ord('A') + len(columns) - 1)}{len(rows) + 1}"
