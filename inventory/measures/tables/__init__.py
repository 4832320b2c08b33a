"""Published tables kept as CSV files beside this one; each file's first lines name its source."""

from __future__ import annotations

import csv
from pathlib import Path


def rows(name: str) -> list[dict[str, str]]:
    """The rows of `name`.csv by column heading; lines starting with `# ` are its source notes."""
    with Path(__file__).with_name(f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("# ")))
