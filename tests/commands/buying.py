"""What the tests of buying share: what the shelf says, a sheet edited."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl

from .conftest import Kitdrawer

SALT = "Saltmarsh Turning Supplies"


def shelf(kitdrawer: Kitdrawer, part: str) -> dict[str, Any]:
    rows = kitdrawer("shelf", "--json").json["parts"]
    return next(row for row in rows if row["part"] == part)


def edited(path: Path, changes: dict[str, Any], tab: str = SALT) -> None:
    book = openpyxl.load_workbook(path)
    for cell, value in changes.items():
        book[tab][cell] = value
    book.save(path)
