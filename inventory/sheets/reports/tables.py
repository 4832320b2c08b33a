"""The tables of the Sunday-night workbook: headings, widths, and rows of plain values and formulas."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from textwrap import wrap
from typing import TYPE_CHECKING

from inventory.jobs.sessions.reconciling.outcome import SessionDifference, WeekendReport
from inventory.measures import STEPS
from inventory.sheets.drawing import ROW_POINTS, align
from inventory.sheets.forms.tables import HEIGHT
from inventory.sheets.formulas import Formulas, Result, decimal_of
from inventory.sheets.values import coins, money_format
from inventory.sheets.writing import Value, heading, plain_font, put

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

NUMBER, SHARE, SIGNED = "#,##0.###", "0.0%", "+#,##0.###;-#,##0.###;0"
LEAST = HEIGHT - 7
"""Points of a row that is read, not filled."""


@dataclass(frozen=True, slots=True)
class Worked:
    """A formula, with {row} for its own row, and what it comes to."""

    formula: str
    result: Result


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a report: number_format makes it one of numbers."""

    heading: str
    width: int
    number_format: str = ""


Cell = Value | Worked
Rows = Sequence[Sequence[Cell]]


def amount(steps: int) -> Fraction:
    """Thousandths as the number of units people read."""
    return Fraction(steps, STEPS)


def figure(value: Fraction) -> Decimal:
    """A rate or share as a number of a cell."""
    return decimal_of(value)


def draw(sheet: Worksheet, columns: Sequence[Column], rows: Rows, formulas: Formulas, first: int = 1) -> int:
    """A table with its heading in row `first`; the row after its last one. An empty one says so in a row."""
    for at, column in enumerate(columns, start=1):
        heading(sheet.cell(first, at), column.heading)
        align(sheet.cell(first, at), _side(column), top=True, wraps=True, indent=_indent(column, at))
    sheet.row_dimensions[first].height = ROW_POINTS + 4
    for number, row in enumerate(rows, start=first + 1):
        for at, (column, value) in enumerate(zip(columns, row, strict=True), start=1):
            _cell(sheet, number, at, column, value, formulas)
        lines = max(_lines(value, column.width) for column, value in zip(columns, row, strict=True))
        sheet.row_dimensions[number].height = max(LEAST, ROW_POINTS * lines + 3)
    if not rows:
        put(sheet.cell(first + 1, 1), "none")
        sheet.cell(first + 1, 1).font = plain_font(italic=True)
    return first + 1 + max(len(rows), 1)


def _cell(sheet: Worksheet, number: int, at: int, column: Column, value: Cell, formulas: Formulas) -> None:
    from openpyxl.styles import Border, Side

    cell = sheet.cell(number, at)
    if isinstance(value, Worked):
        formulas.put(cell, value.formula.format(row=number), value.result)
    else:
        put(cell, value)
    if column.number_format:
        cell.number_format = column.number_format
    cell.border = Border(bottom=Side(style="thin", color="BFBFBF"))
    align(cell, _side(column), top=True, wraps=not column.number_format, indent=_indent(column, at))


def _side(column: Column) -> str:
    return "right" if column.number_format else "left"


def _indent(column: Column, at: int) -> int:
    """Texts beside numbers stand a little off them; programs differ in what they make of an indent on the right."""
    return 0 if column.number_format or at == 1 else 1


def _lines(value: Cell, width: int) -> int:
    """Lines a text takes in a column, those of its own included."""
    if not isinstance(value, str):
        return 1
    return sum(max(1, len(wrap(line, max(int(width * 1.03), 4)))) for line in value.split("\n"))


def total(
    sheet: Worksheet, row: int, first: int, sums: Sequence[tuple[int, Result, str]], formulas: Formulas
) -> int:
    """A row `together` under a table that began below row `first`; the next free row. sums: column, result, form."""
    from openpyxl.styles import Border, Side
    from openpyxl.utils import get_column_letter

    put(sheet.cell(row, 1), "together")
    sheet.cell(row, 1).font = plain_font(bold=True)
    align(sheet.cell(row, 1), None, top=True)
    for column, result, form in sums:
        letter, cell = get_column_letter(column), sheet.cell(row, column)
        formulas.put(cell, f"=SUM({letter}{first + 1}:{letter}{row - 1})", result)
        cell.number_format, cell.font = form, plain_font(bold=True)
        cell.border = Border(top=Side(style="thin"))
        align(cell, "right", top=True)
    sheet.row_dimensions[row].height = LEAST
    return row + 1


def used_rows(report: WeekendReport) -> Rows:
    """Part, unit, expected, used, and how many times the expected that is."""
    return [
        (one.part, one.unit, amount(one.expected), amount(one.used), _times(one.expected, one.used))
        for one in report.used
    ]


def _times(expected: int, used: int) -> Worked:
    result: Result = figure(Fraction(used, expected)) if expected > 0 else ""
    return Worked('=IF(C{row}>0,D{row}/C{row},"")', result)


def difference_rows(report: WeekendReport) -> Rows:
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


def plain_rows(report: WeekendReport) -> dict[str, tuple[Sequence[Column], Rows]]:
    """The tabs that hold one table of plain values, by name."""
    return {
        "short": (
            (
                Column("order", 24),
                Column("part", 34),
                Column("short", 12, NUMBER),
                Column("unit", 9),
                Column("due", 13),
            ),
            [(one.order, one.part, amount(one.quantity), one.unit, one.due) for one in report.short],
        ),
        "to buy": (
            (Column("part", 34), Column("quantity", 12, NUMBER), Column("unit", 9), Column("why", 44)),
            [(one.part, amount(one.quantity), one.unit, one.reason) for one in report.to_buy],
        ),
    }


def rate_rows(report: WeekendReport) -> Rows:
    """Part, per, before, after, unit, change."""
    return [
        (one.part, one.per, figure(one.before), figure(one.after), one.unit, _change(one.before, one.after))
        for one in report.rates
    ]


def loss_rows(report: WeekendReport) -> Rows:
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


def money(report: WeekendReport) -> tuple[str, Callable[[int], Decimal]]:
    """The number format of the shop's coin, and what turns minor units into a cell's number."""
    return money_format(report.currency), lambda minor: coins(minor, report.currency)
