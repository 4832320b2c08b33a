"""The workbook of a rehearsal: ways of buying side by side, money in stock, what runs out, what sleeps; with charts."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

from inventory.reports.rehearsed import Rehearsed, RehearsedWay
from inventory.sheets.charts import bars, keep_whole, lines
from inventory.sheets.drawing import Cell, Look, SheetColumn, draw_sentences, draw_table
from inventory.sheets.paper import AUTHOR
from inventory.sheets.saving import check_workbook, save_workbook, saving
from inventory.sheets.values import SHORT_DAY, money_format, show_day
from inventory.sheets.writing import page_head, print_ready

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

LOOK = Look(least=15)
SIZE = 12.5, 6.5
"""Centimetres of a chart of which two stand side by side."""
DRAWN = 6
"""Parts whose chance is drawn, the likeliest to run out."""


def write_rehearsal(path: Path, told: Rehearsed, *, overwrite: bool = False) -> None:
    """Write it as a workbook (.xlsx). Raises Refused for other names, and where the file is there already."""
    check_workbook(path)
    from openpyxl import Workbook

    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        workbook.remove(workbook.worksheets[0])
        for title, fill in TABS:
            _tab(workbook, title, told, fill)
        workbook.properties.creator, workbook.properties.title = AUTHOR, _title(told)
        save_workbook(workbook, unfinished)


def _title(told: Rehearsed) -> str:
    return f"The {told.weeks} weeks from {show_day(told.first)}, {told.futures} times over"


def _tab(workbook: Workbook, title: str, told: Rehearsed, fill: Any) -> None:
    sheet = workbook.create_sheet(title)
    fill(sheet, told)
    print_ready(sheet)
    page_head(sheet, _title(told))
    keep_whole(sheet)


def _ways(sheet: Worksheet, told: Rehearsed) -> None:
    coin, sums = f", {told.currency.code}", money_format(told.currency, code=False)
    columns = (
        SheetColumn("way of buying", 21),
        *(
            SheetColumn(f"orders late{more}", 8.5, side="right", form="0.0")
            for more in ("", ", low", ", high")
        ),
        *(SheetColumn(f"cost{more}", 10.5, side="right", form=sums) for more in (coin, ", low", ", high")),
        *(
            SheetColumn(f"in stock{more}", 10.5, side="right", form=sums)
            for more in (coin, ", low", ", high")
        ),
        SheetColumn("parcels", 9, side="right", form="0.0"),
        SheetColumn("sales missed", 9, "Pieces a market lacked.", side="right", form="0.0"),
        SheetColumn("saves", 9.5, side="right", form=sums),
        SheetColumn("saves at least", 9.5, side="right", form=sums),
    )
    row = draw_table(sheet, columns, [_way(told, one) for one in told.ways], LOOK, height=42)
    row = draw_sentences(sheet, row + 1, "How to read it", _sentences(told), [one.width for one in columns])
    many = len(told.ways)
    bars(sheet, f"A{row}", "Orders late", (2,), (2, many + 1), upright=False, size=SIZE)
    bars(sheet, f"G{row}", f"Cost{coin}", (5,), (2, many + 1), upright=False, form="#,##0", size=SIZE)


def _way(told: Rehearsed, one: RehearsedWay) -> list[Cell]:
    first = one is told.ways[0]
    sums = (one.cost, one.money)
    return [
        one.name,
        *(_two(figure) for figure in (one.late.mean, one.late.low, one.late.high)),
        *(_coins(told, figure) for spread in sums for figure in (spread.mean, spread.low, spread.high)),
        _two(one.parcels),
        _two(one.missed.mean) if told.markets else None,
        None if first else _coins(told, one.saves.mean),
        None if first else _coins(told, one.saves.low),
    ]


def _two(figure: float) -> Fraction:
    return Fraction(round(figure * 100), 100)


def _coins(told: Rehearsed, units: float) -> Fraction:
    """A sum of money to its smallest coin."""
    return Fraction(round(units * told.currency.scale), told.currency.scale)


def _sentences(told: Rehearsed) -> list[str]:
    return [
        "Every way lives the same futures: what is asked for, what is spoiled, how late parcels come.",
        "Of ten futures nine lie from low to high. Cost is goods and postage, less what more is there at the end "
        "than now, and what stock costs to hold; “saves” is against the first way, on average, and with 95 % surety "
        "at least.",
        f"{told.asked:.1f} orders are asked for in a future, promised ones among them. Seed {told.seed}.",
    ]


def _stock(sheet: Worksheet, told: Rehearsed) -> None:
    """Money in stock by week: the mean of each way, and between which nine in ten lie as things are."""
    sums = money_format(told.currency, code=False)
    names = [one.name for one in told.ways]
    heads = [*names, f"{names[0]}, low", f"{names[0]}, high"]
    columns = (
        SheetColumn("week to", 11, form=SHORT_DAY),
        *(SheetColumn(one, 13, side="right", form=sums) for one in heads),
    )
    now = told.ways[0].by_week
    rows: list[list[Cell]] = [
        [
            told.ends(week),
            *(_coins(told, one.by_week[week].mean) for one in told.ways),
            _coins(told, now[week].low),
            _coins(told, now[week].high),
        ]
        for week in range(told.weeks)
    ]
    draw_table(sheet, columns, rows, LOOK, height=30)
    _by_week(sheet, f"Money in stock, {told.currency.code}", len(heads), told.weeks)


def _out(sheet: Worksheet, told: Rehearsed) -> None:
    """By week how likely somebody waits for a part, as things are: the likeliest parts."""
    chances = told.ways[0].chances
    keys = _likeliest(told)[:DRAWN]
    columns = (
        SheetColumn("week to", 11, form=SHORT_DAY),
        *(SheetColumn(told.parts[key].name, 13, side="right", form="0 %") for key in keys),
    )
    rows: list[list[Cell]] = [
        [told.ends(week), *(_two(chances[key][week]) for key in keys)] for week in range(told.weeks)
    ]
    draw_table(sheet, columns, rows, LOOK, height=45)
    if keys:
        _by_week(sheet, f"Chance that somebody waits, {told.ways[0].name}", len(keys), told.weeks)


def _likeliest(told: Rehearsed) -> list[str]:
    chances = told.ways[0].chances
    return sorted(
        (key for key in chances if max(chances[key]) > 0), key=lambda key: (-max(chances[key]), key)
    )


def _parts(sheet: Worksheet, told: Rehearsed) -> None:
    """Each part that may run out as things are, with its worst week, and the chance then by each way."""
    names = [one.name for one in told.ways]
    columns = (
        SheetColumn("part", 40),
        SheetColumn("worst week to", 13, form=SHORT_DAY, side="right"),
        *(SheetColumn(name, 12, "Somebody waits for it then.", side="right", form="0.0 %") for name in names),
    )
    rows: list[list[Cell]] = []
    for key in _likeliest(told):
        row = told.ways[0].chances[key]
        at = row.index(max(row))
        then = (Fraction(round(one.chances[key][at] * 10_000), 10_000) for one in told.ways)
        rows.append([told.parts[key].name, told.ends(at), *then])
    draw_table(sheet, columns, rows, LOOK, height=30)


def _by_week(sheet: Worksheet, title: str, many: int, weeks: int) -> None:
    """Lines of so many columns below their table."""
    where = f"A{sheet.max_row + 2}"
    lines(sheet, where, title, range(2, many + 2), (2, weeks + 1), form=SHORT_DAY)


def _sleeps(sheet: Worksheet, told: Rehearsed) -> None:
    columns = (
        SheetColumn("sleeps", 40),
        SheetColumn("left over", 12, "In all but one future in twenty.", side="right", form="#,##0.#"),
        SheetColumn("unit", 8),
        SheetColumn(
            f"worth, {told.currency.code}", 12, side="right", form=money_format(told.currency, code=False)
        ),
    )
    rows: Sequence[Sequence[Cell]] = [
        [one.part.name, Fraction(one.quantity, 1000), one.part.unit, _coins(told, one.worth)]
        for one in told.sleeps
    ]
    draw_table(sheet, columns, rows, LOOK, height=30)


TABS = (("ways", _ways), ("stock", _stock), ("runs out", _out), ("parts", _parts), ("sleeps", _sleeps))
"""Every tab and what fills it."""
