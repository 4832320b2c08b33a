"""A book that was used for years: looking at it reads no more than it did when it was young."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine, event

from inventory.cli.app import make_app
from inventory.cli.edge import run
from inventory.store import begin, open_store, verify
from inventory.store.copies.backups import backup

SCRIPTS = Path(__file__).resolve().parents[2] / "scripts" / "soak"
YOUNG, OLD = 18, 30
"""Weeks: about 35,000 lines and 59,000; by then a part has as many open lots as it ever has."""
WISH = ("Pattern 1", "--plating", "Plating 1", "--blank", "Blank 1", "--count", "2", "--by", "2030-01-30")
LOOKS = {
    "shelf": ("shelf",),
    "can-take": ("can-take", *WISH),
    "fits": ("fits", "Family 1"),
    "due-in": ("due-in",),
    "orders": ("orders",),
    "rates": ("rates",),
    "losses": ("losses",),
    "entries": ("entries",),
}
GROWTH = 1.15
"""The catalogue grows a little: finished pieces are parts, and an order is never forgotten."""


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> dict[int, Path]:
    """One shop's book when it is young and when it is older."""
    folder = tmp_path_factory.mktemp("years")
    done = {}
    with pytest.MonkeyPatch.context() as patched:
        patched.syspath_prepend(str(SCRIPTS))
        from years_book import Size, made

        for weeks in (YOUNG, OLD):
            done[weeks] = folder / f"{weeks}.kitdrawer"
            with begin(done[weeks], "EUR") as store:
                made(store, weeks, Size())
    return done


@contextmanager
def work() -> Iterator[dict[str, int]]:
    """Counts statements, and thousands of steps of SQLite's machine: every row read, by whatever way, takes some."""
    done = {"statements": 0, "steps": 0}

    def step() -> int:
        done["steps"] += 1
        return 0

    def connected(raw: sqlite3.Connection, _: object) -> None:
        raw.set_progress_handler(step, 1000)

    def asked(*_: object) -> None:
        done["statements"] += 1

    event.listen(Engine, "connect", connected)
    event.listen(Engine, "before_cursor_execute", asked)
    try:
        yield done
    finally:
        event.remove(Engine, "connect", connected)
        event.remove(Engine, "before_cursor_execute", asked)


@pytest.fixture
def took(books: dict[int, Path], monkeypatch: pytest.MonkeyPatch) -> dict[int, dict[str, dict[str, int]]]:
    """What every look takes, on both books."""
    done: dict[int, dict[str, dict[str, int]]] = {}
    for weeks, path in books.items():
        monkeypatch.setenv("KITDRAWER_STORE", str(path))
        monkeypatch.setenv("KITDRAWER_TODAY", str(date(2016, 1, 5) + timedelta(weeks=weeks)))
        done[weeks] = {}
        for name, words in LOOKS.items():
            with work() as counted:
                assert run(make_app(words), words) in (0, 3)
            done[weeks][name] = dict(counted)
    return done


@pytest.mark.soak
@pytest.mark.parametrize("look", LOOKS)
def test_a_look_reads_no_more_in_an_old_book(took: dict[int, dict[str, dict[str, int]]], look: str) -> None:
    """A look asks as many statements of 59,000 lines as of 35,000, and SQLite works as little for them."""
    young, old = took[YOUNG][look], took[OLD][look]
    assert old["statements"] == young["statements"]
    assert old["steps"] <= GROWTH * young["steps"]


@pytest.mark.soak
def test_an_old_book_is_sound_and_its_copy_the_same(books: dict[int, Path], tmp_path: Path) -> None:
    """After 59,000 lines nothing disagrees, and a backup holds the same rows in every table."""
    copy = tmp_path / "copy.kitdrawer"
    with open_store(books[OLD]) as store:
        assert verify(store) == ()
        backup(store, copy)
    with sqlite3.connect(books[OLD]) as here, sqlite3.connect(copy) as there:
        dumps = [list(connection.iterdump()) for connection in (here, there)]
    here.close()
    there.close()
    assert len(dumps[0]) > 50_000
    assert dumps[0] == dumps[1]
