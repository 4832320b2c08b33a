"""Handwriting that nobody can be sure of: asked about at a terminal, refused with what to write without one."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from sheets.on_pages import fill_page

from .conftest import Kitdrawer, after
from .learned import STALL, fill, weekend
from .test_on_a_terminal import typed_at


@pytest.fixture(scope="session")
def once_filled(loaded: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book with a planned session, its filled sheet beside it: two cells can be read in more ways than one."""

    def filled(call: Kitdrawer, folder: Path) -> None:
        path = weekend(call, folder)
        fill(
            path, {("pieces", STALL, "good"): "about 1?", ("pieces", STALL, "spoiled at turn"): "perhaps one"}
        )

    return after(loaded, tmp_path_factory.mktemp("asked"), filled)


@pytest.fixture
def sheet(once_filled: Path, store: Path) -> Path:
    """Copies of both, the sheet's place."""
    shutil.copy(once_filled, store)
    (path,) = once_filled.parent.glob("*.xlsx")
    return Path(shutil.copy(path, store.parent))


def test_enter_takes_the_best_guess(kitdrawer: Kitdrawer, sheet: Path) -> None:
    """Both cells are asked about, the guess first; then what is booked is shown and asked as ever."""
    shown, code, asked = typed_at(sheet.parent, ["", "", "yes"], "weekend", "book", sheet.name)
    assert (code, asked) in {(0, 3), (3, 3)}, shown
    assert "“about 1?”" in shown
    assert "How many came out good?" in shown
    assert "[1]>" in shown
    assert "How many were spoiled at turn?" in shown
    entries = kitdrawer("entries", "--json").json["entries"]
    assert len(entries) == 3, entries
    again = kitdrawer("weekend", "book", str(sheet), "--yes")
    assert again.code == 1  # the file itself was left as it is


def test_an_answer_that_is_none_is_asked_about_again(sheet: Path) -> None:
    """Another answer than the guess, and one that says nothing."""
    words = ("weekend", "book", sheet.name)
    shown, code, asked = typed_at(sheet.parent, ["no idea", "1", "1", "no"], *words)
    assert (code, asked) in {(0, 4), (1, 4), (3, 4)}, shown
    assert "“no idea”" in shown


def test_nobody_is_asked_without_a_terminal(kitdrawer: Kitdrawer, sheet: Path) -> None:
    """Each cell is refused with what to write; --yes and --json never ask either."""
    for more in ((), ("--yes",), ("--json",)):
        answer = kitdrawer("weekend", "book", str(sheet), *more)
        assert answer.code == 1
        said = " ".join((answer.out + answer.err).split())
        assert "is not a number. How many came out good? Write the number: 1 if that is meant." in said
        assert "How many were spoiled at turn? Write the number: 1 if that is meant." in said
    places = kitdrawer("weekend", "book", str(sheet), "--json").json["error"]["where"]
    assert [one["column"] for one in places] == ["good", "spoiled at turn"]


def test_what_else_is_wrong_is_refused_and_nothing_asked(sheet: Path) -> None:
    """An answer would be typed for nothing where the sheet has to be mended all the same."""
    fill(sheet, {("pieces", STALL, "kits salvaged"): "=1+"})
    fill(sheet, {("bottles", "CA medium", "part"): "CA mediun"})
    shown, code, asked = typed_at(sheet.parent, ["", ""], "weekend", "book", sheet.name)
    assert (code, asked) == (1, 0), shown


def test_a_count_is_asked_about_too(kitdrawer: Kitdrawer, store: Path) -> None:
    """`3 more` of a count sheet is no count; the guess is the number in it."""
    path = store.parent / "count.csv"
    assert kitdrawer("count", "sheet", "--text", "Dunlin kit chrome", "--save", str(path)).code == 0
    text = path.read_text(encoding="utf-8-sig").splitlines()
    at = text[0].split(",").index("counted")
    cells = text[1].split(",")
    cells[at] = "8 or more"
    path.write_text("\n".join([text[0], ",".join(cells)]) + "\n", encoding="utf-8")
    shown, code, asked = typed_at(store.parent, ["", "no"], "count", "book", "count.csv")
    assert asked == 2, shown
    assert "Dunlin kit chrome: “8 or more”" in shown
    assert "[8]>" in shown
    assert code in (0, 1)


def test_notes_are_kept_with_the_session(kitdrawer: Kitdrawer, store: Path) -> None:
    """As they were written, for `entries`, `trace` and the report; one that looks like a count is asked about."""
    path, report = weekend(kitdrawer, store.parent), store.parent / "report.xlsx"
    fill_page(path, "notes", 2, {"notes": "2 blew up"})
    fill_page(path, "notes", 3, {"notes": "accelerator low"})
    booked = kitdrawer("weekend", "book", str(path), "--yes", "--save", str(report))
    assert booked.code in (0, 3), booked.err
    said = " ".join(booked.out.split())
    assert "The note “2 blew up” looks like a count. Nothing was counted by it" in said
    assert "“accelerator low” looks" not in said
    entries = kitdrawer("entries", "--json").json["entries"]
    assert [one["what"] for one in entries if "notes" in one["what"]] == [
        "Session of 2026-11-28 (notes: 2 blew up; accelerator low)"
    ]
    assert "accelerator low" in kitdrawer("trace", "CA medium", "--json").out
    assert "accelerator low" in " ".join(kitdrawer("entries").out.split())
    cells = {
        cell.value for tab in load_workbook(report).worksheets for row in tab.iter_rows() for cell in row
    }
    assert {"Notes", "2 blew up", "accelerator low"} <= cells


def test_a_parcel_is_asked_about_too(kitdrawer: Kitdrawer, ordered: Path) -> None:
    """What came of something, said in words: the guess is what was due less what is short, or all that was due."""
    path = ordered.parent / "parcel.xlsx"
    assert kitdrawer("due-in", "--save", str(path)).code == 0
    book: Any = load_workbook(path)
    tab = book.worksheets[1]
    at = {cell.value: cell.column for cell in tab[1]}
    due = int(tab.cell(2, at["due"]).value)
    tab.cell(2, at["arrived"]).value = "1 short"
    tab.cell(3, at["arrived"]).value = "✓ all"
    book.save(path)
    refused = kitdrawer("arrived", str(path), "--yes")
    assert refused.code == 1
    assert f"Write the number: {due - 1} if that is meant." in " ".join(refused.err.split()), refused.err
    shown, code, asked = typed_at(ordered.parent, ["", "no"], "arrived", "parcel.xlsx")
    assert (code, asked) == (0, 2), shown
    assert f"“1 short” can mean two things. How much came? [{due - 1}]>" in shown
    assert "“✓ all” was taken as" in shown


def test_a_sheet_of_days_is_asked_about_too(kitdrawer: Kitdrawer, store: Path) -> None:
    """How many, and at which stage something was spoiled."""
    path = store.parent / "market.csv"
    head = "what,part,how many,why,plating,blank,spoiled"
    path.write_text(
        f"{head}\ntook,felt sleeve,✓,broke,,,\nmade,Dunlin pen,II,,chrome,walnut,1 blew up\n",
        encoding="utf-8",
    )
    refused = " ".join(kitdrawer("days", str(path), "--yes").err.split())
    assert "“✓” does not say how many. How many, or how much? Write the number." in refused
    assert "“1 blew up” does not say at which stage. Write turn=1" in refused
    shown, code, asked = typed_at(store.parent, ["2", "", "no"], "days", "market.csv")
    assert (code, asked) in {(0, 3), (3, 3)}, shown
    assert "[turn=1]>" in shown
    assert "“II” was taken as 2." in shown


def test_a_suppliers_list_is_asked_about_too(kitdrawer: Kitdrawer, store: Path) -> None:
    """A tick where packs stand says nothing of how many."""
    path = store.parent / "list.xlsx"
    assert kitdrawer("shopping", "--save", str(path)).code in (0, 3)
    book: Any = load_workbook(path)
    tab = book.worksheets[1]
    at = {cell.value: cell.column for cell in tab[1]}
    tab.cell(2, at["packs"]).value = "✓"
    tab.cell(3, at["packs"]).value = "II"
    book.save(path)
    assert "How many packs were ordered?" in " ".join(kitdrawer("placed", str(path), "--yes").err.split())
    shown, code, asked = typed_at(store.parent, ["1", "no"], "placed", "list.xlsx")
    assert (code, asked) == (0, 2), shown
    assert "“II” was taken as 2." in shown
