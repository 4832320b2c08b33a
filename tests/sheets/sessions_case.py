"""A making session drawn up by hand, its catalogue, and ways to fill its sheet."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook

from inventory.catalogue import Blank, Catalogue, Kit, Part, Pattern, Plating, Supply, Tube, fold
from inventory.errors import BadSheet, Place
from inventory.measures import read_drill, read_length
from inventory.reports.session_sheet import (
    BottleRow,
    CountRow,
    CountSheet,
    PlannedBlanks,
    PlannedPieces,
    SessionSheet,
    UseRow,
)
from inventory.sheets.sessions.reading import read_session
from inventory.sheets.sessions.tabs import session_forms
from inventory.sheets.writing import put, safe_text

DAY = date(2026, 11, 28)
GLUE, EPOXY, STRIPS, PADS = "thin CA", "5-minute epoxy", "=strips P240", "polishing pads"
KIT, TUBE, OLIVE, ANTLER = "Dunlin kit chrome", "tube 7 x 53", "olive 19 x 127", "antler tips"
PARTS = (
    Part(KIT, Kit("Dunlin", "chrome")),
    Part("Redshank kit gunmetal", Kit("Redshank", "gunmetal")),
    Part(TUBE, Tube(read_length("6.85 mm"), read_length("53 mm"), read_drill("7 mm"))),
    Part(OLIVE, Blank("olive", "square", read_length("19 mm"), read_length("127 mm"))),
    Part(ANTLER, Blank("antler", "natural")),
    Part(GLUE, Supply("adhesive", net=56_000, tare=12_000, density=Fraction(105, 100)), "ml"),
    Part(EPOXY, Supply("adhesive"), "g"),
    Part(STRIPS, Supply("abrasive", net=14_000), "strip"),
    Part(PADS, Supply("abrasive"), "pad"),
)
STAGES = ("cut", "drill", "glue", "trim", "turn", "finish", "assemble", "pack")
PIECES = (
    PlannedPieces(1, "wren wedding", "Dunlin gloss pen", "chrome", KIT, OLIVE, 14, 12, STAGES),
    PlannedPieces(
        *(2, "the stall 2026-11-28 a", "Redshank stopper", "gunmetal", "Redshank kit gunmetal", ANTLER, 5, 4),
        stages=("cut", "drill", "turn", "finish", "assemble"),
    ),
    PlannedPieces(
        *(3, "teal", "Dunlin gloss pen", "chrome", KIT, OLIVE, 3, 2, STAGES),
        refill="gel refill, slim",
        extra_diameter=read_length("1/16 in"),
    ),
)
BOTTLES = (
    BottleRow(GLUE, 7, "bottle 2", "ml", 31_500, 12_000, Fraction(105, 100), DAY, date(2027, 3, 1)),
    BottleRow(EPOXY, 9, "", "g", 80_250, 0, Fraction(1)),
)
USES = (UseRow(STRIPS, "strip", 9500), UseRow(PADS, "pad", 2250))
COUNTS = (
    CountRow(KIT, "piece", "dearest in the drawer", 31_000),
    CountRow(GLUE, "ml", "counted 90 days ago", 56_000, 8, "bottle 3"),
)
BLANKS = (
    PlannedBlanks(OLIVE, 9, "8 × 2 for wren wedding; 1 for teal, 66.8 mm left over"),
    PlannedBlanks(ANTLER, 1, "2 for the stall 2026-11-28 a", 17, "tip 3"),
)
SHEET = SessionSheet(
    *("7f3a-91", 3, 41, "market on the quay", DAY, PIECES, BOTTLES, USES, COUNTS),
    setup_list=(
        ("cut", "band saw, stop at 56.2 mm; olive 19 x 127: 14 blanks"),
        ("drill", "7 mm drill, 5/16 drill"),
        ("assemble", "Dunlin bushings, press"),
    ),
    check_first=(
        "thin CA is used up by about the 16th piece: lay out bottle 3 (it suffices with 62 %).",
        "Antler dust: extraction and a respirator.",
    ),
    blanks=BLANKS,
)
STOCK = CountSheet("7f3a-91", 88, DAY, False, COUNTS)


def known() -> Catalogue:
    """What the sheet speaks of."""
    patterns = (Pattern("Dunlin gloss pen", "Dunlin"), Pattern("Redshank stopper", "Redshank"))
    platings = (Plating("chrome"), Plating("gunmetal"))
    return Catalogue(
        parts={fold(one.name): one for one in PARTS},
        patterns={fold(one.name): one for one in patterns},
        platings={fold(one.name): one for one in platings},
    )


def fill(path: Path, tab: str, row: int, values: Mapping[str, Any]) -> Path:
    """Fill cells of one row of a workbook, by heading."""
    book: Any = load_workbook(path)
    columns = {cell.value: cell.column for cell in book[tab][1]}
    for name, value in values.items():
        cell = book[tab].cell(row, columns[name])
        if value == STRIPS:
            safe_text(cell, value)  # chosen from a list, not typed: no formula
        else:
            cell.value = value
    book.save(path)
    return path


def csv_rows(path: Path) -> list[list[str]]:
    """The cells of a CSV file."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.reader(file))


def fill_csv(path: Path, row: int, values: Mapping[str, Any]) -> None:
    """Fill cells of one row of a CSV file, by heading; rows up to it come into being."""
    lines = csv_rows(path)
    lines += [[""] * len(lines[0]) for _ in range(row - len(lines))]
    for name, value in values.items():
        lines[row - 1][lines[0].index(name)] = "" if value is None else str(value)
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        csv.writer(file).writerows(lines)


def refused(path: Path) -> list[Place]:
    """The places of everything that cannot be taken."""
    with pytest.raises(BadSheet) as found:
        read_session(path, known())
    return list(found.value.where)


def sentence(path: Path) -> str:
    """What is said of a file that is no session sheet at all."""
    with pytest.raises(BadSheet) as found:
        read_session(path, known())
    return f"{found.value.message} {found.value.hint}"


def write_plain(path: Path, sheet: SessionSheet = SHEET) -> Path:
    """The tables of a session as a workbook of its CSV files has them, or one of the former version: a tab each."""
    book = Workbook()
    book.remove(book.worksheets[0])
    for form in session_forms(sheet):
        headings, rows = form.plain()
        tab = book.create_sheet(form.name)
        for number, cells in enumerate((headings, *rows), start=1):
            for column, value in enumerate(cells, start=1):
                put(tab.cell(number, column), value)
    book.save(path)
    return path
