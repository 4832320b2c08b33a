"""Sheets out: text stays text, and files are whole or not there."""

from __future__ import annotations

import csv
import os
import re
from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook, load_workbook

from inventory.errors import Refused
from inventory.sheets import write_csv
from inventory.sheets.csv import protect, unprotect
from inventory.sheets.saving import saving
from inventory.sheets.writing import Value, page_head, safe_text
from inventory.sheets.xlsx.markup import unescaped
from sheets.plain_tables import write_table

from .shop import read

NASTY = [
    "＝1",
    "a;=1+1",
    "a|-1;@b",
    "x;'y",
    "#N/A x",
    "&D&F",
    "=1+1",
    "+1",
    "-dull-",
    "@home",
    '=HYPERLINK("x")',
    "'quoted",
    "''",
    '"',
    "a,b;c|d",
    "é – €",
    "#7",
    "27/64",
]


@pytest.mark.parametrize("text", NASTY)
def test_text_comes_back_from_a_workbook_unchanged(tmp_path: Path, text: str) -> None:
    """As text, whatever it begins with, and as a plating's name through our own reader."""
    write_table(tmp_path / "t.xlsx", "platings", ["plating"], [[text]])
    cell = load_workbook(tmp_path / "t.xlsx")["platings"]["A2"]
    assert (cell.value, cell.data_type) == (text, "s")
    assert [one.name for one in read(tmp_path / "t.xlsx").catalogue.platings.values()] == [text]


@pytest.mark.parametrize("text", NASTY)
def test_text_comes_back_from_csv_unchanged(tmp_path: Path, text: str) -> None:
    """And no program that opens the file takes it for a formula."""
    write_csv(tmp_path / "platings.csv", ["plating"], [[text]])
    assert [one.name for one in read(tmp_path / "platings.csv").catalogue.platings.values()] == [text]
    with (tmp_path / "platings.csv").open(encoding="utf-8-sig", newline="") as file:
        stored = list(csv.reader(file))[1][0]
    assert not stored.startswith(("=", "+", "-", "@"))


@given(st.text())
def test_protecting_is_undone_by_unprotecting(text: str) -> None:
    """For any text at all."""
    assert unprotect(protect(text)) == text


@pytest.mark.parametrize(
    "text", ["#N/A", "#REF!", "=1", "a\rb", "_x000D_", "\ud800", "https://a.example.com"]
)
def test_a_cell_takes_text_for_nothing_else(text: str) -> None:
    """Not for an error, a formula or a link; half a character is shown as lost."""
    sheet = Workbook().create_sheet()
    safe_text(sheet["A1"], text)
    assert (sheet["A1"].data_type, sheet["A1"].hyperlink) == ("s", None)
    assert unescaped(str(sheet["A1"].value)) == text.replace("\ud800", "�")


@pytest.mark.parametrize(
    ("text", "printed"),
    [
        ("Salt & Marsh", "&LSalt && Marsh"),
        ("&D", "&L&&D"),
        ("&[Path]", "&L&& [Path]"),
        ("&" * 200, "&L" + "&" * 240),
        ("x" + "&" * 200, "&Lx" + "&" * 238),
        ("_x000D_", "&L_x005F_x000D_"),
    ],
)
def test_what_stands_above_a_page_is_text(text: str, printed: str) -> None:
    """No code that prints a day or a path, none that is cut in two, and never longer than programs take."""
    sheet = Workbook().create_sheet()
    page_head(sheet, text)
    assert str(sheet.oddHeader) == printed


@pytest.mark.parametrize("text", ["a;=1+1", "a|@x", "a\t-1", "a\n=1", "a;'=1"])
def test_nothing_runs_behind_other_separators_either(text: str) -> None:
    """A semicolon parts cells where people write 1,5; quotes inside a line do not hold it together there."""
    assert not re.search(r"[;|\t\n][=@-]", protect(text))
    assert unprotect(protect(text)) == text


def test_values_of_every_kind(tmp_path: Path) -> None:
    """Numbers are numbers, dates dates, nothing nothing, and yes is a word."""
    row: list[Value] = [
        "x",
        3,
        2.5,
        Decimal("12.50"),
        Fraction(1, 2),
        Fraction(4),
        date(2026, 11, 25),
        True,
        None,
    ]
    headings = list("abcdefghi")
    write_table(tmp_path / "v.xlsx", "v", headings, [row])
    sheet = load_workbook(tmp_path / "v.xlsx")["v"]
    values = [cell.value for cell in sheet[2]]
    assert [type(value).__name__ for value in values] == [
        "str",
        "int",
        "float",
        "float",
        "float",
        "int",
        "datetime",
        "str",
        "NoneType",
    ]
    assert values[3:6] == [12.5, 0.5, 4]
    assert (sheet["G2"].number_format, values[7]) == ("yyyy-mm-dd", "yes")
    write_csv(tmp_path / "v.csv", headings, [row])
    text = (tmp_path / "v.csv").read_text(encoding="utf-8-sig").splitlines()[1]
    assert text == "x,3,2.5,12.50,0.5,4,2026-11-25,yes,"


def test_what_a_cell_cannot_hold() -> None:
    """Control characters are shown as lost; a text too long is refused rather than cut."""
    sheet = Workbook().create_sheet()
    safe_text(sheet["A1"], "a\x00b\x0bc")
    assert sheet["A1"].value == "a�b�c"
    with pytest.raises(Refused, match="40000 characters"):
        safe_text(sheet["A1"], "x" * 40_000)


def test_a_failure_leaves_nothing_behind(tmp_path: Path) -> None:
    """Neither a half file nor its makings, and the old file is untouched."""
    (tmp_path / "a.csv").write_text("old")
    with pytest.raises(UnicodeEncodeError), saving(tmp_path / "a.csv", overwrite=True) as unfinished:
        unfinished.write_text("half a new file \ud800", encoding="utf-8")
    assert [(path.name, path.read_text()) for path in tmp_path.iterdir()] == [("a.csv", "old")]


def test_a_disk_that_fails_is_told(tmp_path: Path) -> None:
    """As a sentence with the system's own reason."""
    with pytest.raises(Refused, match=r"cannot be written: No space left"), saving(tmp_path / "a.csv"):
        raise OSError(28, "No space left on device")


def test_overwriting_is_asked_for(tmp_path: Path) -> None:
    """And then done whole."""
    write_csv(tmp_path / "a.csv", ["a"], [["1"]])
    with pytest.raises(Refused, match="is there already"):
        write_csv(tmp_path / "a.csv", ["b"], [])
    write_csv(tmp_path / "a.csv", ["b"], [], overwrite=True)
    assert (tmp_path / "a.csv").read_text(encoding="utf-8-sig") == "b\n"


@pytest.mark.skipif(os.name != "posix", reason="permission bits are POSIX")
def test_others_may_read_what_the_system_lets_them(tmp_path: Path) -> None:
    """The file has the rights any new file has here."""
    (tmp_path / "plain").touch()
    write_csv(tmp_path / "a.csv", ["a"], [])
    assert (tmp_path / "a.csv").stat().st_mode == (tmp_path / "plain").stat().st_mode
