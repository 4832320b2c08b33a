"""The least rights on a server: what was written is guarded twice, and looking is all that some may do."""

from __future__ import annotations

import secrets
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import postgres
import pytest
from sqlalchemy import Connection, create_engine, inspect, make_url, text
from sqlalchemy.exc import DBAPIError

from inventory.errors import StoreReadOnly, StoreTrouble
from inventory.store import Store, begin, carry, open_store, verify
from inventory.store.check.structure import GUARDED
from inventory.store.copies.roles import rights
from inventory.store.schema import version as schema
from inventory.store.schema.columns import COLUMNS
from inventory.store.schema.core import table

from .shop import FIRST, KIT, bought, claimed, filled, promise, receipt

Admit = Callable[..., str]


@pytest.fixture(scope="session")
def begun(server: str) -> Iterator[str]:
    """The name of a database with an empty book in it, made once."""
    with postgres.database(server) as url:
        begin(url, "EUR").close()
        yield str(make_url(url).database)


@pytest.fixture
def shop(begun: str, new_database: Callable[..., str]) -> str:
    """The URL of a database with an empty book, as its owner comes in."""
    return new_database(begun)


@pytest.fixture
def admit(server: str, shop: str) -> Iterator[Admit]:
    """Make a role with the rights asked for in this test's book; the URL it comes in by."""
    import psycopg

    made: list[str] = []
    with psycopg.connect(server, autocommit=True) as keeper:

        def make(look: bool = False) -> str:
            name, password = f"Mäker {secrets.token_hex(4)}", secrets.token_hex(8)
            keeper.execute(f"CREATE ROLE \"{name}\" LOGIN PASSWORD '{password}'".encode())
            made.append(name)
            with psycopg.connect(shop, autocommit=True) as owner:
                for statement in rights(name, look=look):
                    owner.execute(statement.encode())
            return make_url(shop).set(username=name, password=password).render_as_string(False)

        yield make
        with psycopg.connect(shop, autocommit=True) as owner:
            for name in made:
                owner.execute(f'DROP OWNED BY "{name}"'.encode())
                keeper.execute(f'DROP ROLE "{name}"'.encode())


def refused(store: Store, statement: str) -> str:
    """What the server says to a statement."""
    with store.engine.connect() as connection, pytest.raises(DBAPIError) as caught:
        connection.execute(text(statement))
    return str(caught.value.orig)


def test_all_work_can_be_done(admit: Admit) -> None:
    """Loading twice, promising, buying, receiving, undoing and proving need no more than the rights given."""
    with open_store(admit()) as store:
        filled(store)
        store.commit(promise(FIRST, claimed(FIRST, 1_000), to_count=(KIT,)))
        store.commit(bought(KIT, 1_000, 440))
        number = store.commit(receipt(KIT, 1_000, 450), _again(), settings={"margin": "40 %"})
        store.commit(store.undo(number, on=receipt(KIT, 1, 1).on))
        store.commit(store.undo(on=receipt(KIT, 1, 1).on))
        assert verify(store) == ()


def _again() -> Any:
    from .shop import intake

    return intake()


@pytest.mark.parametrize("name", GUARDED)
def test_what_was_written_is_guarded_twice(admit: Admit, shop: str, name: str) -> None:
    """UPDATE, DELETE and TRUNCATE are refused to the role by its rights, and even to the owner by the triggers."""
    statements = (f"UPDATE {name} SET {{0}} = {{0}}", f"DELETE FROM {name}", f"TRUNCATE {name} CASCADE")
    column = table(name).columns.keys()[0]
    with open_store(admit()) as store:
        filled(store)
        store.commit(promise(FIRST, claimed(FIRST, 1_000), to_count=(KIT,)))
        store.commit(bought(KIT, 1_000, 440))
        for statement in statements:
            assert "permission denied" in refused(store, statement.format(column))
        assert "must be owner" in refused(store, f"DROP TRIGGER {name}_no_update ON {name}")
        assert "must be owner" in refused(store, f"ALTER TABLE {name} DISABLE TRIGGER ALL")
    with open_store(shop) as store, store.reading() as read:
        there = bool(read.connection.execute(text(f"SELECT count(*) FROM {name}")).scalar())
    with open_store(shop) as store:
        for statement in statements if there else ():
            assert "are never changed" in refused(store, statement.format(column))


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE shop SET currency = 'GBP'",
        "DELETE FROM shop",
        "UPDATE alembic_version SET version_num = '0'",
        "DELETE FROM part",
        "DELETE FROM part_balance",
        "CREATE TABLE mine (id INT)",
        "DROP TABLE claim_balance",
    ],
)
def test_nothing_beyond_the_work(admit: Admit, statement: str) -> None:
    """What no command ever does, the role may not do either."""
    with open_store(admit()) as store:
        assert any(words in refused(store, statement) for words in ("permission denied", "must be owner"))


def test_looking_only(admit: Admit, shop: str) -> None:
    """A role for looking reads everything, proves the book, copies it, and is told so where it would write."""
    with open_store(shop) as owner:
        filled(owner)
    with open_store(admit(look=True)) as store:
        with store.reading() as read:
            assert read.book().balance(KIT).on_hand == 10_000
            assert read.catalogue().parts
            assert read.offers()
        assert verify(store) == ()
        with pytest.raises(
            StoreReadOnly, match=r"may not do that .*permission denied for table shop"
        ) as caught:
            store.commit(receipt(KIT, 1_000, 450))
        assert "kitdrawer admit" in caught.value.hint
        assert "permission denied" in refused(store, "INSERT INTO setting VALUES ('a', 'b')")


def test_a_role_nobody_admitted(admit: Admit, shop: str) -> None:
    """Without any right the book cannot even be looked at, which is a sentence too."""
    url = admit()
    engine = create_engine(make_url(shop).set(drivername="postgresql+psycopg"))
    with engine.begin() as connection:
        connection.execute(text(f'REVOKE ALL ON ALL TABLES IN SCHEMA public FROM "{make_url(url).username}"'))
    engine.dispose()
    with pytest.raises(StoreReadOnly, match="permission denied for table"), open_store(url) as store:
        verify(store)


def test_begin_and_carry_need_an_owner(admit: Admit, store_file: Path, shop: str) -> None:
    """Who may only work in a book may not make another beside it."""
    url = make_url(admit()).update_query_dict({"options": "-csearch_path=other"})
    engine = create_engine(make_url(shop).set(drivername="postgresql+psycopg"))
    with engine.begin() as connection:
        connection.execute(text("CREATE SCHEMA other"))
        connection.execute(text(f'GRANT USAGE ON SCHEMA other TO "{url.username}"'))
    engine.dispose()
    with pytest.raises(StoreReadOnly, match="permission denied for schema other"):
        begin(url.render_as_string(False), "EUR")
    with open_store(store_file) as store, pytest.raises(StoreReadOnly, match="permission denied for schema"):
        carry(store, url.render_as_string(False))


@pytest.fixture
def store_file(book_file: Path) -> Path:
    """A book in a file."""
    return book_file


def test_an_older_book_waits_for_its_owner(
    admit: Admit, monkeypatch: pytest.MonkeyPatch, shop: str, tmp_path: Path
) -> None:
    """Where the tables are to be brought up to date, a role that may not says who can, and copies nothing."""
    url = admit()
    real = schema.upgrade

    def upgrade(connection: Connection, version: str = "head") -> None:
        if version == "head":
            connection.execute(text("CREATE TABLE mark (id INT)"))
        else:
            real(connection, version)

    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    monkeypatch.setattr(schema, "VERSIONS", (*schema.VERSIONS, "9001"))
    monkeypatch.setattr(schema, "HEAD", "9001")
    monkeypatch.setattr(schema, "upgrade", upgrade)
    for role in (url, admit(look=True)):
        with pytest.raises(StoreTrouble, match="has older tables") as caught:
            open_store(role)
        assert "owns the book" in caught.value.hint
    assert not list(tmp_path.rglob("*.before-*"))
    with open_store(shop) as store:
        assert inspect(store.engine).has_table("mark")


def test_names_cannot_break_out() -> None:
    """A role's or schema's name is quoted, whatever stands in it."""
    said = rights('a"; DROP TABLE part; --', schema='s"x')
    assert all('"a""; DROP TABLE part; --"' in line or "PUBLIC" in line for line in said)
    assert all('"s""x"' in line for line in said)


def test_every_table_is_spoken_of() -> None:
    """No table is forgotten, and none of what happened may be changed."""
    for look in (False, True):
        told = "\n".join(rights("maker", look=look))
        assert all(f'"public"."{name}"' in told for name in (*COLUMNS, "alembic_version"))
        grants = [line for line in told.splitlines() if line.startswith("GRANT")]
        for line in grants:
            if look or any(f'."{name}" ' in line for name in GUARDED):
                assert not {"UPDATE", "DELETE", "TRUNCATE"} & set(line.replace(",", "").split())
