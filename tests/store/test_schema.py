"""The tables a migration makes are the tables the models describe, and a later version steps up with a copy first."""

from __future__ import annotations

import re
import shutil
import sqlite3
import stat
from contextlib import closing
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import BigInteger, CheckConstraint, Date, Integer, inspect, make_url, text
from sqlalchemy.sql.sqltypes import Boolean
from sqlmodel import AutoString

from inventory.errors import NewerStore, NotAStore, StoreReadOnly, StoreTrouble
from inventory.store import Store, begin, engine, open_store, verify
from inventory.store.check.structure import GUARDED
from inventory.store.copies import transfer
from inventory.store.copies.transfer import digests
from inventory.store.copies.upgrade import bring_up_to_date
from inventory.store.mapping.bulk import put
from inventory.store.schema import version
from inventory.store.schema.migrations.versions import v0001_first_book as first
from inventory.store.schema.migrations.versions import v0002_sessions as second
from inventory.store.schema.migrations.versions import v0004_names_changes_payments as fourth
from inventory.store.schema.migrations.versions import v0006_what_was_spent as sixth
from inventory.store.schema.models import METADATA

from .shop import filled

STEPS = Path(version.__file__).parent / "migrations"
HEAD, LATER = version.HEAD, "9001"
STEP = """
import sqlalchemy as sa
from alembic import op

revision, down_revision, branch_labels, depends_on = "LATER", "HEAD", None, None


def upgrade() -> None:
    op.create_table("shelf_mark", sa.Column("id", sa.Integer, primary_key=True))
    WORK
""".replace("HEAD", HEAD).replace("LATER", LATER)


def _plain(sql: str) -> str:
    return re.sub(r"[\s()]|::\w+", "", sql).lower()


def test_models_and_migrations_agree(empty: Store) -> None:
    """Tables, columns, types, keys, indexes: nothing differs."""
    with empty.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, METADATA) == []


def test_checks_agree(empty: Store) -> None:
    """CHECK constraints, which the comparison above does not see, are there under their names."""
    found = inspect(empty.engine)
    for name, table in METADATA.tables.items():
        wanted = {str(check.name) for check in table.constraints if isinstance(check, CheckConstraint)}
        assert {check["name"] for check in found.get_check_constraints(name)} == wanted, name
    ours = {
        str(check.name): _plain(str(check.sqltext))
        for check in METADATA.tables["lot_balance"].constraints
        if isinstance(check, CheckConstraint)
    }
    assert {
        str(check["name"]): _plain(check["sqltext"]) for check in found.get_check_constraints("lot_balance")
    } == ours


def test_only_plain_columns() -> None:
    """Quantities and money are 64-bit integers; there is no float, no decimal and no enum column anywhere."""
    for table in METADATA.tables.values():
        for column in table.columns:
            assert isinstance(column.type, BigInteger | Integer | AutoString | Date | Boolean), column
            if column.name in {"quantity", "cost", "price", "claimed", "on_hand", "postage", "pack"}:
                assert isinstance(column.type, BigInteger), column


def test_same_guards() -> None:
    """The proof asks for a trigger on exactly the tables that get one."""
    made = (*first.APPEND_ONLY, *second.APPEND_ONLY, *fourth.APPEND_ONLY, *sixth.APPEND_ONLY)
    assert tuple(fourth.WORDS.get(name, name) for name in made) == GUARDED


@pytest.fixture
def later(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A program one version ahead, whose step is written into the returned file."""
    steps = tmp_path / "later"
    shutil.copytree(STEPS, steps)
    monkeypatch.setattr(version, "STEPS", steps)
    monkeypatch.setattr(version, "VERSIONS", (*version.VERSIONS, LATER))
    monkeypatch.setattr(version, "HEAD", LATER)
    return steps / "versions" / "v9001_later.py"


def _version(path: Path) -> str:
    with closing(sqlite3.connect(path)) as connection:
        return str(connection.execute("SELECT version_num FROM alembic_version").fetchone()[0])


def test_older_file_steps_up(book_file: Path, later: Path) -> None:
    """An older file is copied beside itself, then brought up to date in place, and loses nothing."""
    later.write_text(STEP.replace("WORK", "pass"), encoding="utf-8")
    with open_store(book_file) as store:
        assert inspect(store.engine).has_table("shelf_mark")
        assert verify(store) == ()
        with store.reading() as read:
            assert read.version == 1
    (copy,) = book_file.parent.glob(f"*.before-{LATER}-*")
    assert (_version(book_file), _version(copy)) == (LATER, HEAD)
    with open_store(book_file):  # nothing more to do, no second copy
        assert list(book_file.parent.glob("*.before-*")) == [copy]


def test_failed_step_changes_nothing(book_file: Path, later: Path) -> None:
    """A step that fails half-way is rolled back whole; the old program still reads the file."""
    later.write_text(STEP.replace("WORK", "raise ZeroDivisionError"), encoding="utf-8")
    with pytest.raises(ZeroDivisionError):
        open_store(book_file)
    assert _version(book_file) == HEAD
    with closing(sqlite3.connect(book_file)) as connection:
        assert connection.execute(
            "SELECT count(*) FROM sqlite_master WHERE name = 'shelf_mark'"
        ).fetchone() == (0,)


@pytest.fixture
def on_server(database: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """A filled book on a server, older than the program; the user's own folder is in `tmp_path`."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    with begin(database, "EUR") as store:
        filled(store)
    step = later.__wrapped__(tmp_path, monkeypatch)  # type: ignore[attr-defined]  # after the store was begun
    step.write_text(STEP.replace("WORK", "pass"), encoding="utf-8")
    return database


def test_older_store_on_a_server_steps_up(on_server: str, tmp_path: Path) -> None:
    """A server's older book is copied into a file first, row by row as it was, with its old tables."""
    with open_store(on_server) as store:
        assert inspect(store.engine).has_table("shelf_mark")
        assert verify(store) == ()
        copy = store.kept
    assert copy is not None
    assert copy.parent == tmp_path / "kitdrawer"
    assert copy.name.startswith(f"{make_url(on_server).database}.before-{LATER}-")
    assert _version(copy) == HEAD
    assert stat.S_IMODE(copy.stat().st_mode) == engine.PRIVATE
    assert [path.name for path in copy.parent.iterdir()] == [copy.name]
    with open_store(on_server) as store, open_store(copy) as other:
        assert store.kept is None
        with store.engine.connect() as here, other.engine.connect() as there:
            changed = {name for name, digest in digests(here).items() if digests(there)[name] != digest}
    assert changed <= {"shop"}  # which says what program wrote it last


def test_without_a_copy_nothing_is_changed_on_a_server(on_server: str, tmp_path: Path) -> None:
    """Where the copy cannot be made, the book stays as old as it was."""
    (tmp_path / "kitdrawer").write_text("in the way", encoding="utf-8")
    with pytest.raises(StoreTrouble, match="No copy can be made at") as caught:
        open_store(on_server)
    assert "XDG_DATA_HOME" in caught.value.hint
    assert _version_on_server(on_server) == HEAD


def test_a_copy_that_differs_is_not_believed(on_server: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Rows that arrive otherwise than they were sent stop it before anything is changed."""
    monkeypatch.setattr(
        transfer, "put", lambda into, table, rows: put(into, table, rows[table.name == "movement" :])
    )
    with pytest.raises(StoreTrouble, match="not what was sent"):
        open_store(on_server)
    assert _version_on_server(on_server) == HEAD


def _version_on_server(url: str) -> str:
    place = engine.find(url)
    with Store(place, engine.engine(place)) as store, store.engine.connect() as connection:
        return version.revision(connection, store.shown)


def test_older_file_that_cannot_be_written(book_file: Path, later: Path) -> None:
    """An older file that may only be read is not stepped up, and that is said."""
    later.write_text(STEP.replace("WORK", "pass"), encoding="utf-8")
    store = Store(engine.find(book_file), engine.engine(engine.find(book_file), "mode=ro"), writable=False)
    with store, pytest.raises(StoreReadOnly, match="cannot be written"):
        bring_up_to_date(store)


def test_newer_store(book_file: Path) -> None:
    """Tables of a later program are left alone."""
    with open_store(book_file) as store, store.writing() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(NewerStore, match=r"later version of kitdrawer \(tables 9999\)") as caught:
        open_store(book_file)
    assert f"up to {HEAD}" in caught.value.hint


def test_half_a_store(book_file: Path) -> None:
    """A file whose version row is gone is not taken for a store."""
    with open_store(book_file) as store, store.writing() as connection:
        connection.execute(text("DELETE FROM alembic_version"))
    with pytest.raises(NotAStore, match="is not a kitdrawer store"):
        open_store(book_file)
