"""Sheets out: text stays text, files appear whole or not at all."""

from __future__ import annotations

import csv
import os
import re
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import field
from datetime import date
from decimal import Decimal
from fractions import Fraction
from io import BytesIO
from pathlib import Path
from tempfile import mkstemp
from typing import TYPE_CHECKING, Any

from inventory import leftovers
from inventory.errors import Refused
from inventory.quick import dataclass
from inventory.sheets.csv import STARTERS, protect
from inventory.sheets.xlsx.markup import escaped

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.styles import Font
    from openpyxl.worksheet.worksheet import Worksheet

LONGEST_CELL = 32_767
"""Characters a workbook's cell holds, as common programs write them."""
NARROWEST, WIDEST = 9, 60
DATE_FORMAT = "yyyy-mm-dd"
Value = str | int | float | Decimal | Fraction | date | bool | None

_CONTROLS = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")  # not allowed in XML 1.0
LONGEST_HEAD = 240
"""Characters above a page, with its codes; common programs take 255 and call a workbook with more damaged."""


@dataclass(frozen=True, slots=True)
class Table:
    """One tab to be written, its rows as long as its headings. widths: characters by heading, else they fit."""

    title: str
    headings: Sequence[str]
    rows: Sequence[Sequence[Value]]
    widths: dict[str, int] = field(default_factory=dict)


def safe_text(cell: Any, text: str) -> None:
    """Put `text` into a workbook's cell as text, whatever it begins with.

    The cell is marked as quoted, so that editing it in a spreadsheet program does not make a formula of it either.
    Characters XML cannot hold become �; text beyond 32,767 characters raises Refused.
    """
    written = _written(text)
    if len(written) > LONGEST_CELL:
        raise Refused(f"A text of {len(text)} characters does not fit into a cell.", hint="Shorten it.")
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


def write_tables(path: Path, tables: Iterable[Table], *, overwrite: bool = False) -> None:
    """A workbook with these tabs: bold frozen headings, widths that fit, ready to print. Raises Refused."""
    from openpyxl import Workbook

    with saving(path, overwrite=overwrite) as unfinished:
        workbook = Workbook()
        workbook.remove(workbook.worksheets[0])
        for table in tables:
            _fill(workbook.create_sheet(table.title), table)
        save_workbook(workbook, unfinished)


def save_workbook(workbook: Workbook, path: Path) -> None:
    """Save a workbook by way of memory: on a disk that fills up its archive would be left open, and complain later."""
    whole = BytesIO()
    workbook.save(whole)
    path.write_bytes(whole.getbuffer())


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


def check_free(path: Path, *, overwrite: bool = False) -> None:
    """Refuse a place where a file cannot be put, or must not replace one. Raises Refused."""
    if path.is_dir():
        raise Refused(f"{path} is a folder.", hint="Give the name of a file in it.")
    if path.exists() and not overwrite:
        raise Refused(f"{path} is there already.", hint="Give another name, or say that it may be replaced.")


@contextmanager
def saving(path: Path, *, overwrite: bool = False) -> Iterator[Path]:
    """A file beside `path` to be written, put in its place when all went well and removed otherwise. Raises Refused."""
    check_free(path, overwrite=overwrite)
    leftovers.clear(path)
    try:
        handle, name = mkstemp(prefix=leftovers.start_of(path), suffix=leftovers.ENDING, dir=path.parent)
        os.close(handle)
    except OSError as error:
        raise _cannot_write(path, error) from None
    unfinished = Path(name)
    try:
        yield unfinished
        unfinished.chmod(0o666 & ~_umask())  # mkstemp makes files only their owner may read
        _to_disk(unfinished)  # else a power cut may leave the name without what was written
        unfinished.replace(path)
    except OSError as error:
        raise _cannot_write(path, error) from error
    finally:
        unfinished.unlink(missing_ok=True)


def print_ready(sheet: Worksheet) -> None:
    """Landscape, as wide as the page, headings on each page, tab and page at the foot; the heading row frozen."""
    from openpyxl.worksheet.properties import PageSetupProperties

    sheet.freeze_panes = "A2"
    sheet.print_title_rows = "1:1"
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = 9  # A4 in ECMA-376 part 1, 18.3.1.63
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
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
    cell.font = plain_font(underline="single", color="1F4E79")


def heading(cell: Any, text: str, *, required: bool = True) -> None:
    """A heading: bold where it has to be filled, on a quiet ground."""
    from openpyxl.styles import Alignment, PatternFill

    safe_text(cell, text)
    cell.font = plain_font(bold=required, italic=not required)
    cell.fill = PatternFill("solid", fgColor="E8E2D4")
    cell.alignment = Alignment(vertical="top", wrap_text=True)


def plain_font(**changed: Any) -> Font:
    """The font of every other cell with something changed; a font that names no face comes out in another one."""
    from openpyxl.styles import DEFAULT_FONT, Font

    face: dict[str, Any] = {
        "name": DEFAULT_FONT.name,
        "size": DEFAULT_FONT.size,
        "family": DEFAULT_FONT.family,
    }
    return Font(**face | changed)


def _fill(sheet: Worksheet, table: Table) -> None:
    from openpyxl.utils import get_column_letter

    longest = [len(name) for name in table.headings]
    for column, name in enumerate(table.headings, start=1):
        heading(sheet.cell(1, column), name)
    for number, row in enumerate(table.rows, start=2):
        for column, value in enumerate(row, start=1):
            put(sheet.cell(number, column), value)
            longest[column - 1] = max(longest[column - 1], len(_plain(value)))
    for column, (name, length) in enumerate(zip(table.headings, longest, strict=True), start=1):
        width = table.widths.get(name, min(max(length + 2, NARROWEST), WIDEST))
        sheet.column_dimensions[get_column_letter(column)].width = width
    print_ready(sheet)


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


def _to_disk(path: Path) -> None:
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _cannot_write(path: Path, error: OSError) -> Refused:
    hint = "Choose a folder that is there and may be written to, and close the file if another program has it open."
    return Refused(f"{path} cannot be written: {error.strerror or error}.", hint=hint)
