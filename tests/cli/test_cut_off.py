"""Commands killed outright while their booking ends: the next one finds out whether it is in the book."""

from __future__ import annotations

import os
import shutil
import signal
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest
from forked import forked
from sqlalchemy import make_url
from sqlalchemy.engine.default import DefaultDialect
from sqlalchemy.engine.interfaces import DBAPIConnection

from inventory.cli import unsure
from inventory.store import open_store

from .conftest import Kitdrawer

STALL = ("plan", "--stall", "Dunlin pen, chrome, walnut blank, 1", "--on", "2026-12-05", "--yes")
pytestmark = pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="nothing can be killed outright here")
Killed = Callable[..., None]


def dies(when: str) -> None:
    """From now on a command dies at its COMMIT, before or after it took effect: no line of Python runs after that."""
    really: Callable[..., None] = DefaultDialect.do_commit

    def end(dialect: DefaultDialect, connection: DBAPIConnection) -> None:
        if when == "after":
            really(dialect, connection)
        os.kill(os.getpid(), signal.SIGKILL)

    pytest.MonkeyPatch().setattr(DefaultDialect, "do_commit", end)  # in a child that ends by it


@pytest.fixture
def notes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of a user's own in which bookings that end are noted."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return tmp_path / "data" / "kitdrawer" / "unsure"


@pytest.fixture(params=["file", "server"])
def book(
    request: pytest.FixtureRequest, store: Path, kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch
) -> str:
    """The sample's book, in a file or on a server."""
    if request.param == "file":
        return str(store)
    url = str(request.getfixturevalue("database"))
    monkeypatch.setenv("PGPASSWORD", str(make_url(url).password))
    bare = make_url(url)._replace(password=None).render_as_string()
    assert kitdrawer("carry", bare, "--store", str(store)).code == 0
    monkeypatch.setenv("KITDRAWER_STORE", url)
    return url


@pytest.fixture
def killed(notes: Path) -> Killed:
    """Run a command that is killed `before` or `after` its booking took effect."""
    del notes

    def call(when: str, *words: str) -> None:
        _, status = os.waitpid(forked(partial(dies, when), *words), 0)
        assert os.waitstatus_to_exitcode(status) == -signal.SIGKILL

    return call


def documents(book: str) -> int:
    """How many are in the book."""
    with open_store(book) as found, found.reading() as read:
        return len(read.documents())


def test_killed_once_it_was_booked(kitdrawer: Kitdrawer, book: str, killed: Killed, notes: Path) -> None:
    """The next command says that it is in the book; the same one once more is not booked twice, then may be."""
    killed("after", *STALL)
    assert documents(book) == 2
    (note,) = notes.iterdir()
    assert note.stat().st_mode & 0o077 == 0
    told = kitdrawer(*STALL, "--json")
    assert (told.code, told.json["error"]["kind"]) == (1, "already booked")
    assert "“Plan 2026-12-05”, under way when its command was cut off, is in the book." in told.err
    assert (documents(book), list(notes.iterdir())) == (2, [])
    assert kitdrawer(*STALL).code in (0, 3)
    assert documents(book) == 3


def test_killed_before_it_was_booked(kitdrawer: Kitdrawer, book: str, killed: Killed, notes: Path) -> None:
    """Nobody was told that it might be booked: the same command simply does it, and nothing is said."""
    killed("before", *STALL)
    assert documents(book) == 1
    assert len(list(notes.iterdir())) == 1
    told = kitdrawer(*STALL, "--json")
    assert (told.code in (0, 3), told.err) == (True, "")
    assert (documents(book), list(notes.iterdir())) == (2, [])


def test_another_booked_in_its_place(kitdrawer: Kitdrawer, book: str, killed: Killed, notes: Path) -> None:
    """The number it would have had is another document's: that one is not taken for it."""
    killed("before", *STALL)
    (note,) = notes.iterdir()
    aside = shutil.move(note, notes.parent / note.name)
    assert kitdrawer("promise", "S41", "--yes").code == 0
    shutil.move(aside, note)
    told = kitdrawer("shelf", "--json")
    assert (told.code, told.err) == (0, "")
    assert (documents(book), list(notes.iterdir())) == (2, [])


def test_a_look_says_it_too(kitdrawer: Kitdrawer, book: str, killed: Killed, notes: Path) -> None:
    """Whatever is asked next: it is answered, and what became of the booking is told beside it, once."""
    killed("after", "undo", "--yes")
    told = kitdrawer("shelf", "--json")
    assert told.code == 0
    assert "under way when its command was cut off, is in the book." in told.err
    assert kitdrawer("shelf", "--json").err == ""
    assert (documents(book), list(notes.iterdir())) == (2, [])


def test_a_booking_still_under_way_is_let_be(
    kitdrawer: Kitdrawer, store: Path, killed: Killed, notes: Path
) -> None:
    """The note of a process that lives is its own; but for one so old that its number must be another's."""
    killed("after", *STALL)
    (note,) = notes.iterdir()
    machine, process, _ = note.name.removeprefix(".booking.").split("-")
    own = note.rename(note.with_name(note.name.replace(f"{machine}-{process}-", f"{machine}-{os.getpid()}-")))
    assert kitdrawer("shelf", "--json").err == ""
    assert own.exists()
    long_ago = time.time() - unsure.ENDS_WITHIN - 1
    os.utime(own, (long_ago, long_ago))
    assert "is in the book" in kitdrawer("shelf", "--json").err
    assert not own.exists()
    assert documents(str(store)) == 2


def test_an_answered_booking_leaves_no_note(kitdrawer: Kitdrawer, book: str, notes: Path) -> None:
    """Neither one that is booked, nor one the book refuses."""
    assert kitdrawer("promise", "S41", "--yes").code == 0
    assert kitdrawer("promise", "S41", "--yes").code == 1
    assert documents(book) == 2
    assert list(notes.iterdir()) == []


def test_where_no_note_can_be_written(
    kitdrawer: Kitdrawer, book: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Booking goes on without."""
    (tmp_path / "file").touch()
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "file"))
    assert kitdrawer("promise", "S41", "--yes").code == 0
    assert documents(book) == 2


def test_an_interrupt_a_moment_after_the_end(
    kitdrawer: Kitdrawer, book: str, notes: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Control-C when it is booked already: on a server it is looked up at once, a file's note stays for the next."""
    really: Callable[[DefaultDialect, DBAPIConnection], None] = DefaultDialect.do_commit

    def end(dialect: DefaultDialect, connection: DBAPIConnection) -> None:
        really(dialect, connection)
        raise KeyboardInterrupt

    monkeypatch.setattr(DefaultDialect, "do_commit", end)
    told = kitdrawer("promise", "S41", "--yes")
    assert documents(book) == 2
    if book.startswith("postgresql"):
        assert (told.code, list(notes.iterdir())) == (0, [])
    else:
        assert told.code == 130
        assert len(list(notes.iterdir())) == 1
