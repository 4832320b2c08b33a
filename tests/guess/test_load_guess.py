"""`load --guess`: somebody else's list added to a running book, whatever it looks like."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from commands.conftest import TODAY, Kitdrawer

from inventory.sheets.guess.pasted import HEADINGS, grid_of

BOOK = {
    "suppliers": "supplier,lead days\nSaltmarsh Turning Supplies,3\n",
    "kits": "part,family,plating\nDunlin kit chrome,Dunlin,chrome\n",
    "tubes": "part\n7 mm tube\n",
    "blanks": "part,material\nwalnut blank,walnut\n",
    "counts": "part,quantity\nDunlin kit chrome,5\n7 mm tube,10\nwalnut blank,4\n",
}
CONFIRMED = """Order confirmation 4711 - Saltmarsh Turning Supplies
SM-1007 Dunlin kit chrome 10 x 3.60 36.00
SM-1014 Dunlin kit gold 5 x 3.90 19.50
OK-209 Avocet kit gunmetal 3 x 7.60 22.80
SM-1070 7 mm tube 20 x 0.14
postage 5.90
Total 84.20
"""


@pytest.fixture
def running(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kitdrawer: Kitdrawer) -> Path:
    """A folder with a running book and a confirmed order as text."""
    monkeypatch.setenv("KITDRAWER_STORE", str(tmp_path / "book.kitdrawer"))
    monkeypatch.setenv("KITDRAWER_TODAY", TODAY)
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.chdir(tmp_path)
    folder = tmp_path / "sheets"
    folder.mkdir()
    for tab, text in BOOK.items():
        (folder / f"{tab}.csv").write_text(text)
    assert kitdrawer("begin").code == 0
    assert kitdrawer("load", str(folder), "--yes").code == 0
    (tmp_path / "confirmed.txt").write_text(CONFIRMED)
    return tmp_path


def on_hand(kitdrawer: Kitdrawer) -> dict[str, int]:
    return {one["part"]: int(one["on_hand"]) for one in kitdrawer("shelf", "--json").json["parts"]}


def test_a_confirmed_order_brings_names_and_offers(kitdrawer: Kitdrawer, running: Path) -> None:
    """New kits, prices by the supplier it names, nothing that is not here yet; postage and total are no stock."""
    told = kitdrawer("load", "--guess", "confirmed.txt", "--yes", "--json")
    assert told.code == 0, told.err
    assert (told.json["entry"], told.json["asked"]) == (2, 2)
    assert [one["guess"] for one in told.json["questions"]] == [
        "Saltmarsh Turning Supplies",
        "not here yet: leave them out",
    ]
    assert (running / "confirmed guessed.xlsx").exists()
    assert on_hand(kitdrawer) == {
        "Dunlin kit chrome": 5,
        "Dunlin kit gold": 0,
        "Avocet kit gunmetal": 0,
        "7 mm tube": 10,
        "walnut blank": 4,
    }
    wanted = ("--plating", "gold", "--blank", "walnut blank", "--count", "1", "--by", "2026-12-20", "--json")
    answer = kitdrawer("can-take", "Dunlin pen", *wanted).json
    assert (answer["verdict"], str(answer["buy"][0]["cost"])) == ("after buying", "3.90")
    assert kitdrawer("verify").code == 0
    assert kitdrawer("undo", "--yes").code == 0


@pytest.mark.usefixtures("running")
def test_known_things_stay_as_they_are(kitdrawer: Kitdrawer) -> None:
    """A kit of a known family is as its like: its tubes are not in it; the known kit's own row is not touched."""
    assert kitdrawer("load", "--guess", "confirmed.txt", "--yes").code == 0
    wanted = ("--plating", "gold", "--blank", "walnut blank", "--count", "1", "--by", "2026-12-20", "--json")
    parts = {one["part"]: one["need"] for one in kitdrawer("can-take", "Dunlin pen", *wanted).json["parts"]}
    assert parts["7 mm tube"] == 2


@pytest.mark.usefixtures("running")
def test_what_just_came_is_added(kitdrawer: Kitdrawer, typed: list[str]) -> None:
    """Asked one by one as at the beginning: a number chooses, Enter takes the guess, and it shows before it books."""
    typed += ["", "2", "yes"]
    answer = kitdrawer("load", "--guess", "confirmed.txt")
    assert answer.code == 0, answer.err
    assert typed == []
    assert on_hand(kitdrawer)["Dunlin kit chrome"] == 15
    assert on_hand(kitdrawer)["7 mm tube"] == 30
    assert kitdrawer("verify").code == 0


@pytest.mark.usefixtures("running")
def test_what_is_on_its_way_is_due_in(kitdrawer: Kitdrawer, typed: list[str]) -> None:
    """A fourth answer: the list and the order by it, shown and asked once, booked in one go; it arrives, and undo."""
    typed += ["", "4", "yes"]
    answer = kitdrawer("load", "--guess", "confirmed.txt")
    assert answer.code == 0, answer.err
    assert typed == []
    assert on_hand(kitdrawer)["Dunlin kit chrome"] == 5
    due = {one["part"]: one for one in kitdrawer("due-in", "--json").json["due_in"]}
    assert {part: (int(one["quantity"]), str(one["cost"])) for part, one in due.items()} == {
        "Dunlin kit chrome": (10, "36.00"),
        "Dunlin kit gold": (5, "19.50"),
        "Avocet kit gunmetal": (3, "22.80"),
        "7 mm tube": (20, "2.80"),
    }
    assert {one["supplier"] for one in due.values()} == {"Saltmarsh Turning Supplies"}
    assert {str(one["expected"]) for one in due.values()} == {"2026-12-01"}
    assert kitdrawer("verify").code == 0
    assert kitdrawer("arrived", "--supplier", "Saltmarsh Turning Supplies", "--complete", "--yes").code == 0
    assert on_hand(kitdrawer)["Dunlin kit chrome"] == 15
    assert [kitdrawer("undo", "--yes").code for _ in range(2)] == [0, 0]
    assert kitdrawer("due-in", "--json").json["due_in"] == []
    assert kitdrawer("verify").code == 0


@pytest.mark.usefixtures("running")
def test_it_is_asked_before_anything_is_due_in(kitdrawer: Kitdrawer, typed: list[str]) -> None:
    """Neither the list nor the order by it is booked where the one question gets a no."""
    typed += ["", "4", ""]
    said = kitdrawer("load", "--guess", "confirmed.txt")
    assert "Nothing is due in by it" in said.out
    assert "36.00" in said.out
    assert kitdrawer("due-in", "--json").json["due_in"] == []
    assert len(kitdrawer("entries", "--json").json["entries"]) == 1


@pytest.mark.usefixtures("running")
def test_it_can_be_left_and_gone_on_with(kitdrawer: Kitdrawer, typed: list[str]) -> None:
    """`later` keeps the answers in the workbook."""
    typed += ["", "later"]
    first = kitdrawer("load", "--guess", "confirmed.txt")
    assert "Go on: kitdrawer load --guess" in " ".join(first.out.split())
    typed += ["2", "yes"]
    assert kitdrawer("load", "--guess", "confirmed guessed.xlsx").code == 0
    assert on_hand(kitdrawer)["Avocet kit gunmetal"] == 3


@pytest.mark.usefixtures("running")
def test_a_name_list_is_no_count(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pasted: names new to the book come in; a spelling near one of the book's is asked about."""
    pasted = "Dunlin kit chrome\nDunlin kit gold\nWhimbrel kit gold\nWallnut blank\n"
    monkeypatch.setattr("sys.stdin", io.StringIO(pasted))
    told = kitdrawer("load", "--guess", "-", "--yes", "--json")
    assert told.code == 0, told.err
    abouts = [one["about"] for one in told.json["questions"]]
    assert "Is “Wallnut blank” your “walnut blank”?" in abouts
    assert set(on_hand(kitdrawer)) == {
        "Dunlin kit chrome",
        "Dunlin kit gold",
        "Whimbrel kit gold",
        "7 mm tube",
        "walnut blank",
        "tube 7 x 53",
    }
    assert on_hand(kitdrawer)["Dunlin kit chrome"] == 5


def test_without_a_book_or_text(kitdrawer: Kitdrawer, running: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One clear sentence, nothing written."""
    monkeypatch.setattr("sys.stdin", io.StringIO("  \n"))
    assert "Nothing was pasted" in kitdrawer("load", "--guess", "-").err
    assert kitdrawer("load", "--guess", "nowhere.csv").code == 1
    monkeypatch.setenv("KITDRAWER_STORE", str(running / "other.kitdrawer"))
    answer = kitdrawer("load", "--guess", "confirmed.txt")
    assert (answer.code, (running / "confirmed guessed.xlsx").exists()) == (1, False)


@pytest.mark.parametrize(
    ("line", "row"),
    [
        ("SM-1007 Dunlin kit chrome 10 x 3.60 36.00", ("SM-1007", "Dunlin kit chrome", "10", "3.60")),
        ("10 x Dunlin kit chrome @ 3.60", ("", "Dunlin kit chrome", "10", "3.60")),
        ("4711 12 pcs Avocet kit gold, 7,60 € each", ("4711", "Avocet kit gold", "12", "7,60 €")),
        ("7 mm tube, qty 20, £0.14", ("", "7 mm tube", "20", "£0.14")),
        ("3 Redshank stopper 5.20", ("", "Redshank stopper", "3", "5.20")),
    ],
)
def test_lines_of_a_mail(line: str, row: tuple[str, ...]) -> None:
    """Code, name, count and price in the orders people write them."""
    cells = grid_of(line).rows
    assert [cell.text for cell in cells[1].values()] == list(HEADINGS)
    assert tuple(cells[2][at].text if at in cells[2] else "" for at in range(4)) == row


def test_parted_text_keeps_its_columns() -> None:
    """Tabs, bars and wide gaps part cells; anything else is one cell a line."""
    assert [cell.text for cell in grid_of("a\tb\nc\td\n").rows[2].values()] == ["c", "d"]
    assert [len(row) for row in grid_of("Dunlin\nAvocet chrome\n").rows.values()] == [1, 1]
