"""What was written stays as it was written: the database itself refuses, whoever asks."""

from __future__ import annotations

import pytest
from sqlalchemy import Connection, text
from sqlalchemy.exc import DBAPIError

from inventory.store import Store, verify
from inventory.store.proof_structure import GUARDED

from .shop import FIRST, KIT, bought, claimed, made, planned, promise


@pytest.fixture
def rich(store: Store) -> Store:
    """A store with a row in every guarded table."""
    store.commit(promise(FIRST, claimed(FIRST, 1_000), to_count=(KIT,)))
    store.commit(bought(KIT, 1_000, 440))
    store.commit(planned(FIRST))
    store.commit(made(FIRST, 1))
    return store


def _run(connection: Connection, statement: str) -> None:
    connection.execute(text(statement))


STATEMENTS = ("UPDATE {name} SET document_id = document_id", "DELETE FROM {name}")


@pytest.mark.parametrize("name", GUARDED)
@pytest.mark.parametrize("statement", STATEMENTS, ids=["update", "delete"])
def test_never_changed(rich: Store, name: str, statement: str) -> None:
    """UPDATE and DELETE on what happened are refused, even where they would change nothing."""
    said = statement.format(name=name)
    if name == "document":
        said = said.replace("document_id", "title")
    if name == "session_plan":
        said = said.replace("document_id", "starts")
    with (
        rich.engine.connect() as connection,
        pytest.raises(DBAPIError, match=f"rows of {name} are never changed"),
    ):
        _run(connection, said)
    assert verify(rich) == ()


@pytest.mark.parametrize("name", GUARDED)
def test_never_replaced(rich: Store, name: str) -> None:
    """Nor is a row replaced, or the table emptied, by the ways each server has beside UPDATE and DELETE."""
    if rich.engine.dialect.name == "sqlite":
        said = f"INSERT OR REPLACE INTO {name} SELECT * FROM {name}"
    else:
        said = f"TRUNCATE {name} CASCADE"
    with (
        rich.engine.connect() as connection,
        pytest.raises(DBAPIError, match=r"rows of \w+ are never changed"),
    ):
        _run(connection, said)
    assert verify(rich) == ()


def test_every_guarded_table_had_rows(rich: Store) -> None:
    """The statements above had something to change."""
    with rich.engine.connect() as connection:
        for name in GUARDED:
            assert connection.execute(text(f"SELECT count(*) FROM {name}")).scalar(), name


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE lot_balance SET quantity = -1",
        "UPDATE lot_balance SET quantity = 0",
        "UPDATE lot_balance SET claimed = quantity + 1",
        "UPDATE part_balance SET claimed = on_hand + 1",
        "UPDATE part_balance SET due_claimed = due_in + 1",
        "UPDATE part_balance SET to_buy = -1",
        "UPDATE due_balance SET quantity = -1",
        "UPDATE claim_balance SET quantity = 0",
        "INSERT INTO shop (id, version, currency, program) VALUES (2, 0, 'EUR', '')",
        "INSERT INTO imprint (fingerprint, document_id) VALUES ('opening', 2)",
        "UPDATE bill_line SET role = 'the kit'",
        "INSERT INTO kit (part_id, family_id, plating_id, tubes_inside) VALUES (3, 99, 99, FALSE)",
    ],
)
def test_checked_by_the_database(rich: Store, statement: str) -> None:
    """Balances below nothing, claims above what is there, a second shop, dangling references: refused below us."""
    with rich.engine.connect() as connection, pytest.raises(DBAPIError, match=r"(?i)constraint"):
        _run(connection, statement)
    assert verify(rich) == ()
