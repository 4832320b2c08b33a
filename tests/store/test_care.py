"""Copies are whole, proved and closed; putting one back never loses what it replaces."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from random import Random

import pytest
from sqlalchemy import text

from inventory.errors import NotAStore, StoreBusy, StoreTrouble
from inventory.ledger import Book
from inventory.store import backup, begin, open_store, restore, verify
from inventory.store.copies import checksums
from inventory.store.copies import copy as copying

from .shop import KIT, document, filled, receipt


def book(path: Path) -> Book:
    """What the store in a file holds."""
    with open_store(path) as store, store.reading() as read:
        return read.book()


def names(folder: Path) -> list[str]:
    """The files in a folder."""
    return sorted(path.name for path in folder.iterdir())


def test_round_trip(book_file: Path, tmp_path: Path) -> None:
    """What was backed up comes back as it was, beside what it replaced."""
    copy = tmp_path / "copy"
    with open_store(book_file) as store:
        assert backup(store, copy) == copy
        store.commit(receipt(KIT, 1_000, 450))
    saved, later = book(copy), book(book_file)
    assert saved != later
    kept = restore(copy, book_file)
    assert kept is not None
    assert (book(book_file), book(kept)) == (saved, later)
    assert names(tmp_path) == sorted(["book.kitdrawer", "copy", kept.name])


def swapped(data: bytearray, at: int) -> None:
    """A page of 4,096 bytes with another one in its place, which reads well."""
    page = at // 4096 * 4096
    data[page : page + 4096] = data[4096:8192] if page != 4096 else data[8192:12288]


def flipped(data: bytearray, at: int) -> None:
    """One bit."""
    data[at] ^= 1


@pytest.mark.parametrize("spoil", [swapped, flipped])
def test_a_copy_gone_bad_is_known(
    book_file: Path, tmp_path: Path, spoil: Callable[[bytearray, int], None]
) -> None:
    """Whatever changed in a copy since it was made: it is refused, and `verify` says so; the book there stays."""
    copy, before = tmp_path / "copy", book(book_file)
    with open_store(book_file) as store:
        backup(store, copy)
    whole, dice = copy.read_bytes(), Random(spoil.__name__)
    for _ in range(30):
        data = bytearray(whole)
        spoil(data, dice.randrange(4096, len(data)))  # without its first page it is no store at all
        copy.write_bytes(data)
        with pytest.raises(StoreTrouble, match="is damaged: it is not what was written") as caught:
            restore(copy, book_file)
        assert caught.value.hint
    assert book(book_file) == before
    copy.write_bytes(whole.replace(KIT.encode(), KIT.swapcase().encode()))
    with open_store(copy) as store:
        assert verify(store)[0] == "The file is a copy, and is not what was written."


def test_a_copy_is_a_book_and_its_copies_are_sealed_anew(book_file: Path, tmp_path: Path) -> None:
    """Looking leaves the seal; what is written into a copy takes it off, and a copy of that has its own."""
    copy, again = tmp_path / "copy", tmp_path / "again"
    with open_store(book_file) as store:
        backup(store, copy)
    sealed = copy.read_bytes()
    with open_store(copy) as store:
        assert verify(store) == ()
        assert copy.read_bytes() == sealed
        store.commit(receipt(KIT, 1_000, 450))
        assert verify(store) == ()
        backup(store, again)
    assert copy.read_bytes()[68:72] == bytes(4)
    assert again.read_bytes()[68:72] != bytes(4)
    for made in (copy, again):
        restore(made, book_file)
        assert book_file.read_bytes()[68:72] == bytes(4)
    assert book(book_file) == book(copy) == book(again)


def test_a_book_in_use_is_not_read_through(book_file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where there is no seal, nothing is added up for it."""
    monkeypatch.setattr(checksums, "_sum", lambda _: pytest.fail("the whole file was read"))
    with open_store(book_file) as store:
        assert verify(store) == ()


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps rights in another way")
def test_who_may_read(tmp_path: Path) -> None:
    """Customers are named in a book: a new one is its owner's alone; who may read it may read a copy."""
    path, before = tmp_path / "book", os.umask(0)
    try:
        with begin(path, "EUR") as store:
            backup(store, tmp_path / "copy")
            path.chmod(0o640)
            backup(store, tmp_path / "shared")
            seen = {name: (tmp_path / name).stat().st_mode & 0o777 for name in names(tmp_path)}
        restore(tmp_path / "shared", tmp_path / "again")
    finally:
        os.umask(before)
    assert seen.pop("shared") == seen.pop("book") == 0o640
    assert seen.pop("copy") == 0o600
    assert not any(mode & 0o007 for mode in seen.values())  # the log beside the book
    assert (tmp_path / "again").stat().st_mode & 0o777 == 0o640


def test_backup_while_others_write(book_file: Path, tmp_path: Path) -> None:
    """A copy taken in the middle of somebody's write holds the book before it."""
    with open_store(book_file) as store, open_store(book_file) as other, other.writing() as connection:
        connection.execute(text("UPDATE shop SET version = 77"))
        backup(store, tmp_path / "copy")
    assert book(tmp_path / "copy").version == 1


def test_backup_does_not_overwrite(book_file: Path, tmp_path: Path) -> None:
    """A file that is there is only replaced where that was asked for."""
    copy = tmp_path / "copy"
    copy.write_text("a letter", encoding="utf-8")
    with open_store(book_file) as store:
        with pytest.raises(StoreTrouble, match="There is already a file at"):
            backup(store, copy)
        assert copy.read_text(encoding="utf-8") == "a letter"
        backup(store, copy, over=True)
    assert book(copy) == book(book_file)


def test_backup_onto_itself(book_file: Path) -> None:
    """A store is not replaced by its own copy."""
    with open_store(book_file) as store, pytest.raises(StoreTrouble, match="replace the store itself"):
        backup(store, book_file, over=True)


def test_backup_into_nowhere(book_file: Path, tmp_path: Path) -> None:
    """A folder that is not there is said, and nothing is left behind."""
    with open_store(book_file) as store, pytest.raises(StoreTrouble):
        backup(store, tmp_path / "none" / "copy")
    assert names(tmp_path) == ["book.kitdrawer"]


def test_backup_when_the_disk_refuses(
    book_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A disk that will not keep the copy is said so, and no half copy is left."""

    def refuses(_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(copying, "to_disk", refuses)
    with open_store(book_file) as store, pytest.raises(StoreTrouble, match="No copy can be made") as caught:
        backup(store, tmp_path / "copy")
    assert "No space left on device" in caught.value.hint
    assert names(tmp_path) == ["book.kitdrawer"]


def test_unsound_store_is_not_copied(book_file: Path, tmp_path: Path) -> None:
    """A copy whose book does not agree with itself is refused, with what is wrong, and gets no name."""
    with open_store(book_file) as store:
        with store.writing() as connection:
            connection.execute(text("UPDATE shop SET version = 5"))
        with pytest.raises(StoreTrouble, match="not sound: The book says it holds 5 entries"):
            backup(store, tmp_path / "copy")
    assert names(tmp_path) == ["book.kitdrawer"]


def test_backup_of_a_server(database: str, tmp_path: Path) -> None:
    """A copy of a store on a server is a file like any other, never over one that is there unasked."""
    path = tmp_path / "copy"
    with begin(database, "EUR") as store:
        filled(store)
        backup(store, path)
        assert verify(store) == ()
        with pytest.raises(StoreTrouble, match="already a file"):
            backup(store, path)
        store.commit(receipt(KIT, 1_000, 450))
        backup(store, path, over=True)
        with store.reading() as read:
            assert book(path) == read.book()
        with pytest.raises(StoreTrouble, match="No copy can be made"):
            backup(store, tmp_path / "copy" / "below")
    assert names(tmp_path) == ["copy"]


def test_no_restore_over_a_server(database: str, book_file: Path) -> None:
    """What a server holds is never replaced; the way into an empty database is named."""
    with pytest.raises(StoreTrouble, match="not put over") as caught:
        restore(book_file, database)
    assert "kitdrawer carry" in caught.value.hint
    assert database.split("@")[0].rpartition(":")[2] not in str(caught.value)


def test_restore_where_nothing_is(book_file: Path, tmp_path: Path) -> None:
    """A copy may be put where no store is; it is then one for everyday use, log and all."""
    target = tmp_path / "new" / "book"
    assert restore(book_file, target) is None
    assert book(target) == book(book_file)
    with closing(sqlite3.connect(target)) as connection:
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("wal",)


@pytest.mark.parametrize("content", [b"Dear reader", b""], ids=["letter", "empty"])
def test_bad_copies(book_file: Path, tmp_path: Path, content: bytes) -> None:
    """A copy that is none leaves the store alone."""
    copy = tmp_path / "copy"
    copy.write_bytes(content)
    before = book(book_file)
    with pytest.raises(NotAStore):
        restore(copy, book_file)
    assert book(book_file) == before
    assert names(tmp_path) == ["book.kitdrawer", "copy"]


def test_missing_copy(book_file: Path, tmp_path: Path) -> None:
    """A copy that is not there, or is the store, is refused."""
    with pytest.raises(NotAStore, match="There is no copy at"):
        restore(tmp_path / "none", book_file)
    with pytest.raises(StoreTrouble, match="The copy is the store itself"):
        restore(book_file, book_file)


def test_damaged_store_is_kept_as_it_is(book_file: Path, tmp_path: Path) -> None:
    """Where the store is beyond reading, its bytes are kept beside the restored one, log included."""
    copy = tmp_path / "copy"
    with open_store(book_file) as store:
        backup(store, copy)
    book_file.write_bytes(b"spilt coffee")
    book_file.with_name("book.kitdrawer-wal").write_bytes(b"more of it")
    kept = restore(copy, book_file)
    assert kept is not None
    assert kept.read_bytes() == b"spilt coffee"
    assert kept.with_name(kept.name + "-wal").read_bytes() == b"more of it"
    assert book(book_file) == book(copy)


def test_restore_under_a_running_process(book_file: Path, tmp_path: Path) -> None:
    """A process that has the store open sees the restored book next, and may go on writing."""
    with open_store(book_file) as store:
        backup(store, tmp_path / "copy")
        store.commit(receipt(KIT, 1_000, 450))
        restore(tmp_path / "copy", book_file)
        with store.reading() as read:
            assert read.version == 1
        assert store.commit(document()) == 2
        assert verify(store) == ()


def test_restore_while_somebody_writes(
    book_file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A store somebody is writing to is not replaced."""
    with open_store(book_file) as store:
        backup(store, tmp_path / "copy")
        monkeypatch.setattr(copying, "BUSY_SECONDS", 0.1)
        with store.writing(), pytest.raises(StoreBusy):
            restore(tmp_path / "copy", book_file)
    assert book(book_file).version == 1
