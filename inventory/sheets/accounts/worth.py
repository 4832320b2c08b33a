"""The worth of the shelf for the year's end: by lot, and each part's way from the first day to the last."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

from inventory.ledger.costs import WORDS
from inventory.ledger.past.flows import GOES, KINDS, Flow
from inventory.measures import Currency
from inventory.measures.decimals import Exact
from inventory.reports.accounts.worth import TAX, StockWorth
from inventory.sheets.accounts.sums import LINES, bold, sums_row
from inventory.sheets.drawing import (
    Cell,
    Look,
    SheetColumn,
    Worked,
    draw_row,
    draw_sentences,
    draw_table,
)
from inventory.sheets.formulas import Formulas
from inventory.sheets.paper import AUTHOR
from inventory.sheets.saving import check_workbook, saving
from inventory.sheets.values import DAY_FORMAT, money_format, show_day
from inventory.sheets.writing import page_head, print_ready

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

_PLUS = {kind: "-" if kind in GOES else "+" for kind in KINDS}


def write_worth(path: Path, made: StockWorth, coin: Currency, *, overwrite: bool = False) -> None:
    """Write it as a workbook (.xlsx): worth by lot; what moved in money and in quantities; lent and due in.

    Closings and sums are formulas with their results beside them. Raises Refused where the file is there already
    (unless `overwrite`), cannot be written, or is no name for a workbook.
    """
    from openpyxl import Workbook

    check_workbook(path)
    with saving(path, overwrite=overwrite) as unfinished:
        workbook, formulas = Workbook(), Formulas()
        first = workbook.worksheets[0]
        first.title = "worth by lot"
        exact = Exact(coin.exponent)
        _by_lot(first, made, coin, formulas)
        costs = {key: [exact.money(one) for one in _steps(flow, 1)] for key, flow in made.flow.items()}
        _way(workbook.create_sheet("what moved"), made, coin, costs, formulas)
        amounts = {key: [exact.amount(one) for one in _steps(flow, 0)] for key, flow in made.flow.items()}
        _way(workbook.create_sheet("quantities"), made, None, amounts, formulas)
        _beside(workbook.create_sheet("lent and due in"), made, coin)
        workbook.properties.creator = AUTHOR
        workbook.properties.title = f"Worth at the end of {show_day(made.on)}"
        formulas.save(workbook, unfinished)


def _steps(flow: Flow, which: int) -> list[int]:
    """Opening, each kind, closing: quantities (0) or costs (1)."""
    return [flow.opening[which], *(flow.of(kind)[which] for kind in KINDS), flow.closing[which]]


def _by_lot(sheet: Worksheet, made: StockWorth, coin: Currency, formulas: Formulas) -> None:
    exact = Exact(coin.exponent)
    columns = (
        SheetColumn("part", 34, wraps=True),
        SheetColumn("kind", 9),
        SheetColumn("lot", 20, wraps=True),
        SheetColumn("received", 16, side="center", form=DAY_FORMAT),
        SheetColumn("on hand", 10, side="right", form="#,##0.###"),
        SheetColumn("unit", 8, indent=1),
        SheetColumn("worth", 15, side="right", form=money_format(coin)),
        SheetColumn(
            "cost",
            13,
            "Said; by the offer, where nobody said it; or unknown, which counts as nothing.",
            indent=1,
        ),
    )
    rows: list[list[Cell]] = [
        [
            one.part.name,
            one.part.kind,
            lot.name,
            lot.received_on,
            exact.amount(lot.quantity),
            one.part.unit,
            exact.money(lot.cost),
            WORDS[lot.cost_from],
        ]
        for one in made.parts
        for lot in one.lots
    ]
    after = draw_table(sheet, columns, rows, LINES, formulas)
    sums = Worked(f"=SUM(G2:G{after - 1})" if rows else "=0", exact.money(made.total) or 0)
    draw_row(sheet, after, columns, ["together", *[None] * 5, sums, None], Look(""), formulas)
    bold(sheet, after, len(columns))
    print_ready(sheet)
    page_head(sheet, f"Worth at the end of {show_day(made.on)}")
    sheet.auto_filter.ref = f"A1:H{max(after - 1, 1)}"
    draw_sentences(sheet, after + 2, "Check", [TAX], [column.width for column in columns])


def _way(
    sheet: Worksheet,
    made: StockWorth,
    coin: Currency | None,
    values: Mapping[str, Sequence[Decimal | None]],
    formulas: Formulas,
) -> None:
    """One row a part: before, what came, what went, now. coin: None for quantities, which have no sum."""
    form = money_format(coin, code=False) if coin else "#,##0.###"
    heads = ("before", *KINDS, "now")
    columns = (
        SheetColumn("part", 31, wraps=True),
        SheetColumn("unit", 6),
        *(SheetColumn(name, 10, side="right", form=form) for name in heads),
    )
    last = len(columns)
    letters = [chr(ord("A") + at) for at in range(last)]
    terms = "".join(f"{_PLUS[kind]}{letter}{{row}}" for kind, letter in zip(KINDS, letters[3:], strict=False))
    closing = f"={letters[2]}{{row}}{terms}"
    rows: list[list[Cell]] = [
        [
            made.named[key].name,
            coin.code if coin else made.named[key].unit,
            *row[:-1],
            Worked(closing, row[-1] or 0),
        ]
        for key, row in values.items()
    ]
    after = draw_table(sheet, columns, rows, LINES, formulas)
    if coin:
        sums_row(sheet, after, columns, list(values.values()), formulas, 3)
    print_ready(sheet)
    what = coin.code if coin else "quantities"
    page_head(sheet, f"From {show_day(made.since)} to {show_day(made.on)}, {what}")


def _beside(sheet: Worksheet, made: StockWorth, coin: Currency) -> None:
    exact = Exact(coin.exponent)
    columns = (
        SheetColumn("what", 12),
        SheetColumn("part", 40, wraps=True),
        SheetColumn("quantity", 12, side="right", form="#,##0.###"),
        SheetColumn("unit", 8, indent=1),
        SheetColumn(
            "worth",
            16,
            "What was lent: its cost. What is due in: as agreed.",
            side="right",
            form=money_format(coin),
        ),
    )
    rows: list[list[Cell]] = [
        [
            what,
            made.named[one.part].name,
            exact.amount(one.quantity),
            made.named[one.part].unit,
            exact.money(one.cost),
        ]
        for what, some in (("lent", made.lent), ("due in", made.due))
        for one in some
    ]
    draw_table(sheet, columns, rows, LINES)
    print_ready(sheet, landscape=False)
    page_head(sheet, f"Not on the shelf at the end of {show_day(made.on)}")
