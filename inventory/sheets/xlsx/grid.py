"""The cells of one worksheet, row after row: in their places, whatever order, size and sort a file gives them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence, Set
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from typing import IO, Any

from inventory.errors import Place
from inventory.sheets.files import MOST_ROWS, NO_VALUE, Aside, Merge, SourceError
from inventory.sheets.xlsx.markup import DAMAGED, Attributes, Elements, parse, unescaped

MOST_COLUMNS = 16_384
"""Columns of a sheet in ECMA-376 workbooks, as common programs write them."""
MOST_CELLS = 40_000_000
"""Marks of cells, and places up to the last filled one of each row, together: a million rows of 20 cells."""
MOST_MERGED = 20_000

_WHOLE = re.compile(r"-?[0-9]{1,400}")
_NUMBER = re.compile(r"[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]{1,4})?")
_PLACE = re.compile(r"([A-Za-z]{0,3})([0-9]{0,7})")
_WIDE = "The row goes on beyond the last column a sheet can have, a row of no honest size. It was not read."


@dataclass(frozen=True, slots=True)
class Frame:
    """What cells refer to. texts: shared ones; days, spans: styles that show a number as a day or a time span."""

    texts: Sequence[str] = ()
    days: Set[str] = frozenset()
    spans: Set[str] = frozenset()
    from_1904: bool = False


@lru_cache(maxsize=4096)
def column_number(letters: str) -> int:
    """The column called so, from 0. Raises SourceError beyond the last one of a sheet.

    >>> column_number("A"), column_number("XFD")
    (0, 16383)
    """
    if not (letters.isascii() and letters.isalpha()):
        raise SourceError(DAMAGED)
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - 64
    if number > MOST_COLUMNS:
        raise SourceError(_WIDE)
    return number - 1


class _Rows(Elements):
    """Gathers rows of cells out of a worksheet's XML (ECMA-376 part 1, 18.3.1.73)."""

    def __init__(self, frame: Frame, aside: Aside) -> None:
        super().__init__()
        self.frame, self.aside = frame, aside
        self.done: list[tuple[int, list[Any]]] = []
        self.number = 0
        self.row: list[Any] | None = None
        self.column = -1
        self.cells = 0
        self.cell: Attributes | None = None
        self.value: str | None = None
        self.formula = self.spoken = False
        self.on("row", self._row, self._row_end)
        self.on("c", self._cell, self._cell_end)
        self.on("f", self._formula)
        self.on("v", self._value, self._value_end)
        self.on("t", self._text, self._text_end)
        self.on("rPh", self._spoken, self._spoken_end)
        self.on("mergeCell", self._merge)

    def _row(self, attributes: Attributes) -> None:
        if self.row is not None:
            raise SourceError("The workbook holds rows inside a row of no honest size. It was not read.")
        number = _row_number(attributes.get("r"), self.number + 1)
        if number <= self.number:
            raise SourceError(f"Row {number} stands after row {self.number}. {DAMAGED}")
        if number > MOST_ROWS:
            raise _too_many_rows()
        self.number, self.row, self.column = number, [], -1
        self._count(1)
        if attributes.get("hidden") in ("1", "true"):
            self.aside.hidden.add(number)

    def _row_end(self) -> None:
        self._count(len(self.row or ()))
        self.done.append((self.number, self.row or []))
        self.row = None

    def _count(self, cells: int) -> None:
        self.cells += cells
        if self.cells > MOST_CELLS:
            raise SourceError(f"The tab has more than {MOST_CELLS:,} cells. It was not read.")

    def _cell(self, attributes: Attributes) -> None:
        if self.row is None or self.cell is not None:
            raise SourceError(DAMAGED)
        self.cell, self.value, self.formula = attributes, None, False
        place = attributes.get("r")
        if place is None:
            self.column += 1
            if self.column >= MOST_COLUMNS:
                raise SourceError(_WIDE)
        else:
            self.column = column_number(place.rstrip("0123456789"))
        self.cells += 1

    def _cell_end(self) -> None:
        if self.cell is None or self.row is None:
            return
        value = self._meant(self.cell, self.value)
        self.cell = None
        if value is None:
            return
        row, column = self.row, self.column
        if column < len(row):
            if row[column] is not None:
                raise SourceError(f"Row {self.number} holds one cell twice. {DAMAGED}")
            row[column] = value
            return
        if column > len(row):
            row.extend([None] * (column - len(row)))
        row.append(value)

    def _formula(self, _attributes: Attributes) -> None:
        self.formula = True

    def _value(self, _attributes: Attributes) -> None:
        if self.cell is not None:
            self.gather()

    def _value_end(self) -> None:
        if self.wanted is not None:
            self.value = self.gathered()

    def _text(self, _attributes: Attributes) -> None:
        # text inside the cell, which may be in several pieces; not how it is spoken
        if self.cell is not None and not self.spoken and self.cell.get("t") == "inlineStr":
            self.gather()

    def _text_end(self) -> None:
        if self.wanted is not None:
            self.value = (self.value or "") + self.gathered()
            if len(self.value) > MOST_COLUMNS * 4:
                raise SourceError(_WIDE)

    def _spoken(self, _attributes: Attributes) -> None:
        self.spoken = True

    def _spoken_end(self) -> None:
        self.spoken = False

    def _merge(self, attributes: Attributes) -> None:
        if len(self.aside.merged) >= MOST_MERGED:
            raise SourceError(f"The tab has more than {MOST_MERGED:,} merged cells. It was not read.")
        name = attributes.get("ref", "")
        first, _, last = name.partition(":")
        one, other = _PLACE.fullmatch(first), _PLACE.fullmatch(last or first)
        if name and one and other:  # whole columns name no row, whole rows no column: A:C, 3:4
            rows = int(one[2] or 1), int(other[2] or MOST_ROWS)
            columns = column_number(one[1] or "A"), column_number(other[1] or "XFD")
            self.aside.merged.append(Merge(name, rows, columns))

    def _meant(self, cell: Attributes, said: str | None) -> Any:
        """What a cell holds (ECMA-376 part 1, 18.18.11); what is no number is left as the text it is."""
        kind = cell.get("t", "n")
        if not said:
            # a formula whose result is empty text is stored with the type “str” and is simply blank
            return NO_VALUE if self.formula and kind != "str" else None
        if kind == "n":
            number = _number(said)
            style = cell.get("s", "0")
            return (
                number
                if style not in self.frame.days or isinstance(number, str)
                else self._day(number, style)
            )
        if kind == "s":
            return self._shared(said)
        if kind == "b":
            return {"1": True, "true": True, "0": False, "false": False}.get(said.strip(), said)
        return _iso(said) if kind == "d" else unescaped(said)

    def _shared(self, said: str) -> str:
        texts = self.frame.texts
        number = int(said) if _WHOLE.fullmatch(said.strip()) else -1
        if not 0 <= number < len(texts):
            raise SourceError(DAMAGED)
        return texts[number]

    def _day(self, number: float, style: str) -> Any:
        from openpyxl.utils.datetime import CALENDAR_MAC_1904, WINDOWS_EPOCH, from_excel

        epoch = CALENDAR_MAC_1904 if self.frame.from_1904 else WINDOWS_EPOCH
        try:
            return from_excel(number, epoch, timedelta=style in self.frame.spans)
        except (OverflowError, ValueError):
            return "#VALUE!"


def read_rows(stream: IO[bytes], frame: Frame, label: str, tab: str, aside: Aside) -> Iterator[Sequence[Any]]:
    """Every row from the first on, blank ones as well, as long as their last filled cell.

    aside: filled meanwhile. Raises SourceError with the row in its place.
    """
    rows = _Rows(frame, aside)
    aside.hidden.clear()
    aside.merged.clear()
    given = 0
    try:
        for _ in parse(stream, rows):
            for number, row in rows.done:
                while given < number - 1:
                    given += 1
                    yield ()
                given = number
                yield row
            rows.done.clear()
    except SourceError as error:
        at = MOST_ROWS + 1 if isinstance(error, _TooManyRows) else max(rows.number, given + 1)
        raise SourceError(error.problem, Place(label, tab, at, problem=error.problem)) from None


class _TooManyRows(SourceError):
    """A row beyond the last one of a sheet."""


def _too_many_rows() -> SourceError:
    return _TooManyRows(f"There are more than {MOST_ROWS:,} rows.")


def _row_number(said: str | None, otherwise: int) -> int:
    if said is None:
        return otherwise
    number = _number(said)
    if isinstance(number, str) or number != number // 1 or number < 1:
        raise SourceError(DAMAGED)
    if number > MOST_ROWS:
        raise _too_many_rows()
    return int(number)


def _number(said: str) -> int | float | str:
    if (said.isdigit() and said.isascii() and len(said) <= 400) or _WHOLE.fullmatch(said):
        return int(said)
    text = said.strip()
    if _WHOLE.fullmatch(text):
        return int(text)
    return float(text) if _NUMBER.fullmatch(text) else said


def _iso(said: str) -> Any:
    try:
        return datetime.fromisoformat(said.strip())
    except ValueError:
        return said
