"""Count sheets: out, blind or not, and back with what was counted."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from inventory.errors import BadSheet, Place, Refused
from inventory.reports.session_sheet import FilledCounts
from inventory.sheets.counts.reading import read_counts
from inventory.sheets.counts.writing import write_counts
from inventory.sheets.drawing import GROUND
from inventory.sheets.sessions.writing import write_session

from .lists_case import office
from .sessions_case import COUNTS, EPOXY, GLUE, KIT, SHEET, STOCK, STRIPS, csv_rows, fill, fill_csv, known
from .shop import write_xlsx


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    """The count sheet as a workbook."""
    assert write_counts(tmp_path / "count.xlsx", STOCK) == [tmp_path / "count.xlsx"]
    return tmp_path / "count.xlsx"


def read(path: Path) -> FilledCounts:
    """What the sheet says."""
    return read_counts(path, known())


def refused(path: Path) -> list[Place]:
    """The places of everything that cannot be taken."""
    with pytest.raises(BadSheet) as found:
        read(path)
    return list(found.value.where)


def headings(path: Path) -> list[str]:
    """The headings of a workbook's first tab."""
    book: Any = load_workbook(path)
    return [cell.value for cell in book.worksheets[0][1]]


def test_an_unfilled_sheet_says_nothing_but_whose_it_is(sheet: Path, tmp_path: Path) -> None:
    """As a workbook, as one CSV file, as a folder."""
    write_counts(tmp_path / "count.csv", STOCK)
    assert write_counts(tmp_path / "folder", STOCK) == [tmp_path / "folder" / "counts.csv"]
    for path in (sheet, tmp_path / "count.csv", tmp_path / "folder"):
        found = read(path)
        assert (found.mark, found.version, found.rows, found.announced) == ("7f3a-91", 88, (), ())
    assert len({read(path).fingerprint for path in (sheet, tmp_path / "count.csv")}) == 1


def test_a_blind_sheet_keeps_the_books_figure_back(sheet: Path, tmp_path: Path) -> None:
    """So that one counts what is there, not what should be."""
    blind = replace(STOCK, blind=True, rows=tuple(replace(row, booked=None, why="") for row in COUNTS))
    write_counts(tmp_path / "blind.xlsx", blind)
    assert headings(sheet) == [
        *("part", "bottle", "why", "unit", "booked", "counted", "second count", "lot", "sheet of")
    ]
    assert headings(tmp_path / "blind.xlsx") == [
        *("part", "bottle", "unit", "counted", "second count", "lot", "sheet of")
    ]


def in_any_unit(sheet: Path) -> None:
    fill(sheet, "counts", 2, {"counted": 0, "second count": " 3 "})
    fill(sheet, "counts", 3, {"counted": "1 bottle", "second count": "50,5 ml"})
    fill(sheet, "counts", 4, {"part": STRIPS, "counted": "2 packs"})
    fill(sheet, "counts", 6, {"part": "5-Minute  EPOXY", "counted": "0.1 kg"})


def test_counts_in_any_unit(sheet: Path) -> None:
    """Bare numbers, containers, other units, zero; parts added by hand."""
    in_any_unit(sheet)
    found = read(sheet)
    assert [(one.part, one.lot, one.counted, one.second) for one in found.rows] == [
        (KIT, 0, 0, 3000),
        (GLUE, 8, 56_000, 50_500),
        (STRIPS, 0, 28_000, None),
        (EPOXY, 0, 100_000, None),
    ]
    assert (found.rows[3].where.file, found.rows[3].where.row) == ("count.xlsx", 6)


@pytest.mark.soak  # starts a spreadsheet program
def test_counts_saved_by_another_program(sheet: Path) -> None:
    """The same counts come back."""
    in_any_unit(sheet)
    found = read(sheet)
    assert [(one.part, one.counted) for one in read(office(sheet)).rows] == [
        (one.part, one.counted) for one in found.rows
    ]


def test_the_fingerprint_is_of_what_was_counted(sheet: Path, tmp_path: Path) -> None:
    """The same figures in another file are the same count."""
    write_counts(tmp_path / "c.csv", STOCK)
    fill(sheet, "counts", 2, {"counted": 30})
    fill(sheet, "counts", 3, {"counted": "12"})
    fill_csv(tmp_path / "c.csv", 3, {"counted": "12.0 ml"})
    assert read(sheet).fingerprint != read(tmp_path / "c.csv").fingerprint
    fill_csv(tmp_path / "c.csv", 2, {"counted": "30"})
    assert read(sheet).fingerprint == read(tmp_path / "c.csv").fingerprint


def test_everything_bad_is_told_at_once(sheet: Path) -> None:
    """Parts of kits, unknown parts, weights without a density, minus, the same part twice."""
    fill(sheet, "counts", 2, {"counted": 2.5, "second count": -1})
    fill(sheet, "counts", 3, {"counted": "=A1*2"})
    fill(sheet, "counts", 4, {"part": "thin CB", "counted": 1})
    fill(sheet, "counts", 5, {"part": EPOXY, "counted": "20 ml"})
    fill(sheet, "counts", 6, {"part": STRIPS, "counted": 4})
    fill(sheet, "counts", 7, {"part": STRIPS, "counted": 4})
    fill(sheet, "counts", 8, {"counted": 4})
    found = refused(sheet)
    assert [(place.row, place.column) for place in found] == [
        (2, "counted"),
        (2, "second count"),
        (3, "counted"),
        (4, "part"),
        (5, "counted"),
        (8, "part"),
        (7, "counted"),
    ]


def test_rows_of_two_counts(tmp_path: Path) -> None:
    """Each count is booked against its own version of the book."""
    write_counts(tmp_path / "a.csv", STOCK)
    fill_csv(tmp_path / "a.csv", 3, {"sheet of": "7f3a-91 count 87"})
    (place,) = refused(tmp_path / "a.csv")
    assert (place.row, place.column) == (3, "sheet of")


def test_a_sheet_of_ones_own(tmp_path: Path) -> None:
    """Two columns are enough; it then says nothing of a book's version, and unknown columns are announced."""
    path = tmp_path / "drawer.csv"
    path.write_text(f"Part;COUNTED;where\n{KIT};3;left\n", encoding="utf-8")
    found = read(path)
    assert (found.mark, found.version, found.rows[0].counted) == ("", 0, 3000)
    assert found.announced == ("drawer.csv, drawer: the column “where” is not known and was left alone.",)


def test_merged_and_hidden_cells(sheet: Path) -> None:
    """As on a session sheet."""
    fill(sheet, "counts", 2, {"counted": 3})
    book: Any = load_workbook(sheet)
    book["counts"].row_dimensions[2].hidden = True
    book.create_sheet("mine")["A1"] = "x"
    book.save(sheet)
    assert read(sheet).announced == (
        "count.xlsx, counts: row 2 is hidden; it was read like the others.",
        "count.xlsx, mine: no tab of a count sheet; it was left alone.",
    )
    book["counts"].merge_cells("F2:F3")
    book.save(sheet)
    (place,) = refused(sheet)
    assert (place.row, place.column) == (2, "counted")


def test_sheets_of_another_kind(tmp_path: Path) -> None:
    """A session sheet has a tab of counts too, and is told where it belongs; so is a single file of it."""
    write_session(tmp_path / "weekend.xlsx", SHEET)
    write_session(tmp_path / "weekend", SHEET)
    write_xlsx(tmp_path / "stock.xlsx", {"counts": [["part", "quantity"], ["a", 1]]})
    said = []
    for path in (tmp_path / "weekend.xlsx", tmp_path / "weekend" / "counts.csv", tmp_path / "stock.xlsx"):
        with pytest.raises(BadSheet) as found:
            read(path)
        said.append(found.value.hint)
    assert said[0] == said[1] == "It is the sheet of a session: book it with `weekend book`."
    assert "stock workbook" in said[2]


def test_names_of_other_files(sheet: Path, tmp_path: Path) -> None:
    """Nothing is replaced unasked; other kinds of files are refused."""
    write_counts(tmp_path / "c.csv", STOCK)
    for path in (sheet, tmp_path / "c.csv"):
        with pytest.raises(Refused, match="there already"):
            write_counts(path, STOCK)
        write_counts(path, STOCK, overwrite=True)
    with pytest.raises(Refused, match="no name for this sheet"):
        write_counts(tmp_path / "c.ods", STOCK)
    assert len(csv_rows(tmp_path / "c.csv")) == 3


BOTTLES = replace(STOCK, rows=(replace(COUNTS[1], containers=True), replace(COUNTS[0], lot=0)))


def test_bottles_are_counted_by_full_ones_and_the_open_one(tmp_path: Path) -> None:
    """Both columns stand where something comes in bottles; back comes what that is together, and each of them."""
    (path,) = write_counts(tmp_path / "count.xlsx", BOTTLES)
    assert {"full ones", "open one g"} <= set(headings(path))
    assert not {"full ones", "open one g", "reason"} & set(
        headings(write_counts(tmp_path / "b.xlsx", STOCK)[0])
    )
    fill(path, "counts", 2, {"full ones": 2, "open one g": "33.0"})
    (one,) = read(path).rows
    assert (one.counted, one.full, one.inside, one.lot) == (132_000, 2, 20_000, 8)
    assert (one.error, one.where.column) == (39, "open one g")
    fill(path, "counts", 2, {"open one g": None})
    (one,) = read(path).rows
    assert (one.counted, one.full, one.inside, one.error) == (112_000, 2, None, 0)


@pytest.mark.parametrize(
    ("said", "column", "why"),
    [
        ({"part": GLUE, "counted": 3, "full ones": 1}, "counted", "not both"),
        ({"part": GLUE, "open one g": 11}, "open one g", "less than the empty bottle"),
        ({"part": GLUE, "open one g": 100}, "open one g", "a full one holds 56"),
        ({"part": EPOXY, "open one g": 100}, "open one g", "give its tare"),
        ({"part": EPOXY, "full ones": 1}, "full ones", "give its net"),
        ({"part": GLUE, "full ones": "2 1/2"}, "full ones", "no whole number"),
    ],
)
def test_bottles_that_cannot_be_counted_so(
    tmp_path: Path, said: dict[str, Any], column: str, why: str
) -> None:
    """Each with its cell and what to do."""
    write_counts(tmp_path / "count.csv", BOTTLES)
    fill_csv(tmp_path / "count.csv", 4, said)
    (place,) = refused(tmp_path / "count.csv")
    assert (place.column, why in place.problem) == (column, True)


def test_only_what_comes_in_bottles_is_asked_for_bottles(tmp_path: Path) -> None:
    """The kit's cells for full ones and the open one are white, the glue's wait; weights may be typed with a unit."""
    rows = (COUNTS[0], replace(COUNTS[1], containers=True))
    write_counts(tmp_path / "count.xlsx", replace(STOCK, rows=rows))
    for path in (tmp_path / "count.xlsx",):
        tab: Any = load_workbook(path)["counts"]
        letters = {cell.value: cell.column_letter for cell in tab[1]}
        asked = [letters["full ones"], letters["open one g"]]
        assert [tab[f"{one}2"].fill.fill_type for one in asked] == [None, None]
        assert [tab[f"{one}3"].fill.fgColor.rgb[2:] for one in asked] == [GROUND, GROUND]
        (rule,) = (one for one in tab.data_validations.dataValidation if one.type == "custom")
        first = f"{letters['open one g']}2"
        assert (str(rule.sqref).split(":")[0], rule.formula1) == (
            first,
            f"NOT(AND(ISNUMBER({first}),{first}<0))",
        )
