"""What the tests of learned figures share: a sheet filled as after a session, what commands say of it."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl
from sheets.on_pages import row_of

from .conftest import Kitdrawer

EPOXY, ALCOHOL, MEDIUM = "epoxy 5-minute", "denatured alcohol", "CA medium"
STALL = "stall 2026-11-28 a"
BOTTLES = {EPOXY: 69.7, ALCOHOL: 564.2, MEDIUM: 41.0}
"""Grams after the session: 4 ml of epoxy are gone, 20 ml of alcohol, 4 ml of CA."""
Cell = tuple[str, str, str]
"""Tab, what the row begins with, heading."""


def fill(path: Path, changes: Mapping[Cell, object]) -> None:
    """Write into a sheet what a maker would have written."""
    book = openpyxl.load_workbook(path)
    for (table, name, heading), value in changes.items():
        tab, row, at = row_of(book, table, name)
        tab.cell(row, at[heading]).value = value
    book.save(path)


def weekend(kitdrawer: Kitdrawer, folder: Path) -> Path:
    """Plan a session (document 2) and fill its sheet: two Avocet pens begun, one lost at the lathe."""
    pens = "Avocet pen, chrome, olivewood blank, 2"
    assert kitdrawer("plan", "--on", "2026-11-28", "--stall", pens, "--yes").code in (0, 3)
    path = folder / "saturday.xlsx"
    assert kitdrawer("weekend", "sheet", "--save", str(path)).code == 0
    changes: dict[Cell, object] = {("pieces", STALL, "good"): 1, ("pieces", STALL, "spoiled at turn"): 1}
    changes["bottles", ALCOHOL, "reason"] = "used"  # not into the air
    fill(path, {**changes, **{("bottles", part, "after g"): grams for part, grams in BOTTLES.items()}})
    return path


def rates(kitdrawer: Kitdrawer, part: str = "") -> dict[tuple[str, str], dict[str, Any]]:
    """Rates by part and `per`."""
    told = kitdrawer("rates", *([part] if part else []), "--json").json["rates"]
    return {(one["part"], one["per"]): one for one in told}


def need(kitdrawer: Kitdrawer, part: str) -> Decimal:
    """What two chrome Avocet pens in walnut, of which no olivewood loss is to be feared, need of a part."""
    words = ("can-take", "Avocet pen", "--plating", "chrome", "--blank", "walnut blank", "--by", "2027-03-01")
    parts = kitdrawer(*words, "--count", "2", "--json").json["parts"]
    return Decimal(next(one["need"] for one in parts if one["part"] == part))
