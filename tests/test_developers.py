"""What DEVELOPERS.md says of where things are is so."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from inventory.cli.app import COMMANDS

ROOT = Path(__file__).resolve().parent.parent
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
FOLDERS = ("inventory/jobs", "inventory/cli/screens", "inventory/sheets", "tests")


def rows() -> list[list[str]]:
    """The table of commands: a row each, its cells."""
    section = TEXT.partition("## Where a command lives")[2].partition("\n## ")[0]
    lines = [line for line in section.splitlines() if line.startswith("| ")][1:]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]


def test_every_command_has_its_row() -> None:
    assert [row[0] for row in rows()] == list(COMMANDS)


@pytest.mark.parametrize("row", rows(), ids=lambda row: str(row[0]))
def test_what_a_row_names_is_there(row: list[str]) -> None:
    """Modules by their path below the column's folder."""
    named = [
        (folder, name)
        for folder, cell in zip(FOLDERS, row[1:], strict=True)
        for name in re.findall(r"`([^`]+)`", cell)
    ]
    assert [name for folder, name in named if not (ROOT / folder / f"{name}.py").exists()] == []


def test_every_path_named_is_there() -> None:
    """`store/…`, `jobs/…` and the like: a module, a folder, or a name in a module."""
    rooms = "measures|catalogue|ledger|making|buying|reports|jobs|store|sheets|cli"
    before, _, after = TEXT.partition("## Where a command lives")
    elsewhere = before + after.partition("\n## ")[2]
    gone = []
    for path in sorted(set(re.findall(rf"`((?:{rooms})/[a-z0-9_/]*)(?:\.py|\.[A-Za-z_]+)*`", elsewhere))):
        place = ROOT / "inventory" / path
        if not (place.is_dir() or place.with_suffix(".py").exists()):
            gone.append(path)
    assert gone == []
