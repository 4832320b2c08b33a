"""`days`: many lines of ordinary days out of one sheet, each as its own command would book it, all of them or none."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from .conftest import Kitdrawer

HEAD = "what,part,how many,day,why,to,paid,for,price,at,lot,use by"
LINES = (
    "add,Dunlin kit chrome,3,2026-11-27,,,4.10,,,,,",
    "took,dunlin kit  chrome,11,,gift,the neighbour,,,,,,",
    "took,CA thin,,,threw out,,,,,,,",
    "took,tube 7 x 53,2,,lent,ann,,,,,,",
    "found,walnut blank,1,,,,,,,,,",
)
pytestmark = pytest.mark.usefixtures("store")


def sheet(folder: Path, *lines: str) -> Path:
    """A sheet of such lines."""
    path = folder / "market.csv"
    path.write_text("\n".join([HEAD, *lines]) + "\n", encoding="utf-8")
    return path


def there(kitdrawer: Kitdrawer) -> dict[str, Decimal]:
    """What is on hand, by part."""
    return {one["part"]: one["on_hand"] for one in kitdrawer("shelf", "--json").json["parts"]}


def lots(kitdrawer: Kitdrawer, parts: Sequence[str]) -> dict[str, list[tuple[Any, ...]]]:
    """What the lots of these parts hold and cost."""
    return {
        part: [
            (one["quantity"], one["cost"], one["received_on"])
            for one in kitdrawer("trace", part, "--json").json["lots"]
        ]
        for part in parts
    }


PARTS = ("Dunlin kit chrome", "CA thin", "tube 7 x 53", "walnut blank")


@pytest.mark.cross_check
def test_it_books_what_the_commands_would(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """The same lines typed one by one leave the same shelf, at the same costs; one undo takes the whole sheet back."""
    before = there(kitdrawer)
    answer = kitdrawer("days", str(sheet(tmp_path, *LINES)), "--yes", "--json")
    assert answer.code == 0, answer.err
    assert [(one["row"], one["what"], one["part"]) for one in answer.json["lines"]] == [
        (2, "add", "Dunlin kit chrome"),
        (3, "took", "Dunlin kit chrome"),
        (4, "took", "CA thin"),
        (5, "took", "tube 7 x 53"),
        (6, "found", "walnut blank"),
    ]
    by_sheet, kept = there(kitdrawer), lots(kitdrawer, PARTS)
    assert [one["entry"] for one in kitdrawer("entries", "--json").json["entries"]] == [2, 1]
    assert kitdrawer("entries", "--lent", "--json").json["lent"][0]["part"] == "tube 7 x 53"
    assert kitdrawer("verify").code == 0
    assert kitdrawer("undo", "--yes").code == 0
    assert there(kitdrawer) == before
    for words in (
        ("add", "Dunlin kit chrome", "3", "--paid", "4.10"),
        ("took", "Dunlin kit chrome", "11", "--reason", "gift"),
        ("took", "CA thin", "--reason", "threw out"),
        ("took", "tube 7 x 53", "2", "--reason", "lent"),
        ("found", "walnut blank", "1"),
    ):
        assert kitdrawer(*words, "--yes").code == 0
    assert there(kitdrawer) == by_sheet
    typed = lots(kitdrawer, PARTS)
    typed["Dunlin kit chrome"] = [(many, cost, "2026-11-27") for many, cost, _ in typed["Dunlin kit chrome"]]
    assert typed == kept


@pytest.mark.usefixtures("booked")
def test_sales_of_a_market_day(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Each sale is an order of its own, with its day, price and place; two lines of one piece take one each."""
    lines = ("sold,avocet pen chrome,,2026-11-28,,,,,38,harbour market,,",)
    answer = kitdrawer("days", str(sheet(tmp_path, *lines)), "--yes", "--json")
    assert answer.code == 0, answer.err
    sales = [
        one
        for one in kitdrawer("orders", "--all", "--json").json["orders"]
        if one["order"].startswith("sold")
    ]
    assert [(one["price"], one["customer"], one["count"]) for one in sales] == [(38, "harbour market", 1)]
    again = kitdrawer("days", str(sheet(tmp_path, *lines, *lines)), "--yes")
    assert (again.code, "row 3" in again.err) == (1, True)
    assert kitdrawer("undo", "--yes").code == 0
    assert kitdrawer("orders", "--json").json["orders"] == [
        one for one in kitdrawer("orders", "--json").json["orders"] if not one["order"].startswith("sold")
    ]
    assert kitdrawer("verify").code == 0


@pytest.mark.usefixtures("booked")
def test_what_is_lent_comes_back(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Two lines of one lending bring it back in parts; more than that is refused by its row, and nothing is booked."""
    assert kitdrawer("took", "walnut blank", "3", "--reason", "lent", "--yes").code == 0
    lines = ("back,walnut blank,1,,,,,,,,,", "returned,walnut blank,1,,,,,,,,,")
    assert kitdrawer("days", str(sheet(tmp_path, *lines)), "--yes").code == 0
    assert kitdrawer("entries", "--lent", "--json").json["lent"][0]["quantity"] == 1
    refused = kitdrawer("days", str(sheet(tmp_path, *lines, "back,walnut blank,,,,,,,,,,")), "--yes")
    assert refused.code == 1
    assert "row 3" in refused.err
    assert kitdrawer("undo", "--yes").code == 0
    assert kitdrawer("entries", "--lent", "--json").json["lent"][0]["quantity"] == 3


def test_an_order_that_loses_its_parts_is_named(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """What was set aside goes as by `took`, with its exit code."""
    assert kitdrawer("promise", "S42", "--yes").code == 3
    answer = kitdrawer("days", str(sheet(tmp_path, "took,walnut blank,13,,broke,,,,,,,")), "--yes")
    assert answer.code == 3
    assert "“S42” now lacks" in answer.out


def test_the_same_sheet_is_not_booked_twice(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """By its content, whatever it is called; taken back, it may be booked again."""
    path = sheet(tmp_path, LINES[0], LINES[4])
    assert kitdrawer("days", str(path), "--yes").code == 0
    other = path.rename(tmp_path / "again.csv")
    assert "already booked" in kitdrawer("days", str(other), "--yes").err
    assert kitdrawer("undo", "--yes").code == 0
    assert kitdrawer("days", str(other), "--yes").code == 0


def test_an_unlikely_price_is_asked_about(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """A kit for 410 is named with its row; a script says --sure."""
    path = sheet(tmp_path, "add,Dunlin kit chrome,3,,,,410,,,,,")
    refused = kitdrawer("days", str(path), "--yes")
    assert (refused.code, "row 2" in refused.err) == (1, True)
    assert "to look at before you say yes" in kitdrawer("days", str(path)).out
    assert kitdrawer("days", str(path), "--yes", "--sure").code == 0


def test_an_empty_sheet_to_fill(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Saved, filled and booked, as a workbook and as CSV."""
    book = tmp_path / "market.xlsx"
    assert "Saved" in kitdrawer("days", "--save", str(book)).out
    nothing = kitdrawer("days", str(book), "--yes")
    assert (nothing.code, "Nothing is filled in" in nothing.err) == (1, True)
    workbook = openpyxl.load_workbook(book)
    tab = workbook.worksheets[0]
    headings = [cell.value for cell in tab[1]]
    assert headings == [*HEAD.split(","), "plating", "blank", "spoiled", "due", "new name"]
    for heading, value in (("what", "sell"), ("part", "nothing of ours")):
        tab.cell(2, headings.index(heading) + 1, value)
    for heading, value in (("what", "found"), ("part", "walnut blank"), ("how many", "2")):
        tab.cell(3, headings.index(heading) + 1, value)
    workbook.save(book)
    refused = kitdrawer("days", str(book), "--yes")
    assert (refused.code, "row 2, part" in refused.err) == (1, True)
    tab.delete_rows(2)
    workbook.save(book)
    assert kitdrawer("days", str(book), "--yes").code == 0
    plain = tmp_path / "market.csv"
    assert kitdrawer("days", "--save", str(plain)).code == 0
    assert plain.read_text(encoding="utf-8-sig").splitlines()[0].split(",") == headings
    assert kitdrawer("days", "--save", str(plain)).code == 1


def test_long_sheets_are_told_shortly(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """The first lines on the screen, the others by --all."""
    path = sheet(tmp_path, *("found,walnut blank,1,,,,,,,,," for _ in range(30)))
    short = kitdrawer("days", str(path), "--yes").out.splitlines()
    assert len(short) <= 24
    assert any("more: --all" in line for line in short)
    assert kitdrawer("undo", "--yes").code == 0
    assert len(kitdrawer("days", str(path), "--all", "--yes").out.splitlines()) > 30


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("mislaid,walnut blank,1,,,,,,,,,", "what says “mislaid”"),
        (",walnut blank,1,,,,,,,,,", "what"),
        ("took,walnut blank,1,,,,,,,,,", "Why did it go?"),
        ("took,walnut blank,1,,whim,,,,,,,", "is no reason the book knows"),
        ("add,walnut blank,,,,,,,,,,", "How many?"),
        ("add,walnut blank,0,,,,,,,,,", "is nothing"),
        ("add,walnut blank,yes,,,,,,,,,", "how many"),
        ("add,walnut blank,1,2026-12-24,,,,,,,,", "is still to come"),
        ("add,walnut blank,1,2026-02-30,,,,,,,,", "day"),
        ("add,CA thin,1 bottle,,,,9,,,,,", "For what was 9 paid?"),
        ("add,walnut blank,1,,broke,,,,,,,", "A line of “add” has none"),
        ("found,walnut blanc,1,,,,,,,,,", "Did you mean “walnut blank”"),
        ("sold,walnut blank,1,,,,,,,,,", "is no finished piece"),
        ("sold,flamingo pen,1,,,,,,,,,", "There is no part called"),
        ("took,walnut blank,900,,broke,,,,,,,", "The book has"),
    ],
)
def test_each_bad_line_is_named_and_none_is_booked(
    kitdrawer: Kitdrawer, tmp_path: Path, line: str, said: str
) -> None:
    """With its row, and what to write; the good line before it waits too."""
    answer = kitdrawer("days", str(sheet(tmp_path, LINES[0], line)), "--yes")
    shown = " ".join(answer.err.split())
    assert (answer.code, said in shown, "row 3" in shown) == (1, True, True), shown
    assert len(kitdrawer("entries", "--json").json["entries"]) == 1


def test_what_is_no_sheet_of_days(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Another sheet of ours, no sheet at all, nothing given, both given."""
    other = tmp_path / "counts.csv"
    other.write_text("part,quantity\nwalnut blank,1\n")
    assert "is no sheet of ordinary days" in " ".join(kitdrawer("days", str(other)).err.split())
    picture = tmp_path / "market.xlsx"
    picture.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(200))
    assert kitdrawer("days", str(picture), "--yes").code == 1
    assert kitdrawer("days").code == 1
    assert kitdrawer("days", str(other), "--save", str(picture)).code == 1
    strange = tmp_path / "both"
    strange.mkdir()
    (strange / "notes.csv").write_text("a,b\n1,2\n")
    (strange / "days.csv").write_text("what,part,how many\nfound,walnut blank,1\n")
    said = kitdrawer("days", str(strange), "--yes", "--json")
    assert any("no tab of ordinary days" in note for note in said.json["notes"])
