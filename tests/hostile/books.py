"""Workbooks written by hand, part by part, in every way the standard allows and in some it does not.

Parts and names: ECMA-376 part 1 (SpreadsheetML) and part 2 (packages). Nothing of the program is used here.
"""

from __future__ import annotations

import zipfile
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
STRICT = "http://purl.oclc.org/ooxml/spreadsheetml/main"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
STRICT_OFFICE = "http://purl.oclc.org/ooxml/officeDocument/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
SHEET = "application/vnd.openxmlformats-officedocument.spreadsheetml"
MACROS = "application/vnd.ms-excel.sheet.macroEnabled.main+xml"
HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
DAY, TEXT = 1, 2
"""Numbers of the cell formats for days and for text."""

Rows = Sequence[Sequence[object]]
Parts = dict[str, bytes]


@dataclass(frozen=True)
class Way:
    """How a workbook is written.

    texts: shared, inline, plain (as the result of a formula) or rich. places: whether cells and rows say where they
    stand. prefix: of the namespace. days: serial numbers of the 1900 or 1904 calendar, or ISO dates.
    """

    texts: str = "shared"
    places: bool = True
    prefix: str = ""
    strict: bool = False
    days: str = "1900"
    folder: str = "xl/worksheets"
    hidden: frozenset[str] = frozenset()
    numbers_as_text: bool = False
    kind: str = f"{SHEET}.sheet.main+xml"


def letters(column: int) -> str:
    """The letters of a column from 0: A, B … Z, AA."""
    name = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        name = chr(65 + rest) + name
    return name


def serial(day: date, calendar: str = "1900") -> int:
    """The day number (ECMA-376 part 1, 18.17.4.1); of the 1900 calendar from 1900-03-01 on."""
    return (day - (date(1904, 1, 1) if calendar == "1904" else date(1899, 12, 30))) // timedelta(days=1)


class Book:
    """Gathers the parts of one workbook."""

    def __init__(self, tabs: Mapping[str, Rows], way: Way | None = None) -> None:
        self.way = way or Way()
        self.tabs = tabs
        self.shared: dict[str, int] = {}
        self.p = f"{self.way.prefix}:" if self.way.prefix else ""
        self.main = STRICT if self.way.strict else MAIN

    def parts(self) -> Parts:
        """Every part by name."""
        paths = {tab: f"{self.way.folder}/sheet{at}.xml" for at, tab in enumerate(self.tabs, start=1)}
        sheets = {path: self.sheet(self.tabs[tab]).encode() for tab, path in paths.items()}
        return {
            "[Content_Types].xml": self._types(paths.values()).encode(),
            "_rels/.rels": self._relations({"rId1": ("officeDocument", "xl/workbook.xml")}).encode(),
            "xl/workbook.xml": self._workbook().encode(),
            "xl/_rels/workbook.xml.rels": self._relations(self._inner(list(paths.values()))).encode(),
            "xl/styles.xml": self._styles().encode(),
            "xl/sharedStrings.xml": self._strings().encode(),
            **sheets,
        }

    def sheet(self, rows: Rows) -> str:
        """The XML of one worksheet."""
        p = self.p
        lines = []
        for number, row in enumerate(rows, start=1):
            cells = "".join(
                self.cell(number, at, value) for at, value in enumerate(row) if self._stays(value)
            )
            place = f' r="{number}"' if self.way.places else ""
            lines.append(f"<{p}row{place}>{cells}</{p}row>")
        body = f"<{p}sheetData>{''.join(lines)}</{p}sheetData>"
        return f"{HEAD}<{p}worksheet {self._space()}>{body}</{p}worksheet>"

    def cell(self, number: int, at: int, value: object) -> str:
        """The XML of one cell."""
        p, place = self.p, f' r="{letters(at)}{number}"' if self.way.places else ""
        if value is None:
            return f"<{p}c{place}/>"
        if isinstance(value, bool):
            return f'<{p}c{place} t="b"><{p}v>{int(value)}</{p}v></{p}c>'
        if isinstance(value, date):
            return self._day(place, value)
        if isinstance(value, (int, float)) and not self.way.numbers_as_text:
            return f"<{p}c{place}><{p}v>{value!r}</{p}v></{p}c>"
        return self._text(place, str(value))

    def _stays(self, value: object) -> bool:
        return value is not None or not self.way.places

    def _day(self, place: str, value: date) -> str:
        p = self.p
        if self.way.days == "iso":
            return f'<{p}c{place} t="d" s="{DAY}"><{p}v>{value.isoformat()}</{p}v></{p}c>'
        return f'<{p}c{place} s="{DAY}"><{p}v>{serial(value, self.way.days)}</{p}v></{p}c>'

    def _text(self, place: str, text: str) -> str:
        p, said = self.p, escape(text)
        if self.way.texts == "inline":
            return (
                f'<{p}c{place} t="inlineStr"><{p}is><{p}t xml:space="preserve">{said}</{p}t></{p}is></{p}c>'
            )
        if self.way.texts == "plain":
            return f'<{p}c{place} t="str"><{p}f>T("x")</{p}f><{p}v xml:space="preserve">{said}</{p}v></{p}c>'
        number = self.shared.setdefault(text, len(self.shared))
        return f'<{p}c{place} t="s"><{p}v>{number}</{p}v></{p}c>'

    def _strings(self) -> str:
        p = self.p
        entries = "".join(f"<{p}si>{self._entry(text)}</{p}si>" for text in self.shared)
        return f"{HEAD}<{p}sst {self._space()}>{entries}</{p}sst>"

    def _entry(self, text: str) -> str:
        p = self.p
        if self.way.texts == "rich" and len(text) > 1:
            half = len(text) // 2
            runs = "".join(
                f'<{p}r><{p}rPr><{p}b/></{p}rPr><{p}t xml:space="preserve">{escape(piece)}</{p}t></{p}r>'
                for piece in (text[:half], text[half:])
            )
            return f'{runs}<{p}rPh sb="0" eb="1"><{p}t>spoken</{p}t></{p}rPh>'
        return f'<{p}t xml:space="preserve">{escape(text)}</{p}t>'

    def _styles(self) -> str:
        p = self.p
        xfs = f'<{p}xf numFmtId="0"/><{p}xf numFmtId="14"/><{p}xf numFmtId="49"/>'
        return (
            f'{HEAD}<{p}styleSheet {self._space()}><{p}cellStyleXfs count="1"><{p}xf numFmtId="14"/></{p}cellStyleXfs>'
            f'<{p}cellXfs count="3">{xfs}</{p}cellXfs></{p}styleSheet>'
        )

    def _workbook(self) -> str:
        p = self.p
        office = STRICT_OFFICE if self.way.strict else OFFICE
        sheets = "".join(
            f'<{p}sheet name={quoteattr(tab)} sheetId="{at}" r:id="rId{at}"{self._state(tab)}/>'
            for at, tab in enumerate(self.tabs, start=1)
        )
        mac = f'<{p}workbookPr date1904="1"/>' if self.way.days == "1904" else ""
        space = f'{self._space()} xmlns:r="{office}"'
        return f"{HEAD}<{p}workbook {space}>{mac}<{p}sheets>{sheets}</{p}sheets></{p}workbook>"

    def _state(self, tab: str) -> str:
        return ' state="hidden"' if tab in self.way.hidden else ""

    def _inner(self, paths: Sequence[str]) -> dict[str, tuple[str, str]]:
        found = {f"rId{at}": ("worksheet", f"/{path}") for at, path in enumerate(paths, start=1)}
        return {**found, "rId901": ("styles", "styles.xml"), "rId902": ("sharedStrings", "sharedStrings.xml")}

    def _relations(self, relations: Mapping[str, tuple[str, str]]) -> str:
        office = STRICT_OFFICE if self.way.strict else OFFICE
        lines = "".join(
            f'<Relationship Id="{id_}" Type="{office}/{kind}" Target="{target}"/>'
            for id_, (kind, target) in relations.items()
        )
        return f'{HEAD}<Relationships xmlns="{PACKAGE}/relationships">{lines}</Relationships>'

    def _types(self, paths: Iterable[str]) -> str:
        lines = "".join(
            f'<Override PartName="/{path}" ContentType="{SHEET}.worksheet+xml"/>' for path in paths
        )
        return (
            f'{HEAD}<Types xmlns="{PACKAGE}/content-types"><Default Extension="xml" ContentType="application/xml"/>'
            f'<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
            f'<Override PartName="/xl/workbook.xml" ContentType="{self.way.kind}"/>'
            f'<Override PartName="/xl/styles.xml" ContentType="{SHEET}.styles+xml"/>'
            f'<Override PartName="/xl/sharedStrings.xml" ContentType="{SHEET}.sharedStrings+xml"/>{lines}</Types>'
        )

    def _space(self) -> str:
        return f'xmlns:{self.way.prefix}="{self.main}"' if self.way.prefix else f'xmlns="{self.main}"'


def pack(path: Path, parts: Mapping[str, bytes], method: int = zipfile.ZIP_DEFLATED) -> Path:
    """The parts as one archive."""
    with zipfile.ZipFile(path, "w", method) as archive:
        for name, data in parts.items():
            archive.writestr(name, data)
    return path
