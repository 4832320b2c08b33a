"""Several processes on one store: one gets the last kit, and one killed half-way leaves nothing behind."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from inventory.ledger import Balance
from inventory.store import Store, open_store, verify

from .shop import GLUE, KIT, OAK

PREPARE = """
import sys
from datetime import date
from inventory.errors import BookMoved, NotEnough
from inventory.ledger import Line, NewLot, Proposal
from inventory.store import open_store
store = open_store(sys.argv[1])
"""
CLAIM = (
    PREPARE
    + """
for part, quantity, how in ("Dunlin chrome", 10_000, "expected version"), ("Oak square", 5_000, "any"):
    with store.reading() as read:
        known = read.version if how == "expected version" else None
    print("ready", flush=True)
    sys.stdin.readline()
    line = Line("claim", part, quantity, order=sys.argv[2])
    try:
        states = ((sys.argv[2], "promised"),)
        said = Proposal("promise", "all", date(2026, 3, 2), (line,), order_states=states, expected_version=known)
        store.commit(said)
        print("got it", flush=True)
    except (BookMoved, NotEnough) as error:
        print(type(error).__name__, flush=True)
store.close()
"""
)
DIE = (
    PREPARE
    + """
import os, signal
lots = tuple(NewLot(f"t{n}", "Dunlin chrome") for n in range(11_000))
lines = tuple(Line("shelf", "Dunlin chrome", 1_000, 450, lot=lot.tag) for lot in lots)
def die(done, of):
    print(done, flush=True)
    os.kill(os.getpid(), signal.SIGKILL)
store.commit(Proposal("arrival", "never", date(2026, 3, 2), lines, lots), progress=die)
"""
)


def _start(script: str, *arguments: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-c", script, *arguments]
    return subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)


def test_the_last_kit(where: str, store: Store) -> None:
    """Three processes claim the whole drawer at the same moment for three orders: exactly one gets it.

    So it is with a document made on top of the book they all saw, and with one for any book.
    """
    running = [_start(CLAIM, where, order) for order in ("A-1", "A-2", "A-3")]
    for loser in ("BookMoved", "NotEnough"):
        for process in running:
            assert process.stdout is not None
            assert process.stdout.readline() == "ready\n"
        for process in running:
            assert process.stdin is not None
            process.stdin.write("go\n")
            process.stdin.flush()
        answers = [process.stdout.readline().strip() for process in running if process.stdout is not None]
        assert sorted(answers) == sorted(["got it", loser, loser])
        if loser == "BookMoved":
            with store.reading() as read:
                states = [order.state for order in read.book().orders.values()]
            assert sorted(states) == ["promised", "wish", "wish"]
    for process in running:
        process.communicate(timeout=60)
        assert process.returncode == 0
    with store.reading() as read:
        book = read.book()
        assert book.balance(KIT) == Balance(10_000, 10_000)
        assert book.balance(OAK) == Balance(5_000, 5_000)
        assert sorted(claim.quantity for claim in book.claims) == [5_000, 10_000]
    assert verify(store) == ()


@pytest.mark.skipif(os.name == "nt", reason="Windows has no SIGKILL")
def test_killed_half_way(where: str, store: Store) -> None:
    """kill -9 in the middle of a long write: the book is as before, sound, and can be written at once."""
    with store.reading() as read:
        before = read.book()
    with _start(DIE, where) as process:
        said, _ = process.communicate(timeout=60)
    assert (said, process.returncode) == ("10000\n", -signal.SIGKILL)
    with open_store(where) as again:
        assert verify(again) == ()
        with again.reading() as read:
            assert read.book() == before
        again.commit(again.undo(on=before.lots_of(KIT)[0].received_on or pytest.fail("no day")))


def test_looking_is_light(book_file: Path) -> None:
    """Opening, reading the book, the catalogue and offers load nothing heavy: no alembic, no numbers library."""
    script = (
        "import sys\nfrom inventory.store import open_store\n"
        "with open_store(sys.argv[1]) as store, store.reading() as read:\n"
        "    read.catalogue(), read.offers(), read.book()\n"
        "print(*sorted({name.partition('.')[0] for name in sys.modules}))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, str(book_file)], capture_output=True, text=True, check=True, timeout=60
    )
    loaded = set(done.stdout.split())
    assert "sqlalchemy" in loaded
    assert not loaded & {"alembic", "numpy", "scipy", "pandas", "openpyxl", "pint", "psycopg", "rich"}


def test_reading_while_others_write(where: str, store: Store) -> None:
    """A look under way does not keep anybody from writing, nor the other way round."""
    with open_store(where) as other, store.reading() as read:
        assert read.book([OAK, GLUE]).version == 1
        with other.writing(), other.reading() as meanwhile:
            assert meanwhile.balances() == read.balances()
