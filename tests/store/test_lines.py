"""Lines to a server that go dead or lose an answer: others get in, and everybody is told what became of it."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from silence import Proxy, proxied
from sqlalchemy import Connection, event
from sqlalchemy.exc import DBAPIError

from inventory.errors import StoreBusy, StoreTrouble, StoreUnsure
from inventory.store import Store, begin, engine, keepalive, open_store
from inventory.store.commit import outcomes

from .shop import document


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Half-done work is given up and silence noticed in less than a second."""
    monkeypatch.setattr(engine, "BUSY_SECONDS", 1)
    monkeypatch.setattr(keepalive, "IDLE_SECONDS", 0.5)
    monkeypatch.setattr(keepalive, "SILENT_SECONDS", 0.8)
    monkeypatch.setattr(outcomes, "LOOK_SECONDS", 4)


@pytest.fixture
def line(database: str, request: pytest.FixtureRequest) -> Iterator[tuple[Proxy, Store]]:
    """A proxy before a server with an empty book on it, and the book opened through it."""
    begin(database, "EUR").close()
    request.getfixturevalue("quick")
    with proxied(database) as (proxy, through), open_store(through) as store:
        yield proxy, store


def version(database: str) -> int:
    """How many documents are in the book, by a line of its own."""
    with open_store(database) as store, store.reading() as read:
        return read.version


def inserts(piece: bytes) -> bool:
    """The first row of a document on its way."""
    return b"INSERT INTO document" in piece


def commits(piece: bytes) -> bool:
    """The end of a transaction that has written."""
    return b"COMMIT\0" in piece


@pytest.mark.parametrize(
    "passes",
    [
        pytest.param(True, id="the answer is lost"),
        pytest.param(False, id="nothing arrives", marks=pytest.mark.soak),
    ],
)
def test_a_line_dead_after_the_first_insert_keeps_nobody_out(
    line: tuple[Proxy, Store], database: str, passes: bool
) -> None:
    """The server gives up what is half done after IDLE_SECONDS, and the victim ends with a sentence."""
    proxy, store = line
    proxy.dead, proxy.passes = inserts, passes
    said: list[StoreTrouble] = []

    def victim() -> None:
        with pytest.raises(StoreTrouble) as caught:
            store.commit(document())
        said.append(caught.value)

    falls = threading.Thread(target=victim, daemon=True)
    falls.start()
    while falls.is_alive() and not proxy.deaths:
        time.sleep(0.01)
    died = time.monotonic()
    with open_store(database) as other:
        assert other.patiently(lambda: other.commit(document())) == 1
    assert time.monotonic() - died < keepalive.IDLE_SECONDS + 2 * engine.BUSY_SECONDS
    falls.join(keepalive.SILENT_SECONDS + outcomes.LOOK_SECONDS + 5)
    (told,) = said
    assert "broke. Nothing was booked." in told.message
    assert type(told) is StoreTrouble
    assert version(database) == 1


def test_a_look_over_a_dead_line_ends_with_a_sentence(line: tuple[Proxy, Store]) -> None:
    """Who only looks is not kept waiting for ever either."""
    proxy, store = line
    proxy.dead = lambda piece: b"shop.version" in piece
    with pytest.raises(StoreTrouble, match=r"The line to the server of .* broke"), store.reading() as read:
        assert read.version


@pytest.mark.parametrize(
    ("passes", "cuts"),
    [
        pytest.param(True, False, id="arrived, silent"),
        pytest.param(False, True, id="lost, closed"),
        pytest.param(True, True, id="arrived, closed", marks=pytest.mark.soak),
        pytest.param(False, False, id="lost, silent", marks=pytest.mark.soak),
    ],
)
def test_after_a_lost_answer_it_is_looked_up(
    line: tuple[Proxy, Store], database: str, passes: bool, cuts: bool
) -> None:
    """COMMIT arrived and its answer did not: booked, as told. It did not arrive: not booked, as told."""
    proxy, store = line
    talked: list[str] = []
    store.talk = talked.append
    proxy.dead, proxy.passes, proxy.cuts = commits, passes, cuts
    if passes:
        assert store.commit(document()) == 1
        assert talked == ["The server's answer was lost on its way. Looked up again: it is booked."]
    else:
        with pytest.raises(StoreTrouble, match="Nothing was booked"):
            store.commit(document())
        assert talked == []
    assert version(database) == int(passes)


def test_where_it_cannot_be_looked_up_that_is_said(
    line: tuple[Proxy, Store], database: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The server is out of reach from then on: neither booked nor not booked is claimed."""
    monkeypatch.setattr(outcomes, "LOOK_SECONDS", 0.3)
    proxy, store = line

    def ends(piece: bytes) -> bool:
        proxy.closed = proxy.closed or commits(piece)
        return proxy.closed

    proxy.dead, proxy.cuts = ends, True
    with pytest.raises(StoreUnsure, match="could not be found out") as caught:
        store.commit(document())
    assert version(database) == 1
    place = engine.find(database)
    assert outcomes.look(lambda: engine.engine(place), caught.value.ticket) == "booked"
    assert outcomes.look(lambda: engine.engine(place), "99999999") == "unknown"


def test_what_is_half_done_by_a_program_no_longer_heard_is_let_go(database: str) -> None:
    """Its transaction is still open when it is looked up: it is ended, so that it keeps nobody out, and not booked."""
    begin(database, "EUR").close()
    place = engine.find(database)
    silent = engine.engine(place)
    connection = silent.connect()
    ticket = connection.execute(outcomes._TICKET).scalar_one()
    assert outcomes.look(lambda: engine.engine(place), str(ticket), 2) == "not booked"
    with pytest.raises(DBAPIError, match="terminat"):
        connection.execute(outcomes._TICKET)
    connection.invalidate()
    silent.dispose()


@pytest.mark.usefixtures("quick")
@pytest.mark.parametrize("arrived", [True, False])
def test_interrupted_at_the_end_of_a_booking(database: str, arrived: bool) -> None:
    """Control-C while the answer is waited for: booked, it is told; not booked, nothing half-done keeps others out."""
    begin(database, "EUR").close()
    talked: list[str] = []
    with open_store(database, talk=talked.append) as store:

        @event.listens_for(store.engine, "commit")
        def interrupted(connection: Connection) -> None:
            driver = connection.connection.driver_connection
            if arrived and driver is not None:
                driver.commit()
            raise KeyboardInterrupt

        if arrived:
            assert store.commit(document()) == 1
            assert "it is booked" in talked[0]
        else:
            with pytest.raises(KeyboardInterrupt):
                store.commit(document())
    with open_store(database) as other:
        assert other.commit(document()) == 1 + arrived


@pytest.mark.usefixtures("quick")
def test_a_refusal_at_the_end_is_none_of_the_lines(database: str) -> None:
    """What the server itself refuses to commit stays what it is."""
    begin(database, "EUR").close()
    with open_store(database) as store:

        @event.listens_for(store.engine, "commit")
        def refused(connection: Connection) -> None:
            connection.exec_driver_sql("SELECT 1 / 0")

        with pytest.raises(DBAPIError, match="division by zero"):
            store.commit(document())
    assert version(database) == 0


def test_a_reader_behind_an_exclusive_lock_is_told(database: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """It waits as often as a writer does, says so once, and ends with the writer's sentence."""
    psycopg = pytest.importorskip("psycopg")
    monkeypatch.setattr(engine, "BUSY_SECONDS", 0.05)
    begin(database, "EUR").close()
    talked: list[str] = []
    with open_store(database, talk=talked.append) as store, psycopg.connect(database) as other:
        other.execute("LOCK TABLE movement IN ACCESS EXCLUSIVE MODE")
        began = time.monotonic()
        with pytest.raises(StoreBusy, match="Another program is writing to"), store.reading():
            pass
        assert engine.PATIENCE * 0.05 <= time.monotonic() - began < engine.PATIENCE * 0.05 + 5
        assert talked == ["Another program is writing to this store; waiting for it."]
        other.execute("LOCK TABLE alembic_version IN ACCESS EXCLUSIVE MODE")
        with pytest.raises(StoreBusy, match="Another program is writing to"):
            open_store(database)
        other.rollback()
        with store.reading() as read:
            assert read.version == 0


@pytest.mark.usefixtures("quick")
def test_a_reader_gets_in_once_the_lock_is_gone(database: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """And sees what whoever held it has written."""
    monkeypatch.setattr(engine, "BUSY_SECONDS", 0.2)
    psycopg = pytest.importorskip("psycopg")
    begin(database, "EUR").close()
    with open_store(database) as store, psycopg.connect(database) as other:
        other.execute("LOCK TABLE shop IN ACCESS EXCLUSIVE MODE")
        other.execute("UPDATE shop SET version = 7")
        threading.Timer(0.4, other.commit).start()
        with store.reading() as read:
            assert read.version == 7


def test_what_both_ends_are_told(database: str) -> None:
    """Idle and dead lines are bounded on the server and here; what the URL says of it stands."""
    begin(database, "EUR").close()
    with open_store(f"{database}?keepalives_idle=7&connect_timeout=3") as store, store.reading() as read:
        driver = read.connection.connection.driver_connection
        assert driver is not None
        own = {one.keyword: one.val for one in driver.pgconn.info if one.val is not None}
        assert own[b"keepalives_idle"] == b"7"
        assert own[b"connect_timeout"] == b"3"
        assert own[b"keepalives_count"] == b"3"
        assert own[b"tcp_user_timeout"] == b"30000"

        def shown(name: str) -> str:
            return str(read.connection.exec_driver_sql(f"SHOW {name}").scalar())

        assert shown("idle_in_transaction_session_timeout") == "15min"
        assert shown("lock_timeout") == "10s"
        assert [shown(f"tcp_keepalives_{one}") for one in ("idle", "interval", "count")] == ["10", "5", "3"]
        assert shown("tcp_user_timeout") == "30000"
    with open_store(database) as store, store.writing() as connection:
        said = connection.exec_driver_sql("SHOW idle_in_transaction_session_timeout").scalar()
        assert said == "1min"


def test_files_have_no_lines(tmp_path: Path) -> None:
    """A book in a file waits for nobody's answer."""
    with begin(tmp_path / "book", "EUR") as store, store.writing() as connection:
        assert connection.dialect.name == "sqlite"
