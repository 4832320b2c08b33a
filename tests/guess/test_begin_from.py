"""`begin --from`: the way of a newcomer at the command line, and any file at all."""

from __future__ import annotations

import os
import shlex
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest
from commands.conftest import TODAY, Kitdrawer
from openpyxl import Workbook, load_workbook

from .messy import build, parse, sheets


@pytest.fixture
def mine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A messy sheet of sixty rows in an empty folder, and no book anywhere."""
    monkeypatch.setenv("KITDRAWER_STORE", str(tmp_path / "book.kitdrawer"))
    monkeypatch.setenv("KITDRAWER_TODAY", TODAY)
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.chdir(tmp_path)
    return build(parse(sheets("sheets")[0]), tmp_path)


def answers_in(path: Path) -> dict[str, str]:
    """What the tab of questions of a workbook holds: the answer by the question."""
    rows = load_workbook(path)["questions"].iter_rows(min_row=2, values_only=True)
    return {str(row[0]): str(row[3] or "") for row in rows if row[0]}


def test_a_script_takes_every_best_guess(kitdrawer: Kitdrawer, mine: Path) -> None:
    """One command: shop.xlsx, a book, one entry; the questions stay in shop.xlsx; the first can-take answers."""
    answer = kitdrawer("begin", "--from", str(mine), "--yes")
    assert answer.code == 0, answer.err
    assert "Booked (entry 1)" in answer.out
    assert len(answers_in(mine.with_name("shop.xlsx"))) == 7
    taken = kitdrawer(
        *("can-take", "Dunlin slim pen", "--plating", "chrome", "--blank", "walnut blank"),
        *("--count", "2", "--by", "2026-12-20", "--json"),
    )
    assert taken.json["verdict"] == "from the shelf"
    assert kitdrawer("verify").code == 0


def test_json_alone_only_looks(kitdrawer: Kitdrawer, mine: Path) -> None:
    """Cells, how many were understood, and the questions; no file and no book is made."""
    told = kitdrawer("begin", "--from", str(mine), "--json").json
    assert told["cells"] == 253
    assert told["understood"] >= 240
    assert told["asked"] == len(told["questions"]) == 7
    assert set(told["questions"][0]) == {"about", "cell", "guess"}
    assert (told["entry"], told["saved"]) == (None, None)
    assert os.listdir() == [mine.name]


def test_json_with_yes_books(kitdrawer: Kitdrawer, mine: Path) -> None:
    """One JSON text on standard output, with the entry's number."""
    told = kitdrawer("begin", "--from", str(mine), "--yes", "--json").json
    assert (told["entry"], Path(told["saved"]).name) == (1, "shop.xlsx")


def test_nobody_is_asked_without_a_terminal(kitdrawer: Kitdrawer, mine: Path) -> None:
    """shop.xlsx is written, nothing is booked, and the next command is named."""
    answer = kitdrawer("begin", "--from", str(mine))
    assert answer.code == 0
    assert "Nothing was booked. Go on: kitdrawer begin --from" in answer.out
    assert not Path("book.kitdrawer").exists()


def test_questions_are_asked_one_by_one(kitdrawer: Kitdrawer, mine: Path, typed: list[str]) -> None:
    """Enter takes the guess, a number or a word answers, what cannot be read is asked again, ? shows all choices."""
    typed += ["all", "", "lots", "5", "1/2", "", "", "?", "20 Dec", "yes"]
    answer = kitdrawer("begin", "--from", str(mine))
    assert answer.code == 0, answer.err
    assert "2/7 Which plating is “GM”? (Stock!B12)" in answer.out
    assert "Next: kitdrawer can-take" in answer.out
    assert "“lots” is no count." in answer.err
    assert "Booked (entry 1)" in answer.out
    shop = load_workbook(mine.with_name("shop.xlsx"))
    counts = {row[0]: row[1] for row in shop["counts"].iter_rows(min_row=2, values_only=True)}
    assert counts["Turnstone pencil kit gold"] == "5"
    orders = {row[0]: row[4] for row in shop["orders"].iter_rows(min_row=2, values_only=True)}
    assert orders["Ann"] == "2026-12-20"
    assert typed == []


def test_the_whole_way_of_a_newcomer(kitdrawer: Kitdrawer, mine: Path, typed: list[str]) -> None:
    """One's own sheet, every question answered with Enter, and the command it ends on: a true answer, a sound book."""
    typed += [*[""] * 7, "yes"]
    begun = kitdrawer("begin", "--from", str(mine))
    assert (begun.code, typed) == (0, []), begun.err
    line = " ".join(begun.out.partition("Next: kitdrawer ")[2].split())
    answer = kitdrawer(*shlex.split(line), "--json")
    assert answer.code in (0, 3), answer.err
    assert answer.json["verdict"] in ("from the shelf", "after buying", "cannot")
    assert answer.json["parts"]
    assert [kitdrawer(*words).code for words in (("verify",), ("undo", "--yes"), ("verify",))] == [0, 0, 0]


def test_later_leaves_the_rest(kitdrawer: Kitdrawer, mine: Path, typed: list[str]) -> None:
    """What was answered is kept in shop.xlsx, and beginning from it asks only what is left."""
    typed += ["", "", "later"]
    first = kitdrawer("begin", "--from", str(mine))
    assert "Nothing was booked. Go on: kitdrawer begin --from" in first.out
    shop = mine.with_name("shop.xlsx")
    assert sorted(filter(None, answers_in(shop).values())) == ["each", "gunmetal"]
    typed += ["", "", "", "", "", "yes"]
    again = kitdrawer("begin", "--from", str(shop))
    assert "1/5 " in again.out
    assert "Booked (entry 1)" in again.out


def test_answers_may_be_written_into_the_sheet(kitdrawer: Kitdrawer, mine: Path) -> None:
    """Answers typed into shop.xlsx are taken in, changes of one's own are kept, and what cannot be read is said."""
    assert kitdrawer("begin", "--from", str(mine)).code == 0
    shop = mine.with_name("shop.xlsx")
    book = load_workbook(shop)
    for row in book["questions"].iter_rows(min_row=2):
        about = str(row[0].value)
        if "gold" in about:
            row[3].value = "6"
        elif "GM" in about:
            row[3].value = "chrome"
        elif "By when" in about:
            row[3].value = "one fine day"
    for row in book["suppliers"].iter_rows(min_row=2):
        row[1].value = "9"
    for row in book["counts"].iter_rows(min_row=2):
        row[1].value = "13" if row[0].value == "Dunlin slim kit chrome" else row[1].value
    book["platings"].append(["ruthenium"])
    book["orders"].delete_rows(2)
    book.save(shop)
    refused = kitdrawer("load", str(shop), "--yes")
    assert refused.code == 1
    assert "begin" in refused.err
    told = kitdrawer("begin", "--from", str(shop), "--yes")
    assert told.code == 0, told.err
    assert "“one fine day” is no day." in " ".join(told.out.split())
    assert "Changes of your own in it were kept: 10." in told.err
    after = load_workbook(shop)
    counts = {row[0]: row[1] for row in after["counts"].iter_rows(min_row=2, values_only=True)}
    assert counts["Turnstone pencil kit gold"] == "6"
    assert counts["Dunlin slim kit chrome"] == "13"
    assert "ruthenium" in [row[0] for row in after["platings"].iter_rows(min_row=2, values_only=True)]
    assert {row[1] for row in after["suppliers"].iter_rows(min_row=2, values_only=True)} == {"9"}


def test_what_is_there_stays(kitdrawer: Kitdrawer, mine: Path) -> None:
    """A shop.xlsx that is there is not written over, nor a book with stock in it begun again."""
    Path("shop.xlsx").write_text("my letters")
    answer = kitdrawer("begin", "--from", str(mine), "--yes")
    assert answer.code == 1
    assert "is there already" in " ".join(answer.err.split())
    assert kitdrawer("begin", "--from", str(mine), "--save", "other.txt", "--yes").code == 1
    assert kitdrawer("begin", "--from", str(mine), "--save", "other.xlsx", "--yes").code == 0
    again = kitdrawer("begin", "--from", str(mine), "--save", "third.xlsx", "--yes")
    assert again.code == 1
    assert "There is a book with stock in it already" in " ".join(again.err.split())
    assert Path("shop.xlsx").read_text() == "my letters"


def test_a_sheet_called_mine_is_no_drawer_of_refills(kitdrawer: Kitdrawer, mine: Path) -> None:
    """A CSV file's name is its tab's, and “mine” is a refill in two languages; a material's word makes a blank."""
    own = mine.with_name("mine.csv")
    own.write_text("Item;Qty\nwalnut blanks;11\nacrylic blue swirl;3\n", encoding="utf-8")
    assert kitdrawer("begin", "--from", str(own), "--yes").code == 0
    held = {one["part"]: one["kind"] for one in kitdrawer("shelf", "--json").json["parts"]}
    assert held["acrylic blue swirl"] == "blank"


def test_an_empty_book_is_filled(kitdrawer: Kitdrawer, mine: Path) -> None:
    """Who began an empty book first may still begin from a sheet."""
    assert kitdrawer("begin", "--currency", "GBP").code == 0
    assert kitdrawer("begin", "--from", str(mine), "--currency", "GBP", "--yes").code == 0
    assert kitdrawer("shelf", "--json").json["currency"] == "GBP"


def _picture(path: Path) -> None:
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 8)


def _locked(path: Path) -> None:
    path.write_bytes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 4000)


def _damaged(path: Path) -> None:
    workbook = Workbook()
    workbook.create_sheet("stock").append(["What", "How many"])
    workbook.save(path)
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])


def _other_zip(path: Path) -> None:
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("letter.txt", "Dear neighbour")


def _blank(path: Path) -> None:
    Workbook().save(path)


def _empty(path: Path) -> None:
    path.write_bytes(b"")


@pytest.mark.parametrize("make", [_picture, _locked, _damaged, _other_zip, _blank, _empty])
def test_any_file_at_all_is_refused_in_a_sentence(
    kitdrawer: Kitdrawer, tmp_path: Path, make: Callable[[Path], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    """No traceback, no shop.xlsx, no book."""
    monkeypatch.setenv("KITDRAWER_STORE", str(tmp_path / "book.kitdrawer"))
    path = tmp_path / "mine.xlsx"
    make(path)
    answer = kitdrawer("begin", "--from", str(path), "--yes")
    assert answer.code == 1
    assert "nothing was begun" in answer.err
    assert os.listdir(tmp_path) == ["mine.xlsx"]


def test_a_thousand_columns(kitdrawer: Kitdrawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Columns beyond what a maker's list has are left alone, and said."""
    monkeypatch.setenv("KITDRAWER_STORE", str(tmp_path / "book.kitdrawer"))
    workbook = Workbook()
    sheet = workbook.create_sheet("stock")
    sheet.append(["What", "Colour", "How many", *[f"c{at}" for at in range(1000)]])
    sheet.append(["Dunlin kit", "chrome", 4, *["x"] * 1000])
    workbook.save(tmp_path / "wide.xlsx")
    answer = kitdrawer("begin", "--from", str(tmp_path / "wide.xlsx"), "--yes")
    assert answer.code == 0, answer.err
    assert "beyond column" in answer.out
    assert {one["part"]: one["on_hand"] for one in kitdrawer("shelf", "--json").json["parts"]} == {
        "Dunlin kit chrome": 4,
        "tube 7 x 53": 0,
    }


ODD: dict[str, tuple[list[list[object]], list[str]]] = {
    "formulas without their results": (
        [["Dunlin kit", "chrome", "=2+2"], ["walnut blank", None, "=7"]],
        ["A formula without its result", "A formula without its result"],
    ),
    "names with line breaks": ([["Dunlin\nkit", "chrome\n", 4], ["walnut\r\nblank", None, 3]], []),
    "one kit in two spellings": (
        [["Dunlin kit", "chrome", 4], ["Dunlni kit", "chrome", 3]],
        ["Is “Dunlni” the same kit as “Dunlin”?"],
    ),
    "a count of yes": (
        [["Dunlin kit", "chrome", "yes"], ["Avocet kit", "gold", True]],
        ["“yes” is no number", "It says yes, not how many"],
    ),
    "counts no shelf holds": (
        [["Dunlin kit", "chrome", -3], ["Avocet kit", "gold", 1e9], ["Curlew kit", "gold", 1e300]],
        ["A number that no shelf holds", "More than anyone keeps", "A number that no shelf holds"],
    ),
}


@pytest.mark.parametrize(("rows", "asked"), ODD.values(), ids=ODD)
def test_what_may_be_wrong_is_asked_and_never_booked_unasked(
    kitdrawer: Kitdrawer,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    rows: list[list[object]],
    asked: list[str],
) -> None:
    """Never a traceback, never a silent guess, nothing booked before yes; with --yes the book proves."""
    monkeypatch.setenv("KITDRAWER_STORE", str(tmp_path / "book.kitdrawer"))
    workbook = Workbook()
    sheet = workbook.create_sheet("stock")
    for row in (["What", "Colour", "How many"], *rows):
        sheet.append(row)
    workbook.save(tmp_path / "odd.xlsx")
    told = kitdrawer("begin", "--from", str(tmp_path / "odd.xlsx"), "--json")
    assert told.code == 0, told.err
    assert len(told.json["questions"]) == len(asked)
    assert all(any(one in question["about"] for question in told.json["questions"]) for one in asked)
    assert not (tmp_path / "book.kitdrawer").exists()
    assert kitdrawer("begin", "--from", str(tmp_path / "odd.xlsx"), "--yes").code == 0
    assert kitdrawer("verify").code == 0


def test_a_sheet_of_words_alone(
    kitdrawer: Kitdrawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A diary is read without a traceback; nothing of it is taken for stock that was counted."""
    monkeypatch.setenv("KITDRAWER_STORE", str(tmp_path / "book.kitdrawer"))
    path = tmp_path / "diary.csv"
    path.write_text("Went to the sea today and saw a heron.\nIt rained!\nNothing else happened.\n")
    answer = kitdrawer("begin", "--from", str(path), "--json")
    assert answer.code == 0
    assert answer.json["cells"] == 3


@pytest.fixture
def terminal(monkeypatch: pytest.MonkeyPatch, mine: Path, typed: list[str]) -> list[str]:
    """A terminal at both ends, in the folder of the messy sheet."""
    assert mine.exists()
    monkeypatch.setattr("inventory.cli.commands.setup.begin.on_a_screen", lambda: True)
    return typed


def test_begin_on_a_terminal_takes_enter_for_an_empty_book(kitdrawer: Kitdrawer, terminal: list[str]) -> None:
    """What it offers is listed; what is no number of them is asked again."""
    terminal += ["nine", "1"]
    answer = kitdrawer("begin")
    assert answer.out.startswith("1 an empty book\n2 from a sheet of your own\n3 a few questions")
    assert "A new book in EUR" in answer.out
    assert kitdrawer("shelf", "--json").json["parts"] == []


def test_eight_answers_to_the_first_can_take(kitdrawer: Kitdrawer, terminal: list[str]) -> None:
    """A kit and a blank, understood like a sheet of them, are a shop that can be asked."""
    terminal += ["3", "Dunlin", "gold", "4", "7 mm", "3.90 EUR", "Saltmarsh", "walnut", "6", "yes"]
    answer = kitdrawer("begin")
    assert "Booked (entry 1)" in answer.out
    line = next(line for line in answer.out.splitlines() if line.startswith("Next: kitdrawer can-take"))
    assert '"Dunlin pen" --plating "gold" --blank "walnut blank"' in line
    taken = kitdrawer(
        *("can-take", "Dunlin pen", "--plating", "gold", "--blank", "walnut blank"),
        *("--count", "2", "--by", "2026-12-20", "--json"),
    )
    assert taken.json["verdict"] == "from the shelf"


def test_the_sheet_is_asked_for_until_it_is_there(kitdrawer: Kitdrawer, terminal: list[str]) -> None:
    """A name that is none is said, and asked again."""
    terminal += ["2", "nothing.xlsx", "01-maker-of-sixty.xlsx", "later"]
    answer = kitdrawer("begin")
    assert "There is no nothing.xlsx." in answer.out
    assert "253 cells" in answer.out


def test_the_sample_shop_is_offered_where_it_lies(kitdrawer: Kitdrawer, terminal: list[str]) -> None:
    """A new book, and the command that fills it."""
    Path("sample_stock").mkdir()
    terminal += ["4"]
    assert "Next: kitdrawer load sample_stock/" in kitdrawer("begin").out
