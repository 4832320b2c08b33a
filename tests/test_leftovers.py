"""Hidden files a kill left are cleared at the next write beside them; those somebody still writes are not."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from inventory import leftovers
from inventory.leftovers import clear, start_of, unfinished
from inventory.sheets.writing import write_csv
from inventory.store import begin
from inventory.store.copies.backups import backup


@pytest.fixture(scope="module")
def gone() -> int:
    """The number of a process that is no more."""
    child = subprocess.Popen([sys.executable, "-c", ""])
    child.wait()
    return child.pid


def left_by(file: Path, process: int, *, days: int = 0, machine: str = "") -> Path:
    """What a process of that number would have left for this file, and the log beside it."""
    name = start_of(file).replace(f"-{os.getpid()}-", f"-{process}-")
    path = file.with_name((f".{file.name}.{machine}-{process}-" if machine else name) + "0a1b2c3d.new")
    path.write_text("half")
    path.with_name(path.name + "-journal").write_text("half")
    os.utime(path, (path.stat().st_mtime - days * leftovers.LONG,) * 2)
    return path


def test_what_a_process_that_is_gone_left_is_cleared_at_once(tmp_path: Path, gone: int) -> None:
    """With what lay beside it; also what was to become a copy beside the file. Another file's stay."""
    book = tmp_path / "book[1].kitdrawer"
    mine, other = left_by(book, gone), left_by(tmp_path / "other.kitdrawer", gone)
    copy = left_by(tmp_path / f"{book.name}.before-0003-20261128", gone)
    clear(book)
    assert [path.exists() for path in (mine, copy, other)] == [False, False, True]
    assert not list(tmp_path.glob(".book*"))


def test_what_somebody_may_still_be_writing_stays_for_a_day(tmp_path: Path, gone: int) -> None:
    """A living process, another machine, a name that does not tell."""
    book = tmp_path / "book.kitdrawer"
    kept = [
        left_by(book, os.getpid()),
        left_by(book, gone, machine="0badcafe"),
        tmp_path / ".book.kitdrawer.1a2b.new",
    ]
    kept[-1].write_text("half")
    clear(book)
    assert all(path.exists() for path in kept)
    old = left_by(tmp_path / "book.kitdrawer", gone, days=2, machine="0badcafe")
    clear(book)
    assert (old.exists(), kept[0].exists()) == (False, True)


def test_where_processes_cannot_be_asked_a_day_decides(
    tmp_path: Path, gone: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on Windows; and a process of somebody else's is alive."""
    book = tmp_path / "book.kitdrawer"
    fresh = left_by(book, gone)

    def not_mine(*_: int) -> None:
        raise PermissionError

    monkeypatch.setattr("os.kill", not_mine)
    clear(book)
    assert fresh.exists()
    monkeypatch.setattr("inventory.leftovers.os.name", "nt")
    clear(book)
    assert fresh.exists()


def test_no_two_names_are_alike(tmp_path: Path) -> None:
    """Hidden, beside the file, and telling whose they are."""
    one, two = unfinished(tmp_path / "a.x"), unfinished(tmp_path / "a.x")
    assert one != two
    assert one.name.startswith(start_of(tmp_path / "a.x"))
    clear(tmp_path / "nowhere" / "a.x")


WRITES: dict[str, Callable[[Path], object]] = {
    "a book begun": lambda path: begin(path, "EUR").close(),
    "a sheet": lambda path: write_csv(path, ["part"], []),
}


@pytest.mark.parametrize("what", WRITES)
def test_a_write_clears_what_was_to_become_it(tmp_path: Path, gone: int, what: str) -> None:
    """Whoever makes the file anew."""
    path = tmp_path / "made"
    left = left_by(path, gone)
    WRITES[what](path)
    assert not left.exists()


def test_a_booking_and_a_copy_clear_what_lies_beside_them(tmp_path: Path, gone: int) -> None:
    """The book's own leftovers go at the next document, the copy's at the next copy."""
    with begin(tmp_path / "book.kitdrawer", "EUR") as store:
        beside, copys = left_by(tmp_path / "book.kitdrawer", gone), left_by(tmp_path / "copy", gone)
        with store.writing():
            assert (beside.exists(), copys.exists()) == (False, True)
        backup(store, tmp_path / "copy")
        assert not copys.exists()
