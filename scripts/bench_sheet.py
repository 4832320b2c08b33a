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
