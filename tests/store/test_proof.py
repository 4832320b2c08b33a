"""The proof: a sound book has nothing to say, and every single figure that was tampered with is named."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing
from pathlib import Path

import postgres
import pytest
from sqlalchemy import make_url, text

from inventory.store import Store, open_store, verify
from inventory.store.check.structure import GUARDED

from .shop import DAY, FIRST, GLUE, KIT, OAK, bought, claimed, document, promise


def _busied(store: Store) -> None:
    store.commit(bought(KIT, 3_000, 1_200))
    lines = (
        claimed(FIRST, 2_000),
        claimed(FIRST, 1_000, "due claim", purchase=1),
        claimed(FIRST, 500, "to buy", OAK),
        claimed(FIRST, 1_000, part=OAK, lot=2),
    )
    store.commit(promise(FIRST, *lines, fingerprint="promise"))
    store.commit(document(to_count=(GLUE,)))
    store.commit(document(fingerprint="undone"))
    store.commit(store.undo(on=DAY))


@pytest.fixture(scope="module")
def once_busy(template: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The file of such a store."""
    path = Path(shutil.copy(template, tmp_path_factory.mktemp("busy")))
    with open_store(path) as store:
        _busied(store)
    return path


@pytest.fixture(scope="module")
def once_busy_there(server: str, template_database: str) -> Iterator[str]:
    """The name of a database with the same."""
    with postgres.database(server, template_database) as url:
        with open_store(url) as store:
            _busied(store)
        yield str(make_url(url).database)


@pytest.fixture(params=["sqlite", "postgresql"])
def where(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Where a copy of it is, or nothing yet."""
    nothing = "empty" in request.fixturenames
    if request.param == "sqlite":
        return str(
            tmp_path / "new" if nothing else shutil.copy(request.getfixturevalue("once_busy"), tmp_path)
        )
    if nothing:
        return str(request.getfixturevalue("new_database")())
    there = request.getfixturevalue("once_busy_there")
    return str(request.getfixturevalue("new_database")(there))


@pytest.fixture
def busy(where: str) -> Iterator[Store]:
    """A store where every derived table holds something: claims on shelf, due in and to buy, a doubt, an undo."""
    with open_store(where) as store:
        yield store


def test_sound(busy: Store) -> None:
    """A book nobody tampered with agrees with itself."""
    assert verify(busy) == ()


def test_empty(empty: Store) -> None:
    """So does an empty one."""
    assert verify(empty) == ()


def _tamper(store: Store, statements: Sequence[str]) -> None:
    sqlite = store.engine.dialect.name == "sqlite"
    with store.engine.connect() as connection:
        if sqlite:
            connection.execution_options(kitdrawer_writing=True)
        with connection.begin():
            for name in GUARDED:  # the hand that tampers takes the guards away, and puts them back
                if not sqlite:
                    connection.execute(text(f"ALTER TABLE {name} DISABLE TRIGGER USER"))
            kept = []
            if sqlite:
                found = "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"
                kept = list(connection.execute(text(found)))
                for trigger, _ in kept:
                    connection.execute(text(f"DROP TRIGGER {trigger}"))
            for statement in statements:
                connection.execute(text(statement))
            for _, sql in kept:
                connection.execute(text(sql))
            for name in GUARDED:
                if not sqlite:
                    connection.execute(text(f"ALTER TABLE {name} ENABLE TRIGGER USER"))


_NEW_LINE = (
    "INSERT INTO movement"
    " (id, document_id, account, part_id, lot_id, purchase_id, order_id, quantity, cost, reason, stage)"
    " VALUES (99, 1, {}, '', '')"
)
TAMPERED = {
    "on hand": (
        "UPDATE part_balance SET on_hand = on_hand + 1500 WHERE part_id = 1",
        "“Dunlin chrome”: on hand is kept as 11.5, the lines say 10.",
    ),
    "claimed": (
        "UPDATE part_balance SET claimed = 0 WHERE part_id = 1",
        "“Dunlin chrome”: set aside is kept as 0, the lines say 2.",
    ),
    "due in": (
        "UPDATE part_balance SET due_in = 5000 WHERE part_id = 1",
        "“Dunlin chrome”: due in is kept as 5, the lines say 3.",
    ),
    "due claimed": (
        "UPDATE part_balance SET due_claimed = 0 WHERE part_id = 1",
        "“Dunlin chrome”: set aside of what is due in is kept as 0, the lines say 1.",
    ),
    "to buy": (
        "UPDATE part_balance SET to_buy = 0 WHERE to_buy > 0",
        "“Oak square”: to buy is kept as 0, the lines say 0.5.",
    ),
    "part balance gone": (
        "DELETE FROM part_balance WHERE part_id = 7",
        "A balance of “Slim refill” is missing, or is another part's.",
    ),
    "lot quantity": (
        "UPDATE lot_balance SET quantity = 9999 WHERE lot_id = 1",
        "Lot 1 of “Dunlin chrome”: the quantity is kept as 9.999, the lines say 10.",
    ),
    "lot cost": (
        "UPDATE lot_balance SET cost = 4499 WHERE lot_id = 1",
        "Lot 1 of “Dunlin chrome”: the cost is kept as 4499, the lines say 4500.",
    ),
    "lot claim": (
        "UPDATE lot_balance SET claimed = 0 WHERE lot_id = 2",
        "Lot 2 of “Oak square”: what is set aside of it is kept as 0, the lines say 1.",
    ),
    "lot balance gone": (
        "DELETE FROM lot_balance WHERE lot_id = 3",
        "A balance of “Thin glue” is missing, or is another part's.",
    ),
    "due quantity": (
        "UPDATE due_balance SET quantity = 2000",
        "Purchase 1 of “Dunlin chrome”: the quantity due in is kept as 2, the lines say 3.",
    ),
    "due balance of another part": (
        "UPDATE due_balance SET part_id = 2",
        "A balance of “Dunlin chrome” is missing, or is another part's.",
    ),
    "claim": (
        "UPDATE claim_balance SET quantity = 1 WHERE account = 'claim' AND part_id = 1",
        "The order “A-1” and “Dunlin chrome” (claim): the quantity is kept as 0.001, the lines say 2.",
    ),
    "claim gone": (
        "DELETE FROM claim_balance WHERE account = 'to buy'",
        "The order “A-1” and “Oak square” (to buy): the quantity is kept as 0, the lines say 0.5.",
    ),
    "claim of nothing": (
        "INSERT INTO claim_balance (id, order_id, part_id, account, quantity) VALUES (99, 2, 6, 'claim', 5)",
        "The order “A-2” and “Thin glue” (claim): the quantity is kept as 0.005, the lines say 0.",
    ),
    "order state": (
        "UPDATE customer_order SET state = 'handed over' WHERE id = 1",
        "The order “A-1” is kept as handed over, the entries say promised.",
    ),
    "order state without documents": (
        "UPDATE customer_order SET state = 'promised' WHERE id = 2",
        "The order “A-2” is kept as promised, the entries say wish.",
    ),
    "doubt": (
        "UPDATE part_balance SET to_count = FALSE WHERE to_count",
        "“Thin glue” is not on the list for counting, which the entries do not say.",
    ),
    "no doubt": (
        "UPDATE part_balance SET to_count = TRUE WHERE part_id = 1",
        "“Dunlin chrome” is on the list for counting, which the entries do not say.",
    ),
    "version": ("UPDATE shop SET version = 9", "The book says it holds 9 entries; it holds 6."),
    "fingerprint gone": (
        "DELETE FROM document_fingerprint WHERE fingerprint = 'opening'",
        "The fingerprint of entry 1 is not kept as it must be.",
    ),
    "fingerprint of what is undone": (
        "INSERT INTO document_fingerprint (fingerprint, document_id) VALUES ('undone', 5)",
        "The fingerprint of entry 5 is not kept as it must be.",
    ),
    "undo depth": (
        "UPDATE document SET undo_depth = 4 WHERE id = 6",
        "Entry 6 does not say rightly what it undoes.",
    ),
    "line changed": (
        "UPDATE movement SET cost = 4400 WHERE id = 1",
        "Lot 1 of “Dunlin chrome”: the cost is kept as 4500, the lines say 4400.",
    ),
    "line deleted": (
        "DELETE FROM movement WHERE id = 3",
        "“Thin glue”: on hand is kept as 100, the lines say 0.",
    ),
    "line without lot": (
        _NEW_LINE.format("'shelf', 1, NULL, NULL, NULL, 0, 0"),
        "Line 99 (shelf) does not say what it is about.",
    ),
    "line of another part": (
        _NEW_LINE.format("'shelf', 2, 1, NULL, NULL, 0, 0"),
        "Line 99 is about another part than its lot or purchase.",
    ),
}


@pytest.mark.parametrize(("statement", "sentence"), TAMPERED.values(), ids=TAMPERED.keys())
def test_named(busy: Store, statement: str, sentence: str) -> None:
    """One figure changed behind the program's back is named with what it is and what it should be."""
    _tamper(busy, [statement])
    assert sentence in verify(busy)


def test_once_below_nothing(busy: Store) -> None:
    """A lot that comes out right now, but was below nothing after some document, is named."""
    statements = [
        "UPDATE movement SET quantity = -1000 WHERE id = 1",
        _NEW_LINE.format("'shelf', 1, 1, NULL, NULL, 11000, 0").replace("99, 1,", "99, 4,"),
    ]
    _tamper(busy, statements)
    assert verify(busy) == ("Lot 1 of “Dunlin chrome” was once below nothing.",)


@pytest.mark.parametrize("name", GUARDED)
def test_missing_guard(busy: Store, name: str) -> None:
    """A table that lost its trigger is named, even if nothing was changed yet."""
    if busy.engine.dialect.name == "sqlite":
        drop, said = f"DROP TRIGGER {name}_no_update", "update"
    else:
        drop, said = f"DROP TRIGGER {name}_no_truncate ON {name}", "truncate"
    with busy.writing() as connection:
        connection.execute(text(drop))
    assert verify(busy) == (f"Nothing keeps the table {name} from being changed: no trigger on {said}.",)


def test_dangling_reference(book_file: Path) -> None:
    """A reference to a row that is not there is named."""
    with closing(sqlite3.connect(book_file)) as connection, connection:
        connection.execute("DELETE FROM plating WHERE id = 2")
    with open_store(book_file) as store:
        problems = verify(store)
    assert "Row 2 of the table kit refers to a row of plating that is not there." in problems


def test_damaged_index(book_file: Path) -> None:
    """Damage inside the file that still opens is named: here an index that lost its entries."""
    with closing(sqlite3.connect(book_file)) as connection, connection:
        connection.execute("PRAGMA writable_schema = ON")
        connection.execute(
            "UPDATE sqlite_master SET sql = replace(sql, '(part_id)', '(id)') WHERE name = 'ix_lot_part_id'"
        )
    with open_store(book_file) as store:
        assert any(problem.startswith("The file is damaged: ") for problem in verify(store))
