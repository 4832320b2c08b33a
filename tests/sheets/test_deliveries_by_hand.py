"""What people do to a delivery sheet beside filling it: merged cells, hidden rows, words and strokes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from inventory.sheets.purchasing.parcel_writing import write_delivery_sheet

from .deliveries_case import DUE, LETTER, TAB, fill, read, refused
from .lists_case import a_shop, known


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    """The sheet for all that is due in."""
    write_delivery_sheet(tmp_path / "parcel.xlsx", a_shop(), DUE)
    return tmp_path / "parcel.xlsx"


def test_merged_cells_are_refused(sheet: Path) -> None:
    """One count over two rows is said of nobody knows which; merges where nothing is filled in are harmless."""
    fill(sheet, 2, arrived=1)
    book: Any = load_workbook(sheet)
    book[TAB].merge_cells(f"{LETTER['arrived']}2:{LETTER['arrived']}3")
    book[TAB].merge_cells(f"{LETTER['lot']}2:{LETTER['lot']}3")
    book.save(sheet)
    (place,) = refused(sheet)
    assert (place.tab, place.row, place.column) == (TAB, 2, "arrived")
    assert "are merged" in place.problem


def test_what_a_hand_writes_into_a_parcel(sheet: Path) -> None:
    """A tick is all that was due, `4 of 5` four; what was understood comes with the parcel. A rest is asked about."""
    fill(sheet, 2, arrived="4 of 10", damaged="I", rest_cancelled="✔")
    fill(sheet, 3, arrived="✓")
    marsh = read(sheet)[0]
    assert next((line.good, line.damaged, line.rest_cancelled) for line in marsh.lines) == (4000, 1000, True)
    due = load_workbook(sheet)[TAB]["C3"].value
    assert marsh.lines[1].good == known().part(marsh.lines[1].part).read_amount(str(due))
    assert any("“4 of 10” was taken as 4." in one for one in marsh.understood)
    (place,) = refused(fill(sheet, 3, arrived="4 short"))
    assert "How much came?" in place.problem


def test_hidden_rows_are_read_and_announced(sheet: Path) -> None:
    """A filter left on must not book unseen; it is said with the first parcel of the sheet."""
    fill(sheet, 2, arrived=7)
    fill(sheet, 3, arrived="56 ml")
    book: Any = load_workbook(sheet)
    for row in (2, 3):
        book[TAB].row_dimensions[row].hidden = True
    book.save(sheet)
    (found,) = read(sheet)
    assert [one.good for one in found.lines] == [7000, 56_000]
    assert found.announced == (f"parcel.xlsx, {TAB}: rows 2, 3 are hidden; they were read like the others.",)
