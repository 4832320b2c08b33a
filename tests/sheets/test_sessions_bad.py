"""Session sheets as they come back on a bad day: every cell that cannot be taken, and where it stands."""

from __future__ import annotations

import csv
import shutil
import zipfile
from contextlib import suppress
from datetime import date, time
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook
from searching import examples

from inventory.errors import BadSheet
from inventory.sheets.sessions.reading import read_session
from inventory.sheets.sessions.writing import write_session

from .sessions_case import GLUE, KIT, PADS, SHEET, csv_rows, fill, fill_csv, known, refused, write_plain


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sheet of the session as a workbook, written once."""
    path = tmp_path_factory.mktemp("written") / "weekend.xlsx"
    return write_plain(path)


@pytest.fixture
def sheet(tmp_path: Path, written: Path) -> Path:
    """A copy of it."""
    return Path(shutil.copy(written, tmp_path))


@pytest.mark.parametrize(
    ("said", "why"), [("half", "not a number"), (1.5, "no whole number"), (-1, "cannot be negative")]
)
def test_blanks_nobody_can_cut(sheet: Path, said: Any, why: str) -> None:
    """Whole blanks only, each bad cell with its place."""
    (place,) = refused(fill(sheet, "cutting", 2, {"cut": said}))
    assert (place.tab, place.row, place.column, why in place.problem) == ("cutting", 2, "cut", True)


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("3 bad", "can mean two things. How many came out good?"),
        ("a few", "not a number"),
        (-2, "cannot be negative"),
        ("-1", "cannot be negative"),
        (2.5, "no whole number of pieces"),
        ("1/2", "a part of one. How many came out good? Write the number: 1 if it was 1 of 2."),
        ("9" * 400, "too long"),
        (1e300, "too long"),
        (10_001, "more than anyone makes"),
        ("1,234", "read in two ways"),
        (date(2026, 3, 4), "turned this into a date"),
        (time(3, 30), "turned this into a date"),
        ("#REF!", "shows the error"),
        (True, "does not say how many. How many came out good?"),
        ("=1+1", "no stored result"),
    ],
    ids=str,
)
def test_counts_that_are_none(sheet: Path, said: object, why: str) -> None:
    """Words, minus, parts of a piece, endless digits, dates, errors and formulas nobody worked out."""
    (place,) = refused(fill(sheet, "pieces", 3, {"good": said}))
    assert (place.file, place.tab, place.row, place.column) == ("weekend.xlsx", "pieces", 3, "good")
    assert why in place.problem


@pytest.mark.parametrize(
    ("said", "gross", "step"),
    [
        (61.3, 61_300, 100),
        (61, 61_000, 1000),
        ("61.30", 61_300, 10),
        ("61,30 g", 61_300, 10),
        (" 0.061 kg ", 61_000, 1000),
        ("2 oz", 56_699, 28_350),
        ("2 1/8 oz", 60_243, 3544),
        ("2.1 oz", 59_534, 2835),
        ("61300 mg", 61_300, 1),
    ],
    ids=str,
)
def test_weights_in_any_unit(sheet: Path, said: object, gross: int, step: int) -> None:
    """With the finest step the scale showed. 1 oz = 28.349523125 g (NIST SP 811, appendix B)."""
    (found,) = read_session(fill(sheet, "bottles", 2, {"gross g": said}), known()).bottles
    assert (found.gross, found.step) == (gross, step)


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("a spoon", "not an amount"),
        (-3, "cannot be negative"),
        ("30 ml", "without the density"),
        ("61.23456", "finer than a thousandth"),
        ("3 bottles", "nobody has said how much"),
        ("1e3", "exponent"),
        ("9" * 400, "too long"),
        (date(2026, 6, 1), "turned this into a date"),
    ],
    ids=str,
)
def test_weights_that_are_none(sheet: Path, said: object, why: str) -> None:
    """What no scale shows."""
    (place,) = refused(fill(sheet, "bottles", 2, {"gross g": said}))
    assert (place.tab, place.row, place.column) == ("bottles", 2, "gross g")
    assert why in place.problem


def test_everything_bad_is_told_at_once(sheet: Path) -> None:
    """One list of places over all tabs, in their order."""
    fill(sheet, "pieces", 2, {"good": "many", "spoiled at cut": -1, "pattern": "Dunlin glos pen"})
    fill(sheet, "pieces", 6, {"blank": "ebony", "plating": "chrom", "good": 1})
    fill(sheet, "bottles", 3, {"gross g": "?"})
    fill(sheet, "used", 2, {"used": "1 furlong"})
    fill(sheet, "used", 5, {"used": 2})
    fill(sheet, "counts", 2, {"counted": "3.5"})
    fill(sheet, "counts", 4, {"part": KIT + "s", "counted": 1})
    found = refused(sheet)
    assert [(place.tab, place.row, place.column) for place in found] == [
        ("pieces", 2, "good"),
        ("pieces", 2, "spoiled at cut"),
        ("pieces", 2, "pattern"),
        ("pieces", 6, "plating"),
        ("pieces", 6, "blank"),
        ("pieces", 6, "pattern"),
        ("bottles", 3, "gross g"),
        ("used", 2, "used"),
        ("used", 5, "part"),
        ("counts", 2, "counted"),
        ("counts", 4, "part"),
    ]
    assert "Did you mean “Dunlin gloss pen”?" in found[2].problem
    assert "Kits come whole" in found[9].problem


def test_formulas_with_a_result_are_read(sheet: Path) -> None:
    """A sum somebody typed into a cell counts as its result."""
    fill(sheet, "pieces", 2, {"good": "=4+5"})
    _put_value(sheet, "<f>4+5</f><v />", "<f>4+5</f><v>9</v>")
    assert read_session(sheet, known()).pieces[0].good == 9


def _put_value(path: Path, before: str, after: str) -> None:
    old = path.rename(path.with_suffix(".old"))
    with zipfile.ZipFile(old) as archive, zipfile.ZipFile(path, "w") as new:
        seen = 0
        for name in archive.namelist():
            text = archive.read(name)
            seen += text.count(before.encode())
            new.writestr(name, text.replace(before.encode(), after.encode()))
    assert seen, "nothing was there to be replaced"


def test_merged_cells(sheet: Path) -> None:
    """Refused where it is open which row or column a value is said of; harmless ones are left alone."""
    book: Any = load_workbook(sheet)
    columns = {cell.value: cell.column_letter for cell in book["pieces"][1]}
    good, cut, drill = columns["good"], columns["spoiled at cut"], columns["spoiled at drill"]
    book["pieces"][f"{good}2"] = 15
    book["pieces"].merge_cells(f"{good}2:{good}3")
    book["pieces"][f"{cut}4"] = 1
    book["pieces"].merge_cells(f"{cut}4:{drill}4")
    book["pieces"].merge_cells(f"{cut}7:{drill}8")
    book["notes"]["A2"] = "a long remark"
    book["notes"].merge_cells("A2:C4")
    book.save(sheet)
    rows, both = refused(sheet)
    assert (rows.row, rows.column, rows.said) == (2, "good", "15")
    assert f"{good}2:{good}3 are merged, so it is open what this is said of" in rows.problem
    assert (both.row, both.column, both.said) == (4, "spoiled at cut", "1")


def test_hidden_rows_and_tabs_are_read_and_announced(sheet: Path) -> None:
    """A filter left on must not lose pieces unseen."""
    fill(sheet, "pieces", 3, {"good": 5})
    book: Any = load_workbook(sheet)
    book["pieces"].row_dimensions[3].hidden = True
    book["pieces"].row_dimensions[9].hidden = True
    for row in range(2, 4):
        book["counts"].row_dimensions[row].hidden = True
    book["used"].sheet_state = "hidden"
    book.save(sheet)
    found = read_session(sheet, known())
    assert found.pieces[1].good == 5
    assert found.announced == (
        "weekend.xlsx, pieces: row 3 is hidden; it was read like the others.",
        "weekend.xlsx, used: the tab is hidden; it was read like the others.",
        "weekend.xlsx, counts: rows 2, 3 are hidden; they were read like the others.",
    )


_TYPED = (
    st.text(max_size=12)
    | st.integers().map(str)
    | st.floats().map(str)
    | st.sampled_from(["3", "1/0", "=1", "’", "½", "2 oz", "1 bottle", "∞", "٣", "--2", "0,0", "- 1", GLUE])
)


@examples(12)
@given(said=st.lists(st.tuples(st.sampled_from(["row", "good", "part", "gross g", "lot", "note"]), _TYPED)))
def test_nothing_typed_is_ever_a_crash(
    said: list[tuple[str, str]], tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Whatever stands in a cell is taken or refused."""
    path = tmp_path_factory.mktemp("typed") / "both.csv"
    heads = ["row", "pattern", "good", "part", "gross g", "lot", "note"]
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(heads)
        writer.writerows([value if name == at else "" for at in heads] for name, value in said)
    with suppress(BadSheet):
        assert all(one.good is None or one.good >= 0 for one in read_session(path, known()).pieces)


def test_rows_given_twice(sheet: Path) -> None:
    """A row copied: nobody can tell whether it is meant as more or by mistake."""
    fill(sheet, "pieces", 5, {"row": 1, "pattern": "Dunlin gloss pen", "good": 2})
    fill(sheet, "bottles", 2, {"gross g": 40})
    fill(sheet, "bottles", 4, {"part": GLUE, "lot": 7, "gross g": 41})
    fill(sheet, "used", 3, {"used": 1})
    fill(sheet, "used", 4, {"part": PADS, "used": 2})
    fill(sheet, "counts", 2, {"counted": 1})
    fill(sheet, "counts", 4, {"part": KIT, "counted": 2})
    found = refused(sheet)
    assert [(place.tab, place.row) for place in found] == [
        ("pieces", 5),
        ("bottles", 4),
        ("used", 4),
        ("counts", 4),
    ]
    assert "Row 1 of the plan stands here twice, first in weekend.xlsx, pieces, row 2" in found[0].problem


def test_rows_added_by_hand(sheet: Path) -> None:
    """They say what was made and how many; two bottles nobody numbered may be of one part."""
    fill(sheet, "pieces", 5, {"good": 2})
    fill(sheet, "pieces", 6, {"pattern": "Redshank stopper"})
    fill(sheet, "bottles", 4, {"part": GLUE, "gross g": 20})
    fill(sheet, "bottles", 5, {"part": GLUE, "gross g": 21})
    fill(sheet, "counts", 4, {"part": GLUE, "bottle": "the blue one", "counted": "20 ml"})
    fill(sheet, "counts", 5, {"part": PADS, "second count": 4})
    fill(sheet, "counts", 6, {"part": PADS, "lot": "x", "counted": 4})
    assert [(place.tab, place.row, place.column) for place in refused(sheet)] == [
        ("pieces", 5, "pattern"),
        ("pieces", 6, "good"),
        ("counts", 4, "bottle"),
        ("counts", 5, "counted"),
        ("counts", 6, "lot"),
    ]


def test_rows_of_two_sheets(sheet: Path) -> None:
    """Rows pasted from another session's sheet, or two sheets in one folder, are kept apart."""
    fill(sheet, "pieces", 4, {"sheet of": "7f3a-91 session 2 plan 30"})
    (place,) = refused(sheet)
    assert (place.row, place.column) == (4, "sheet of")
    assert "is of session 2, the sheet of session 3" in place.problem


def test_a_stage_that_is_none(tmp_path: Path) -> None:
    """A column of one's own for a stage nobody knows is refused where it is filled, with the nearest name."""
    write_session(tmp_path / "w", SHEET)
    path = tmp_path / "w" / "pieces.csv"
    text = path.read_text(encoding="utf-8-sig").replace("spoiled at turn", "spoiled at turning")
    path.write_text(text, encoding="utf-8")
    assert read_session(path, known()).pieces
    fill_csv(path, 2, {"spoiled at turning": 1})
    fill_csv(path, 3, {"spoiled at turning": 0})
    (place,) = refused(path)
    assert (place.row, place.column, place.said) == (2, "spoiled at turning", "1")
    assert "Did you mean “spoiled at turn”?" in place.problem


def test_pieces_lost_while_packing(tmp_path: Path) -> None:
    """The sheet has no column for it, but takes one that is added: pack is a stage as well."""
    path = tmp_path / "pieces.csv"
    path.write_text("row,good,spoiled at pack\n1,3,1\n", encoding="utf-8")
    assert read_session(path, known()).pieces[0].lost == {"pack": 1}


def test_columns_that_are_not_known(tmp_path: Path) -> None:
    """Misspelt ones that are needed are refused, others that hold something are announced."""
    path = tmp_path / "pieces.csv"
    path.write_text("row,godo,mood,empty\n1,3,fine,\n", encoding="utf-8")
    (place,) = refused(path)
    assert (place.column, "Did you mean “good”?" in place.problem) == ("godo", True)
    write_session(tmp_path / "w", SHEET)
    where = tmp_path / "w" / "pieces.csv"
    rows = csv_rows(where)
    where.write_text(",".join(rows[0]).replace("good", "goood"), encoding="utf-8")
    (place,) = refused(tmp_path / "w")
    assert place.problem == "“goood” is not a heading of this sheet. Did you mean “good”?"
    where.write_text("row,kit\n1,\n", encoding="utf-8")
    (place,) = refused(tmp_path / "w")
    assert place.problem == "The column “good” is missing."
    path.write_text("row,good,mood,empty\n1,3,fine,,beside\n", encoding="utf-8")
    assert read_session(path, known()).announced == (
        "pieces.csv, pieces: the column “mood” is not known and was left alone.",
        "pieces.csv, pieces, row 2: cells under no heading were left alone (“beside”).",
    )


def test_a_row_number_that_is_none(sheet: Path) -> None:
    """Zero, words, fractions and numbers beyond any plan."""
    for said in (0, "first", 1.5, "9" * 30):
        (place,) = refused(fill(sheet, "pieces", 2, {"row": said, "good": 1}))
        assert (place.column, "no row of the plan" in place.problem) == ("row", True)


def test_remarks(sheet: Path) -> None:
    """Notes of any length people write, wherever they stand in their tab; a page pasted in is refused."""
    fill(sheet, "notes", 3, {"notes": "dust extractor loud"})
    book: Any = load_workbook(sheet)
    book["notes"]["B1"], book["notes"]["C3"] = "beside", "and this\x85"
    book.save(sheet)
    assert read_session(sheet, known()).notes == ("beside", "dust extractor loud", "and this")
    (place,) = refused(fill(sheet, "pieces", 2, {"note": "x" * 2001}))
    assert "2001 characters long" in place.problem
