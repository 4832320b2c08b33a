"""One case run through the command line on a store of its own, and what became of both."""

from __future__ import annotations

import json
import shutil
import sqlite3
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any

import pytest
from sheets.shop import write_csvs

from inventory.cli.app import make_app
from inventory.cli.edge import run

from . import bad_books, book_kinds, csv_kinds, odd_paths
from .generator import KINDS, Kind, tabs

__all__ = ["KINDS", "Case", "Ran", "Stores", "book_of"]

TODAY = "2026-11-25"
SOURCES = (bad_books, book_kinds, csv_kinds, odd_paths)
"""Modules that register kinds when they are imported."""
_OF_THE_MOMENT = {("document", "title"), ("document", "booked_at"), ("shop", "mark"), ("sheet_row", "sheet")}
"""Columns that name the file or the minute, and not what was loaded."""


@dataclass(frozen=True)
class Case:
    """A kind with its seed."""

    kind: Kind
    seed: int


@dataclass(frozen=True)
class Ran:
    """How a case ended. became: loaded or refused; seconds of work; book: everything in the store afterwards."""

    became: str
    seconds: float
    out: str
    err: str
    same_as_before: bool
    book: dict[str, Sequence[Any]]

    @property
    def error(self) -> dict[str, Any]:
        """The refusal, where it was asked for as JSON."""
        found: dict[str, Any] = json.loads(self.out)["error"]
        return found


class Stores:
    """An empty store to begin with, and the book the clean shop comes to."""

    def __init__(self, folder: Path) -> None:
        self.empty = folder / "empty.kitdrawer"
        assert command("begin", "--store", str(self.empty)) == 0
        clean = folder / "clean.kitdrawer"
        shutil.copy(self.empty, clean)
        sheets = write_csvs(folder / "clean", tabs())
        assert command("load", str(sheets), "--yes", "--store", str(clean)) == 0
        self.clean = book_of(clean)

    def ran(
        self, case: Case, folder: Path, capsys: pytest.CaptureFixture[str], *, as_json: bool = True
    ) -> Ran:
        """Write the case into `folder` and load it; only a refusal or an answer comes back, never another error."""
        store = folder / "book.kitdrawer"
        shutil.copy(self.empty, store)
        before = store.read_bytes()
        inner = folder / "case"
        inner.mkdir()
        path = case.kind.write(Random(f"{case.kind.name} {case.seed}"), inner)
        capsys.readouterr()
        started = time.process_time()
        words = ["load", str(path), "--yes", "--store", str(store), *(["--json"] if as_json else [])]
        code = command(*words)
        seconds = time.process_time() - started
        said = capsys.readouterr()
        assert code in (0, 1), said
        became = "loaded" if code == 0 else "refused"
        return Ran(became, seconds, said.out, said.err, store.read_bytes() == before, book_of(store))


def command(*words: str) -> int:
    """Run a command line in this process."""
    return run(make_app(words), words)


def book_of(store: Path) -> dict[str, Sequence[Any]]:
    """Every row of every table, without what names the file or the minute."""
    with sqlite3.connect(store) as connection:
        names = [
            name for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
        ]
        found: dict[str, Sequence[Any]] = {}
        for name in sorted(names):
            columns = [row[1] for row in connection.execute(f"PRAGMA table_info({name})")]
            kept = ", ".join(one for one in columns if (name, one) not in _OF_THE_MOMENT)
            found[name] = (
                connection.execute(f"SELECT {kept} FROM {name} ORDER BY 1").fetchall() if kept else []
            )
    connection.close()
    return found
