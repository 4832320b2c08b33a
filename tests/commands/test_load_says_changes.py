"""`load` of a sheet that was changed by hand: the truth is the plain difference of the two sets of CSV rows."""

from __future__ import annotations

import csv
import random
import shutil
from pathlib import Path
from typing import Any

import pytest

from .conftest import SAMPLE, Kitdrawer

pytestmark = pytest.mark.usefixtures("store")

Rows = list[dict[str, str]]
KEYS = {
    "kits": ("part",),
    "tubes": ("part",),
    "suppliers": ("supplier",),
    "platings": ("plating",),
    "patterns": ("pattern",),
    "orders": ("order",),
    "barrels": ("family", "barrel"),
    "bills": ("pattern", "stage", "part", "per"),
}
FREE = {"kits": "note", "tubes": "note", "suppliers": "note", "patterns": "note", "orders": "customer"}
"""A column of each tab into which anything may be written."""
NAMED = {"barrels": "{family}, {barrel}", "bills": "{pattern}, {stage}: {part} per {per}"}


@pytest.fixture
def sheets(tmp_path: Path) -> Path:
    """The sample's sheets without its counts and offers, free to be changed."""
    folder = Path(shutil.copytree(SAMPLE, tmp_path / "sample_stock"))
    (folder / "counts.csv").unlink()
    (folder / "offers.csv").unlink()
    return folder


def read(path: Path) -> Rows:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def write(path: Path, rows: Rows, columns: list[str]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        out = csv.DictWriter(file, columns)
        out.writeheader()
        out.writerows(rows)


def row_name(tab: str, row: dict[str, str]) -> str:
    return NAMED.get(tab, "{" + KEYS[tab][0] + "}").format(**row)


def told(answer: dict[str, Any]) -> set[tuple[object, ...]]:
    """What the program says, one line a change."""
    return {
        (one["tab"], one["row"], one["what"], *sorted((it["column"], it["from"], it["to"]) for it in one["fields"]))
        for one in answer["changes"]
    } | {(tab, row, "new") for tab, rows in answer["new"].items() for row in rows}  # fmt: skip


def edit(sheets: Path, dice: random.Random) -> set[tuple[object, ...]]:
    """Change some rows as a hand would, and say what was done."""
    done: set[tuple[object, ...]] = set()
    for tab, column in FREE.items():
        rows = read(sheets / f"{tab}.csv")
        columns = list(rows[0]) + ([column] if column not in rows[0] else [])
        at = dice.randrange(len(rows))
        before, now = rows[at].get(column) or "", f"word {dice.randrange(10**6)}"
        rows[at][column] = now
        done.add((tab, row_name(tab, rows[at]), "changed", (column, before, now)))
        write(sheets / f"{tab}.csv", rows, columns)
    rows = read(sheets / "bills.csv")
    gone = rows.pop(dice.randrange(len(rows)))
    done.add(("bills", row_name("bills", gone), "gone"))
    if not any(
        row["pattern"] == gone["pattern"] for row in rows
    ):  # pragma: no cover - its bill is kept whole
        done.clear()
    write(sheets / "bills.csv", rows, list(rows[0]))
    rows = read(sheets / "platings.csv")
    rows.append({"plating": f"plating {dice.randrange(10**6)}", "substitutes": ""})
    done.add(("platings", rows[-1]["plating"], "new"))
    write(sheets / "platings.csv", rows, list(rows[0]))
    return done


@pytest.mark.parametrize("seed", range(4))
def test_every_changed_row_is_named_and_nothing_else(kitdrawer: Kitdrawer, sheets: Path, seed: int) -> None:
    """Whatever cells are changed, rows added and lines taken out: those are told, from and to, and no others."""
    truth = edit(sheets, random.Random(seed))
    answer = kitdrawer("load", str(sheets), "--dry-run", "--json")
    assert answer.code == 0, answer.err
    assert told(answer.json) == truth


def test_the_same_sheets_change_nothing(kitdrawer: Kitdrawer, sheets: Path) -> None:
    """Loaded as they are, no row is said to be new, changed or gone, and no cell unused."""
    answer = kitdrawer("load", str(sheets), "--dry-run", "--json")
    assert answer.json["changes"] == []
    assert answer.json["new"] == {}
    assert answer.json["unused"] == []


def without(path: Path, name: str) -> None:
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    path.write_text("".join(line for line in lines if not line.startswith(name)), encoding="utf-8")


def gone(answer: dict[str, Any]) -> list[tuple[str, str, bool]]:
    return [
        (one["tab"], one["row"], one["in_the_book"]) for one in answer["changes"] if one["what"] == "gone"
    ]


def test_a_row_that_vanished_is_named_once(kitdrawer: Kitdrawer, sheets: Path) -> None:
    """It stays in the book and is said to; the next load of the same sheet does not say it again."""
    without(sheets / "kits.csv", "Dunlin kit rhodium")
    answer = kitdrawer("load", str(sheets), "--yes", "--json")
    assert gone(answer.json) == [("kits", "Dunlin kit rhodium", True)]
    assert "Dunlin kit rhodium" in kitdrawer("shelf", "--family", "Dunlin").out
    answer = kitdrawer("load", str(sheets), "--dry-run", "--json")
    assert gone(answer.json) == []


def test_a_renamed_file_is_known_by_its_rows(kitdrawer: Kitdrawer, sheets: Path) -> None:
    """What vanished from a folder of another name is found; a short list from elsewhere says nothing of the rest."""
    without(sheets / "kits.csv", "Dunlin kit rhodium")
    other = sheets.rename(sheets.with_name("shop of December"))
    assert gone(kitdrawer("load", str(other), "--dry-run", "--json").json) == [
        ("kits", "Dunlin kit rhodium", True)
    ]
    few = sheets.with_name("kits.csv")
    few.write_text("part,family,plating\nDunlin kit gold,Dunlin,chrome\n", encoding="utf-8")
    assert gone(kitdrawer("load", str(few), "--dry-run", "--json").json) == []


def test_what_still_stands_in_another_sheet_is_not_gone(kitdrawer: Kitdrawer, sheets: Path) -> None:
    """A kit that moved into a list of its own is missed nowhere."""
    own = sheets.parent / "more" / "kits.csv"
    own.parent.mkdir()
    own.write_text("part,family,plating\nDunlin kit rhodium,Dunlin,rhodium\n", encoding="utf-8")
    without(sheets / "kits.csv", "Dunlin kit rhodium")
    assert kitdrawer("load", str(own.parent), "--yes").code == 0
    assert gone(kitdrawer("load", str(sheets), "--dry-run", "--json").json) == []


def test_an_offer_and_an_order_that_vanished(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """All price breaks of an offer are one row; a wanted order says how to give it up, one handed over is let be."""
    folder = Path(shutil.copytree(SAMPLE, tmp_path / "sample_stock"))
    (folder / "counts.csv").unlink()
    text = (folder / "offers.csv").read_text(encoding="utf-8")
    kept = [line for line in text.splitlines(keepends=True) if "SM-1007" not in line]
    (folder / "offers.csv").write_text("".join(kept), encoding="utf-8")
    without(folder / "orders.csv", "S41")
    answer = kitdrawer("load", str(folder), "--dry-run", "--json").json
    assert [(tab, row.split(":")[0]) for tab, row, _ in gone(answer)] == [
        ("offers", "Saltmarsh Turning Supplies"),
        ("orders", "S41"),
    ]
    screen = kitdrawer("load", str(folder), "--dry-run").out
    assert "orders, S41: gone from the sheet, still in the book" in screen
    assert "No longer wanted? kitdrawer release S41" in screen
    assert len(screen.splitlines()) <= 24
    assert kitdrawer("release", "S41", "--yes").code in (0, 1)


def test_a_price_break_that_changed(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """All breaks are shown as they were and as they are."""
    folder = Path(shutil.copytree(SAMPLE, tmp_path / "sample_stock"))
    (folder / "counts.csv").unlink()
    text = (folder / "offers.csv").read_text(encoding="utf-8")
    (folder / "offers.csv").write_text(text.replace("1,3.45,SM-1007,5", "1,3.40,SM-1007,6"), encoding="utf-8")
    (one,) = kitdrawer("load", str(folder), "--dry-run", "--json").json["changes"]
    assert one["fields"] == [
        {
            "column": "price",
            "from": "3.60 EUR, 3.45 EUR from 5, 3.25 EUR from 10, 3.00 EUR from 25",
            "to": "3.60 EUR, 3.40 EUR from 6, 3.25 EUR from 10, 3.00 EUR from 25",
        }
    ]


def test_every_cell_read_in_vain_is_named(kitdrawer: Kitdrawer, sheets: Path) -> None:
    """Under a heading that is not ours, under none, and to the right of all: each with its place and its words."""
    rows = (sheets / "tubes.csv").read_text(encoding="utf-8").splitlines()
    assert rows[0] == "part,outside diameter,length,drill,reorder level,drawer"
    rows[0] += ",colour of box,,"
    rows[1] += ",red,,"
    rows[2] += ",,bare,far off"
    (sheets / "tubes.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    answer = kitdrawer("load", str(sheets), "--dry-run", "--json").json
    assert {(one["tab"], one["cell"], one["says"]) for one in answer["unused"]} == {
        ("tubes", "G2", "red"),
        ("tubes", "H3", "bare"),
        ("tubes", "I3", "far off"),
    }
    screen = kitdrawer("load", str(sheets), "--dry-run").out
    assert "Not used: 3 cells." in screen
    every = kitdrawer("load", str(sheets), "--dry-run", "--all").out
    assert "tubes G2: “red”; its column is not one of tubes: “colour of box”" in " ".join(every.split())


def test_many_changes_stay_on_one_screen(kitdrawer: Kitdrawer, sheets: Path) -> None:
    """The first rows and the counts; every row with --all."""
    rows = read(sheets / "kits.csv")
    for row in rows:
        row["note"] = "seen"
    write(sheets / "kits.csv", rows, list(rows[0]))
    for number in range(4):
        with (sheets / "platings.csv").open("a", encoding="utf-8") as file:
            file.write(f"colour {number},\n")
    for tab in ("tubes", "tools", "blanks", "supplies"):
        lines = (sheets / f"{tab}.csv").read_text(encoding="utf-8").splitlines()
        lines[0] += ",my own"
        lines[1] += ",word"
        (sheets / f"{tab}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    screen = kitdrawer("load", str(sheets), "--dry-run").out
    assert f"4 rows new, {len(rows)} changed." in screen
    assert f"and {len(rows) - 6} more: --all" in screen
    assert "and 3 more columns: --all" in screen
    every = kitdrawer("load", str(sheets), "--dry-run", "--all").out
    assert "platings, colour 3: new" in every
    assert every.count("note (empty) → seen") + every.count("→ seen") >= len(rows)
