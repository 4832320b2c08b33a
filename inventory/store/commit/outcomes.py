"""What became of a write whose answer was lost: looked up by the number the server gave its transaction."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext, suppress
from typing import Any, Literal

from sqlalchemy import Connection, Engine, text
from sqlalchemy.exc import DBAPIError

from inventory.errors import StoreUnsure
from inventory.store.db_errors import broken, line_lost

LOOK_SECONDS = 20
"""So long a server is asked again after it did not answer."""
_PAUSE = 0.25
_TICKET = text("SELECT CAST(txid_current() AS TEXT)")
_STATUS = text("SELECT txid_status(CAST(:ticket AS BIGINT))")
_LET_GO = text(
    "SELECT pg_terminate_backend(pid) FROM pg_stat_activity"
    " WHERE usename = current_user AND CAST(CAST(backend_xid AS TEXT) AS BIGINT) = CAST(:ticket AS BIGINT) % 4294967296"
)
Outcome = Literal["booked", "not booked", "unknown"]


@contextmanager
def surely(
    connection: Connection,
    again: Callable[[], Engine],
    shown: str,
    tell: Callable[[str], None],
    remember: Callable[[], Callable[[str], AbstractContextManager[object]] | None] = lambda: None,
) -> Iterator[None]:
    """A transaction on a server that is there as a whole or not at all, and of which it is known which.

    Where the line breaks before the end, nothing was booked, and the server is told to let go of what was half done.
    Where the answer to the end is lost, `again` gives an engine to look with: booked, it ends as if the answer had
    come, and that is told. Raises StoreTrouble where nothing was booked, StoreUnsure where that cannot be found out.
    remember: asked before the end is sent what, if anything, is to be entered until it is answered (`Store.remember`).
    """
    transaction, ticket = None, ""
    try:
        transaction = connection.begin()
        ticket = str(connection.execute(_TICKET).scalar_one())
        yield
    except BaseException as error:
        if transaction is not None:
            with suppress(DBAPIError):
                transaction.rollback()
        if isinstance(error, DBAPIError) and line_lost(error):
            if ticket:
                look(again, ticket)
            raise broken(shown, "Nothing was booked.") from error
        raise
    kept = remember()
    with nullcontext() if kept is None else kept(ticket):
        try:
            transaction.commit()
        except (DBAPIError, KeyboardInterrupt) as error:
            if isinstance(error, DBAPIError) and not line_lost(error):
                raise
            found = look(again, ticket)
            if found == "unknown":
                raise StoreUnsure(shown, ticket) from error
            if found == "not booked":
                if isinstance(error, KeyboardInterrupt):
                    raise
                raise broken(shown, "Nothing was booked.") from error
            tell("The server's answer was lost on its way. Looked up again: it is booked.")


def look(again: Callable[[], Engine], ticket: str, seconds: float | None = None) -> Outcome:
    """What became of a transaction, asked over new lines for some seconds.

    One still under way, whose program is no longer heard, is ended first, so that it keeps nobody out.
    """
    until = time.monotonic() + (LOOK_SECONDS if seconds is None else seconds)
    while True:
        found = _status(again, ticket)
        if found != "in progress" and found is not None:
            return {"committed": "booked", "aborted": "not booked"}.get(found, "unknown")  # type: ignore[return-value]  # one of the three
        if time.monotonic() > until:
            return "unknown"
        time.sleep(_PAUSE)


def _status(again: Callable[[], Engine], ticket: str) -> str | None:
    """The server's word for it, `forgotten` where it is too long ago; None where it does not answer."""
    engine = again()
    try:
        with engine.connect() as connection:
            found: Any = connection.execute(_STATUS, {"ticket": ticket}).scalar()
            if found == "in progress":
                connection.execute(_LET_GO, {"ticket": ticket})
            return "forgotten" if found is None else str(found)
    except DBAPIError as error:
        # A number of another server, or one not given out yet, is refused: nothing is known of it here.
        return None if line_lost(error) else "forgotten"
    finally:
        engine.dispose()
