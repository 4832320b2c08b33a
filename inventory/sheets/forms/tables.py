"""Forms: tables that go out to be filled on paper, in a spreadsheet or on a phone, as workbook tabs or CSV files.

One description of the columns serves both, so that a form comes back under the same headings whatever it was sent as.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from inventory.sheets.drawing import ROW_POINTS, align, set_height
from inventory.sheets.writing import CsvTable, Value, heading, page_head, print_ready, put

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

Cells = Mapping[str, Value]
"""The values of one row by heading."""
HEIGHT = 27
"""Points of a row to fill: room for a pen, and for a thumb."""
GROUND, ABSENT, PLAIN = "FBF8EF", "D9D9D9", "FFFFFF"
"""Grounds of a cell that waits to be filled, and of one there is nothing to fill into."""


@dataclass(frozen=True, slots=True)
class Field:
    """A column of a form. width: in digits; note: shown at its heading; own: not printed, it is for this program."""

    heading: str
    width: float
    note: str = ""
    fill: bool = False
    right: bool = False
    own: bool = False


@dataclass(frozen=True, slots=True)
class Form:
    """One table to fill. spare: empty rows under it; keep: columns that stay in sight; title: above each page.

    height: points of a row at least.
    """

    name: str
    fields: tuple[Field, ...]
    rows: Sequence[Cells]
    spare: int = 0
    title: str = ""
    keep: int = 1
    landscape: bool = False
    height: float = HEIGHT

    @property
    def last(self) -> int:
        """The last row that is there to be filled; row 1 holds the headings."""
        return len(self.rows) + self.spare + 1

    def plain(self) -> CsvTable:
        """Headings and rows as a CSV file has them."""
        headings = [one.heading for one in self.fields]
        return headings, [[row.get(name) for name in headings] for row in self.rows]

    def letter(self, name: str) -> str:
        """The letter of the column of this heading."""
        from openpyxl.utils import get_column_letter

        return get_column_letter([one.heading for one in self.fields].index(name) + 1)

    def range(self, name: str) -> str:
        """The cells to fill under a heading."""
        return f"{self.letter(name)}2:{self.letter(name)}{self.last}"


def draw_form(sheet: Worksheet, form: Form) -> None:
    """Fill a tab with a form: frozen headings with their notes, cells to fill marked, ready for A4."""
    from openpyxl.comments import Comment
    from openpyxl.utils import get_column_letter

    for at, one in enumerate(form.fields, start=1):
        cell = sheet.cell(1, at)
        heading(cell, one.heading, required=one.fill)
        align(cell, "right" if one.right else None, top=True, wraps=True, indent=one.right)
        sheet.column_dimensions[get_column_letter(at)].width = one.width
        if one.note:
            cell.comment = Comment(one.note, "kitdrawer", height=90, width=240)
    lines = max(len(wrap(one.heading, max(int(one.width) - 2, 4))) for one in form.fields if not one.own)
    sheet.row_dimensions[1].height = ROW_POINTS * lines + 3
    for number in range(2, form.last + 1):
        given = form.rows[number - 2] if number - 2 < len(form.rows) else None
        _row(sheet, number, form, given)
    page(sheet, form.title, form.last, form)


def _row(sheet: Worksheet, number: int, form: Form, given: Cells | None) -> None:
    told: list[tuple[str, int]] = []
    for at, one in enumerate(form.fields, start=1):
        cell, value = sheet.cell(number, at), (given or {}).get(one.heading)
        if value not in (None, ""):
            put(cell, value)
        told.append((str(value or ""), int(one.width)))
        _ruled(cell, GROUND if (one.fill or (given is None and not one.own)) else PLAIN)
        align(cell, "right" if one.right else "left", wraps=not one.right, indent=one.right)
    set_height(sheet, number, *told, least=form.height)


def _ruled(cell: Any, ground: str) -> None:
    from openpyxl.styles import Border, PatternFill, Side

    light = Side(style="thin", color="BFBFBF")
    cell.border = Border(light, light, light, light)
    if ground != PLAIN:
        cell.fill = PatternFill("solid", fgColor=ground)


def grey(cell: Any) -> None:
    """Show that nothing can be filled in here."""
    _ruled(cell, ABSENT)


def page(sheet: Worksheet, title: str, last: int, form: Form) -> None:
    """A4 as wide as the columns that are printed; the title above each page, headings and first columns in sight."""
    from openpyxl.utils import get_column_letter

    print_ready(sheet)
    printed = max(at for at, one in enumerate(form.fields, start=1) if not one.own)
    sheet.print_area = f"A1:{get_column_letter(printed)}{last}"
    sheet.freeze_panes = f"{get_column_letter(form.keep + 1)}2"
    narrow(sheet, landscape=form.landscape)
    page_head(sheet, title)


def narrow(sheet: Worksheet, *, landscape: bool) -> None:
    """Small margins, upright or across."""
    sheet.page_setup.orientation = "landscape" if landscape else "portrait"
    margins = sheet.page_margins
    margins.left = margins.right = 0.4
    margins.top, margins.bottom, margins.header, margins.footer = 0.7, 0.6, 0.3, 0.3


def whole_numbers(sheet: Worksheet, ranges: Iterable[str], said: str) -> None:
    """Let these cells take whole numbers from 0 on; said: what the program shows otherwise."""
    _rule(sheet, ranges, said, "whole", "0")


def weights(sheet: Worksheet, ranges: Iterable[str], said: str) -> None:
    """Let these cells take numbers from 0 on, and texts: `2.1 oz` is a weight too, read when the sheet comes back."""
    for one in ranges:
        first = one.split(":")[0]
        _rule(sheet, [one], said, "custom", f"NOT(AND(ISNUMBER({first}),{first}<0))")


def _rule(sheet: Worksheet, ranges: Iterable[str], said: str, kind: str, formula: str) -> None:
    from openpyxl.worksheet.datavalidation import DataValidation

    rule = DataValidation(kind, operator="greaterThanOrEqual", formula1=formula, allow_blank=True)  # type: ignore[arg-type]  # one of its words
    rule.errorTitle, rule.error, rule.showErrorMessage = "Not taken", said, True
    for one in ranges:
        rule.add(one)
    sheet.add_data_validation(rule)


def offer(sheet: Worksheet, cells: str, formula: str) -> None:
    """A drop-down list that also lets other names through: a name may be newer than the form."""
    from openpyxl.worksheet.datavalidation import DataValidation

    rule = DataValidation("list", formula, allow_blank=True, showErrorMessage=False)
    rule.add(cells)
    sheet.add_data_validation(rule)
