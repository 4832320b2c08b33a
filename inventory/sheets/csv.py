"""CSV files as people's programs write them: any usual encoding and separator."""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections.abc import Callable, Collection, Iterator
from pathlib import Path

from inventory.errors import Place
from inventory.sheets.files import MOST_ROWS, RowValues, Source, SourceError, fold_heading

MOST_BYTES = 256 * 1024 * 1024
MOST_ROW = 1 << 20
"""Characters of one row, with all the lines it may go over."""
PIECE = 1 << 20
SEPARATORS = ",;\t|"
STARTERS = "=+-@\t\r\n\uff1d\uff0b\uff0d\uff20'"
"""Text beginning with one of these is written to CSV behind an apostrophe, so that no program runs it.

Some programs take the wide forms of = + - @ for them.
"""
_BEGINS = r"(?:^|(?<=[;|\t\r\n]))"
_RUNS = re.compile(f"{_BEGINS}(?=[{re.escape(STARTERS)}])")
_HELD = re.compile(f"{_BEGINS}'(?=[{re.escape(STARTERS)}])")

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)


Known = Callable[[str], Collection[str]]
"""The folded headings to be looked for in a tab of this name."""


def text_source(path: Path, label: str, known: Known) -> Source:
    """The one tab a CSV file holds, named after the file. Raises SourceError, OSError."""
    if path.stat().st_size > MOST_BYTES:
        raise SourceError(f"It is larger than {MOST_BYTES // 1024 // 1024} MB.")
    data = path.read_bytes()
    encoding, lines = decode(data)
    notes: tuple[str, ...] = ()
    if encoding == "cp1252":
        notes = (f"{label} is not UTF-8; it was read as Windows Western European. Look at its accents.",)
    skipped, separator = _separator(_text(data, encoding, newline=None), known(path.stem))

    def rows() -> Iterator[RowValues]:
        return _rows(_text(data, encoding), skipped, separator, label, path.stem)

    return Source(label, path.stem, rows, lines, notes=notes)


def decode(data: bytes) -> tuple[str, int]:
    """The encoding a file was found to have, and how many lines it may hold. Raises SourceError.

    The text is not kept: a file of a few hundred megabytes would be several times as large in memory.
    """
    if data.startswith(b"PK\x03\x04"):
        raise SourceError("It is a workbook, not a CSV file. Give it the ending .xlsx.")
    encoding = next((name for mark, name in _MARKS if data.startswith(mark)), None) or _unmarked(data)
    lines = 0
    try:
        stream = _text(data, encoding)
        while piece := stream.read(PIECE):
            if "\0" in piece:
                raise SourceError("It is not a text file. Save the sheet as CSV in UTF-8.")
            lines += piece.count("\n")
    except UnicodeError:
        problem = "Its text is neither UTF-8, UTF-16 nor Windows Western European. Save it as CSV in UTF-8."
        raise SourceError(problem) from None
    return encoding, lines


def _text(data: bytes, encoding: str, newline: str | None = "") -> io.TextIOWrapper:
    return io.TextIOWrapper(io.BytesIO(data), encoding, newline=newline)


def protect(text: str) -> str:
    """`text` for a CSV cell: `unprotect` gives it back, and no program takes it for a formula.

    Nor what is behind a semicolon in it: where people write 1,5 spreadsheet programs part lines there.

    >>> protect("=1+1"), unprotect(protect("=1+1"))
    ("'=1+1", '=1+1')
    """
    return _RUNS.sub("'", text)


def unprotect(text: str) -> str:
    """`text` without the apostrophes that `protect` put into it; others stay."""
    return _HELD.sub("", text)


def _unmarked(data: bytes) -> str:
    head = data[:4096]
    if head[1::2].count(0) > len(head) // 4:
        return "utf-16-le"
    if head[0::2].count(0) > len(head) // 4:
        return "utf-16-be"
    try:
        for _ in codecs.iterdecode((data[at : at + PIECE] for at in range(0, len(data), PIECE)), "utf-8"):
            pass
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8"


def _separator(text: io.TextIOWrapper, known: Collection[str]) -> tuple[int, str]:
    """Lines before the rows, and the separator under which the first filled line shows most known headings."""
    first = text.readline(MOST_ROW)
    if first[:4].casefold() == "sep=" and first[5:] == "\n" and first[4] in SEPARATORS:
        return 1, first[4]
    while first and not first.strip(' \r\n\t,;|"'):
        first = text.readline(MOST_ROW)
    return 0, max(SEPARATORS, key=lambda separator: _fitness(first, separator, known))


def _fitness(line: str, separator: str, known: Collection[str]) -> tuple[int, int]:
    cells = next(csv.reader([line], delimiter=separator), [])
    return sum(fold_heading(cell) in known for cell in cells), len(cells)


class _Lines:
    """The lines of a text, none of them and no row over several of them longer than a row may be."""

    def __init__(self, text: io.TextIOWrapper) -> None:
        self.text, self.taken = text, 0

    def __iter__(self) -> _Lines:
        return self

    def __next__(self) -> str:
        line = self.text.readline(MOST_ROW + 1)
        self.taken += len(line)
        if self.taken > MOST_ROW:
            raise SourceError(f"The row has more than {MOST_ROW:,} characters, which no honest row has.")
        if not line:
            raise StopIteration
        return line


def _rows(text: io.TextIOWrapper, skipped: int, separator: str, label: str, tab: str) -> Iterator[RowValues]:
    lines = _Lines(text)
    for _ in range(skipped):
        next(lines)
    number = 0
    try:
        for number, row in enumerate(csv.reader(lines, delimiter=separator, strict=True), start=1):
            lines.taken = 0
            if number > MOST_ROWS:
                raise SourceError(f"There are more than {MOST_ROWS:,} rows.")
            yield [unprotect(cell) for cell in row] if "'" in "".join(row) else row
    except csv.Error as error:
        hint = "Look for a quotation mark that is opened and not closed, or not doubled inside a quoted cell."
        place = Place(label, tab, number + 1, problem=f"The line cannot be taken apart ({error}). {hint}")
        raise SourceError(place.problem, place) from None
    except SourceError as error:
        raise SourceError(error.problem, Place(label, tab, number + 1, problem=error.problem)) from None
