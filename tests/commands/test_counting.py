"""`count sheet` and `count book`: from the drawer to the book and back."""

from __future__ import annotations

import csv
import re
import sys
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from inventory.cli.app import ABOUT, TWO_WORDS, make_app
from inventory.cli.past.used import past_of
from inventory.jobs.sessions.reconciling.measured import Checked
from inventory.ledger import Proposal
from inventory.ledger.learned import LearnedFigures, LearnedRate
from inventory.store import open_store

from .conftest import Kitdrawer


def fill(path: Path, counts: Mapping[str, str], second: Mapping[str, str] | None = None) -> None:
    """Write counts into a sheet saved as CSV."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    for row in rows:
        row["counted"] = counts.get(row["part"], "")
        row["second count"] = (second or {}).get(row["part"], "")
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, rows[0].keys())
        writer.writeheader()
        writer.writerows(rows)


def on_hand(kitdrawer: Kitdrawer, part: str) -> float:
    """Units of a part by the book."""
    parts = kitdrawer("shelf", "--text", part, "--json").json["parts"]
    return float(next(one["on_hand"] for one in parts if one["part"] == part))


@pytest.fixture
def kits(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> Path:
    """A sheet of the kits."""
    path = tmp_path / "kits.csv"
    assert store.exists()
    assert kitdrawer("count", "sheet", "--kind", "kits", "--save", str(path)).code == 0
    return path


# --- two words ------------------------------------------------------------------------------------------------------


def test_help_of_the_first_word_names_the_second_ones(kitdrawer: Kitdrawer) -> None:
    """`count --help` and `count` alone list `sheet` and `book`, each with what it is for."""
    for words in (("count", "--help"), ("count", "-h")):
        answer = kitdrawer(*words)
        assert answer.code == 0
        assert ABOUT["count"].splitlines()[0] in answer.out
        assert all(re.search(rf"\b{word}\b  ", answer.out) for word in TWO_WORDS["count"])
    alone = kitdrawer("count")
    assert "sheet" in alone.out + alone.err


@pytest.mark.parametrize(("typed", "resolved"), [("shet", "sheet"), ("boook", "book")])
def test_a_mistyped_second_word_is_guessed_at(kitdrawer: Kitdrawer, typed: str, resolved: str) -> None:
    """In words, and as JSON where that was asked for; code 2."""
    answer = kitdrawer("count", typed)
    assert answer.code == 2
    assert f"Did you mean {resolved}?" in answer.err
    failure = kitdrawer("count", typed, "--json")
    assert failure.code == 2
    assert failure.json["error"]["kind"] == "usage"
    assert resolved in failure.json["error"]["message"]


def test_an_option_before_the_second_word_is_refused_as_json(kitdrawer: Kitdrawer) -> None:
    """`count --json sheet` has its option in the wrong place."""
    answer = kitdrawer("count", "--json", "sheet")
    assert (answer.code, answer.json["error"]["kind"]) == (2, "usage")


def test_only_the_module_of_the_command_meant_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    """`count sheet` never loads what books a count, nor the other way round."""
    for word, other in (("sheet", "book"), ("book", "sheet")):
        for name in (word, other):
            monkeypatch.delitem(sys.modules, f"inventory.cli.commands.making.count_{name}", raising=False)
        make_app(["count", word, "--help"])
        assert f"inventory.cli.commands.making.count_{word}" in sys.modules
        assert f"inventory.cli.commands.making.count_{other}" not in sys.modules


# --- the sheet ------------------------------------------------------------------------------------------------------


def test_a_blind_sheet_does_not_tell_the_figures(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """Neither on the screen nor in the workbook nor as JSON; --with-figures tells them in all three."""
    assert store.exists()
    for more, told in (((), False), (("--with-figures",), True)):
        path = tmp_path / f"{told}.xlsx"
        words = ["count", "sheet", "--text", "Dunlin kit chrome", *more]
        answer = kitdrawer(*words, "--save", str(path))
        assert ("Booked" in answer.out, f"kitdrawer count book {path}" in " ".join(answer.out.split())) == (
            told,
            True,
        )
        (part,) = kitdrawer(*words, "--json").json["parts"]
        assert part.get("booked") == (9 if told else None)
        cells = [
            cell for row in load_workbook(path).worksheets[0].iter_rows(values_only=True) for cell in row
        ]
        assert (9 in cells) == told


def test_the_few_most_worth_counting(kitdrawer: Kitdrawer, store: Path) -> None:
    """So many parts; of measured blanks every piece has its row."""
    assert store.exists()
    parts = kitdrawer("count", "sheet", "--few", "4", "--json").json["parts"]
    assert len({one["part"] for one in parts}) == 4
    antlers = kitdrawer("count", "sheet", "--text", "red deer antler", "--json").json["parts"]
    assert len({one["lot"] for one in antlers}) == len(antlers) > 1
    assert "antler A" in kitdrawer("count", "sheet", "--text", "red deer antler").out


def test_nothing_to_count(kitdrawer: Kitdrawer, store: Path) -> None:
    """A filter nothing passes is a sentence, an unknown name offers the nearest, no file is replaced unasked."""
    answer = kitdrawer("count", "sheet", "--doubtful")
    assert (answer.code, answer.out) == (0, "There is nothing like that to count, Sat 28 Nov 2026.\n")
    assert kitdrawer("count", "sheet", "--doubtful", "--json").json["parts"] == []
    unwritten = kitdrawer("count", "sheet", "--doubtful", "--save", str(store.parent / "none.csv"))
    assert (unwritten.code, "no sheet was written" in unwritten.err) == (1, True)
    assert "Saltmarsh" in kitdrawer("count", "sheet", "--supplier", "Saltmarsh Turning Suplies").err
    there = store.parent / "there.csv"
    there.write_text("mine")
    assert kitdrawer("count", "sheet", "--few", "2", "--save", str(there)).code == 1
    assert there.read_text() == "mine"
    assert kitdrawer("count", "sheet", "--few", "2", "--save", str(there), "--overwrite").code == 0


# --- booking --------------------------------------------------------------------------------------------------------


def test_a_count_is_shown_booked_and_taken_back(kitdrawer: Kitdrawer, kits: Path) -> None:
    """Small differences with their reasons; the shelf follows; undo brings it back; booked anew after that only."""
    fill(kits, {"Dunlin kit chrome": "8", "Dunlin kit rhodium": "4", "Godwit kit chrome": "8"})
    words = ("count", "book", str(kits), "--yes")
    answer = kitdrawer(*words)
    assert answer.code == 0
    assert "1 row is as the book has it" in answer.out
    assert "mixed up with its neighbour: Dunlin kit rhodium has 1 too many" in " ".join(answer.out.split())
    assert "Booked (entry 2)" in answer.out
    assert on_hand(kitdrawer, "Dunlin kit chrome") == 8
    twice = kitdrawer(*words)
    assert (twice.code, "counted since it was made, by entry 2" in twice.err) == (1, True)
    assert kitdrawer("undo", "--yes").code == 0
    assert on_hand(kitdrawer, "Dunlin kit chrome") == 9
    assert kitdrawer(*words).code == 0
    assert kitdrawer("verify").code == 0


def test_large_differences_wait_for_a_second_count(kitdrawer: Kitdrawer, kits: Path) -> None:
    """Code 3 and not booked; with the second count in the same sheet they are; nothing is booked twice."""
    counts = {"Dunlin kit chrome": "5", "Godwit kit chrome": "7"}
    fill(kits, counts)
    first = kitdrawer("count", "book", str(kits), "--yes")
    assert first.code == 3
    assert "Count these once more" in first.out
    assert (on_hand(kitdrawer, "Dunlin kit chrome"), on_hand(kitdrawer, "Godwit kit chrome")) == (9, 7)
    fill(kits, counts, {"Dunlin kit chrome": "6"})
    differs = kitdrawer("count", "book", str(kits), "--yes")
    assert (differs.code, "Count a third time" in " ".join(differs.err.split())) == (1, True)
    fill(kits, counts, {"Dunlin kit chrome": "5"})
    again = kitdrawer("count", "book", str(kits), "--yes")
    assert again.code == 0
    assert "Left out, as entry 2 counted them" in " ".join(again.out.split())
    assert (on_hand(kitdrawer, "Dunlin kit chrome"), on_hand(kitdrawer, "Godwit kit chrome")) == (5, 7)


def test_as_counted_books_them_at_once(kitdrawer: Kitdrawer, kits: Path) -> None:
    """Whoever is sure says so; where everything waits, nothing is asked and nothing booked."""
    fill(kits, {"Dunlin kit chrome": "5"})
    waits = kitdrawer("count", "book", str(kits))
    assert (waits.code, on_hand(kitdrawer, "Dunlin kit chrome")) == (3, 9)
    assert kitdrawer("count", "book", str(kits), "--as-counted", "--yes").code == 0
    assert on_hand(kitdrawer, "Dunlin kit chrome") == 5


def test_nobody_says_yes(kitdrawer: Kitdrawer, kits: Path) -> None:
    """Without a terminal nothing is booked, and --json without --yes only shows."""
    fill(kits, {"Dunlin kit chrome": "8"})
    assert kitdrawer("count", "book", str(kits)).code == 1
    shown = kitdrawer("count", "book", str(kits), "--json")
    assert (shown.code, shown.json["document"]) == (0, None)
    assert on_hand(kitdrawer, "Dunlin kit chrome") == 9
    assert kitdrawer("count", "book", str(kits), "--json", "--yes").json["document"] == 2


def test_no_at_the_terminal(kitdrawer: Kitdrawer, kits: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The answer no books nothing and says so."""
    fill(kits, {"Dunlin kit chrome": "8"})
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("typer.confirm", lambda *_, **__: False)
    answer = kitdrawer("count", "book", str(kits))
    assert (answer.code, answer.out.splitlines()[-1]) == (0, "Nothing was booked.")


def test_the_answer_as_json(kitdrawer: Kitdrawer, kits: Path) -> None:
    """Exact figures, reasons, what is asked again and why, what a promise now lacks."""
    assert kitdrawer("promise", "S42", "--yes").code in (0, 3)
    claimed = next(p for p in kitdrawer("shelf", "--kind", "kit", "--json").json["parts"] if p["claimed"])
    fill(kits, {claimed["part"]: "0", "Godwit kit chrome": "7"})
    told: Any = kitdrawer("count", "book", str(kits), "--json").json
    assert [one["part"] for one in told["differences"]] == ["Godwit kit chrome"]
    (again,) = told["count_again"]
    assert (again["counted"], again["difference"]) == (0, -claimed["on_hand"])
    assert again["again"]
    fill(kits, {claimed["part"]: "0"}, {claimed["part"]: "0"})
    told = kitdrawer("count", "book", str(kits), "--json").json
    assert [(one["order"], one["part"], one["short"]) for one in told["short"]] == [
        ("S42", claimed["part"], claimed["claimed"])
    ]
    assert f"S42, due Mon 14 Dec, now lacks {claimed['claimed']}" in " ".join(
        kitdrawer("count", "book", str(kits), "--yes").out.split()
    )


def test_one_antler_is_gone(kitdrawer: Kitdrawer, store: Path) -> None:
    """Its own row says so: that one leaves the shelf, named in table and reasons."""
    path = store.parent / "antler.csv"
    kitdrawer("count", "sheet", "--text", "red deer antler", "--save", str(path))
    before = on_hand(kitdrawer, "red deer antler")
    lines = path.read_text(encoding="utf-8-sig").splitlines()
    at = lines[0].split(",").index("counted")
    row = next(line for line in lines if "antler B" in line).split(",")
    path.write_text("\n".join([lines[0], ",".join([*row[:at], "0", *row[at + 1 :]])]) + "\n")
    told = kitdrawer("count", "book", str(path), "--json").json
    assert [(one["part"], one["lot"]) for one in told["differences"]] == [("red deer antler", "antler B")]
    answer = kitdrawer("count", "book", str(path), "--yes")
    assert "red deer antler, antler B " in answer.out
    assert on_hand(kitdrawer, "red deer antler") == before - 1


def test_a_part_that_was_bought_since(kitdrawer: Kitdrawer, store: Path) -> None:
    """What came in after the sheet was made is named, and the count asked for again."""
    kits = store.parent / "kits.csv"
    kitdrawer("count", "sheet", "--kind", "kits", "--empty", "--save", str(kits))
    kitdrawer("placed", "--yes")
    due = [one for one in kitdrawer("due-in", "--json").json["due_in"] if "kit" in one["part"]]
    part, quantity = due[0]["part"], due[0]["quantity"]
    there = on_hand(kitdrawer, part)
    arrived = kitdrawer(
        "arrived", part, "--supplier", due[0]["supplier"], "--quantity", str(quantity), "--yes"
    )
    assert arrived.code == 0
    fill(kits, {part: f"{there:g}"})
    told = kitdrawer("count", "book", str(kits), "--json")
    (again,) = told.json["count_again"]
    assert (told.code, again["again"]) == (3, "it was moved since the sheet was made")
    assert again["likely"][0].startswith("counted before it was moved by entry 3: just that")


def test_the_book_remembers_who_brought_it(kitdrawer: Kitdrawer, store: Path) -> None:
    """A delivery that never came: the reasons name the document that brought just that."""
    kitdrawer("placed", "--yes")
    due = next(one for one in kitdrawer("due-in", "--json").json["due_in"] if "kit" in one["part"])
    part = due["part"]
    there = on_hand(kitdrawer, part)
    kitdrawer("arrived", part, "--supplier", due["supplier"], "--quantity", str(due["quantity"]), "--yes")
    path = store.parent / "now.csv"
    kitdrawer("count", "sheet", "--text", part, "--empty", "--save", str(path))
    fill(path, {part: f"{there:g}"})
    told = kitdrawer("count", "book", str(path), "--as-counted", "--json").json
    assert any("entry 3 (arrival" in reason for reason in told["differences"][0]["likely"])


def test_what_is_remembered_of_parts_that_differ(store: Path) -> None:
    """Their lines, not those of parts that are right or not known yet; the widest scatter of each learned rate."""
    rates = [
        LearnedRate("CA thin", per, 10**6, 0, 0, 3, scatter=scatter)
        for per, scatter in (("barrel", 300), ("piece", 200))
    ]
    with open_store(store) as found:
        found.commit(Proposal("rates", "Rates", date(2026, 11, 28), learned=LearnedFigures(tuple(rates))))
        rows = [
            Checked("Dunlin kit chrome", 9000, 8000, 0, "counted"),
            Checked("Godwit kit chrome", 8000, 8000, 0, "counted"),
            Checked("nobody knows it", 1000, 0, 0, "counted"),
        ]
        with found.reading() as read:
            past = past_of(read, rows)
    assert list(past.recent) == ["dunlin kit chrome"]
    assert [line.quantity for line in past.recent["dunlin kit chrome"]] == [4000, 5000]
    assert past.scatter == {"ca thin": 300}


def test_sheets_that_cannot_be_booked(kitdrawer: Kitdrawer, store: Path, kits: Path) -> None:
    """No file, an unfilled sheet, a sheet of another book, a part nobody knows: sentences, code 1."""
    assert kitdrawer("count", "book", str(store.parent / "none.csv")).code == 1
    unfilled = kitdrawer("count", "book", str(kits))
    assert (unfilled.code, "empty" in unfilled.err) == (1, True)
    fill(kits, {"Dunlin kit chrome": "9"})
    text = kits.read_text(encoding="utf-8")
    mark = re.findall(r",([0-9a-f]{12}) count 1", text)[0]
    kits.write_text(text.replace(mark, "0" * 12))
    other = kitdrawer("count", "book", str(kits), "--json")
    assert (other.code, "another book" in other.json["error"]["message"]) == (1, True)
    kits.write_text(text.replace("Dunlin kit chrome", "Dunlin kit chrom"))
    wrong = kitdrawer("count", "book", str(kits), "--json").json["error"]
    assert "Dunlin kit chrome" in wrong["where"][0]["problem"]
