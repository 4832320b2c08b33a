"""The sample shop with names that spreadsheet programs would run, read as codes or turn into links, and what runs."""

from __future__ import annotations

import csv
import re
import zipfile
from collections.abc import Iterator, Sequence
from itertools import cycle
from pathlib import Path
from typing import Any

from hostile.books import Book, pack
from sample_sheets import HERE

PREFIXES = (
    *(
        "=1+1 ",
        "+1 ",
        "-1 ",
        "@SUM(A1) ",
        "=cmd|' /C calc'!A0 ",
        "|",
        "% ",
        "'",
        "''",
        '"',
        '=HYPERLINK("a","b") ',
    ),
    *(
        "https://salt.example.com/",
        "_x000D_",
        "_x003D_1 ",
        "&D&F &[Path] ",
        "&" * 60,
        "＝1 ",
        "#N/A ",
        "~",
        "{=1} ",
    ),
    *("<b>", "\\", "1/2 ", "2026-11-25 ", "1e5 ", "TRUE ", "=", "－", "=1|2 ", "a|=1+1 ", "./", "[1]!A "),
)
NAMES = {
    **dict.fromkeys(("tubes", "kits", "blanks", "supplies", "tools"), "part"),
    "suppliers": "supplier",
    "materials": "material",
    "platings": "plating",
    "families": "family",
    "patterns": "pattern",
    "orders": "order",
}
"""The column that gives a tab's things their names."""
TOLD = ("note", "customer", "supplier code", "price group", "lot", "caution", "listed species")
"""Columns of free text."""
OF_OURS = (
    r"=[A-Z]\d+[*+-][A-Z]\d+",
    r"=ROUND\(SUM\(G2:G\d+\),\d\)",
    r"=IF\((?:OR\()?SUM\(E2:E\d+\)=0(?:,G\d+>=[0-9.]+\))?,0,[0-9.]+\)",
    r"=ROUNDUP\(ROUND\([A-Z0-9:*+()]+(?:SUM\([A-Z0-9:]+\))?,9\),\d\)",
    r'=IF\(AND\(G\d+>0,G\d+<[0-9.]+\),"under the minimum order of [0-9.]+ [A-Z]{3}",""\)',
    r"=COUNTIF\('[^']+'!E2:E\d+,\">0\"\)",
    r"='[^']+'!G\d+(?:\*'[^']+'!G\d+)?",
    r"=SUM\([A-Z]+\d+:[A-Z]+\d+\)",
    r'=IF\(ISNUMBER\([A-Z]+\d+\),ROUND\(\([A-Z]+\d+-[A-Z]+\d+\)\*\d+/\d+,2\),""\)',
    r'=IF\(C\d+>0,D\d+/C\d+(?:-1)?,""\)',
    "=0",
)
"""Every formula this program writes."""
REFERENCE = r"(?:'[^']*'|\w+)!\$?[A-Z]*\$?\d*(?::\$?[A-Z]+\$?\d*|:\$?\d+)?"
RUNS = re.compile(r"(?:^|(?<=[;|\t\r\n]))[=+\-@\t\r\n＝＋－＠]")
NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")


def nasty_shop(path: Path) -> set[str]:
    """Write the sample as a workbook with every name and text made nasty; the names."""
    tabs = {file.stem: _lines(file) for file in HERE.glob("*.csv")}
    new: dict[str, str] = {}
    prefixes = cycle(PREFIXES)
    for tab, column in NAMES.items():
        at = tabs[tab][0].index(column)
        new |= {row[at]: next(prefixes) + row[at] for row in tabs[tab][1:] if row[at] not in new}
    for lines in tabs.values():
        told = {at for at, heading in enumerate(lines[0]) if heading in TOLD}
        for row in lines[1:]:
            for at, cell in enumerate(row):
                if cell:
                    listed = "; ".join(new.get(one, one) for one in cell.split("; "))
                    row[at] = (next(prefixes) + cell if at in told else listed).replace("_x", "_x005F_x")
    pack(path, Book(tabs).parts())
    return set(new.values())


def _lines(path: Path) -> list[list[str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.reader(file))


def runs_in_csv(path: Path) -> list[str]:
    """Cells that a program which parts lines at any usual separator would run, or take for something else."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        return [
            cell
            for row in csv.reader(file)
            for cell in row
            if RUNS.search(cell) and not NUMBER.fullmatch(cell)
        ]


def faults(path: Path) -> Iterator[str]:
    """What in a workbook is run, computed or fetched and not ours: in cells, heads, names, lists, links and charts."""
    from openpyxl import load_workbook

    book = load_workbook(path)
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                ours = any(re.fullmatch(one, str(cell.value)) for one in OF_OURS)
                if cell.data_type == "e" or (cell.data_type == "f" and not ours):
                    yield f"{sheet.title} {cell.coordinate}: {cell.value}"
                if cell.hyperlink and (target := _leads_out(cell.hyperlink, book.sheetnames)):
                    yield f"{sheet.title} {cell.coordinate} leads to {target}"
        for rule in sheet.data_validations.dataValidation:
            for formula in (rule.formula1, rule.formula2):
                if formula and not re.fullmatch(rf'0|"[a-zA-Z ,/-]+"|\$A\$2:\$A\$\d+|{REFERENCE}', formula):
                    yield f"{sheet.title} offers {formula}"
    with zipfile.ZipFile(path) as archive:
        for name in archive.namelist():
            yield from _part_faults(name, archive.read(name).decode())


def _leads_out(link: Any, titles: Sequence[str]) -> str:
    """Where a link leads that is no tab of the workbook."""
    inside = re.fullmatch("'(.*)'!A1", link.location or "")
    return "" if inside and inside[1] in titles and not link.target else f"{link.target}{link.location}"


def _part_faults(name: str, xml: str) -> Iterator[str]:
    if 'TargetMode="External"' in xml or "externalLink" in name:
        yield f"{name} leads out"
    for text in re.findall(r"<(?:oddHeader|oddFooter|evenHeader|firstHeader)>(.*?)</", xml):
        said = text.replace("&amp;", "&")
        codes = set(re.findall("&.?", said.replace("&&", "")))
        if codes - {"&L", "&R", "&A", "&P", "&N"} or len(said) > 255:
            yield f"{name} prints {said}"
    for text in re.findall(r"<definedName [^>]*>(.*?)</", xml):
        if not re.fullmatch(rf"{REFERENCE}(?:,{REFERENCE})*", text.replace("&amp;", "&")):
            yield f"{name} names {text}"
    for text in re.findall(r"<(?:\w+:)?f>(.*?)</", xml) if "chart" in name else ():
        if not re.fullmatch(REFERENCE, text):
            yield f"{name} draws {text}"
