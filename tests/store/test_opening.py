"""Beginning and opening: every way in which there is no store to be had says so in a sentence."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import event, text

from inventory.errors import NoStore, NotAStore, StoreBusy, StoreFull, StoreReadOnly, StoreTrouble
from inventory.store import Store, begin, open_store
from inventory.store import engine as engines

from .shop import KIT, document, receipt


def test_begin(where: str) -> None:
    """A store begins empty, at version 0, in its currency, and opens again."""
    with begin(where, "JPY") as store, store.reading() as read:
        assert (read.version, read.currency, dict(read.settings())) == (0, "JPY", {})
    with open_store(where) as store, store.reading() as read:
        assert read.currency == "JPY"


def test_begin_twice(where: str) -> None:
    """What is there is never replaced by a new store."""
    with begin(where, "EUR") as store:
        store.commit(document())
    with pytest.raises(StoreTrouble, match="There is already something at"):
        begin(where, "EUR")
    with open_store(where) as store, store.reading() as read:
        assert read.version == 1


def test_begin_makes_folders(tmp_path: Path) -> None:
    """The folders of a new store are made, and only one file is left in them."""
    begin(tmp_path / "a" / "b" / "book", "EUR").close()
    assert [path.name for path in (tmp_path / "a" / "b").iterdir()] == ["book"]


def test_begin_in_a_file(tmp_path: Path) -> None:
    """A folder that is a file is no place for a store."""
    (tmp_path / "a").write_text("a letter", encoding="utf-8")
    with pytest.raises(StoreTrouble, match="No file can be made at"):
        begin(tmp_path / "a" / "book", "EUR")


def test_begin_loses_the_race(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody who was quicker keeps his file."""
    path = tmp_path / "book"
    fill = "inventory.store.creating._fill"
    monkeypatch.setattr(fill, lambda *_: path.write_text("quicker", encoding="utf-8"))
    with pytest.raises(StoreTrouble, match="There is already something at"):
        begin(path, "EUR")
    assert path.read_text(encoding="utf-8") == "quicker"
    assert list(tmp_path.iterdir()) == [path]


def test_begin_without_hard_links(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file system without hard links gets its store all the same."""

    def no_links(*_: object) -> None:
        raise OSError

    monkeypatch.setattr(os, "link", no_links)
    begin(tmp_path / "book", "EUR").close()
    assert [path.name for path in tmp_path.iterdir()] == ["book"]


def test_failed_begin_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A store that could not be made in full is not there at all."""

    def fails(*_: object) -> None:
        raise sqlite3.OperationalError("disk I/O error")

    monkeypatch.setattr("inventory.store.schema.version.upgrade", fails)
    with pytest.raises(sqlite3.OperationalError):
        begin(tmp_path / "book", "EUR")
    assert list(tmp_path.iterdir()) == []


def test_no_store(tmp_path: Path) -> None:
    """A missing file is not made by opening it; the remedy is named."""
    with pytest.raises(NoStore, match="There is no store at") as caught:
        open_store(tmp_path / "book")
    assert "kitdrawer begin" in caught.value.hint
    assert not (tmp_path / "book").exists()


def test_no_store_on_a_server(database: str) -> None:
    """A database where nothing was begun has no store."""
    with pytest.raises(NoStore, match="There is no store at"):
        open_store(database)


def test_no_such_database(server: str) -> None:
    """A database that is not there is said to be missing."""
    from sqlalchemy import make_url

    url = make_url(server).set(database="no_such_database").render_as_string(hide_password=False)
    with pytest.raises(NoStore, match="There is no database at"):
        open_store(url)


def test_somebody_elses_tables(database: str) -> None:
    """Tables of another program with the same way of counting versions are not ours."""
    from sqlalchemy import create_engine

    engine = create_engine(database.replace("postgresql://", "postgresql+psycopg://"))
    with engine.begin() as connection:
        connection.execute(text("CREATE TABLE alembic_version (version_num TEXT)"))
        connection.execute(text("INSERT INTO alembic_version VALUES ('0001')"))
    engine.dispose()
    with pytest.raises(NotAStore, match="is not a kitdrawer store"):
        open_store(database)


def _other_database(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("CREATE TABLE letters (id INTEGER)")


FOREIGN = {
    "text": lambda path: path.write_text("Dear reader, " * 500, encoding="utf-8"),
    "zip": lambda path: path.write_bytes(b"PK\x03\x04" + bytes(5000)),
    "empty": lambda path: path.touch(),
    "folder": lambda path: path.mkdir(),
    "other database": _other_database,
}


@pytest.mark.parametrize("make", FOREIGN.values(), ids=FOREIGN.keys())
def test_not_a_store(tmp_path: Path, make: object) -> None:
    """Something else is left exactly as it is, and called what it is."""
    path = tmp_path / "thing"
    make(path)  # type: ignore[operator]  # one of the functions above
    before = path.read_bytes() if path.is_file() else b""
    with pytest.raises(NotAStore, match="is not a kitdrawer store"):
        open_store(path)
    assert (path.read_bytes() if path.is_file() else b"") == before
    assert list(tmp_path.iterdir()) == [path]


def test_cut_off_file(book_file: Path) -> None:
    """A file cut off in the middle is said to be damaged."""
    whole = book_file.read_bytes()
    book_file.write_bytes(whole[: len(whole) // 2])
    with pytest.raises(StoreTrouble, match="is damaged"):
        _read_all(book_file)


def _read_all(path: Path) -> None:
    with open_store(path) as store, store.reading() as read:
        read.catalogue()
        read.book()


def test_busy(book_file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While another process writes, a second writer is told so after a while; looking works all along."""
    monkeypatch.setattr(engines, "BUSY_SECONDS", 0.1)
    with closing(sqlite3.connect(book_file, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with open_store(book_file) as store:
            with store.reading() as read:
                assert read.version == 1
            with pytest.raises(StoreBusy, match="Another program is writing to"):
                store.commit(document())
            other.execute("ROLLBACK")
            assert store.commit(document()) == 2


def test_busy_server(database: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a server too, a writer does not wait for ever for one that never ends."""
    monkeypatch.setattr(engines, "BUSY_SECONDS", 1)
    with begin(database, "EUR") as one, open_store(database) as other, one.writing():
        with other.reading() as read:
            assert read.version == 0
        with pytest.raises(StoreBusy, match="Another program is writing to"):
            other.commit(document())


def test_disk_full(book_file: Path) -> None:
    """No room left: it is said, nothing is half written, and looking still works."""
    with open_store(book_file) as store:

        @event.listens_for(store.engine, "connect")
        def little_room(connection: sqlite3.Connection, _: object) -> None:
            pages = connection.execute("PRAGMA page_count").fetchone()[0]
            connection.execute(f"PRAGMA max_page_count = {pages + 1}")

        store.engine.dispose()
        with pytest.raises(StoreFull, match="no room left to write"):
            _fill_up(store)
        with store.reading() as read:
            assert read.balances()[KIT.lower()].on_hand == read.version * 1_000 + 9_000


def _fill_up(store: Store) -> None:
    for _ in range(200):
        store.commit(receipt(KIT, 1_000, 450, name="x" * 2_000))


def test_read_only_here(book_file: Path) -> None:
    """A store opened for looking refuses to write before it tries."""
    place = engines.find(book_file)
    with Store(place, engines.engine(place, "mode=ro"), writable=False) as store:
        with store.reading() as read:
            assert read.version == 1
        with pytest.raises(StoreReadOnly, match="cannot be written"):
            store.commit(document())


def test_write_protected_while_open(book_file: Path) -> None:
    """Where SQLite itself refuses to write, that too becomes a sentence."""
    place = engines.find(book_file)
    with (
        Store(place, engines.engine(place, "mode=ro")) as store,
        pytest.raises(StoreReadOnly, match="cannot be written"),
    ):
        store.commit(document())


AS_NOBODY = """
import os, pkgutil, sys
from datetime import date
from importlib import import_module
import inventory.store
from inventory.errors import KitdrawerError
from inventory.ledger import Proposal
from inventory.store import open_store, restore
def act(book):
    try:
        {}
    except KitdrawerError as error:
        print(type(error).__name__, error.message)
if os.geteuid() == 0:
    # once as root, so that nothing is left to import: the project may lie where nobody else may read
    for one in pkgutil.iter_modules(inventory.store.__path__, "inventory.store."):
        import_module(one.name)
    act(sys.argv[2])
    print()
    os.setuid(65534)
act(sys.argv[1])
"""
LOOK = """
        with open_store(book) as store:
            with store.reading() as read:
                print(read.version, end=" ")
            store.commit(Proposal("count", "nothing", date(2026, 1, 1)))
"""
PUT_BACK = """
        restore(book, os.path.dirname(book) + ".back")
        print("restored")
"""


def _as_nobody(template: Path, rehearsal: Path, what: str, file_mode: int, folder_mode: int) -> str:
    folder = Path(tempfile.mkdtemp())  # not under pytest's own folder, which nobody else may enter
    try:
        path = Path(shutil.copy(template, folder / "book"))
        path.chmod(file_mode)
        folder.chmod(folder_mode)
        (rehearsal / "there").mkdir()
        once = shutil.copy(template, rehearsal / "there" / "book")
        done = subprocess.run(
            [sys.executable, "-c", AS_NOBODY.format(what.strip()), str(path), str(once)],
            capture_output=True,
            text=True,
            timeout=60,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        return done.stdout.strip().splitlines()[-1]
    finally:
        folder.chmod(0o755)
        shutil.rmtree(folder)
        folder.with_name(folder.name + ".back").unlink(missing_ok=True)


on_posix = pytest.mark.skipif(os.name == "nt", reason="Windows keeps permissions another way")


@on_posix
@pytest.mark.parametrize(("file_mode", "folder_mode"), [(0o444, 0o777), (0o444, 0o555), (0o666, 0o555)])
def test_look_without_rights(template: Path, tmp_path: Path, file_mode: int, folder_mode: int) -> None:
    """A store in a place one may only read still answers looking commands, and refuses to write in a sentence."""
    said = _as_nobody(template, tmp_path, LOOK, file_mode, folder_mode)
    assert said.startswith("1 StoreReadOnly ")
    assert said.endswith("cannot be written.")


@on_posix
def test_no_rights_at_all(template: Path, tmp_path: Path) -> None:
    """A store one may not even read is said to be closed to us."""
    assert _as_nobody(template, tmp_path, LOOK, 0o000, 0o755).endswith("cannot be opened.")


@on_posix
def test_restore_from_where_one_may_only_read(template: Path, tmp_path: Path) -> None:
    """A copy on a medium that cannot be written is restored all the same."""
    assert _as_nobody(template, tmp_path, PUT_BACK, 0o444, 0o555) == "restored"


@on_posix
def test_restore_of_what_one_may_not_read(template: Path, tmp_path: Path) -> None:
    """A copy one may not read is said so."""
    assert _as_nobody(template, tmp_path, PUT_BACK, 0o000, 0o755).endswith("cannot be read.")


def test_unfinished_log_is_not_ignored(book_file: Path) -> None:
    """A file is only taken as unchanging where no log beside it holds something newer."""
    assert list(engines.reading_accesses(book_file)) == ["mode=ro", "immutable=1"]
    with open_store(book_file) as store:
        store.commit(document())
        assert list(engines.reading_accesses(book_file)) == ["mode=ro"]
