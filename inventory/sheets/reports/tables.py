"""The tables of the Sunday-night workbook: headings, widths, and rows of plain values and formulas."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from inventory.jobs.sessions.reconciling.outcome import SessionDifference, SessionReport
from inventory.measures import STEPS
from inventory.sheets.drawing import (
    ROW_POINTS,
    Cell,
    Look,
    SheetColumn,
    Worked,
    align,
    draw_table,
    line_above,
)
from inventory.sheets.forms.tables import HEIGHT
from inventory.sheets.formulas import Formulas, Result, decimal_of
from inventory.sheets.values import coins, money_format
from inventory.sheets.writing import plain_font, put

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

NUMBER, SHARE, SIGNED = "#,##0.###", "0.0%", "+#,##0.###;-#,##0.###;0"
LEAST = HEIGHT - 7
"""Points of a row that is read, not filled."""


LOOK = Look(top=True, least=LEAST, more=3, letters=1.03)
Rows = Sequence[Sequence[Cell]]


def amount(steps: int) -> Fraction:
    """Thousandths as the number of units people read."""
    return Fraction(steps, STEPS)


def figure(value: Fraction) -> Decimal:
    """A rate or share as a number of a cell."""
    return decimal_of(value)


def columns(*said: tuple[str, float] | tuple[str, float, str]) -> tuple[SheetColumn, ...]:
    """Columns by heading, width and, of numbers, their format.

    Texts beside numbers stand a little off them; programs differ in what they make of an indent on the right.
    """
    return tuple(
        SheetColumn(one[0], one[1], side="right", form=one[2])
        if len(one) == 3
        else SheetColumn(one[0], one[1], side="left", wraps=True, indent=int(at > 0))
        for at, one in enumerate(said)
    )


def draw(sheet: Worksheet, of: Sequence[SheetColumn], rows: Rows, formulas: Formulas, first: int = 1) -> int:
    """A table with its heading in row `first`; the row after its last one. An empty one says so in a row."""
    after = draw_table(sheet, of, rows, LOOK, formulas, first=first, height=ROW_POINTS + 4)
    if rows:
        return after
    put(sheet.cell(after, 1), "none")
    sheet.cell(after, 1).font = plain_font(italic=True)
    return after + 1


def total(
    sheet: Worksheet, row: int, first: int, sums: Sequence[tuple[int, Result, str]], formulas: Formulas
) -> int:
    """A row `together` under a table that began below row `first`; the next free row. sums: column, result, form."""
    from openpyxl.utils import get_column_letter

    put(sheet.cell(row, 1), "together")
    sheet.cell(row, 1).font = plain_font(bold=True)
    align(sheet.cell(row, 1), None, top=True)
    for column, result, form in sums:
        letter, cell = get_column_letter(column), sheet.cell(row, column)
        formulas.put(cell, f"=SUM({letter}{first + 1}:{letter}{row - 1})", result)
        cell.number_format, cell.font = form, plain_font(bold=True)
        line_above(cell)
        align(cell, "right", top=True)
    sheet.row_dimensions[row].height = LEAST
    return row + 1


def used_rows(report: SessionReport) -> Rows:
    """Part, unit, expected, used, and how many times the expected that is."""
    return [
        (one.part, one.unit, amount(one.expected), amount(one.used), _times(one.expected, one.used))
        for one in report.used
    ]


def _times(expected: int, used: int) -> Worked:
    result: Result = figure(Fraction(used, expected)) if expected > 0 else ""
    return Worked('=IF(C{row}>0,D{row}/C{row},"")', result)


def difference_rows(report: SessionReport) -> Rows:
    """Part, unit, expected, counted, difference, likely reasons."""
    return [
        (
            *(one.part, one.unit, amount(one.expected), amount(one.counted)),
            Worked("=D{row}-C{row}", figure(amount(one.difference))),
            "\n".join(_reasons(one)),
        )
        for one in report.differences
    ]


def _reasons(one: SessionDifference) -> list[str]:
    """The likely reasons, numbered, and whether the rates learn of it."""
    why = [f"{at}. {reason}" for at, reason in enumerate(one.likely, start=1)] or ["no reason was found"]
    when = ["when weighed before the session"] if one.before else []
    return [*when, *why, *([one.unlearned] if one.unlearned else [])]


def plain_rows(report: SessionReport) -> dict[str, tuple[Sequence[SheetColumn], Rows]]:
    """The tabs that hold one table of plain values, by name."""
    return {
        "short": (
            columns(("order", 24), ("part", 34), ("short", 12, NUMBER), ("unit", 9), ("due", 13)),
            [(one.order, one.part, amount(one.quantity), one.unit, one.due) for one in report.short],
        ),
        "to buy": (
            columns(("part", 34), ("quantity", 12, NUMBER), ("unit", 9), ("why", 44)),
            [(one.part, amount(one.quantity), one.unit, one.reason) for one in report.to_buy],
        ),
    }


def rate_rows(report: SessionReport) -> Rows:
    """Part, per, before, after, unit, change."""
    return [
        (one.part, one.per, figure(one.before), figure(one.after), one.unit, _change(one.before, one.after))
        for one in report.rates
    ]


def loss_rows(report: SessionReport) -> Rows:
    """Material, stage, before, after, nothing, change in points."""
    return [
        (
            *(one.material, one.stage, figure(one.before), figure(one.after), None),
            Worked("=ROUND(D{row}-C{row},3)", figure(round(one.after - one.before, 3))),
        )
        for one in report.losses
    ]


def _change(before: Fraction, after: Fraction) -> Worked:
    result: Result = figure(after / before - 1) if before > 0 else ""
    return Worked('=IF(C{row}>0,D{row}/C{row}-1,"")', result)


def money(report: SessionReport) -> tuple[str, Callable[[int], Decimal]]:
    """The number format of the shop's coin, and what turns minor units into a cell's number."""
    return money_format(report.currency), lambda minor: coins(minor, report.currency)
