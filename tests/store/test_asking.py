"""A book opened to be asked is read-only in the database itself, on SQLite and on PostgreSQL."""

from __future__ import annotations

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import delete, text, update
from sqlalchemy.exc import DBAPIError
from sqlmodel import col, select

from inventory import models, open_book
from inventory.asking.book import AskedBook
from inventory.errors import NoStore, NotAStore, StoreReadOnly, StoreTrouble
from inventory.store import Store, open_store
from inventory.store.schema.columns import COLUMNS

from . import shop

EARLIER = Path(__file__).parent / "earlier"


@pytest.mark.usefixtures("store")
def test_a_question_through_sqlmodel(where: str) -> None:
    """Rows come as objects of the public classes, with the numbers of the tables."""
    with open_book(where) as book, book.session() as session:
        part = session.exec(select(models.PartRow).where(models.PartRow.name == shop.KIT)).one()
        left = session.exec(select(models.LotBalanceRow).where(models.LotBalanceRow.part_id == part.id)).all()
        assert (part.kind, sum(lot.quantity for lot in left)) == ("kit", 10_000)


def _added(book: AskedBook) -> None:
    with book.session() as session:
        session.add(models.PlatingRow(id=99, key="brass", name="brass"))
        session.commit()


def _changed(book: AskedBook) -> None:
    with book.session() as session:
        part = session.exec(select(models.PartRow).where(models.PartRow.name == shop.KIT)).one()
        part.note = "mine"
        session.commit()


def _deleted(book: AskedBook) -> None:
    with book.session() as session:
        session.exec(delete(models.LotBalanceRow).where(col(models.LotBalanceRow.quantity) > 0))


def _told(book: AskedBook) -> None:
    with book.session() as session:
        session.exec(update(models.PartRow).values(level=1))


def _made(book: AskedBook) -> None:
    with book.session() as session:
        session.connection().execute(text("CREATE TABLE mine (id INTEGER)"))


@pytest.mark.parametrize("write", [_added, _changed, _deleted, _told, _made])
def test_a_write_is_refused_by_the_database(store: Store, where: str, write: object) -> None:
    """Whatever way it is written: the database says no, a sentence says why, and the book is as it was."""
    with store.reading() as read:
        before = read.catalogue(), read.book()
    with open_book(where) as book, pytest.raises(StoreReadOnly, match="was opened to be asked") as caught:
        write(book)  # type: ignore[operator]  # one of those above
    assert isinstance(caught.value.__cause__, StoreReadOnly)
    assert isinstance(caught.value.__cause__.__cause__, DBAPIError)
    assert caught.value.hint.startswith("Nothing was changed.")
    with store.reading() as read:
        assert (read.catalogue(), read.book()) == before


@pytest.mark.usefixtures("store")
def test_not_even_behind_our_back(where: str) -> None:
    """It is the connection that cannot write, not the session."""
    with (
        open_book(where) as book,
        book.store.engine.connect() as connection,
        pytest.raises(DBAPIError, match=r"readonly|read-only"),
    ):
        connection.execute(text("UPDATE shop SET version = 0"))


@pytest.mark.usefixtures("store")
def test_an_error_of_ones_own_passes(where: str) -> None:
    """What goes wrong in a question is not taken for a write."""
    with open_book(where) as book, pytest.raises(ZeroDivisionError), book.session():
        1 / 0  # noqa: B018 - raises


def test_a_session_sees_one_moment(store: Store, where: str) -> None:
    """What is booked while one asks is seen by the next session."""
    with open_book(where) as book:
        with book.session() as session:
            before = len(session.exec(select(models.DocumentRow)).all())
            store.commit(shop.document())
            session.expire_all()
            assert len(session.exec(select(models.DocumentRow)).all()) == before
        with book.session() as session:
            assert len(session.exec(select(models.DocumentRow)).all()) == before + 1


def test_where_there_is_no_book(tmp_path: Path) -> None:
    """The same refusals as of any command."""
    with pytest.raises(NoStore):
        open_book(tmp_path / "nothing")
    (tmp_path / "text").write_text("a letter", encoding="utf-8")
    for place in (tmp_path, tmp_path / "text"):
        with pytest.raises(NotAStore):
            open_book(place)


def test_an_older_book_is_left_as_it_is(tmp_path: Path) -> None:
    """Who only asks changes no tables: it says what does."""

    file = tmp_path / "old"
    with closing(sqlite3.connect(file)) as connection:
        connection.executescript((EARLIER / "v0002.sql").read_text(encoding="utf-8"))
    before = file.read_bytes()
    with pytest.raises(StoreTrouble, match="tables of an earlier version") as caught:
        open_book(file)
    assert "kitdrawer shelf" in caught.value.hint
    assert file.read_bytes() == before
    open_store(file).close()
    with open_book(file) as book:
        assert len(book.frame("parts")) > 100


def test_in_a_folder_one_may_not_write_in(tmp_path: Path, book_file: Path) -> None:
    """A file beside which no log can be made opens as well."""
    folder = tmp_path / "shut"
    folder.mkdir()
    file = Path(shutil.copy(book_file, folder / "book"))
    file.chmod(0o400)
    folder.chmod(0o500)
    try:
        with open_book(file) as book:
            assert len(book.frame("lots")) == 3
    finally:
        folder.chmod(0o700)


INTERNAL = {"document_fingerprint", "rate_word", "session_step", "setting", "sheet_row", "shop"}
"""Tables by which the store keeps house, and of which nobody has a question."""


def test_every_table_worth_asking_has_its_class() -> None:
    """A new table is public, or is named above."""
    public = {getattr(models, name).__tablename__ for name in models.__all__}
    assert public == set(COLUMNS) - INTERNAL
