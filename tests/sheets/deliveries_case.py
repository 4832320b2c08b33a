"""Delivery sheets filled and read, for the tests of them."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from inventory.errors import BadSheet, Place
from inventory.ledger import DueIn
from inventory.reports.purchasing.parcels import Delivery
from inventory.sheets.purchasing.parcel_form import columns
from inventory.sheets.purchasing.parcel_reading import read_delivery
from inventory.sheets.purchasing.supplier_tabs import titles

from .lists_case import EUR, GLUE, KIT, MARSH, ODD, PADS, REACH, TODAY, known

TAB = titles([MARSH])[MARSH]


COLUMNS = [one.heading for one in columns()]


LETTER = dict(zip(COLUMNS, "ABCDEFGHIJKLMNOPQ", strict=True))


DUE = (
    DueIn(1, KIT, MARSH, 7000, 3010, date(2026, 11, 30), 0, 1000, "SM-10"),
    DueIn(2, GLUE, MARSH, 112_000, 1410, date(2026, 11, 30), 0, 56_000),
    DueIn(3, PADS, REACH, 12_000, 1226, None, 0, 3000, "FR/1"),
    DueIn(4, ODD, MARSH, 1000, 300, date(2026, 12, 9), 0, 1000, "A"),
    DueIn(5, ODD, MARSH, 5000, 1400, date(2026, 12, 2), 0, 5000, "B"),
)


def fill(path: Path, row: int, tab: str = TAB, **values: Any) -> Path:
    """Fill cells of one row, by their headings with _ for a space."""
    book = load_workbook(path)
    for name, value in values.items():
        book[tab][f"{LETTER[name.replace('_', ' ')]}{row}"] = value
    book.save(path)
    return path


def parcel(path: Path, row: int, *values: Any) -> None:
    """Fill a parcel's note, date and postage."""
    book = load_workbook(path)
    for letter, value in zip("BCD", values, strict=False):
        book["delivery"][f"{letter}{row}"] = value
    book.save(path)


def read(path: Path) -> tuple[Delivery, ...]:
    """What the sheet says that came."""
    return read_delivery(path, known(), EUR, TODAY)


def refused(path: Path) -> list[Place]:
    """The places of everything that cannot be taken."""
    with pytest.raises(BadSheet) as found:
        read(path)
    return list(found.value.where)
