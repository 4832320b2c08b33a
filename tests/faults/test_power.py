"""What a power cut must not undo: told is on the disk, and a name is given only to what is there.

A killed process cannot show this, since the system still writes what it was handed. Here it is held that the disk was
asked to keep everything before anybody was told.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from inventory import leftovers
from inventory.sheets.writing import write_csv
from inventory.store import backup, begin, restore
from inventory.store import engine as engines

Order = list[tuple[str, str]]


@pytest.fixture
def order(monkeypatch: pytest.MonkeyPatch) -> Order:
    """What was put on the disk and what was given a name, in turn."""
    done: Order = []

    def noted(kind: str, what: Callable[..., Any]) -> Callable[..., Any]:
        def call(first: Any, *rest: Any) -> Any:
            name = os.readlink(f"/proc/self/fd/{first}") if isinstance(first, int) else str(first)
            result = what(first, *rest)
            done.append((kind, name))
            return result

        return call

    if not Path("/proc/self/fd").exists():
        pytest.skip("what a file is called is read from /proc")
    monkeypatch.setattr(os, "fsync", noted("kept", os.fsync))
    monkeypatch.setattr(os, "link", noted("named", os.link))
    monkeypatch.setattr(Path, "replace", noted("named", Path.replace))
    return done


def kept_before_named(order: Order) -> None:
    """Each file was put on the disk before it got its name."""
    named = [at for at, (kind, _) in enumerate(order) if kind == "named"]
    assert named
    for at in named:
        assert ("kept", order[at][1]) in order[:at], order


def test_sheets(order: Order, tmp_path: Path) -> None:
    """A saved sheet is on the disk before it has its name."""
    write_csv(tmp_path / "list.csv", ["part"], [["tube"]])
    kept_before_named(order)


def test_copies(order: Order, tmp_path: Path) -> None:
    """So are a backup and what is restored, and the folder knows the name before it is told."""
    with begin(tmp_path / "book", "EUR") as store:
        order.clear()
        backup(store, tmp_path / "copy")
    restore(tmp_path / "copy", tmp_path / "new")
    kept_before_named(order)
    assert order[-1] == ("kept", str(tmp_path))


def test_a_new_book(order: Order, tmp_path: Path) -> None:
    """The folder of a book just begun knows it before it is told; SQLite itself puts the file on the disk."""
    begin(tmp_path / "book", "EUR").close()
    assert order[-1] == ("kept", str(tmp_path))


def test_every_commit_waits_for_the_disk(tmp_path: Path) -> None:
    """`synchronous = FULL`: with a log, each commit is put on the disk before it is told."""
    with begin(tmp_path / "book", "EUR") as store, store.engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA synchronous").scalar() == 2
        assert connection.exec_driver_sql("PRAGMA journal_mode").scalar() == "wal"
    engine = engines.engine(engines.find(tmp_path / "book"), "mode=ro")
    with engine.connect() as connection:
        assert connection.exec_driver_sql("PRAGMA synchronous").scalar() == 2
    engine.dispose()


def test_what_a_killed_run_left_is_in_nobodys_way(tmp_path: Path) -> None:
    """Hidden names are never the same twice, not even for a process with the same number."""
    names = {leftovers.unfinished(tmp_path / "book") for _ in range(50)}
    assert len(names) == 50
    assert {name.parent for name in names} == {tmp_path}
