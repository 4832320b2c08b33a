"""What was written stays as it was written: the database itself refuses, whoever asks."""

from __future__ import annotations

from datetime import date

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError

from inventory.ledger.documents.changes import Renamed
from inventory.ledger.documents.proposal import Expense, Payment
from inventory.store import Store, verify
from inventory.store.check.structure import GUARDED

from .shop import FIRST, KIT, bought, claimed, document, made, planned, promise


@pytest.fixture
def rich(store: Store) -> Store:
    """A store with a row in every guarded table."""
    store.commit(promise(FIRST, claimed(FIRST, 1_000), to_count=(KIT,)))
    store.commit(bought(KIT, 1_000, 440))
    store.commit(planned(FIRST))
    store.commit(made(FIRST, 1))
    store.commit(document(changes=(Renamed("order", FIRST, "First"),)))
    spent = Expense("stall fee", 4_500, date(2026, 11, 28), "harbour market")
    store.commit(document(payments=(Payment("First", 2_400),), expenses=(spent,)))
    return store


def refused(store: Store, statement: str, said: str) -> None:
    """A statement of somebody past the program is refused, with these words."""
    with store.engine.connect() as connection, pytest.raises(DBAPIError, match=said):
        connection.execute(text(statement))


def test_never_changed(rich: Store) -> None:
    """UPDATE and DELETE on what happened are refused, even where they would change nothing."""
    others = {"document": "title", "session_plan": "starts"}
    for name in GUARDED:
        column = others.get(name, "document_id")
        refused(rich, f"UPDATE {name} SET {column} = {column}", f"rows of {name} are never changed")
        refused(rich, f"DELETE FROM {name}", f"rows of {name} are never changed")
    assert verify(rich) == ()


def test_never_replaced(rich: Store) -> None:
    """Nor is a row replaced, or the table emptied, by the ways each server has beside UPDATE and DELETE."""
    said = "TRUNCATE {0} CASCADE"
    if rich.engine.dialect.name == "sqlite":
        said = "INSERT OR REPLACE INTO {0} SELECT * FROM {0}"
    for name in GUARDED:
        refused(rich, said.format(name), r"rows of \w+ are never changed")
    assert verify(rich) == ()


def test_every_guarded_table_had_rows(rich: Store) -> None:
    """The statements above had something to change."""
    with rich.engine.connect() as connection:
        for name in GUARDED:
            assert connection.execute(text(f"SELECT count(*) FROM {name}")).scalar(), name


CHECKED = (
    "UPDATE lot_balance SET quantity = -1",
    "UPDATE lot_balance SET quantity = 0",
    "UPDATE lot_balance SET claimed = quantity + 1",
    "UPDATE part_balance SET claimed = on_hand + 1",
    "UPDATE part_balance SET due_claimed = due_in + 1",
    "UPDATE part_balance SET to_buy = -1",
    "UPDATE due_balance SET quantity = -1",
    "UPDATE claim_balance SET quantity = 0",
    "INSERT INTO shop (id, version, currency, program) VALUES (2, 0, 'EUR', '')",
    "INSERT INTO document_fingerprint (fingerprint, document_id) VALUES ('opening', 2)",
    "UPDATE bill_line SET role = 'the kit'",
    "INSERT INTO kit (part_id, family_id, plating_id, tubes_inside) VALUES (3, 99, 99, FALSE)",
)


def test_checked_by_the_database(rich: Store) -> None:
    """Balances below nothing, claims above what is there, a second shop, dangling references: refused below us."""
    for statement in CHECKED:
        refused(rich, statement, "(?i)constraint")
    assert verify(rich) == ()
