"""Bottles on a session sheet: full ones, the weight before and after, and why something is missing."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from openpyxl import load_workbook

from inventory.sheets.sessions.reading import read_session
from inventory.sheets.sessions.writing import write_session
from sheets.on_pages import columns, fill_page, place
from sheets.sessions_case import BOTTLES, GLUE, SHEET, csv_rows, fill_csv, known, refused, sentence

ASKED = replace(SHEET, bottles=(replace(BOTTLES[0], several=True), replace(BOTTLES[1], before=True)))


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    """One bottle lot of several, one that may evaporate."""
    (path,) = write_session(tmp_path / "saturday.xlsx", ASKED)
    return path


def heads(path: Path) -> set[str]:
    """What the headings of the bottles stand for."""
    return {name for _, _, found in columns(load_workbook(path), "bottles") for name in found}


def test_only_what_is_asked_has_a_column(sheet: Path, tmp_path: Path) -> None:
    """Full ones only where somebody has several; in the folder the one weight under its old heading too."""
    assert {"full ones", "before g", "after g"} <= heads(sheet)
    write_session(tmp_path / "few.xlsx", SHEET)
    assert "full ones" not in heads(tmp_path / "few.xlsx")
    write_session(tmp_path / "plain", SHEET)
    (plain, *_) = csv_rows(tmp_path / "plain" / "bottles.csv")
    assert not {"full ones", "before g", "after g"} & set(plain)
    assert {"gross g", "reason"} <= set(plain)


def test_cells_nobody_is_asked_for_are_left_white(sheet: Path) -> None:
    """The row of one bottle has no full ones, the one that does not evaporate no weight before."""
    book = load_workbook(sheet)
    white = []
    for number in (2, 3):
        tab, row, at = place(book, "bottles", number)
        names = ("full ones", "before g", "after g")
        white += [(number, name) for name in names if not tab.cell(row, at[name]).fill.fill_type]
    assert white == [(2, "before g"), (3, "full ones")]


def test_bottles_come_back_as_they_were_filled(sheet: Path) -> None:
    """Full ones, both weights, the finer step, the reason and the bottle's name; full ones alone count too."""
    fill_page(sheet, "bottles", 2, {"full ones": 2})
    fill_page(sheet, "bottles", 3, {"before g": "80.5", "after g": 61.25, "reason": " spilt on the bench "})
    first, second = read_session(sheet, known()).bottles
    assert (first.full, first.gross, first.before, first.reason, first.lot) == (2, None, None, "", 7)
    assert (second.gross, second.before, second.step) == (61_250, 80_500, 100)
    assert (second.reason, second.where.column, second.lot) == ("spilt on the bench", "after g", 9)


def test_reasons_on_the_other_tabs(tmp_path: Path) -> None:
    """What was written down as used, and what was counted, may have its reason too; another reason is another sheet."""
    folder = tmp_path / "saturday"
    write_session(folder, SHEET)
    fill_csv(folder / "used.csv", 2, {"used": 3, "reason": "thrown away"})
    fill_csv(folder / "counts.csv", 2, {"counted": 30, "reason": "the cat"})
    read = read_session(folder, known())
    assert (read.uses[0].reason, read.counts[0].reason) == ("thrown away", "the cat")
    fill_csv(folder / "used.csv", 2, {"reason": ""})
    assert read_session(folder, known()).fingerprint != read.fingerprint


def test_a_sheet_of_an_earlier_version_still_comes_in(tmp_path: Path) -> None:
    """One weight under “gross g”, no other of these columns: as it was written then."""
    path = tmp_path / "bottles.csv"
    path.write_text(f"part;Gross G;lot\n{GLUE};31,5;7\n", encoding="utf-8")
    (one,) = read_session(path, known()).bottles
    assert (one.gross, one.full, one.before, one.reason, one.lot) == (31_500, None, None, "", 7)


def test_what_a_stranger_writes(tmp_path: Path) -> None:
    """Halves of bottles, words for weights and two columns of one weight are refused, each with its place."""
    path = tmp_path / "bottles.csv"
    path.write_text(f"part,full ones,after g,before g\n{GLUE},2.5,x,-3\n", encoding="utf-8")
    assert [place.column for place in refused(path)] == ["after g", "before g", "full ones"]
    path.write_text(f"part,gross g,After_G\n{GLUE},30,31\n", encoding="utf-8")
    (place,) = refused(path)
    assert "Take one of the columns out" in place.problem
    path.write_text(f"part,after g\n{GLUE},31\nnobody's glue,12\n", encoding="utf-8")
    assert [(place.row, place.column) for place in refused(path)] == [(3, "part")]
    assert "no session sheet" not in sentence(path)


def test_the_sheet_is_filled_twice_alike(tmp_path: Path) -> None:
    """Two rows of one part added by hand, one with full ones and one with a reason: no order is asked of them."""
    folder = tmp_path / "saturday"
    write_session(folder, ASKED)
    fill_csv(folder / "bottles.csv", 4, {"part": GLUE, "after g": 40, "full ones": 1})
    fill_csv(folder / "bottles.csv", 5, {"part": GLUE, "after g": 40, "reason": "spilt"})
    assert read_session(folder, known()).fingerprint == read_session(folder, known()).fingerprint
