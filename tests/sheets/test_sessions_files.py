"""Files that are no session sheet, and workbooks that lack what ours have."""

from __future__ import annotations

import re
import zipfile
from pathlib import Path

import pytest
from openpyxl import Workbook

from inventory.sheets.counts.writing import write_counts
from inventory.sheets.forms.returned_form import ReturnedForm
from inventory.sheets.purchasing.parcel_writing import write_delivery_sheet
from inventory.sheets.sessions.reading import read_session
from inventory.sheets.sessions.writing import write_session
from inventory.sheets.stock.template import write_template

from .lists_case import a_shop
from .on_pages import fill_page
from .sessions_case import SHEET, STOCK, known, refused, sentence, write_plain
from .shop import write_xlsx


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    """The sheet of the session as a workbook."""
    write_session(tmp_path / "weekend.xlsx", SHEET)
    return tmp_path / "weekend.xlsx"


def test_sheets_of_another_kind(tmp_path: Path) -> None:
    """Each is told what it is, and which command takes it."""
    write_delivery_sheet(tmp_path / "parcel.xlsx", a_shop(), ())
    write_counts(tmp_path / "count.xlsx", STOCK)
    write_template(tmp_path / "stock.xlsx", known())
    write_xlsx(tmp_path / "lists.xlsx", {"Marsh": [["part", "packs", "price"], ["a", 1, 2]]})
    write_xlsx(tmp_path / "supplier.xlsx", {"Marsh": [["part", "arrived"], ["a", 1]]})
    write_xlsx(tmp_path / "counts.xlsx", {"counts": [["part", "quantity"], ["a", 1]]})
    write_xlsx(tmp_path / "letter.xlsx", {"Sheet1": [["Dear sir"], ["we regret"]]})
    Workbook().save(tmp_path / "blank.xlsx")
    said = {path.stem: sentence(path) for path in tmp_path.iterdir()}
    assert "saved by `weekend sheet`" in said["parcel"]
    assert "count sheet: book it with `count book`" in said["count"]
    assert "stock workbook" in said["stock"]
    assert "supplier list" in said["lists"]
    assert "delivery sheet" in said["supplier"]
    assert "“counts” is one of a stock workbook" in said["counts"]
    assert "saved by `weekend sheet`" in said["letter"]
    assert "saved by `weekend sheet`" in said["blank"]


def test_files_that_are_none(tmp_path: Path) -> None:
    """Missing, empty, of another format, damaged: one place each."""
    (tmp_path / "empty.xlsx").touch()
    (tmp_path / "old.ods").write_text("x")
    (tmp_path / "broken.xlsx").write_bytes(b"PK\x03\x04 nothing")
    (tmp_path / "folder").mkdir()
    for name in ("missing.xlsx", "empty.xlsx", "old.ods", "broken.xlsx", "folder"):
        (place,) = refused(tmp_path / name)
        assert place.problem


def test_another_encoding_is_announced(tmp_path: Path) -> None:
    """A CSV file that is not UTF-8 is read, with a word on its accents."""
    path = tmp_path / "pieces.csv"
    path.write_bytes("row,good,note\n1,3,größer\n".encode("cp1252"))
    found = read_session(path, known())
    assert (found.pieces[0].note, len(found.announced)) == ("größer", 1)


def test_a_workbook_without_styles(sheet: Path) -> None:
    """Other programs leave the styles out, and the numbers of rows and cells where these follow each other."""
    fill_page(sheet, "pieces", 2, {"good": 7})
    old = sheet.rename(sheet.with_suffix(".old"))
    with zipfile.ZipFile(old) as archive, zipfile.ZipFile(sheet, "w") as new:
        for name in archive.namelist():
            data = archive.read(name)
            if name == "xl/styles.xml":
                continue
            if "worksheets/sheet" in name and name.endswith(".xml"):
                data = re.sub(rb' (?:s|ht|customHeight|spans)="[^"]*"', b"", data)
            if name.endswith((".rels", "[Content_Types].xml")):
                data = re.sub(rb"<(?:Relationship|Override)[^>]*styles[^>]*/>", b"", data)
            new.writestr(name, data)
    found = read_session(sheet, known())
    assert (found.session, found.pieces[0].good, found.pieces[0].order) == (3, 7, "wren wedding")


def test_whole_columns_merged(tmp_path: Path) -> None:
    """A merge may name no rows at all."""
    sheet = write_plain(tmp_path / "weekend.xlsx")
    old = sheet.rename(sheet.with_suffix(".old"))
    with zipfile.ZipFile(old) as archive, zipfile.ZipFile(sheet, "w") as new:
        for name in archive.namelist():
            data = archive.read(name).replace(
                b"</sheetData>", b'</sheetData><mergeCells><mergeCell ref="J:K"/></mergeCells>'
            )
            new.writestr(name, data)
    tabs = ReturnedForm(sheet).tabs
    assert [one.rows for tab in tabs for one in tab.aside.merged] == [(1, 1_048_576)] * len(tabs)
