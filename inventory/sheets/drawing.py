"""The one way a sheet is drawn: columns, their headings, and rows of values and formulas under them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from textwrap import wrap
from typing import TYPE_CHECKING, Any, Literal

from inventory.measures.look import EDGE, HAIR, PAPER, WRITE
from inventory.sheets.formulas import Formulas, Result
from inventory.sheets.paper import AUTHOR, DIGIT_MM, lines_of
from inventory.sheets.paper import PLAIN as POINTS
from inventory.sheets.writing import Value, heading, plain_font, put, safe_text

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

ROW_POINTS = 15.0
"""Height of a line of text in a workbook's default font."""
LETTERS = 1.15
"""Letters of running text in the width of one digit, in which columns are measured."""
GROUND, PLAIN = WRITE, PAPER
"""Grounds of a cell that waits to be filled, and of all others."""

Side = Literal["left", "center", "right"]


@dataclass(frozen=True, slots=True)
class SheetColumn:
    """A column of a sheet that is written.

    width: in digits; note: shown at its heading; fill: it waits for the maker; known: nothing is to be filled in even
    in rows that are added; own: not printed, it is for this program; quiet: its heading is not in bold; form: how
    numbers are shown; wraps: its texts go on in a second line.
    """

    heading: str
    width: float
    note: str = ""
    fill: bool = False
    known: bool = False
    own: bool = False
    quiet: bool = False
    side: Side | None = None
    form: str = ""
    wraps: bool = False
    indent: int = 0


@dataclass(frozen=True, slots=True)
class Look:
    """How the rows of a table look.

    ruled: a box round every cell or round those to fill, a line under each, or nothing; top: texts begin at the top;
    least: points of a row at least, 0 to leave it to the program; more: points beside its lines.
    """

    ruled: Literal["boxes", "boxes to fill", "lines", ""] = "lines"
    top: bool = False
    least: float = 0
    more: float = 0


@dataclass(frozen=True, slots=True)
class Worked:
    """A formula, with {row} for its own row, and what it comes to."""

    formula: str
    result: Result


Cell = Value | Worked


def draw_headings(
    sheet: Worksheet,
    columns: Sequence[SheetColumn],
    row: int = 1,
    *,
    height: float = 0,
    note: tuple[int, int] = (240, 90),
) -> None:
    """Headings with their notes, and the columns' widths. height: points; note: width and height of one, in dots."""
    from openpyxl.comments import Comment
    from openpyxl.styles import Alignment
    from openpyxl.utils import get_column_letter

    for at, column in enumerate(columns, start=1):
        cell = sheet.cell(row, at)
        heading(cell, column.heading, required=not column.quiet)
        if column.side or column.indent:
            cell.alignment = Alignment(
                # without a side no program draws the indent
                horizontal=column.side or "left",
                vertical="bottom",
                wrap_text=True,
                indent=column.indent,
            )
        if column.note:
            cell.comment = Comment(column.note, AUTHOR, width=note[0], height=note[1])
        sheet.column_dimensions[get_column_letter(at)].width = column.width
    if height:
        sheet.row_dimensions[row].height = height


def draw_row(
    sheet: Worksheet,
    number: int,
    columns: Sequence[SheetColumn],
    cells: Sequence[Cell],
    look: Look,
    formulas: Formulas | None = None,
    *,
    added: bool = False,
) -> None:
    """One row under its headings, as high as its texts need. added: a row of which nothing is known yet."""
    for at, (column, value) in enumerate(zip(columns, cells, strict=True), start=1):
        cell = sheet.cell(number, at)
        if isinstance(value, Worked):
            if formulas is not None:
                formulas.put(cell, value.formula.format(row=number), value.result)
        elif value not in (None, ""):
            put(cell, value)
        if column.form:
            cell.number_format = column.form
        _ruled(cell, column, look, waits=column.fill or (added and not column.known))
        align(cell, column.side or "left", top=look.top, wraps=column.wraps, indent=column.indent)
    if look.least:
        lines = max(_lines(value, column) for column, value in zip(columns, cells, strict=True))
        sheet.row_dimensions[number].height = max(look.least, ROW_POINTS * lines + look.more)


def draw_table(
    sheet: Worksheet,
    columns: Sequence[SheetColumn],
    rows: Sequence[Sequence[Cell]],
    look: Look,
    formulas: Formulas | None = None,
    *,
    first: int = 1,
    height: float = 0,
) -> int:
    """Headings in row `first` and rows under them; the row after the last one."""
    draw_headings(sheet, columns, first, height=height)
    for number, cells in enumerate(rows, start=first + 1):
        draw_row(sheet, number, columns, cells, look, formulas)
    return first + 1 + len(rows)


def draw_lists(sheet: Worksheet, listed: Mapping[str, Sequence[str]], width: float = 0) -> dict[str, str]:
    """A tab of names for drop-down lists, a column each; where the names of each stand, if there are any."""
    from openpyxl.utils import get_column_letter

    ranges = {}
    for at, (title, names) in enumerate(listed.items(), start=1):
        letter = get_column_letter(at)
        heading(sheet.cell(1, at), title)
        if width:
            sheet.column_dimensions[letter].width = width
        for row, name in enumerate(names, start=2):
            safe_text(sheet.cell(row, at), name)
        if names:
            ranges[title] = f"{sheet.title}!${letter}$2:${letter}${len(names) + 1}"
    return ranges


def draw_sentences(
    sheet: Worksheet, row: int, title: str, sentences: Sequence[str], widths: Sequence[float]
) -> int:
    """A title and sentences across the columns of a table; the next free row, one left blank."""
    if not sentences:
        return row
    put(sheet.cell(row, 1), title)
    sheet.cell(row, 1).font = plain_font(bold=True)
    for at, text in enumerate(sentences, start=row + 1):
        put(sheet.cell(at, 1), text)
        align(sheet.cell(at, 1), "left", top=True, wraps=True)
        sheet.merge_cells(start_row=at, end_row=at, start_column=1, end_column=len(widths))
        sheet.row_dimensions[at].height = ROW_POINTS * len(wrap(text, int(sum(widths) * LETTERS)))
    return row + len(sentences) + 2


def align(cell: Any, where: str | None, *, top: bool = False, wraps: bool = False, indent: int = 0) -> None:
    """Put what a cell holds to one side: numbers right, days in the middle, headings where their column is."""
    from openpyxl.styles import Alignment

    cell.alignment = Alignment(
        horizontal=where,
        vertical="top" if top else "center",
        wrap_text=wraps,
        indent=indent,
    )


def shut(cell: Any) -> None:
    """Show that nothing is to be filled in here: white, like all that is not."""
    from openpyxl.styles import PatternFill

    cell.fill = PatternFill()


def ticked(cell: Any) -> None:
    """A box to be ticked with a pen: in the one shade that says *write here*, and its border."""
    _box(cell, GROUND)


def line_above(cell: Any) -> None:
    """The line over a sum."""
    from openpyxl.styles import Border
    from openpyxl.styles import Side as Edge

    cell.border = Border(top=Edge(style="thin"))


def _ruled(cell: Any, column: SheetColumn, look: Look, *, waits: bool) -> None:
    from openpyxl.styles import Border
    from openpyxl.styles import Side as Edge

    if look.ruled == "boxes" or (look.ruled == "boxes to fill" and waits):
        _box(cell, GROUND if waits else PLAIN)
    elif look.ruled == "lines" and not column.own:
        cell.border = Border(bottom=Edge(style="thin", color=HAIR))


def _box(cell: Any, ground: str) -> None:
    from openpyxl.styles import Border, PatternFill
    from openpyxl.styles import Side as Edge

    light = Edge(style="thin", color=HAIR if ground == PLAIN else EDGE)
    cell.border = Border(light, light, light, light)
    if ground != PLAIN:
        cell.fill = PatternFill("solid", fgColor=ground)


def _lines(value: Cell, column: SheetColumn) -> int:
    """Lines a text takes in a column, its own included; not every program makes a row high enough by itself."""
    if not isinstance(value, str) or not column.wraps:
        return 1
    return lines_of(value, (column.width - column.indent) * DIGIT_MM, POINTS)
