"""Lines of a days sheet of what was made, paid, changed, renamed and how many hours there are: as their commands do."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl
import pytest

from .conftest import Kitdrawer

HEAD = "what,part,how many,day,paid,price,plating,blank,spoiled,due,new name"
LINES = (
    "made,Dunlin pen,2,,,,chrome,walnut,turn=1,,",
    "made,S42,1,,,,,,,,",
    "paid,S42,,,50,,,,,,",
    "paid,S42,,,20,,,,,,",
    "change,S41,1,2026-11-28,,30,,,,2026-12-24,",
    "rename,Dunlin kit chrome,,,,,,,,,Dunlin set chrome",
    'hours,"tue 2, sat 5",,,,,,,,,',
    "found,Dunlin set chrome,1,,,,,,,,",
)
TYPED: tuple[tuple[str, ...], ...] = (
    ("paid", "S42", "70"),
    ("change", "S41", "--count", "1", "--price", "30", "--by", "2026-12-24"),
    ("rename", "Dunlin kit chrome", "Dunlin set chrome"),
    ("hours", "tue 2, sat 5"),
    ("found", "Dunlin set chrome", "1"),
)
pytestmark = pytest.mark.usefixtures("store")


def sheet(folder: Path, *lines: str) -> Path:
    """A sheet of such lines."""
    path = folder / "evening.csv"
    path.write_text("\n".join([HEAD, *lines]) + "\n", encoding="utf-8")
    return path


def picture(kitdrawer: Kitdrawer) -> tuple[Any, ...]:
    """What is there, wanted, paid, and how many hours there are."""
    shelf = {
        one["part"]: one
        for one in kitdrawer("shelf", "--json").json["parts"]
        if one["on_hand"] or one["due_in"]
    }
    unpaid = kitdrawer("orders", "--unpaid", "--json").json
    return shelf, kitdrawer("orders", "--json").json, unpaid, kitdrawer("hours", "--json").json


@pytest.mark.cross_check
@pytest.mark.usefixtures("both_promised")
def test_it_books_what_the_commands_would(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """All but what was made, typed one by one, leave the same; as a sheet it is one entry, and undo takes all back."""
    before = picture(kitdrawer)
    answer = kitdrawer("days", str(sheet(tmp_path, *LINES[2:])), "--yes", "--json")
    assert answer.code in (0, 3), answer.err
    assert [one["row"] for one in answer.json["lines"]] == [2, 3, 4, 5, 6, 7]
    assert answer.json["lines"][0] == {
        "row": 2,
        "what": "paid",
        "of": "S42",
        "says": "Paid 50.00 EUR for S42.",
    }
    by_sheet = picture(kitdrawer)
    assert kitdrawer("verify").code == 0
    assert kitdrawer("undo", "--yes").code == 0
    assert picture(kitdrawer) == before
    for words in TYPED:
        assert kitdrawer(*words, "--yes").code in (0, 3)
    assert picture(kitdrawer) == by_sheet
    assert kitdrawer("verify").code == 0


@pytest.mark.cross_check
@pytest.mark.usefixtures("both_promised")
def test_one_thing_made_is_made_as_its_command_makes_it(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """The same shelf and the same losses."""
    losses = kitdrawer("losses", "walnut", "--json").json
    assert kitdrawer("days", str(sheet(tmp_path, LINES[0])), "--yes").code in (0, 3)
    by_sheet = picture(kitdrawer), kitdrawer("losses", "walnut", "--json").json
    assert by_sheet[1] != losses
    assert kitdrawer("undo", "--yes").code == 0
    words = ("--blank", "walnut", "--plating", "chrome", "--count", "2", "--spoiled", "turn=1")
    assert kitdrawer("made", "Dunlin pen", *words, "--yes").code in (0, 3)
    assert (picture(kitdrawer), kitdrawer("losses", "walnut", "--json").json) == by_sheet


@pytest.mark.usefixtures("both_promised")
def test_all_of_it_is_one_entry(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Two things made are one evening; the order has its piece; verify is clean, and undo leaves nothing."""
    before, entries = picture(kitdrawer), len(kitdrawer("entries", "--json").json["entries"])
    told = kitdrawer("days", str(sheet(tmp_path, *LINES)), "--yes")
    assert told.code in (0, 3), told.err
    said = " ".join(told.out.split())
    assert "2 made, 2 paid, 1 change, 1 rename, 1 hours, 1 found" in said
    assert "Row 3, made: 1 good of 1: Dunlin pen, Dunlin kit gunmetal, walnut blank, for S42." in said
    assert "1 of 6 finished" in " ".join(kitdrawer("orders", "S42").out.split())
    assert len(kitdrawer("entries", "--json").json["entries"]) == entries + 1
    assert kitdrawer("verify").code == 0
    assert kitdrawer("undo", "--yes").code == 0
    assert picture(kitdrawer) == before
    assert kitdrawer("verify").code == 0


@pytest.mark.usefixtures("both_promised")
@pytest.mark.parametrize(
    ("line", "column", "said"),
    [
        ("made,Dunlin pen,2,2026-11-20,,,chrome,walnut,,,", "day", "of the day it is booked"),
        ("made,Dunlin pen,1,,,,chrome,walnut,tunr=1,,", "spoiled", "does not say at which stage"),
        ("made,Dunlin pen,some,,,,chrome,walnut,,,", "how many", "no number of pieces"),
        ("made,Dunlon pen,1,,,,chrome,walnut,,,", "part", "no pattern called"),
        ("made,Dunlin pen,1,,,,chrome,,,,", "part", "Of which blank?"),
        ("made,S99x,1,,,,,,,,", "part", "no pattern called"),
        ("paid,S42,3,,50,,,,,,", "how many", "A line of “paid” has none"),
        ("paid,S99,,,50,,,,,,", "part", "no order called"),
        ("paid,S42,,,fifty,,,,,,", "paid", "fifty"),
        ("change,S41,,,,,,,,,", "part", "is so already"),
        ("change,S41,,,,,,plumwood,,,", "part", "no blank called"),
        ("change,S41,2,,,,,,turn=1,,", "spoiled", "A line of “change” has none"),
        ("rename,Dunlin kit chrome,,,,,,,,,", "new name", "Write the new name"),
        ("rename,Dunlin kit chrome,,,,,,,,,Avocet kit chrome", "part", "already"),
        ("hours,tus 2,,,,,,,,,", "part", "tus"),
        ("sung,S42,,,,,,,,,", "what", "made, paid, spent, change, rename and hours"),
    ],
)
def test_a_refusal_names_tab_row_and_column(
    kitdrawer: Kitdrawer, tmp_path: Path, line: str, column: str, said: str
) -> None:
    """And nothing is booked, the good line before it neither."""
    entries = kitdrawer("entries", "--json").json["entries"]
    refused = kitdrawer("days", str(sheet(tmp_path, "paid,S42,,,5,,,,,,", line)), "--yes", "--json")
    assert refused.code == 1
    (place,) = refused.json["error"]["where"]
    assert (place["tab"], place["row"], place["column"]) == ("evening", 3, column)
    assert said in place["problem"]
    assert kitdrawer("entries", "--json").json["entries"] == entries


@pytest.mark.usefixtures("both_promised")
def test_one_order_made_twice_is_told_to_add_up(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Two lines for one order would each be held against all it needs."""
    refused = kitdrawer("days", str(sheet(tmp_path, "made,S42,3,,,,,,,,", "made,S42,4,,,,,,,,")), "--yes")
    assert "Add the two up in one line" in " ".join(refused.err.split())


def test_the_empty_sheet_offers_them(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Its list has every word, its headings every column."""
    assert kitdrawer("days", "--save", str(tmp_path / "days.xlsx")).code == 0
    tab = openpyxl.load_workbook(tmp_path / "days.xlsx")["days"]
    (words,) = [
        str(one.formula1) for one in tab.data_validations.dataValidation if "sold" in str(one.formula1)
    ]
    assert words == '"add,took,found,back,sold,made,paid,spent,change,rename,hours"'
    headings = [str(cell.value) for row in tab.iter_rows(max_row=5) for cell in row if cell.value]
    assert {"plating", "blank", "spoiled", "due", "new name"} <= set(headings)


def test_a_changed_order_says_whether_its_plan_fits(
    kitdrawer: Kitdrawer, both_promised: Path, tmp_path: Path
) -> None:
    """As the command does, with what to run; a plan that fits is not spoken of."""
    assert kitdrawer("plan", "--on", "2026-11-28", "--yes").code in (0, 3)
    path = sheet(tmp_path, "change,S42,4,,,,,,,,", "change,S41,,,,31,,,,,")
    alone = " ".join(kitdrawer("change", "S42", "--count", "4").out.split())
    says = alone[alone.index("no longer fits") :].partition(" --again")[0]
    assert both_promised.exists()
    told = kitdrawer("days", str(path), "--yes")
    assert told.code in (0, 3), told.err
    assert says in " ".join(told.out.split())
    assert "fits as it was" not in told.out
    assert kitdrawer("undo", "--yes").code == 0
    lines = kitdrawer("days", str(path), "--yes", "--json").json["lines"]
    assert [one["plan"] for one in lines] == [
        {"session": "2026-11-28", "fits": False}, {"session": "2026-11-28", "fits": True}
    ]  # fmt: skip
