"""Where a lot's cost comes from is kept like quantity and cost: it adds up, is proved, undone, and carried over."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from sqlalchemy import Connection, text

from inventory.errors import BookMoved
from inventory.ledger import Line, NewLot
from inventory.ledger.costs import BY_OFFER, SAID, UNKNOWN
from inventory.store import Store, open_store, verify
from inventory.store.creating import make
from inventory.store.engine import find

from .shop import DAY, KIT, document

EARLIER = Path(__file__).parent / "earlier"


def brought(mark: int, quantity: int = 4_000, cost: int = 0) -> Line:
    """Kits in a lot of their own."""
    return Line("shelf", KIT, quantity, cost, lot="n", reason="found", cost_from=mark)


def marks(store: Store) -> list[tuple[int, int, int]]:
    """Quantity, cost and mark of the kits' lots."""
    with store.reading() as read:
        return [(lot.quantity, lot.cost, lot.cost_from) for lot in read.lots([KIT])["dunlin chrome"]]


def test_a_mark_comes_with_a_lot_goes_with_its_price_and_comes_back(store: Store) -> None:
    """Unknown, then priced by a line of no quantity, then undone: as it was."""
    new = NewLot("n", KIT, received_on=DAY)
    number = store.commit(document(brought(UNKNOWN), lots=(new,)))
    assert marks(store)[-1] == (4_000, 0, UNKNOWN)
    store.commit(document(Line("shelf", KIT, 0, 1_800, lot=4, reason="priced", cost_from=-UNKNOWN)))
    assert marks(store)[-1] == (4_000, 1_800, SAID)
    store.commit(store.undo(on=DAY))
    assert marks(store)[-1] == (4_000, 0, UNKNOWN)
    store.commit(store.undo(number, on=DAY))
    assert len(marks(store)) == 1
    assert verify(store) == ()


@pytest.mark.parametrize("mark", [-BY_OFFER, UNKNOWN + BY_OFFER])
def test_a_mark_that_cannot_be_is_refused(store: Store, mark: int) -> None:
    """Two documents that price the same lot: the second was worked out from a book that is gone."""
    with pytest.raises(BookMoved, match="is not what it was"):
        store.commit(document(Line("shelf", KIT, 0, 0, lot=1, cost_from=mark)))


def test_a_mark_nobody_booked_is_found(store: Store) -> None:
    """The proof names the lot."""
    with store.engine.connect() as connection:
        if store.engine.dialect.name == "sqlite":
            connection.execution_options(kitdrawer_writing=True)
        connection.execute(text("UPDATE lot_balance SET cost_from = 2 WHERE lot_id = 1"))
        connection.commit()
    (said,) = verify(store)
    assert said.startswith("Lot 1 of “Dunlin chrome”: the mark of where its cost comes from is kept as 2")


DAY_TEXT, THEN = "2026-03-01", "2026-03-01T10:00:00"
PARTS = {1: "glue", 2: "tube", 3: "pen"}
BOOKED = ((1, "load", None, 0), (2, "weekend", None, 0), (3, "undo", 2, 1), (4, "undo", 3, 2), (5, "load", None, 0),
          (6, "undo", 5, 1))  # fmt: skip
LOTS = ((1, 1, 1), (2, 1, 2), (3, 2, 3), (4, 2, 1), (5, 5, 1))
"""Number, document, part."""
MADE = (
    (1, 1, -1000, 0, "used"),
    (2, 2, -1000, -40, "used"),
    (3, 3, 1000, 40, "made"),
    (1, 4, 1000, 0, "saved"),
)
LINES = (
    (1, 1, 1, 9000, 0, "opening"),
    (1, 2, 2, 5000, 200, "opening"),
    *((2, *line) for line in MADE),
    *((3, part, lot, -many, -cost, "undone") for part, lot, many, cost, _ in MADE),
    *((4, part, lot, many, cost, "undone") for part, lot, many, cost, _ in MADE),
    (5, 1, 5, 2000, 0, "found"),
    (6, 1, 5, -2000, 0, "undone"),
)
"""Document, part, lot, quantity, cost, reason."""
LEFT = ((1, 1, 8000, 0), (2, 2, 4000, 160), (3, 3, 1000, 40), (4, 1, 1000, 0), (5, 1, 0, 0))
ROWS: tuple[tuple[str, tuple[object, ...]], ...] = (
    ("shop", (1, 6, "EUR", "old", "abcdefabcdef")),
    *(("part", (n, name, name, "supply", "piece", "", None)) for n, name in PARTS.items()),
    *(("document", (n, kind, "x", DAY_TEXT, THEN, "", undoes, turn)) for n, kind, undoes, turn in BOOKED),
    *(("lot", (n, document, part, "", DAY_TEXT, None, None, None, None)) for n, document, part in LOTS),
    *(
        ("movement", (n, document, "shelf", part, lot, None, None, many, cost, reason, ""))
        for n, (document, part, lot, many, cost, reason) in enumerate(LINES, 1)
    ),
    *(("lot_balance", (*left, 0)) for left in LEFT),
    *(("part_balance", (part, many, 0, 0, 0, 0, False)) for part, many in ((1, 9000), (2, 4000), (3, 1000))),
)
"""A book of version 2: glue nobody priced, a piece made of it, that undone and brought back, a lot taken back."""


def test_an_earlier_book_knows_what_it_never_knew(where: str) -> None:
    """What came in at 0 is unknown, and the piece it went into; not what was saved; undos carry the marks."""

    def fill(connection: Connection) -> None:
        for name, row in ROWS:
            said = ["NULL" if cell is None else repr(cell) for cell in row]
            connection.exec_driver_sql(f"INSERT INTO {name} VALUES ({', '.join(said)})")

    make(find(where), fill, "0002")
    with open_store(where) as store:
        assert verify(store) == ()
        with store.reading() as read:
            found = {lot.id: lot.cost_from for several in read.lots(None).values() for lot in several}
        assert found == {1: UNKNOWN, 2: SAID, 3: UNKNOWN, 4: SAID}
        store.commit(store.undo(4, on=DAY))
        assert verify(store) == ()


def test_the_walked_books_have_nothing_unknown(tmp_path: Path) -> None:
    """Everything in them was counted or bought at a price; two fittings were saved."""
    file = tmp_path / "book.kitdrawer"
    with closing(sqlite3.connect(file)) as connection:
        connection.executescript((EARLIER / "v0002.sql").read_text(encoding="utf-8"))
    with open_store(file) as store, store.reading() as read:
        assert {lot.cost_from for several in read.lots(None).values() for lot in several} == {SAID}
