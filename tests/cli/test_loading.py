"""Loading on the command line: shown first, all or nothing, once; as JSON too."""

from __future__ import annotations

import csv
import re
import shutil
import sqlite3
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from commands.conftest import SAMPLE

from inventory.cli.screens import progress as bars

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")


def version(store: Path) -> int:
    with sqlite3.connect(store) as connection:
        return int(connection.execute("SELECT version FROM shop").fetchone()[0])


def counts(path: Path, *rows: str) -> str:
    path.write_text("part,quantity\n" + "".join(f"{row}\n" for row in rows))
    return str(path)


def test_the_same_content_in_another_file_is_already_booked(
    kitdrawer: Kitdrawer, store: Path, tmp_path: Path
) -> None:
    """The sample as a workbook is the sample: what was booked, not what the file is called, counts."""
    book = openpyxl.Workbook()
    assert book.active is not None
    book.remove(book.active)
    for path in SAMPLE.glob("*.csv"):
        sheet = book.create_sheet(path.stem)
        for row in csv.reader(path.read_text(encoding="utf-8").splitlines()):
            sheet.append(row)
    book.save(tmp_path / "everything.xlsx")
    answer = kitdrawer("load", str(tmp_path / "everything.xlsx"), "--yes", "--json")
    assert answer.code == 1
    assert answer.json["error"]["kind"] == "already booked"
    assert "entry 1" in answer.json["error"]["message"]
    assert version(store) == 1


def test_after_an_undo_it_may_be_booked_again(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """What was taken back is not booked any more."""
    path = counts(tmp_path / "counts.csv", "Dunlin kit gunmetal,5")
    assert kitdrawer("load", path, "--yes").code == 0
    assert kitdrawer("load", path, "--yes").code == 1
    assert kitdrawer("undo", "--yes").code == 0
    assert kitdrawer("load", path, "--yes").code == 0
    assert version(store) == 4


def test_old_counts_in_a_sheet_that_is_loaded_again_are_told(
    kitdrawer: Kitdrawer, store: Path, tmp_path: Path
) -> None:
    """A price changed, the counts of the first evening still in the sheet: they would undo what was used since."""
    assert kitdrawer("promise", "S41", "--yes").code == 0
    assert kitdrawer("handed-over", "S41", "--yes").code == 0
    folder = tmp_path / "shop"
    shutil.copytree(SAMPLE, folder)
    offers = folder / "offers.csv"
    offers.write_text(offers.read_text(encoding="utf-8").replace("3.90", "3.95"), encoding="utf-8")
    told = " ".join(kitdrawer("load", str(folder), "--dry-run").out.split())
    assert (
        "Just as last counted (entry 1), though moved since: 16 of these counts. If nobody has counted again, take"
        " the counts out of the sheet: what was used would come back."
    ) in told
    assert "Just as last counted" not in kitdrawer("load", str(folder), "--dry-run", "--anew").out
    (folder / "counts.csv").unlink()
    answer = kitdrawer("load", str(folder), "--yes", "--json")
    assert (answer.code, answer.json["differences"], answer.json["notes"]) == (0, [], [])
    assert version(store) == 4


def test_other_figures_are_a_new_count(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """Nothing is doubted where another number was found, nor where the part never moved."""
    for folder in ("first", "again"):
        (tmp_path / folder).mkdir()
    first = counts(tmp_path / "first" / "counts.csv", "Dunlin kit gunmetal,5", "Dunlin kit chrome,7")
    assert kitdrawer("load", first, "--yes").code == 0
    again = counts(tmp_path / "again" / "counts.csv", "Dunlin kit gunmetal,6", "Dunlin kit chrome,7")
    answer = kitdrawer("load", again, "--yes", "--json").json
    assert [one["part"] for one in answer["differences"]] == ["Dunlin kit gunmetal"]
    assert answer["notes"] == []
    back = kitdrawer("load", first, "--anew", "--yes", "--json")
    assert (back.code, back.json["differences"][0]["found"]) == (0, 5)
    assert version(store) == 4


def test_counted_again_and_found_the_same(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """Months later the same figures may be true: they are booked when that is said, as often as it is."""
    path = counts(tmp_path / "counts.csv", "Dunlin kit gunmetal,5")
    assert kitdrawer("load", path, "--yes").code == 0
    refused = kitdrawer("load", path, "--yes")
    assert refused.code == 1
    assert "or load it with --again, where you counted again." in " ".join(refused.err.split())
    for _ in range(2):
        assert kitdrawer("load", path, "--yes", "--anew").code == 0
    assert kitdrawer("load", path, "--yes").code == 1
    assert kitdrawer("verify").code == 0
    assert version(store) == 4


def test_orders_loaded_twice_are_no_new_count(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """A sheet without counts is not said to be one that could be counted again."""
    path = tmp_path / "platings.csv"
    path.write_text("plating\ncopper\n", encoding="utf-8")
    assert kitdrawer("load", str(path), "--yes").code == 0
    again = kitdrawer("load", str(path), "--yes")
    assert (again.code, "--anew" in again.err) == (1, False)


def test_a_load_as_json(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """The document's number, the rows, and what was counted otherwise; the talk is on standard error."""
    path = counts(tmp_path / "counts.csv", "Dunlin kit gunmetal,5", "CA medium,80.5 ml")
    dry = kitdrawer("load", path, "--dry-run", "--json")
    assert (dry.json["document"], version(store)) == (None, 1)
    wet = kitdrawer("load", path, "--yes", "--json")
    assert wet.json == {**dry.json, "entry": 2, "document": 2}
    assert wet.json["rows"] == {"counts": 2}
    found = {row["part"]: (row["found"], row["booked"]) for row in wet.json["differences"]}
    assert found["Dunlin kit gunmetal"] == (5, 3)
    assert re.search(r"Dunlin kit gunmetal +5 +3", wet.err)


def test_every_bad_cell_for_programs(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """All of them, each with file, tab, row, column, what it said and what is wrong."""
    rows = [f"nothing {n},1" for n in range(60)]
    path = counts(tmp_path / "counts.csv", "Dunlin kit gunmetal,2.5", *rows)
    answer = kitdrawer("load", path, "--yes", "--json")
    where = answer.json["error"]["where"]
    assert (answer.code, answer.json["error"]["kind"], len(where)) == (1, "bad sheet", 61)
    assert {key: where[0][key] for key in ("file", "tab", "row", "column", "said")} == {
        "file": "counts.csv",
        "tab": "counts",
        "row": 2,
        "column": "quantity",
        "said": "2.5",
    }
    assert [one["row"] for one in where] == list(range(2, 63))
    assert all(one["problem"] for one in where)
    assert version(store) == 1


def test_bad_cells_of_several_files_come_together(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """One reading finds what is wrong in all of them; the good file is not loaded either."""
    folder = tmp_path / "sheets"
    folder.mkdir()
    counts(folder / "counts.csv", "Dunlin kit gunmetal,-1")
    (folder / "platings.csv").write_text("plating,substitutes\nbronze,\n")
    (folder / "orders.csv").write_text(
        "order,pattern,blank,count,due\nT1,Dunlin pen,walnut blank,2,30 Feb 2027\n"
    )
    answer = kitdrawer("load", str(folder), "--yes")
    assert answer.code == 1
    assert "counts.csv, counts, row 2, quantity says “-1”" in " ".join(answer.err.split())
    assert "orders.csv, orders, row 2, due says “30 Feb 2027”" in " ".join(answer.err.split())
    assert kitdrawer("shelf", "--plating", "bronze").code == 1
    assert version(store) == 1


def test_sheets_join_what_the_book_holds(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """A new order of a known pattern needs no other tab; a new kit of a known family neither."""
    (tmp_path / "kits.csv").write_text("part,family,plating\nDunlin kit bronze,Dunlin,bronze\n")
    (tmp_path / "platings.csv").write_text("plating,substitutes\nbronze,gunmetal\n")
    counts(tmp_path / "counts.csv", "Dunlin kit bronze,4")
    (tmp_path / "orders.csv").write_text(
        "order,pattern,blank,count,due,plating\nT1,Dunlin pen,walnut blank,2,2026-12-24,bronze\n"
    )
    files = [str(tmp_path / f"{tab}.csv") for tab in ("orders", "counts", "kits", "platings")]
    answer = kitdrawer("load", *files, "--yes")
    assert answer.code == 0
    assert "1 plating, 1 kit, 1 count, 1 order" in " ".join(answer.out.split())
    told = kitdrawer("can-take", "--order", "T1", "--json").json
    assert told["plating"] == "bronze"
    assert {row["part"]: row["free"] for row in told["parts"]}["Dunlin kit bronze"] == 4


def orders_of_nine(path: Path, *orders: str) -> str:
    """The sample's rows of these orders, with nine pieces wanted of each."""
    head, *rows = csv.reader((SAMPLE / "orders.csv").read_text(encoding="utf-8").splitlines())
    at = head.index("count")
    kept = [[*row[:at], "9", *row[at + 1 :]] for row in rows if row[0] in orders]
    path.write_text("\n".join(",".join(row) for row in [head, *kept]) + "\n", encoding="utf-8")
    return str(path)


def test_what_was_promised_stays_as_it_was_promised(
    kitdrawer: Kitdrawer, store: Path, tmp_path: Path
) -> None:
    """A later sheet may change a request, not a promise; it says how it could."""
    kitdrawer("promise", "S41", "--yes")
    before = {row["order"]: row for row in kitdrawer("orders", "--json").json["orders"]}
    answer = kitdrawer("load", orders_of_nine(tmp_path / "orders.csv", "S41", "S44"), "--yes")
    assert answer.code == 1
    assert "“S41” is already promised and reads differently. Change it" in " ".join(answer.err.split())
    assert version(store) == 2
    assert kitdrawer("load", orders_of_nine(tmp_path / "orders.csv", "S44"), "--yes").code == 0
    after = {row["order"]: row for row in kitdrawer("orders", "--json").json["orders"]}
    assert after["S41"] == before["S41"]
    assert (before["S44"]["count"], after["S44"]["count"]) == (3, 9)
    assert kitdrawer("verify").code == 0


def test_one_missing_file_loads_none(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """The others are not loaded either."""
    path = counts(tmp_path / "counts.csv", "Dunlin kit gunmetal,5")
    answer = kitdrawer("load", path, str(tmp_path / "gone.csv"), "--yes")
    assert (answer.code, "gone.csv" in answer.err) == (1, True)
    assert version(store) == 1


@pytest.mark.parametrize("content", ["", "\n\n", "hello\n"], ids=["empty", "blank lines", "no sheet"])
def test_files_with_nothing_to_load(kitdrawer: Kitdrawer, store: Path, tmp_path: Path, content: str) -> None:
    """A sentence, and no empty document."""
    path = tmp_path / "notes.csv"
    path.write_text(content)
    answer = kitdrawer("load", str(path), "--yes")
    assert answer.code == 1
    assert "notes.csv" in answer.err
    assert version(store) == 1


def test_shown_and_asked_before_it_is_booked(
    kitdrawer: Kitdrawer, store: Path, tmp_path: Path, ask: Callable[[bool], list[str]]
) -> None:
    """What it will do stands on the screen when the question comes."""
    path = counts(tmp_path / "counts.csv", "Dunlin kit gunmetal,5")
    asked = ask(True)
    answer = kitdrawer("load", path)
    assert asked == ["Book this?"]
    assert answer.out.index("Read     1 count") < answer.out.index("Booked (entry 2).")
    assert version(store) == 2


def test_a_long_reading_shows_that_it_goes_on(
    kitdrawer: Kitdrawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a terminal a bar comes after a second and leaves nothing behind."""
    now = iter(range(1_000_000))
    monkeypatch.setattr(bars, "monotonic", lambda: float(next(now)))
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    monkeypatch.setenv("TERM", "xterm")
    rows = (f"CA thin,{n % 90 + 1},lot {n}" for n in range(600))
    path = tmp_path / "counts.csv"
    path.write_text("part,quantity,lot\n" + "\n".join(rows) + "\n")
    answer = kitdrawer("load", str(path), "--dry-run")
    assert answer.code == 0
    assert "Reading: " in answer.err
    assert "\x1b[1A\x1b[2K" in answer.err  # wiped
    assert "\x1b" not in answer.out
