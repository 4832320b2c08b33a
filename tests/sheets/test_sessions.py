"""Session sheets: out, and back as they were or filled."""

from __future__ import annotations

import random
import shutil
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook
from searching import examples

from inventory.errors import Refused
from inventory.reports.filled import FilledPiece, FilledSession
from inventory.reports.session_sheet import PlannedPieces
from inventory.sheets.sessions.reading import read_session
from inventory.sheets.sessions.writing import write_session

from . import sessions_case as case
from .lists_case import office
from .on_pages import fill_page


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    """The sheet of the session as a workbook."""
    path = tmp_path / "weekend.xlsx"
    return case.write_plain(path)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The same as a folder of CSV files."""
    write_session(tmp_path / "weekend", case.SHEET)
    return tmp_path / "weekend"


def read(path: Path) -> FilledSession:
    """What the sheet says."""
    return read_session(path, case.known())


def planned(one: FilledPiece) -> tuple[object, ...]:
    """What a piece's row says of the plan."""
    return (one.row, one.order, one.pattern, one.plating, one.kit, one.blank)


def as_planned(rows: tuple[PlannedPieces, ...]) -> list[tuple[object, ...]]:
    """The same of the plan itself."""
    return [(one.row, one.order, one.pattern, one.plating, one.kit, one.blank) for one in rows]


def fill_all(path: Path) -> Path:
    """Fill a workbook the way it is meant."""
    case.fill(
        path, "pieces", 2, {"good": 12, "spoiled at drill": 1, "spoiled at turn": "1", "kits salvaged": 1}
    )
    case.fill(path, "pieces", 3, {"good": " 4 ", "spoiled at assemble": "1,0", "kits salvaged in part": 1})
    case.fill(
        path,
        "pieces",
        5,
        {"pattern": "dunlin GLOSS pen", "blank": case.ANTLER, "good": 2, "note": "from stock"},
    )
    case.fill(path, "bottles", 2, {"gross g": "31.25 g"})
    case.fill(path, "bottles", 3, {"gross g": 61.3})
    case.fill(path, "used", 2, {"used": 8})
    case.fill(path, "used", 4, {"part": "Polishing  Pads", "used": "1 pad"})
    case.fill(path, "counts", 2, {"counted": 30, "second count": 29})
    case.fill(path, "counts", 3, {"counted": "1 bottle"})
    return case.fill(path, "notes", 2, {"notes": "accelerator low"})


def check_filled(found: FilledSession) -> None:
    """That all of it came back."""
    assert (found.mark, found.session, found.document) == ("7f3a-91", 3, 41)
    first, second, third, added = found.pieces
    assert (first.good, first.lost, first.kits_saved) == (12, {"drill": 1, "turn": 1}, 1)
    assert (second.good, second.lost, second.in_part) == (4, {"assemble": 1}, 1)
    assert (third.row, third.good, third.lost) == (3, None, {})
    assert planned(added) == (0, "", "Dunlin gloss pen", "", "", case.ANTLER)
    assert (added.good, added.note) == (2, "from stock")
    assert [(one.part, one.lot, one.gross, one.step) for one in found.bottles] == [
        (case.GLUE, 7, 31_250, 10),
        (case.EPOXY, 9, 61_300, 100),
    ]
    assert [(one.part, one.used) for one in found.uses] == [(case.STRIPS, 8000), (case.PADS, 1000)]
    assert [(one.part, one.lot, one.counted, one.second) for one in found.counts] == [
        (case.KIT, 0, 30_000, 29_000),
        (case.GLUE, 8, 56_000, None),
    ]
    assert found.notes == ("accelerator low",)


def test_a_sheet_that_went_out_comes_back_as_it_was(sheet: Path, folder: Path) -> None:
    """As a workbook and as CSV, with the same fingerprint: nothing filled in, the plan's rows in place."""
    for path in (sheet, folder):
        found = read(path)
        assert (found.mark, found.session, found.document) == ("7f3a-91", 3, 41)
        assert [planned(one) for one in found.pieces] == as_planned(case.SHEET.pieces)
        assert all(one.good is None and not one.lost for one in found.pieces)
        assert (found.bottles, found.uses, found.counts, found.notes, found.announced) == ((), (), (), (), ())
    assert read(sheet).fingerprint == read(folder).fingerprint


def test_blanks_that_were_cut(sheet: Path) -> None:
    """How many, of those of one size and of a measured one; another one by its name; empty cells say nothing."""
    case.fill(sheet, "cutting", 2, {"cut": "10"})
    case.fill(sheet, "cutting", 3, {"cut": 0})
    case.fill(sheet, "cutting", 4, {"part": " Antler  tips", "blank": "tip 5", "cut": 1})
    found = read(sheet)
    assert [(one.part, one.lot, one.name, one.cut) for one in found.blanks] == [
        (case.OLIVE, 0, "", 10),
        (case.ANTLER, 17, "tip 3", 0),
        (case.ANTLER, 0, "tip 5", 1),
    ]
    case.fill(sheet, "cutting", 2, {"cut": None})
    assert [one.cut for one in read(sheet).blanks] == [0, 1]
    assert read(sheet).fingerprint != found.fingerprint


def test_a_filled_sheet(sheet: Path) -> None:
    """Numbers as numbers or text, names in any spelling, weights with their unit, bottles counted whole."""
    found = read(fill_all(sheet))
    check_filled(found)
    where = found.pieces[0].where
    assert (where.file, where.tab, where.row) == ("weekend.xlsx", "pieces", 2)
    assert (found.bottles[0].where.column, found.bottles[0].where.said) == ("gross g", "31.25 g")


def test_the_fingerprint_is_of_what_was_made_not_of_the_file(sheet: Path, tmp_path: Path) -> None:
    """Rows in another order, another name, a remark more: the same. One piece more: another one."""
    before = read(fill_all(sheet)).fingerprint
    other: Any = load_workbook(sheet)
    cells = [[cell.value for cell in row] for row in other["pieces"].iter_rows(min_row=2, max_row=5)]
    for number, row in enumerate(reversed(cells), start=2):
        for column, value in enumerate(row, start=1):
            other["pieces"].cell(number, column).value = value
    other["notes"]["A3"] = "rained all day"
    other.save(tmp_path / "copy.xlsx")
    assert read(tmp_path / "copy.xlsx").fingerprint == before
    case.fill(sheet, "pieces", 4, {"good": 3})
    assert read(sheet).fingerprint != before


def test_columns_in_any_order_and_spelling(folder: Path) -> None:
    """Case, spaces and underscores of headings, columns moved, and a decimal comma between semicolons."""
    path = folder / "pieces.csv"
    rows = case.csv_rows(path)
    rows[1][9], rows[2][9] = "12", "3,0"
    rows[1][11] = "2"
    order = list(range(len(rows[0])))
    random.Random(4).shuffle(order)
    lines = [[row[at] for at in order] for row in rows]
    lines[0] = [name.upper().replace(" ", "_") for name in lines[0]]
    path.write_text("\n".join(";".join(line) for line in lines), encoding="utf-8")
    found = read(folder)
    assert [(one.row, one.good, one.lost) for one in found.pieces] == [
        (1, 12, {"drill": 2}),
        (2, 3, {}),
        (3, None, {}),
    ]


def test_one_csv_file_alone(folder: Path) -> None:
    """Any of the files, under any name, still says which session it is of."""
    whole = read(folder)
    renamed = folder.parent / "from the phone.csv"
    shutil.copy(folder / "pieces.csv", renamed)
    found = read(renamed)
    assert (found.mark, found.session, found.document) == (whole.mark, whole.session, whole.document)
    assert [planned(one) for one in found.pieces] == as_planned(case.SHEET.pieces)
    renamed.write_text("row,good\n2,4\n", encoding="utf-8")
    bare = read(renamed)
    assert (bare.mark, bare.session, bare.document) == ("", 0, 0)
    assert [(one.row, one.good) for one in bare.pieces] == [(2, 4)]


def test_a_renamed_tab_is_known_by_its_columns(sheet: Path) -> None:
    """And tabs of one's own are left alone, with a word."""
    book: Any = load_workbook(fill_all(sheet))
    book["pieces"].title = "what we made"
    book.create_sheet("sums")["A1"] = "12 pens at 40"
    book.save(sheet)
    found = read(sheet)
    check_filled(found)
    assert found.announced == ("weekend.xlsx, sums: no tab of a session sheet; it was left alone.",)


def test_no_file_is_replaced_unasked(sheet: Path, folder: Path) -> None:
    """A filled sheet is not lost by asking for another; names of other kinds of files are refused."""
    for path in (sheet, folder):
        with pytest.raises(Refused, match=r"there already|holds session.csv"):
            write_session(path, case.SHEET)
        assert write_session(path, case.SHEET, overwrite=True)
    for name in ("weekend.csv", "weekend.ods", "weekend.xls"):
        with pytest.raises(Refused, match="no name for this sheet"):
            write_session(sheet.parent / name, case.SHEET)
    with pytest.raises(Refused, match="cannot be made"):
        write_session(sheet / "below a file", case.SHEET)


@pytest.mark.soak  # starts a spreadsheet program
def test_saved_by_another_program(sheet: Path) -> None:
    """An office program changes styles and texts; what was filled in stays."""
    check_filled(read(office(fill_all(sheet))))


def test_tables_are_plain_enough_for_data_frames(folder: Path) -> None:
    """The headings in the first row and nothing above or beside them."""
    pandas = pytest.importorskip("pandas")
    frames = {path.stem: pandas.read_csv(path, encoding="utf-8-sig") for path in folder.iterdir()}
    assert list(frames["pieces"]["starts"].dropna()) == [14, 5, 3]
    assert list(frames["used"]["expected"].dropna()) == [9.5, 2.25]
    assert frames["bottles"]["gross g"].isna().all()


_COUNT = st.none() | st.integers(0, 40)


@examples(12)
@given(
    rows=st.lists(
        st.tuples(
            st.sampled_from(["teal", "=1+1", "the stall, a", "-7", "häher"]),
            st.sampled_from([case.OLIVE, case.ANTLER, case.TUBE]),
            st.integers(11, 30),  # where fewer were started an 11 may be two strokes, and is asked about
            _COUNT,
            st.dictionaries(st.sampled_from(case.STAGES[:-1]), st.integers(1, 9), max_size=3),
        ),
        max_size=4,
    ),
    book=st.booleans(),
)
def test_whatever_is_filled_in_comes_back(
    rows: list[tuple[Any, ...]], book: bool, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Any plan, any counts, as workbook or CSV."""
    room = tmp_path_factory.mktemp("any")
    plan = tuple(
        PlannedPieces(at, order, "Dunlin gloss pen", "chrome", case.KIT, blank, starts, starts, case.STAGES)
        for at, (order, blank, starts, _, _) in enumerate(rows, start=1)
    )
    made = replace(case.SHEET, pieces=plan)
    path = room / "any.xlsx" if book else room / "any"
    write_session(path, made)
    filled = [
        {"good": good} | {f"spoiled at {stage}": lost for stage, lost in losses.items()}
        for *_, good, losses in rows
    ]
    for number, values in enumerate(filled, start=2):
        if book:
            fill_page(path, "pieces", number, values)
        else:
            case.fill_csv(path / "pieces.csv", number, values)
    found = read(path)
    assert [planned(one) for one in found.pieces] == as_planned(plan)
    assert [(one.good, one.lost) for one in found.pieces] == [(good, losses) for *_, good, losses in rows]
