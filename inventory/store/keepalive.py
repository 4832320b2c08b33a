"""Lines to a server that go dead without a word: noticed at both ends, each in its time; nobody is kept out."""

from __future__ import annotations

import os
import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Any

from sqlalchemy import URL, Connection

CONNECT_SECONDS = 10
IDLE_SECONDS = 60
"""So long a half-done write may say nothing; then the server gives it up, and others get in."""
LOOKING_SECONDS = 900
"""The same for a look, which keeps nobody out."""
MAKING_SECONDS = 3600
"""The same for a whole book that is carried or brought up to date: much is worked out between two words of it."""
SILENT_SECONDS = 120
"""So long this end waits for one answer. Nothing it asks takes a server near it."""
KEEP_ALIVE = {"keepalives_idle": 10, "keepalives_interval": 5, "keepalives_count": 3}
"""Seconds and times both ends' networks ask whether the other is there; 25 s in all."""
UNHEARD_SECONDS = 30
"""So long what was sent may go without a receipt."""
_WAKES = 4
"""How often, within the longest silence, the watch looks at the clock."""


def options(url: URL) -> dict[str, Any]:
    """What the driver is told of our end. What the URL says of it stands, and the user's own PGCONNECT_TIMEOUT."""
    ours: dict[str, Any] = {
        "connect_timeout": CONNECT_SECONDS,
        "keepalives": 1,
        **KEEP_ALIVE,
        "tcp_user_timeout": UNHEARD_SECONDS * 1000,
    }
    if "PGCONNECT_TIMEOUT" in os.environ:
        del ours["connect_timeout"]
    return {name: value for name, value in ours.items() if name not in url.query}


def connected(connection: Any, _record: Any = None) -> None:
    """Tell the server of its end, which needs no rights, and watch ours. connection: the driver's own, just made."""
    theirs = {f"tcp_{name}": value for name, value in KEEP_ALIVE.items()}
    if connection.info.server_version >= 120_000:
        theirs["tcp_user_timeout"] = UNHEARD_SECONDS * 1000
    if connection.info.server_version >= 140_000:
        theirs["client_connection_check_interval"] = CONNECT_SECONDS * 1000
    calls = ", ".join(f"set_config('{name}', '{value}', false)" for name, value in theirs.items())
    _watched(connection)
    connection.autocommit = True  # what is set in a transaction that is given up is given up with it
    connection.execute(f"SELECT {calls}")
    connection.autocommit = False


def bounded(connection: Connection, wait: float, idle: float) -> None:
    """Bound how long this transaction waits for each lock, and how long it may say nothing. Seconds.

    Taken before anything is read, these leave it to the first query to say of which moment the look is.
    """
    connection.exec_driver_sql(
        f"SET LOCAL lock_timeout = '{int(wait * 1000)}ms';"
        f" SET LOCAL idle_in_transaction_session_timeout = '{int(idle * 1000)}ms'"
    )


@contextmanager
def at_most(connection: Connection, seconds: float) -> Iterator[None]:
    """Bound the whole of what is asked inside, locks and all.

    A server bounds each lock by itself, and one may have to wait for several, one after the other.
    """
    connection.exec_driver_sql(f"SET LOCAL statement_timeout = '{int(seconds * 1000)}ms'")
    yield
    connection.exec_driver_sql("SET LOCAL statement_timeout TO DEFAULT")  # the work itself may take longer


def _watched(connection: Any) -> None:
    """Let every wait of the driver's connection end where nothing is heard for SILENT_SECONDS."""
    wait: Callable[..., Any] = connection.wait
    watch = _Watch(connection)

    def waiting(*args: Any, **named: Any) -> Any:
        watch.until = time.monotonic() + SILENT_SECONDS
        try:
            return wait(*args, **named)
        finally:
            watch.until = None

    connection.wait = waiting
    threading.Thread(target=watch.run, daemon=True).start()


class _Watch:
    """Cuts a line whose answer is overdue, which the driver then finds closed."""

    def __init__(self, connection: Any) -> None:
        self.connection = connection
        self.until: float | None = None

    def run(self) -> None:
        while not self.connection.closed:
            until = self.until
            if until is not None and time.monotonic() > until:
                self._cut()
                return
            time.sleep(min(1, SILENT_SECONDS / _WAKES))

    def _cut(self) -> None:
        with suppress(OSError, ValueError):  # closed meanwhile
            line = socket.socket(fileno=self.connection.pgconn.socket)
            try:
                line.shutdown(socket.SHUT_RDWR)
            finally:
                line.detach()  # the number stays the driver's
