"""Where a store is, and an engine for it. Nothing here is made before it is asked for."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from sqlite3 import SQLITE_CANTOPEN, SQLITE_READONLY, connect
from sqlite3 import Connection as SqliteConnection
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, NoSuchModuleError

from inventory.errors import StoreTrouble
from inventory.store import keepalive

BUSY_SECONDS = 10
PATIENCE = 9
"""How often so long a command waits for others, 90 s in all."""
PRIVATE = 0o600
"""A new book may be read by its owner only: customers are named in it. Who shares the file gives others the right."""
WRITING = {"kitdrawer_writing": True}
"""Execution options of a connection that is going to write."""
MAKING = {**WRITING, "kitdrawer_idle": keepalive.MAKING_SECONDS}
"""The same of one that writes a whole book, or changes its tables."""


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """A file, or the URL of a database on a server; `shown` never holds a password."""

    file: Path | None = None
    url: URL | None = None

    @property
    def shown(self) -> str:
        """What to call it in a sentence."""
        return str(self.file) if self.url is None else _shown(self.url)

    @property
    def has_password(self) -> bool:
        """Whether whoever named it wrote a password into it."""
        return self.url is not None and self.url.password is not None


def find(where: str | Path) -> Whereabouts:
    """Read a path or database URL. Raises StoreTrouble for a kind of database this program does not keep."""
    if isinstance(where, Path) or "://" not in where:
        return Whereabouts(file=Path(where).expanduser().absolute())
    try:
        url = _with_one_password(make_url(where))
    except (ArgumentError, ValueError):  # the latter from a port that is no number
        raise StoreTrouble("The store's URL cannot be read.", hint=_ACCEPTED) from None
    if url.get_backend_name() == "sqlite" and url.database not in (None, "", ":memory:"):
        return Whereabouts(file=Path(str(url.database)).expanduser().absolute())
    if url.get_backend_name() in ("postgresql", "postgres"):
        return Whereabouts(url=url.set(drivername="postgresql+psycopg"))
    raise StoreTrouble(f"A store cannot be kept in {_shown(url)}.", hint=_ACCEPTED)


def _with_one_password(url: URL) -> URL:
    """The password moved to where it is never shown, should it stand among the options. Raises ValueError."""
    if "@" in (
        url.host or ""
    ):  # of a password with an @ in it, the rest would be taken for the host, and shown
        raise ValueError
    said = url.query.get("password")
    if said is None:
        return url
    return url.difference_update_query(["password"]).set(password=said if isinstance(said, str) else said[-1])


def _shown(url: URL) -> str:
    hidden = {name: "***" for name in url.query if "password" in name}
    plain = url.update_query_dict(hidden).set(drivername=url.get_backend_name())
    return plain.render_as_string(hide_password=True)


def engine(where: Whereabouts, access: str = "") -> Engine:
    """An engine with our way of beginning transactions; no connection is made yet.

    access: empty reads and writes. For files, `mode=ro` reads; `immutable=1` reads a file that cannot change. On a
    server, anything reads.
    """
    if where.url is not None:
        return _server(where.url, read_only=bool(access))
    file = where.file or Path()
    made = create_engine(
        URL.create("sqlite", database=str(file)),
        creator=_opener(file, access),
        pool_size=1,
        max_overflow=4,
        pool_reset_on_return=None,
    )
    event.listen(made, "begin", _begin)
    return made


def _opener(file: Path, access: str) -> Callable[[], SqliteConnection]:
    def opened() -> SqliteConnection:
        # mode=rw never makes a file: only `begin` does
        uri = f"{file.as_uri()}?{access or 'mode=rw'}"
        connection = connect(
            uri, uri=True, timeout=BUSY_SECONDS, isolation_level=None, check_same_thread=False
        )
        for pragma in ("foreign_keys = ON", "synchronous = FULL", "recursive_triggers = ON"):
            connection.execute(f"PRAGMA {pragma}")
        return connection

    return opened


def _begin(connection: Connection) -> None:
    # A write takes its lock at once: taking it later could fail after the work is done.
    writing = connection.get_execution_options().get("kitdrawer_writing", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writing else "BEGIN")


def _server(url: URL, *, read_only: bool) -> Engine:
    try:
        # no column of ours is an hstore, of which it would ask the server at each start
        made = create_engine(url, pool_size=1, connect_args=keepalive.options(url), use_native_hstore=False)
    except (ModuleNotFoundError, NoSuchModuleError):
        raise StoreTrouble(
            "The driver for PostgreSQL is not installed.",
            hint="Install it with: pip install 'kitdrawer[postgres]'",
        ) from None
    event.listen(made, "connect", keepalive.connected)
    if read_only:
        event.listen(made, "connect", _only_reading)
    event.listen(made, "begin", _begin_on_server)
    return made


def _only_reading(connection: Any, _: object) -> None:
    connection.execute("SET default_transaction_read_only = on")
    connection.commit()


def _begin_on_server(connection: Connection) -> None:
    said = connection.get_execution_options()
    idle = keepalive.IDLE_SECONDS if said.get("kitdrawer_writing") else keepalive.LOOKING_SECONDS
    keepalive.bounded(connection, BUSY_SECONDS, max(idle, said.get("kitdrawer_idle", 0)))


@contextmanager
def waiting_no_longer(connection: Connection) -> Iterator[None]:
    """Bound the whole wait for a row that many want by BUSY_SECONDS."""
    if connection.dialect.name != "postgresql":
        yield
        return
    with keepalive.at_most(connection, BUSY_SECONDS):
        yield


def reading_accesses(file: Path) -> Iterator[str]:
    """Ways of opening a file that only has to be read, the most trusting last.

    A folder one may not write in has no room for SQLite's locks: such a file opens as one that cannot change, unless
    the log beside it still holds what the file does not. Better no answer than a stale one.
    """
    yield "mode=ro"
    log = file.with_name(file.name + "-wal")
    if not log.exists() or log.stat().st_size == 0:
        yield "immutable=1"


def usual() -> str:
    """Where the book is where nobody says otherwise: KITDRAWER_STORE, else a file in the user's own folder."""
    return os.environ.get("KITDRAWER_STORE") or str(own_folder() / "book.kitdrawer")


def own_folder() -> Path:
    """The user's own folder for this program's data."""
    from platformdirs import user_data_path

    return user_data_path("kitdrawer")


def cannot_lock(error: BaseException | None) -> bool:
    """Whether SQLite could not make its locks, which another way of opening may do without."""
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    return code in (SQLITE_CANTOPEN, SQLITE_READONLY)


_ACCEPTED = (
    "A store is a file, or a PostgreSQL database: postgresql://user@host/name"
    " (in a password, @ is written %40 and / is %2F)."
)
