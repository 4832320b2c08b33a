"""Sheets out: text stays text, files appear whole or not at all."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

from inventory.errors import Refused
from inventory.measures.look import EDGE, LINK
from inventory.sheets.csv import STARTERS, protect
from inventory.sheets.paper import set_paper
from inventory.sheets.saving import make_folder, saving
from inventory.sheets.xlsx.markup import escaped

if TYPE_CHECKING:
    from openpyxl.styles import Font
    from openpyxl.worksheet.worksheet import Worksheet

LONGEST_CELL = 32_767
"""Characters a workbook's cell holds, as common programs write them."""
DATE_FORMAT = "yyyy-mm-dd"
Value = str | int | float | Decimal | Fraction | date | bool | None
CsvTable = tuple[Sequence[str], Iterable[Sequence[Value]]]
"""Headings and rows."""

_CONTROLS = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")  # not allowed in XML 1.0
LONGEST_HEAD = 240
"""Characters above a page, with its codes; common programs take 255 and call a workbook with more damaged."""


def safe_text(cell: Any, text: str) -> None:
    """Put `text` into a workbook's cell as text, whatever it begins with.

    The cell is marked as quoted, so that editing it in a spreadsheet program does not make a formula of it either.
    Characters XML cannot hold become �; text beyond 32,767 characters raises Refused.
    """
    written = _written(text)
    if len(written) > LONGEST_CELL:
        raise Refused(
            f"A text of {len(text)} characters does not fit into a cell.",
            hint=f"Shorten it to {LONGEST_CELL:,}.",
        )
    cell.value = written
    cell.data_type = "s"  # whatever the library makes of it: a formula of =1, an error of #N/A
    if text.startswith(tuple(STARTERS)):
        cell.quotePrefix = True


def put(cell: Any, value: Value) -> None:
    """Put a value into a workbook's cell: text as text, numbers as numbers, dates as dates in ISO form."""
    if isinstance(value, str):
        safe_text(cell, value)
    elif isinstance(value, bool):
        cell.value = "yes" if value else "no"
    elif isinstance(value, (Fraction, Decimal)):
        cell.value = int(value) if value == int(value) else float(value)
    elif value is not None:
        cell.value = value
        if isinstance(value, date):
            cell.number_format = DATE_FORMAT


def write_csv(
    path: Path, headings: Sequence[str], rows: Iterable[Sequence[Value]], *, overwrite: bool = False
) -> None:
    """A CSV file (UTF-8 with its mark, commas, RFC 4180 quotes). Raises Refused.

    Where text begins with = + - @ a tab or an apostrophe, or goes on with one behind a ; or | at which some programs
    part a line, it gets an apostrophe before that, which no program runs and `read_sheets` takes off again.
    """
    with (
        saving(path, overwrite=overwrite) as unfinished,
        unfinished.open("w", encoding="utf-8-sig", newline="") as file,
    ):
        writer = csv.writer(file)
        writer.writerow([protect(heading) for heading in headings])
        writer.writerows([_plain(value) for value in row] for row in rows)


def write_csv_folder(folder: Path, tables: Mapping[str, CsvTable], *, overwrite: bool = False) -> list[Path]:
    """A CSV file for each table, called as it is, in a folder that is made where it is missing; returns the files.

    Raises Refused, before anything is written, where one of them is there already (unless `overwrite`) or the folder
    cannot be made.
    """
    paths = {folder / f"{name}.csv": table for name, table in tables.items()}
    make_folder(folder, paths, overwrite=overwrite)
    for path, (headings, rows) in paths.items():
        write_csv(path, headings, rows, overwrite=overwrite)
    return list(paths)


def print_ready(sheet: Worksheet, *, landscape: bool = True) -> None:
    """A table from row 1 on: its headings on each page and in sight, tab and page at the foot."""
    sheet.freeze_panes = "A2"
    sheet.print_title_rows = "1:1"
    set_paper(sheet, landscape=landscape, head=True)
    page_foot(sheet)


def page_foot(sheet: Worksheet) -> None:
    """Tab and page at the foot of each page."""
    footer: Any = sheet.oddFooter
    footer.left.text, footer.right.text = "&A", "&P / &N"


def page_head(sheet: Worksheet, text: str) -> None:
    """What stands above each printed page: an & in it is itself, not a code that prints the day or the file's path."""
    pieces = ["&&" if sign == "&" else sign for sign in _written(text).replace("&[", "& [")]
    while sum(map(len, pieces)) > LONGEST_HEAD:
        pieces.pop()
    head: Any = sheet.oddHeader
    head.left.text = "".join(pieces)


def link(cell: Any, title: str) -> None:
    """Lead from a cell to the tab called so, inside the workbook; look like it."""
    from openpyxl.worksheet.hyperlink import Hyperlink

    # by place, not by address: in an address a % or # of the tab's name would mean something else
    cell.hyperlink = Hyperlink(ref=cell.coordinate, location=f"'{title}'!A1")
    cell.font = plain_font(underline="single", color=LINK)


def heading(cell: Any, text: str, *, required: bool = True) -> None:
    """A heading: bold where it has to be filled, over a line; shaded is only what is to be written in."""
    from openpyxl.styles import Alignment, Border, Side

    safe_text(cell, text)
    cell.font = plain_font(bold=required, italic=not required)
    cell.border = Border(bottom=Side(style="thin", color=EDGE))
    cell.alignment = Alignment(vertical="bottom", wrap_text=True)


def plain_font(**changed: Any) -> Font:
    """The font of every other cell with something changed; a font that names no face comes out in another one."""
    from openpyxl.styles import DEFAULT_FONT, Font

    face: dict[str, Any] = {
        "name": DEFAULT_FONT.name,
        "size": DEFAULT_FONT.size,
        "family": DEFAULT_FONT.family,
    }
    return Font(**face | changed)


def _written(text: str) -> str:
    """Text as the parts of a workbook hold it; a carriage return alone would come back as a line feed."""
    return escaped(_CONTROLS.sub("\ufffd", text)).replace("\r", "_x000D_")


def _plain(value: Value) -> str:
    if isinstance(value, str):
        return protect(value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Fraction):
        return str(int(value)) if value.denominator == 1 else str(float(value))
    return "" if value is None else str(value)
