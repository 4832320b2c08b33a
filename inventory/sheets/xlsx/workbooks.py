"""Workbooks: opened without trust, read once, row by row."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

from inventory.sheets.files import MOST_ROWS, Aside, RowValues, Source, SourceError
from inventory.sheets.xlsx.archives import MOST_OTHER, MOST_SHEETS, Package, Relation, open_package
from inventory.sheets.xlsx.grid import Frame, read_rows
from inventory.sheets.xlsx.markup import DAMAGED, Attributes, Elements, unescaped

MOST_TABS = 1000
MOST_TEXTS = 3_000_000
MOST_STYLES = 200_000
"""Cell formats; common programs stop at 65,490."""
LONGEST_FORMAT = 1000

_SIZE = re.compile(rb"""<(?:\w+:)?dimension\s+ref=["'][A-Z]+[0-9]+:[A-Z]+([0-9]{1,7})["']""")


def workbook_sources(path: Path, label: str, stack: ExitStack) -> list[Source]:
    """Every tab of a workbook; it stays open until `stack` closes. Raises SourceError, OSError."""
    package, main = open_package(path, stack)
    book, relations = _Book(), package.relations(main)
    package.read(main, book)
    tabs = [tab for tab in book.tabs if _kind(relations, tab) != "chartsheet"]
    parts = [relations[tab.id].part for tab in tabs if _kind(relations, tab) == "worksheet"]
    if len(parts) < len(tabs) or not parts or len(set(parts)) < len(parts):
        raise SourceError(DAMAGED)
    if sum(map(package.size, parts)) > MOST_SHEETS:
        raise SourceError("The workbook unfolds to far more than any sheet of stock needs. It was not read.")
    frame = _frame(package, relations, from_1904=book.from_1904)
    notes = _remarks(package, label)
    return [_source(package, part, label, tab, frame, notes) for tab, part in zip(tabs, parts, strict=True)]


def _source(
    package: Package, part: str, label: str, tab: _Tab, frame: Frame, notes: tuple[str, ...]
) -> Source:
    said = _SIZE.search(package.head(part))
    # what a file says of its own size is only believed for showing progress
    size = min(int(said[1]), MOST_ROWS) if said else 0
    aside = Aside()

    def rows() -> Iterator[RowValues]:
        with package.open(part) as stream:
            yield from read_rows(stream, frame, label, tab.name, aside)

    return Source(label, tab.name, rows, size, hidden=tab.hidden, notes=notes, aside=aside)


def _kind(relations: dict[str, Relation], tab: _Tab) -> str:
    return relations[tab.id].kind if tab.id in relations else ""


def _remarks(package: Package, label: str) -> tuple[str, ...]:
    notes = []
    if any(name.endswith("vbaproject.bin") for name in package.parts):
        notes.append(f"{label} holds macros; they were left alone, only its cells were read.")
    if any("/externallinks/" in name for name in package.parts):
        notes.append(f"{label} takes values from other workbooks; they were read as they were last stored.")
    return tuple(notes)


def _frame(package: Package, relations: dict[str, Relation], *, from_1904: bool) -> Frame:
    texts, styles = _Texts(), _Styles()
    for relation in relations.values():
        # no format and no shared text at all is how the smallest programs write
        if relation.kind == "sharedStrings" and package.has(relation.part):
            package.read(relation.part, texts, MOST_OTHER)
        elif relation.kind == "styles" and package.has(relation.part):
            package.read(relation.part, styles, MOST_OTHER)
    return Frame(texts.texts, frozenset(styles.days), frozenset(styles.spans), from_1904)


@dataclass(frozen=True, slots=True)
class _Tab:
    name: str
    id: str
    hidden: bool


class _Book(Elements):
    """The main part: its tabs and its calendar (ECMA-376 part 1, 18.2)."""

    def __init__(self) -> None:
        super().__init__()
        self.tabs: list[_Tab] = []
        self.from_1904 = False
        self.on("sheet", self._sheet)
        self.on("workbookPr", self._properties)

    def _sheet(self, attributes: Attributes) -> None:
        if len(self.tabs) >= MOST_TABS:
            raise SourceError(f"The workbook has more than {MOST_TABS:,} tabs. It was not read.")
        id_ = next((said for name, said in attributes.items() if name.endswith("relationships id")), "")
        hidden = attributes.get("state", "visible") != "visible"
        self.tabs.append(_Tab(unescaped(attributes.get("name", "")), id_, hidden))

    def _properties(self, attributes: Attributes) -> None:
        self.from_1904 = attributes.get("date1904", "0") in ("1", "true", "on")


class _Texts(Elements):
    """The texts cells share (ECMA-376 part 1, 18.4): the pieces of each together, without how they are spoken."""

    def __init__(self) -> None:
        super().__init__()
        self.texts: list[str] = []
        self.spoken = False
        self.pieces: list[str] = []
        self.on("si", end=self._end)
        self.on("t", self._piece, self._piece_end)
        self.on("rPh", self._speak, self._spoken)

    def _piece(self, _attributes: Attributes) -> None:
        if not self.spoken:
            self.gather()

    def _piece_end(self) -> None:
        if self.wanted is not None:
            self.pieces.append(self.gathered())

    def _end(self) -> None:
        if len(self.texts) >= MOST_TEXTS:
            raise SourceError(f"The workbook holds more than {MOST_TEXTS:,} texts. It was not read.")
        self.texts.append(unescaped("".join(self.pieces)))
        self.pieces.clear()

    def _speak(self, _attributes: Attributes) -> None:
        self.spoken = True

    def _spoken(self) -> None:
        self.spoken = False


class _Styles(Elements):
    """Which cell formats show a number as a day or a time span (ECMA-376 part 1, 18.8)."""

    def __init__(self) -> None:
        super().__init__()
        from openpyxl.styles.numbers import BUILTIN_FORMATS

        self.formats: dict[str, str] = {str(number): code for number, code in BUILTIN_FORMATS.items()}
        self.days: set[str] = set()
        self.spans: set[str] = set()
        self.number = 0
        self.counting = False
        self.on("numFmt", self._format)
        self.on("cellXfs", self._begin, self._end)
        self.on("xf", self._cell)

    def _format(self, attributes: Attributes) -> None:
        if len(self.formats) < MOST_STYLES:
            self.formats[attributes.get("numFmtId", "")] = attributes.get("formatCode", "")[:LONGEST_FORMAT]

    def _begin(self, _attributes: Attributes) -> None:
        self.counting = True

    def _end(self) -> None:
        self.counting = False

    def _cell(self, attributes: Attributes) -> None:
        from openpyxl.styles.numbers import is_date_format, is_timedelta_format

        if not self.counting:
            return
        if self.number >= MOST_STYLES:
            raise SourceError(f"The workbook has more than {MOST_STYLES:,} cell formats. It was not read.")
        code = self.formats.get(attributes.get("numFmtId", "0"))
        if is_date_format(code):
            self.days.add(str(self.number))
            if is_timedelta_format(code):
                self.spans.add(str(self.number))
        self.number += 1
