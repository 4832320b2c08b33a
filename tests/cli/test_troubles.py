"""A book in trouble: tampered with, from another time, copied back, or cut off in the middle of a load."""

from __future__ import annotations

import random
import re
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")


def tamper(store: Path, *statements: str) -> None:
    """Change the file behind the book's back, its triggers taken away first."""
    connection = sqlite3.connect(store)
    found = connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall()
    for (name,) in found:
        connection.execute(f'DROP TRIGGER "{name}"')
    for statement in statements:
        assert connection.execute(statement).rowcount > 0, statement
    connection.commit()
    connection.close()


def test_movements_cannot_be_changed_in_the_file_itself(store: Path) -> None:
    """Even a database tool is refused, as long as the triggers are there."""
    connection = sqlite3.connect(store)
    for statement in (
        "UPDATE movement SET quantity = quantity + 1",
        "DELETE FROM movement",
        "DELETE FROM document",
    ):
        with pytest.raises(sqlite3.DatabaseError):
            connection.execute(statement)
    connection.close()


@pytest.mark.parametrize(
    "statement",
    [
        "DELETE FROM movement WHERE id = (SELECT max(id) FROM movement)",
        "UPDATE movement SET quantity = quantity + 1000 WHERE id = (SELECT max(id) FROM movement)",
        "UPDATE movement SET cost = cost + 1 WHERE id = (SELECT max(id) FROM movement WHERE account = 'shelf')",
        "UPDATE part_balance SET claimed = claimed + 1000 WHERE on_hand > 2000",
        "UPDATE lot_balance SET cost = cost + 1",
        "UPDATE shop SET version = version + 1",
    ],
    ids=lambda statement: " ".join(statement.split()[:4]),
)
def test_tampering_is_found(kitdrawer: Kitdrawer, store: Path, statement: str) -> None:
    """Whatever is changed behind its back, verify sees it, says it and ends with 3; looking still works."""
    tamper(store, statement)
    answer = kitdrawer("verify", "--json")
    assert (answer.code, answer.json["ok"]) == (3, False)
    assert all(isinstance(problem, str) and problem for problem in answer.json["problems"])
    text = kitdrawer("verify")
    assert text.code == 3
    assert re.match(r"\d+ checks? failed, Sat 28 Nov 2026\.\n\n· ", text.out)
    assert max(len(line) for line in text.out.splitlines()) <= 80
    assert kitdrawer("shelf").code == 0


def test_missing_guards_are_found(kitdrawer: Kitdrawer, store: Path) -> None:
    """A book without its triggers is not append-only any more."""
    tamper(store)
    assert kitdrawer("verify").code == 3


def test_a_tampered_book_is_not_backed_up_as_sound(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """Copied and checked means checked: the copy's trouble is said, and restoring it is refused."""
    good = tmp_path / "good.kitdrawer"
    assert kitdrawer("backup", str(good)).code == 0
    tamper(store, "DELETE FROM movement WHERE id = (SELECT max(id) FROM movement)")
    assert kitdrawer("backup", str(tmp_path / "bad.kitdrawer")).code != 0
    assert kitdrawer("restore", str(good), "--yes").code == 0
    assert kitdrawer("verify").code == 0


def test_there_and_back_again(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """A backup restored under another name is the same book in every answer."""
    kitdrawer("promise", "S42", "--yes")
    copy, other = str(tmp_path / "copy.kitdrawer"), str(tmp_path / "other.kitdrawer")
    told = kitdrawer("backup", copy).out
    assert "Copied and checked" in told
    assert copy in told
    answer = kitdrawer("restore", copy, "--yes", "--store", other)
    assert answer.out.startswith("Restored and checked")
    assert other in answer.out
    for words in (["shelf", "--json"], ["orders", "--json"], ["trace", "CA thin", "--json"], ["verify"]):
        assert kitdrawer(*words, "--store", other) == kitdrawer(*words)


@pytest.mark.parametrize("name", ["shelf", "verify", "orders"])
def test_a_book_from_a_later_program(kitdrawer: Kitdrawer, store: Path, name: str) -> None:
    """It is left alone, and the remedy is a newer program."""
    connection = sqlite3.connect(store)
    connection.execute("UPDATE alembic_version SET version_num = '9999'")
    connection.commit()
    connection.close()
    before = store.read_bytes()
    answer = kitdrawer(name, "--json")
    assert (answer.code, answer.json["error"]["kind"]) == (1, "newer store")
    assert store.read_bytes() == before


def test_a_book_torn_in_half(kitdrawer: Kitdrawer, store: Path) -> None:
    """A file cut short is a sentence, not a traceback."""
    store.write_bytes(store.read_bytes()[: store.stat().st_size // 2])
    for name in ("shelf", "verify", "orders"):
        answer = kitdrawer(name)
        assert answer.code in (1, 3)
        assert answer.err or answer.out


def rows(path: Path, count: int) -> str:
    path.write_text("part,quantity,lot\n" + "".join(f"CA thin,{n % 90 + 1},lot {n}\n" for n in range(count)))
    return str(path)


LOTS = 30_000


@pytest.fixture(scope="module")
def pace(loaded: Path, tmp_path_factory: pytest.TempPathFactory) -> float:
    """Seconds the load takes on this machine now, when nobody kills it."""
    folder = tmp_path_factory.mktemp("pace")
    store = Path(shutil.copy(loaded, folder / "book.kitdrawer"))
    path = rows(folder / "counts.csv", LOTS)
    since = time.monotonic()
    killed(store, path, None)
    return time.monotonic() - since


def killed(store: Path, path: str, after: float | None) -> None:
    """Start the load and kill it after so many seconds, or let it end."""
    process = subprocess.Popen(
        [sys.executable, "-m", "inventory.cli", "load", path, "--yes", "--store", str(store)],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    if after is not None:
        time.sleep(after)
        process.send_signal(signal.SIGKILL)
    process.wait()


@pytest.mark.soak
@pytest.mark.skipif(sys.platform == "win32", reason="no kill -9 there")
@pytest.mark.parametrize("trial", range(30))
def test_a_load_killed_at_any_moment(
    kitdrawer: Kitdrawer, store: Path, tmp_path: Path, pace: float, trial: int
) -> None:
    """kill -9 anywhere between the start and the end: the whole document or nothing of it, and a sound book."""
    path = rows(tmp_path / "counts.csv", LOTS)
    before = kitdrawer("shelf", "--json").out
    killed(store, path, pace * random.Random(trial).uniform(0.1, 1.0))
    assert kitdrawer("verify").code == 0
    told = kitdrawer("trace", "CA thin", "--json").json
    documents = {line["document"] for line in told["lines"]}
    if documents == {1}:
        assert kitdrawer("shelf", "--json").out == before
        assert kitdrawer("load", path, "--yes").code == 0  # nothing is left locked or half-booked
    assert len(kitdrawer("trace", "CA thin", "--json").json["lots"]) == LOTS + 2
