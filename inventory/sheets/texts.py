"""CSV files as people's programs write them: any usual encoding and separator."""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Iterator
from pathlib import Path

from inventory.errors import Place
from inventory.sheets.columns import fold_heading
from inventory.sheets.sources import RowValues, Source, SourceError
from inventory.sheets.tabs import TABS

MOST_BYTES = 512 * 1024 * 1024
SEPARATORS = ",;\t|"
STARTERS = "=+-@\t\r'"
"""Text beginning with one of these is written to CSV behind an apostrophe, so that no program runs it."""

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


def text_source(path: Path, label: str) -> Source:
    """The one tab a CSV file holds, named after the file. Raises SourceError."""
    if path.stat().st_size > MOST_BYTES:
        raise SourceError(f"It is larger than {MOST_BYTES // 1024 // 1024} MB.")
    text, encoding = decode(path.read_bytes())
    notes: tuple[str, ...] = ()
    if encoding == "cp1252":
        notes = (f"{label} is not UTF-8; it was read as Windows Western European. Look at its accents.",)
    start, separator = _separator(text, path.stem)

    def rows() -> Iterator[RowValues]:
        return _rows(text, start, separator, label, path.stem)

    return Source(label, path.stem, rows, text.count("\n"), notes=notes)


def decode(data: bytes) -> tuple[str, str]:
    """The text of a file and the encoding it was found to have. Raises SourceError."""
    if data.startswith(b"PK\x03\x04"):
        raise SourceError("It is a workbook, not a CSV file. Give it the ending .xlsx.")
    encoding = next((name for mark, name in _MARKS if data.startswith(mark)), None) or _unmarked(data)
    try:
        text = data.decode(encoding)
    except UnicodeError:
        problem = "Its text is neither UTF-8, UTF-16 nor Windows Western European. Save it as CSV in UTF-8."
        raise SourceError(problem) from None
    if "\0" in text:
        raise SourceError("It is not a text file. Save the sheet as CSV in UTF-8.")
    return text, encoding


def protect(text: str) -> str:
    """`text` for a CSV cell: `unprotect` gives it back, and no program takes it for a formula.

    >>> protect("=1+1"), unprotect(protect("=1+1"))
    ("'=1+1", '=1+1')
    """
    return f"'{text}" if text.startswith(tuple(STARTERS)) else text


def unprotect(text: str) -> str:
    """`text` without the apostrophe that `protect` put before it; other apostrophes stay."""
    return text[1:] if text[:1] == "'" and text[1:2] and text[1] in STARTERS else text


def _unmarked(data: bytes) -> str:
    head = data[:4096]
    if head[1::2].count(0) > len(head) // 4:
        return "utf-16-le"
    if head[0::2].count(0) > len(head) // 4:
        return "utf-16-be"
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8"


def _separator(text: str, tab: str) -> tuple[int, str]:
    """Where the rows start, and the separator under which the first filled line shows most known headings."""
    if text[:4].casefold() == "sep=" and text[5:6] in ("\r", "\n") and text[4] in SEPARATORS:
        return text.index("\n") + 1 if "\n" in text else len(text), text[4]
    line = next((line for line in io.StringIO(text, newline=None) if line.strip(' \r\n\t,;|"')), "")
    return 0, max(SEPARATORS, key=lambda separator: _fitness(line, separator, tab))


def _fitness(line: str, separator: str, tab: str) -> tuple[int, int]:
    cells = next(csv.reader([line], delimiter=separator), [])
    known = {place for one in _tabs_named(tab) for place in TABS[one].places}
    return sum(fold_heading(cell) in known for cell in cells), len(cells)


def _tabs_named(tab: str) -> list[str]:
    return [name for name in TABS if fold_heading(name) == fold_heading(tab)] or list(TABS)


def _rows(text: str, start: int, separator: str, label: str, tab: str) -> Iterator[RowValues]:
    stream = io.StringIO(text[start:] if start else text, newline="")
    number = 0
    try:
        for number, row in enumerate(csv.reader(stream, delimiter=separator, strict=True), start=1):  # noqa: B007 - told below
            yield [unprotect(cell) for cell in row] if "'" in "".join(row) else row
    except csv.Error as error:
        hint = "Look for a quotation mark that is opened and not closed, or not doubled inside a quoted cell."
        place = Place(label, tab, number + 1, problem=f"The line cannot be taken apart ({error}). {hint}")
        raise SourceError(place.problem, place) from None
