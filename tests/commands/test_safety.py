"""Where each caution is shown: on can-take, plan, the bench sheet, after `weekend book`, beside a price."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from cli.pages import SHOWN

from inventory.catalogue.safety import GOVERNS, MOMENTS
from inventory.measures.tables import rows

from .conftest import SAMPLE, Kitdrawer
from .learned import weekend

STOPPER = "Redshank stopper, chrome, elm burl stopper block, 1"
PEN = "Dunlin pen, chrome, rosewood blank, 1"
RIPPER = "Godwit seam ripper, chrome, red deer antler, 1"
PIECES = (STOPPER, PEN, RIPPER)
PLAN = ("plan", "--stall", STOPPER, "--stall", PEN, "--stall", RIPPER)


@pytest.fixture
def glued(kitdrawer: Kitdrawer, store: Path) -> Path:
    """The sample's shop with stoppers glued with polyurethane glue, so that every kind of danger is at work."""
    with (SAMPLE / "bills.csv").open(encoding="utf-8", newline="") as file:
        heading, *bill = csv.reader(file)
    lines = [row for row in bill if row[0] == "Redshank stopper"]
    path = store.parent / "bills.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows(
            [heading, *lines, ["Redshank stopper", "glue", "polyurethane glue", "1", "piece"]]
        )
    assert kitdrawer("load", str(path), "--yes").code == 0
    return store


def flat(text: str) -> str:
    """A screen as one line, so that wrapping breaks no sentence."""
    return " ".join(text.replace("· ", " ").split())


def can_take(kitdrawer: Kitdrawer, piece: str, *more: str) -> str:
    """What is said of one piece."""
    pattern, plating, blank, count = piece.split(", ")
    words = (
        "can-take",
        pattern,
        "--plating",
        plating,
        "--blank",
        blank,
        "--count",
        count,
        "--by",
        "2027-03-01",
    )
    return flat(kitdrawer(*words, *more).out)


def test_every_caution_is_shown_where_the_guide_says(kitdrawer: Kitdrawer, glued: Path) -> None:
    """Three jobs that have every kind of danger; each sentence is looked for on each screen and sheet."""
    shown = {
        "can-take": [can_take(kitdrawer, piece) for piece in PIECES],
        "can-take --safety": [can_take(kitdrawer, piece, "--safety") for piece in PIECES],
        "plan --safety": [flat(kitdrawer(*PLAN, "--safety").out)],
    }
    for piece in PIECES:
        pattern, plating, blank, count = piece.split(", ")
        words = ("--pattern", pattern, "--plating", plating, "--blank", blank, "--count", count)
        told = kitdrawer("promise", f"for {pattern}", *words, "--by", "2027-03-01", "--price", "40")
        shown.setdefault("promise", []).append(flat(told.out))
    assert kitdrawer(*PLAN, "--yes").code in (0, 3)
    folder = glued.parent / "sheet"
    assert kitdrawer("weekend", "sheet", "--save", str(folder)).code == 0
    shown["weekend sheet"] = [flat((folder / "session.csv").read_text(encoding="utf-8-sig").replace('"', ""))]
    lines = (folder / "pieces.csv").read_text(encoding="utf-8-sig").splitlines()
    at = lines[0].split(",").index("good")
    filled = [[*row[:at], "1", *row[at + 1 :]] for row in csv.reader(lines[1:])]
    with (folder / "pieces.csv").open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([next(csv.reader(lines[:1])), *filled])
    told = kitdrawer("weekend", "book", str(folder), "--yes")
    assert told.code in (0, 3), told.err
    shown["weekend book"] = [flat(told.out)]
    for piece in PIECES:
        pattern, plating, blank, _ = piece.split(", ")
        told = kitdrawer("sold", f"{pattern} {plating} {blank}", "1", "--price", "40")
        shown.setdefault("sold", []).append(flat(told.out))
    missing = [
        (row["says"], place)
        for row in rows("cautions")
        for place in SHOWN[row["moment"]]
        if not any(flat(_wanted(row, place)).casefold() in text.casefold() for text in shown[place])
    ]
    assert missing == []


def _wanted(row: dict[str, str], place: str) -> str:
    return row["says"] if "--" in place or not row["short"] else row["short"]


def test_a_line_names_the_kinds_and_nothing_is_said_twice(kitdrawer: Kitdrawer, glued: Path) -> None:
    """One line at the end of can-take and plan; what it stands for is one option away, each statement once."""
    assert glued.exists()
    whole = kitdrawer("can-take", "--order", "S42").out
    line = whole.split("\nSafety   ")[1].split("\n\n")[0]
    assert flat(line) == (
        "flammables, CA, epoxy, sensitising wood dust, no hazards on file for tube plug wax: --safety. "
        "Data sheets govern"
    )
    assert "H225" not in whole
    planned = kitdrawer(*PLAN)
    assert planned.out.count("\nSafety   ") == 1
    assert "isocyanates" in planned.out
    for words in (("can-take", "--order", "S42", "--safety"), (*PLAN, "--safety")):
        told = kitdrawer(*words).out
        said = [line for line in told.splitlines() if line]
        assert len(set(said)) == len(said)
        assert max(map(len, said)) <= 80
        assert flat(GOVERNS) in flat(told)
        assert told.count("EUH202") == 1


def test_json_has_all_it_had_and_the_statements(kitdrawer: Kitdrawer, glued: Path) -> None:
    """`cautions` keeps the sentences; `safety` has each with its moment, source and what it is about."""
    assert glued.exists()
    told = kitdrawer("can-take", "--order", "S42", "--json").json
    safety = told["safety"]
    assert [one["says"] for one in safety["statements"]] == [
        one for one in told["cautions"] if one in {said["says"] for said in safety["statements"]}
    ]
    assert {one["moment"] for one in safety["statements"]} <= set(MOMENTS)
    assert all(one["source"] for one in safety["statements"])
    assert safety["no_hazards_on_file"] == ["tube plug wax"]
    assert "CA" in safety["kinds"]
    session = kitdrawer(*PLAN, "--json").json["sessions"][0]
    assert "isocyanates" in session["safety"]["kinds"]
    assert any("isocyanates" in one for one in session["cautions"])


def test_rags_are_spoken_of_only_after_something_wet(kitdrawer: Kitdrawer, store: Path) -> None:
    """The line stands at the end of `weekend book`, when the rags are in the hand; its JSON has it too."""
    path = weekend(kitdrawer, store.parent)
    told = kitdrawer("weekend", "book", str(path))
    assert "Safety Oily or finish-wet rags heat up by themselves" in flat(told.out)
    assert any("rags" in one for one in kitdrawer("weekend", "book", str(path), "--json").json["cautions"])


def test_finished_pieces_ask_nothing_of_the_bench(kitdrawer: Kitdrawer, store: Path) -> None:
    """What lies ready is only sold."""
    path = weekend(kitdrawer, store.parent)
    assert kitdrawer("weekend", "book", str(path), "--yes").code in (0, 3)
    piece = "Avocet pen, chrome, olivewood blank, 1"
    told = can_take(kitdrawer, piece)
    assert "from the shelf" in told
    assert "--safety" not in told
    asked = can_take(kitdrawer, piece, "--safety")
    assert "Nickel on the skin" in asked
    assert "lathe" not in asked
