"""Two names of which sessions taught become one: what was learned is what a book with one name from the start knows."""

from __future__ import annotations

import csv
import shutil
from pathlib import Path
from typing import Any

import pytest

from .conftest import SAMPLE, Kitdrawer

STRIP, OTHER = "dry strip P320", "strip three-twenty"
SESSIONS = (
    ("Turnstone pencil, chrome, walnut blank, 1", ""),
    ("Turnstone pencil, chrome, walnut blank, 2", "3"),
    ("Dunlin pen, chrome, walnut blank, 2", "1.5"),
)
"""What is made, and how many strips it took; in one of them nobody looked."""


def shop_of(folder: Path, *, one_name: bool) -> Path:
    """The sample, where the strip of pencils has the other name; or the same name throughout."""
    shutil.copytree(SAMPLE, folder)
    name = STRIP if one_name else OTHER
    bills = (folder / "bills.csv").read_text(encoding="utf-8")
    line = f"Turnstone pencil,turn,{STRIP}"
    assert line in bills
    (folder / "bills.csv").write_text(bills.replace(line, f"Turnstone pencil,turn,{name}"), encoding="utf-8")
    if not one_name:
        with (folder / "supplies.csv").open("a", encoding="utf-8") as file:
            file.write(f"{OTHER},abrasive,strip,,,,,,,,\n")
    counted = (folder / "counts.csv").read_text(encoding="utf-8").rstrip("\n")
    more = f"{name},40,0.28,march,2026-05-23,,,,\n"
    (folder / "counts.csv").write_text(f"{counted}\n{more}", encoding="utf-8")
    return folder


def taught(kitdrawer: Kitdrawer, folder: Path, *, one_name: bool) -> None:
    """The sessions, each with the strips it took written down."""
    for at, (what, strips) in enumerate(SESSIONS):
        assert kitdrawer("plan", "--on", "2026-11-28", "--stall", what, "--yes").code in (0, 3)
        sheet = folder / f"sheet {at}"
        assert kitdrawer("weekend", "sheet", "--save", str(sheet)).code == 0
        many = what.rpartition(" ")[2]
        part = STRIP if one_name or what.startswith("Dunlin") else OTHER
        fill(sheet / "pieces.csv", {"good": many})
        if strips:
            fill(sheet / "used.csv", {"used": strips}, part)
        assert kitdrawer("weekend", "book", str(sheet), "--yes").code in (0, 3)


def fill(path: Path, said: dict[str, str], part: str = "") -> None:
    """Cells of the row of a part, of the first row where none is said."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    mine = [row for row in rows if not part or row["part"] == part]
    mine[0].update(said)
    with path.open("w", encoding="utf-8", newline="") as file:
        out = csv.DictWriter(file, list(rows[0]))
        out.writeheader()
        out.writerows(rows)


def begun(kitdrawer: Kitdrawer, folder: Path, monkeypatch: pytest.MonkeyPatch, *, one_name: bool) -> None:
    monkeypatch.setenv("KITDRAWER_STORE", str(folder / "book"))
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-11-28")
    folder.mkdir()
    assert kitdrawer("begin", "--rate", "USD=0.92").code == 0
    shop = shop_of(folder / "shop", one_name=one_name)
    loaded = kitdrawer("load", str(shop), "--yes")
    assert loaded.code == 0, loaded.err
    taught(kitdrawer, folder, one_name=one_name)


def rates(kitdrawer: Kitdrawer, *parts: str) -> Any:
    """What is known of the rates of parts."""
    return [kitdrawer("rates", part, "--json").json["rates"] for part in parts]


def test_what_was_learned_is_as_if_it_had_always_been_one(
    kitdrawer: Kitdrawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The rates of the merged part are those of a book that never had two names; undo gives each its own again."""
    begun(kitdrawer, tmp_path / "one", monkeypatch, one_name=True)
    (always,) = rates(kitdrawer, STRIP)
    begun(kitdrawer, tmp_path / "two", monkeypatch, one_name=False)
    apart = rates(kitdrawer, STRIP, OTHER)
    assert [of[0]["sessions"] for of in apart] == [1, 1]
    assert kitdrawer("merge", OTHER, "INTO", STRIP, "--yes").code == 0
    assert rates(kitdrawer, STRIP, OTHER) == [always, always]
    assert always[0]["sessions"] == 2
    assert kitdrawer("verify").code == 0
    merged = kitdrawer("entries", "--json").json["entries"][0]["entry"]
    assert kitdrawer("undo", "--yes").code == 0
    assert rates(kitdrawer, STRIP, OTHER) == apart
    assert kitdrawer("verify").code == 0
    assert kitdrawer("undo", str(int(merged) + 1), "--yes").code == 0
    assert rates(kitdrawer, STRIP) == [always]
    assert kitdrawer("verify").code == 0
