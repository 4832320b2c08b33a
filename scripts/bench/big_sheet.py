"""A large made-up workbook for scripts/bench.py: supplies, and far more counts of them than anyone would type."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path


def make_workbook(file: Path, parts: int, rows: int) -> None:
    """Write a workbook whose `supplies` tab has so many parts and whose `counts` tab has so many rows."""
    from openpyxl import Workbook

    book = Workbook(write_only=True)
    supplies = book.create_sheet("supplies")
    supplies.append(("part", "type", "unit"))
    for part in range(parts):
        supplies.append((f"Supply {part}", "sundry", "piece"))
    counts = book.create_sheet("counts")
    counts.append(("part", "quantity", "unit cost", "lot", "received on"))
    for row in range(rows):
        day = date(2024, 1, 1) + timedelta(days=row % 700)
        counts.append((f"Supply {row % parts}", row % 90 + 1, 0.25 + row % 40, f"L{row}", day))
    book.save(file)


def make_strangers_sheet(file: Path, rows: int) -> None:
    """Write a sheet of stock as a stranger keeps it, with so many rows, in columns of his own."""
    from openpyxl import Workbook

    book = Workbook()
    sheet = book.create_sheet("Stock", 0)
    sheet.append(("What", "Colour", "How many", "Where I bought", "Paid", "Drill", "Notes"))
    names, platings = ("Dunlin", "Avocet", "Turnstone pencil"), ("chrome", "gold", "gun metal", "GM")
    for row in range(rows):
        if row % 3 < 2:
            kit, plating = f"{names[row % len(names)]} kit", platings[row % len(platings)]
            sheet.append((kit, plating, ("ca. 4", 3, "2×5")[row % 3], "Saltmarsh", "3,60", "7mm", ""))
        else:
            sheet.append((f"walnut blank {row} mm", "", row, "sawmill", "1,20", "", "dry"))
    book.save(file)
