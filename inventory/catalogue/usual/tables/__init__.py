"""Usual values kept as CSV files; each file's first lines say what holds for all its rows, each row its source."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """The rows of `name`.csv by column heading."""
    with Path(__file__).with_name(f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(line for line in file if not line.startswith("# ")))
