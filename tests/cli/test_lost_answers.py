"""Commands on a server whose line breaks at the worst moment: nothing is booked twice, each says what became of it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from silence import Proxy, proxied
from sqlalchemy import make_url

from inventory.cli.unsure import REQUEST, Unsure
from inventory.store import engine, keepalive, open_store
from inventory.store.commit import outcomes

from .conftest import Kitdrawer

STALL = ("plan", "--stall", "Dunlin pen, chrome, walnut blank, 1", "--on", "2026-12-05", "--yes")


@pytest.fixture
def line(
    kitdrawer: Kitdrawer, store: Path, database: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Proxy]:
    """The sample's book on a server, behind a proxy that swallows the answer to the end of what is booked."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setattr(keepalive, "SILENT_SECONDS", 2)
    monkeypatch.setattr(outcomes, "LOOK_SECONDS", 0.3)
    monkeypatch.setattr(engine, "BUSY_SECONDS", 2)
    assert kitdrawer("promise", "S41", "--yes").code == 0
    monkeypatch.setenv("KITDRAWER_STORE", database)
    assert kitdrawer("carry", database, "--store", str(store)).code != 0  # a password on a command line
    monkeypatch.setenv("PGPASSWORD", str(make_url(database).password))
    bare = make_url(database)._replace(password=None).render_as_string()
    assert kitdrawer("carry", bare, "--store", str(store)).code == 0
    with proxied(database) as (proxy, through):
        proxy.dead = lambda piece: b"COMMIT\0" in piece
        proxy.cuts = True
        monkeypatch.setenv("KITDRAWER_STORE", through)
        yield proxy


def documents(database: str) -> list[str]:
    """Titles of the book's documents after the load, by a line of its own."""
    with open_store(database) as store, store.reading() as read:
        return [one.title for one in read.documents()][1:]


def out_of_reach(proxy: Proxy) -> None:
    """The line breaks at the end of a booking that arrives, and no new one is to be had."""

    def ends(piece: bytes) -> bool:
        proxy.closed = proxy.closed or b"COMMIT\0" in piece
        return proxy.closed

    proxy.dead = ends


def back(proxy: Proxy) -> None:
    """The line is there again."""
    proxy.dead, proxy.closed = lambda _: False, False


def test_undo_whose_answer_is_lost_is_looked_up(kitdrawer: Kitdrawer, line: Proxy, database: str) -> None:
    """It says which entry it took back, as if the answer had come, and that it had to look."""
    told = kitdrawer("undo", "--yes")
    assert (told.code, line.deaths) == (0, 1), told
    assert "Looked up again: it is booked." in told.err
    assert "Undo of 2" in told.out
    assert "Undone (entry 3)" in told.out
    assert len(documents(database)) == 2


def test_a_repeated_undo_takes_back_no_second_entry(
    kitdrawer: Kitdrawer, line: Proxy, database: str, tmp_path: Path
) -> None:
    """What could not be found out is named, kept, and looked up by the same command once more."""
    out_of_reach(line)
    told = kitdrawer("undo", "--yes")
    assert told.code == 1
    assert "could not be found out" in " ".join(told.err.split())
    assert "Undo of 2" in " ".join(told.err.split())
    (kept,) = (tmp_path / "data" / "kitdrawer" / "unsure").iterdir()
    assert kept.stat().st_mode & 0o077 == 0
    back(line)
    told = kitdrawer("undo", "--yes", "--json")
    assert (told.code, told.json["error"]["kind"]) == (1, "already booked")
    assert "is in the book" in told.err
    assert len(documents(database)) == 2
    assert not kept.exists()


def test_a_repeated_plan_is_not_planned_twice(kitdrawer: Kitdrawer, line: Proxy, database: str) -> None:
    """Neither by the same command once more; another one is told and goes on; then it may be given again."""
    out_of_reach(line)
    assert kitdrawer(*STALL).code == 1
    back(line)
    assert kitdrawer(*STALL).code == 1
    assert len(documents(database)) == 2
    assert kitdrawer(*STALL).code in (0, 3)
    assert len(documents(database)) == 3


def test_another_command_says_what_became_of_it(kitdrawer: Kitdrawer, line: Proxy) -> None:
    """A look is answered, and told beside it what became of the last booking: here it never arrived."""
    out_of_reach(line)
    line.passes = False
    assert kitdrawer(*STALL).code == 1
    back(line)
    told = kitdrawer("shelf", "--json")
    assert told.code == 0
    assert "was not booked" in told.err
    assert kitdrawer("shelf", "--json").err == ""


def test_what_is_too_long_ago_or_spoilt(
    kitdrawer: Kitdrawer, line: Proxy, database: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The server forgets in time: to look is left to the person. Files of other books, or of none, are let be."""
    del line
    monkeypatch.setenv("KITDRAWER_STORE", database)
    folder = tmp_path / "data" / "kitdrawer" / "unsure"
    folder.mkdir(parents=True, exist_ok=True)
    one = {
        "store": engine.find(database).shown,
        "ticket": "99999999",
        "words": ["shelf"],
        "title": "Undo of 2",
    }
    (folder / "a.json").write_text(json.dumps(one))
    (folder / "b.json").write_text(json.dumps({**one, "store": "postgresql://elsewhere/shop"}))
    (folder / "c.json").write_text("spoilt")
    told = kitdrawer("shelf", "--json")
    assert (told.code, "“Undo of 2”" in told.err, "too long ago" in told.err) == (0, True, True)
    assert sorted(path.name for path in folder.iterdir()) == ["b.json", "c.json"]


def test_where_it_cannot_be_remembered(
    kitdrawer: Kitdrawer, line: Proxy, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without a folder of the user's own the sentence is the same."""
    (tmp_path / "file").touch()
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "file"))
    out_of_reach(line)
    told = kitdrawer("undo", "--yes", "--json")
    assert (told.code, told.json["error"]["kind"]) == (1, "store unsure")


def test_the_same_command_however_it_is_given() -> None:
    """Where the book is, and how the answer is wanted, do not make it another one."""
    one = Unsure("book", "1", ("undo", "3", "--yes", "--store", "x"), "Undo of 3")
    for words, same in (
        (("undo", "3", "--json"), True),
        (("undo", "3", "--store=y"), True),
        (("undo", "4", "--yes"), False),
    ):
        REQUEST.set(words)
        assert one.same is same


def test_no_password_given(
    kitdrawer: Kitdrawer, database: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is said so, with the places where one may be kept."""
    monkeypatch.setenv("PGPASSFILE", str(tmp_path / "none"))
    monkeypatch.setenv("KITDRAWER_STORE", make_url(database)._replace(password=None).render_as_string())
    told = kitdrawer("shelf")
    assert told.code == 1
    assert "asks for a password, and none was given" in " ".join(told.err.split())
    assert "PGPASSWORD" in told.err
