"""Pages to print and to fill: tables of different columns one below and beside another, on one grid of narrow columns.

The first column is hidden and marks what a row is: `table` its headings, `text` nothing to be read back. Columns
without width are hidden too: they hold codes for this program.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, Final, Literal

from inventory.measures.look import BLACK, EDGE, HAIR, LOOKED_AT, WRITE
from inventory.sheets.drawing import Cell
from inventory.sheets.paper import (
    PEN,
    SMALL,
    column_width,
    height_of,
    lines_of,
    set_paper,
)
from inventory.sheets.writing import page_foot, plain_font, put, safe_text

if TYPE_CHECKING:
    from openpyxl.worksheet.worksheet import Worksheet

TABLE, TEXT = "table", "text"
_AIR: Final = 6.0
"""Points between one table and the next."""


@dataclass(frozen=True, slots=True)
class Field:
    """One column of a table on a page. mm: 0 hides it; name: what rows call it, where not as its heading.

    fill: it is to be written in; grey: what stands in it is to be written over; form: how numbers are shown.
    """

    heading: str
    mm: float
    name: str = ""
    fill: bool = False
    side: Literal["left", "center", "right"] = "left"
    bold: bool = False
    points: float = SMALL
    grey: bool = False
    form: str = ""

    @property
    def key(self) -> str:
        """Its name in the rows."""
        return self.name or self.heading


@dataclass(frozen=True, slots=True)
class PrintedTable:
    """A table on a page. spare: rows to add to, holding `blank`; open: fields that are written in only there.

    shut: of a row the fields nothing can be written into; total: a last row of sums, its label beside them.
    """

    fields: tuple[Field, ...]
    rows: Sequence[Mapping[str, Cell]]
    spare: int = 0
    blank: Mapping[str, Cell] = field(default_factory=dict)
    open: frozenset[str] = frozenset()
    shut: Mapping[int, frozenset[str]] = field(default_factory=dict)
    total: Mapping[str, Cell] | None = None

    @property
    def mm(self) -> float:
        """How wide it is."""
        return sum(one.mm for one in self.fields)

    @property
    def every(self) -> list[Mapping[str, Cell]]:
        """Its rows, the spare ones too."""
        return [*self.rows, *([self.blank] * self.spare), *([] if self.total is None else [self.total])]

    def writes(self, at: int, one: Field) -> bool:
        """Whether row `at` is to be written in under this field."""
        if at >= len(self.rows):
            return bool(one.mm) and (one.fill or one.key in self.open)
        return one.fill and one.key not in self.shut.get(at, frozenset())


@dataclass(frozen=True, slots=True)
class Band:
    """Tables side by side, their headings in one row. over: texts above columns, from and to so many millimetres.

    least: points of a row at least; headed: False where it goes on under the headings of the band before.
    """

    blocks: tuple[PrintedTable, ...]
    over: tuple[tuple[str, float, float], ...] = ()
    least: float = PEN
    headed: bool = True

    @property
    def many(self) -> int:
        """Rows under the headings."""
        return max(len(block.every) for block in self.blocks)

    @property
    def read(self) -> bool:
        """Whether any of it is read back; else it is only to be looked at."""
        return any(one.fill for block in self.blocks for one in block.fields)


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A text across the page. least: points of its row at least."""

    text: str
    points: float = SMALL
    bold: bool = False
    least: float = 0


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a table stands: its tab, the rows below its headings, the first spare one, the letters of its fields."""

    sheet: Worksheet
    first: int
    last: int
    spare: int
    letters: Mapping[str, str]

    def cells(self, key: str, *, spare: bool = False) -> str:
        """The cells under a field, or the spare ones of them; empty where there are none."""
        first = self.spare if spare else self.first
        letter = self.letters.get(key)
        return f"{letter}{first}:{letter}{self.last}" if letter and first <= self.last else ""


Item = Band | Paragraph


def page_points(items: Iterable[Item], mm: float) -> float:
    """How high these are in print."""
    return sum(_height(item, mm) for item in items)


def draw_page(
    sheet: Worksheet, items: Sequence[Item], mm: float, *, landscape: bool, one_page: bool
) -> list[Spot]:
    """Fill a tab; where each table of it stands, in their order."""
    spots = _draw(sheet, [items], mm)
    set_paper(
        sheet, landscape=landscape, one_page=one_page, fit=one_page
    )  # else some programs shrink the width
    return spots


def draw_pages(
    sheet: Worksheet, pages: Sequence[Sequence[Item]], mm: float, *, landscape: bool
) -> list[Spot]:
    """Fill a tab with pages of which each has room on A4 and on Letter, a break behind each."""
    spots = _draw(sheet, pages, mm)
    set_paper(sheet, landscape=landscape, fit=False)
    return spots


def _draw(sheet: Worksheet, pages: Sequence[Sequence[Item]], mm: float) -> list[Spot]:
    from openpyxl.worksheet.pagebreak import Break

    grid = _Grid([item for items in pages for item in items], mm)
    grid.columns(sheet)
    spots: list[Spot] = []
    row = 1
    for items in pages:
        if row > 1:
            sheet.row_breaks.append(Break(id=row - 1))
        for item in items:
            if isinstance(item, Paragraph):
                _words(sheet, row, grid, item, mm)
                row += 1
            else:
                row = _band(sheet, row, grid, item, spots)
    sheet.print_area = f"A1:{grid.letter(grid.last)}{row - 1}"
    sheet.sheet_view.showGridLines = False
    page_foot(sheet)
    return spots


class _Grid:
    """The narrow columns every table of a page is made of; hidden ones stand at the right edge of their table."""

    def __init__(self, items: Sequence[Item], mm: float) -> None:
        edges, hidden = {0, round(10 * mm)}, dict[int, int]()
        for item in items:
            for start, block in _placed(item):
                at = start
                for one in block.fields:
                    at += one.mm
                    edges.add(round(10 * at))
                many = sum(1 for one in block.fields if not one.mm)
                hidden[round(10 * at)] = max(hidden.get(round(10 * at), 0), many)
            for _, start, end in item.over if isinstance(item, Band) else ():
                edges |= {round(10 * start), round(10 * end)}
        self.edges = sorted(edges)
        self.starts: dict[int, int] = {}
        self.ends: dict[int, int] = {}
        self.hidden: dict[int, int] = {}
        column = 2
        for left, right in zip(self.edges, self.edges[1:], strict=False):
            self.starts[left], self.ends[right] = column, column
            self.hidden[right] = column + 1
            column += 1 + hidden.get(right, 0)
        self.last = column - 1

    @staticmethod
    def letter(column: int) -> str:
        """The letters of a column."""
        from openpyxl.utils import get_column_letter

        return get_column_letter(column)

    def columns(self, sheet: Worksheet) -> None:
        """Widths; the marks and the codes are hidden."""
        for column in range(1, self.last + 1):
            sheet.column_dimensions[self.letter(column)].hidden = True
        for left, right in zip(self.edges, self.edges[1:], strict=False):
            one = sheet.column_dimensions[self.letter(self.starts[left])]
            one.hidden, one.width = False, column_width((right - left) / 10)

    def span(self, start: float, end: float) -> tuple[int, int]:
        """First and last column of what reaches from one millimetre to another."""
        return self.starts[round(10 * start)], self.ends[round(10 * end)]

    def spans(self, start: float, block: PrintedTable) -> list[tuple[int, int]]:
        """Of each field; hidden ones have a column each."""
        done, at = [], start
        free = self.hidden[round(10 * (start + block.mm))]
        for one in block.fields:
            if one.mm:
                done.append(self.span(at, at + one.mm))
                at += one.mm
            else:
                done.append((free, free))
                free += 1
        return done


def _placed(item: Item) -> list[tuple[float, PrintedTable]]:
    """The tables of a band and where they begin."""
    done, at = [], 0.0
    for block in item.blocks if isinstance(item, Band) else ():
        done.append((at, block))
        at += block.mm
    return done


def _height(item: Item, mm: float) -> float:
    if isinstance(item, Paragraph):
        return max(item.least, height_of(lines_of(item.text, mm, item.points, bold=item.bold), item.points))
    rows = sum(_row_height(item, at) for at in range(item.many))
    return (_AIR + _over_height(item) + _head_height(item) if item.headed else 0) + rows


def _over_height(band: Band) -> float:
    return max((height_of(lines_of(text, end - start)) for text, start, end in band.over), default=0)


def _head_height(band: Band) -> float:
    fields = [one for block in band.blocks for one in block.fields if one.mm]
    return height_of(max(lines_of(one.heading, one.mm, bold=True) for one in fields)) + 2


def _row_height(band: Band, at: int) -> float:
    lines = [
        height_of(lines_of(str(value), one.mm, one.points, bold=one.bold), one.points)
        for block in band.blocks
        if at < len(block.every)
        for one in block.fields
        if one.mm and isinstance(value := block.every[at].get(one.key), str)
    ]
    return max(band.least, *lines) if lines else band.least


def _mark(sheet: Worksheet, row: int, what: str, height: float) -> None:
    if what:
        put(sheet.cell(row, 1), what)
    sheet.row_dimensions[row].height = height


def _words(sheet: Worksheet, row: int, grid: _Grid, item: Paragraph, mm: float) -> None:
    _mark(sheet, row, TEXT, _height(item, mm))
    _text(
        sheet,
        row,
        grid.span(0, mm),
        item.text,
        plain_font(size=item.points, bold=item.bold),
        "left",
        "center",
    )


def _band(sheet: Worksheet, row: int, grid: _Grid, band: Band, spots: list[Spot]) -> int:
    """Draw the tables of a band; the next free row."""
    if band.over:
        _mark(sheet, row, TEXT, _AIR + _over_height(band))
        for text, start, end in band.over:
            _text(
                sheet, row, grid.span(start, end), text, plain_font(size=SMALL, bold=True), "left", "bottom"
            )
        row += 1
    if band.headed:
        _mark(sheet, row, TABLE if band.read else TEXT, _head_height(band) + (0 if band.over else _AIR))
    first = row + int(band.headed)
    for at in range(band.many):
        _mark(sheet, first + at, "" if band.read else TEXT, _row_height(band, at))
    for start, block in _placed(band):
        spans = grid.spans(start, block)
        for one, span in zip(block.fields, spans, strict=True):
            if band.headed:
                _heading(sheet, row, one, span)
            for at, cells in enumerate(block.every):
                bold = one.bold or cells is block.total
                cell = replace(one, bold=bold)
                _cell(sheet, first + at, cell, span, cells.get(one.key), writes=block.writes(at, one))
        letters = {one.key: grid.letter(span[0]) for one, span in zip(block.fields, spans, strict=True)}
        last, spare = first + len(block.every) - 1, first + len(block.rows)
        spots.append(Spot(sheet, first, last, spare, letters))
    return first + band.many


def _heading(sheet: Worksheet, row: int, one: Field, span: tuple[int, int]) -> None:
    from openpyxl.styles import Border, Side

    side = one.side
    _text(sheet, row, span, one.heading, plain_font(size=SMALL, bold=True), side, "bottom")
    for column in range(span[0], span[1] + 1):
        sheet.cell(row, column).border = Border(bottom=Side(style="thin", color=EDGE))


def _cell(
    sheet: Worksheet, row: int, one: Field, span: tuple[int, int], value: Cell, *, writes: bool
) -> None:
    from openpyxl.styles import Alignment, Border, PatternFill, Side

    cell: Any = sheet.cell(row, span[0])
    if value not in (None, ""):
        put(cell, value)  # type: ignore[arg-type]  # no formulas on these pages
        if one.form and not isinstance(value, str):
            cell.number_format = one.form
    light = LOOKED_AT if one.grey else BLACK
    cell.font = plain_font(size=one.points, bold=one.bold, color=light)
    cell.alignment = Alignment(horizontal=one.side, vertical="center", wrap_text=True)
    if not one.mm:
        return
    dark, hair = Side(style="thin", color=EDGE), Side(style="thin", color=HAIR)
    for column in range(span[0], span[1] + 1):
        part: Any = sheet.cell(row, column)
        if writes:
            left = dark if column == span[0] else None
            right = dark if column == span[1] else None
            part.border = Border(left=left, right=right, top=dark, bottom=dark)
            part.fill = PatternFill("solid", fgColor=WRITE)
        else:
            part.border = Border(bottom=hair)
    _merge(sheet, row, span)


def _text(
    sheet: Worksheet, row: int, span: tuple[int, int], text: str, font: Any, side: str, vertical: str
) -> None:
    from openpyxl.styles import Alignment

    cell: Any = sheet.cell(row, span[0])
    if text:
        safe_text(cell, text)
    cell.font = font
    cell.alignment = Alignment(horizontal=side, vertical=vertical, wrap_text=True)
    _merge(sheet, row, span)


def _merge(sheet: Worksheet, row: int, span: tuple[int, int]) -> None:
    if span[1] > span[0]:
        sheet.merge_cells(start_row=row, end_row=row, start_column=span[0], end_column=span[1])
