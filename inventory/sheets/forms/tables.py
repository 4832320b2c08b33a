"""Forms: tables that go out to be filled on paper, in a spreadsheet or on a phone, as workbook tabs or CSV files.

One description of the columns serves both, so that a form comes back under the same headings whatever it was sent as.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from textwrap import wrap
from typing import TYPE_CHECKING

from inventory.sheets.drawing import ROW_POINTS, Cell, Look, SheetColumn, Worked, draw_headings, draw_row
from inventory.sheets.formulas import Formulas
from inventory.sheets.paper import PEN
from inventory.sheets.writing import CsvTable, page_head, print_ready

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

Cells = Mapping[str, Cell]
"""The values of one row by heading."""
HEIGHT = PEN
"""Points of a row to fill: room for a pen, and for a thumb."""
BOXES = Look("boxes", least=HEIGHT)


def asked(heading: str, width: float, note: str = "", *, right: bool = False) -> SheetColumn:
    """A column to fill. right: it is one of numbers."""
    if right:
        return SheetColumn(heading, width, note, fill=True, side="right", indent=1)
    return SheetColumn(heading, width, note, fill=True, wraps=True)


def told(
    heading: str, width: float, note: str = "", *, right: bool = False, own: bool = False
) -> SheetColumn:
    """A column that says what is known. own: not printed, it is for this program."""
    if right:
        return SheetColumn(heading, width, note, known=own, own=own, quiet=True, side="right", indent=1)
    return SheetColumn(heading, width, note, known=own, own=own, quiet=True, wraps=True)


@dataclass(frozen=True, slots=True)
class Form:
    """One table to fill. spare: empty rows under it; keep: columns that stay in sight; title: above each page.

    blank: what the empty rows hold.
    """

    name: str
    columns: tuple[SheetColumn, ...]
    rows: Sequence[Cells]
    spare: int = 0
    title: str = ""
    keep: int = 1
    landscape: bool = False
    look: Look = BOXES
    blank: Cells | None = None

    @property
    def headings(self) -> list[str]:
        """The headings in their order."""
        return [one.heading for one in self.columns]

    @property
    def last(self) -> int:
        """The last row that is there to be filled; row 1 holds the headings."""
        return len(self.rows) + self.spare + 1

    def plain(self) -> CsvTable:
        """Headings and rows as a CSV file has them: of formulas what they come to."""
        return self.headings, [
            [one.result if isinstance(one, Worked) else one for one in self.cells(row)] for row in self.rows
        ]

    def cells(self, row: Cells) -> list[Cell]:
        """The values of a row in the order of the columns."""
        return [row.get(name) for name in self.headings]

    def letter(self, name: str) -> str:
        """The letter of the column of this heading."""
        from openpyxl.utils import get_column_letter

        return get_column_letter(self.headings.index(name) + 1)

    def range(self, name: str) -> str:
        """The cells to fill under a heading."""
        return f"{self.letter(name)}2:{self.letter(name)}{self.last}"


def draw_form(sheet: Worksheet, form: Form, formulas: Formulas | None = None) -> None:
    """Fill a tab with a form: frozen headings with their notes, cells to fill marked, ready for A4."""
    printed = [one for one in form.columns if not one.own]
    lines = max(len(wrap(one.heading, max(int(one.width) - 2, 4))) for one in printed)
    draw_headings(sheet, form.columns, height=ROW_POINTS * lines + 3)
    for number in range(2, form.last + 1):
        given = form.rows[number - 2] if number - 2 < len(form.rows) else None
        cells = form.cells(form.blank or {} if given is None else given)
        draw_row(sheet, number, form.columns, cells, form.look, formulas, added=given is None)
    _page(sheet, form)


def _page(sheet: Worksheet, form: Form) -> None:
    """A4 as wide as the columns that are printed; the title above each page, headings and first columns in sight."""
    from openpyxl.utils import get_column_letter

    print_ready(sheet, landscape=form.landscape)
    printed = max(at for at, one in enumerate(form.columns, start=1) if not one.own)
    sheet.print_area = f"A1:{get_column_letter(printed)}{form.last}"
    sheet.freeze_panes = f"{get_column_letter(form.keep + 1)}2"
    page_head(sheet, form.title)


def whole_numbers(sheet: Worksheet, ranges: Iterable[str], said: str) -> None:
    """Let these cells take whole numbers from 0 on; said: what the program shows otherwise."""
    _rule(sheet, ranges, said, "whole", "0")


def sums(sheet: Worksheet, ranges: Iterable[str], said: str) -> None:
    """Let these cells take sums of money from 0 on."""
    _rule(sheet, ranges, said, "decimal", "0")


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


def offer(sheet: Worksheet, cells: str, formula: str, said: str = "") -> None:
    """A drop-down list. Without `said` other names are let through: a name may be newer than the form."""
    from openpyxl.worksheet.datavalidation import DataValidation

    rule = DataValidation("list", formula, allow_blank=True, showErrorMessage=bool(said))
    if said:
        rule.errorTitle, rule.error = "Not taken", said
    rule.add(cells)
    sheet.add_data_validation(rule)
