"""The one place where what a database driver complains of becomes a sentence."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError

from inventory.errors import (
    BadInput,
    KitdrawerError,
    NoStore,
    StoreBusy,
    StoreFull,
    StoreReadOnly,
    StoreTrouble,
)
from inventory.store.schema.version import not_a_store

_PASSWORDS = "The password is taken from ~/.pgpass, PGPASSWORD, PGPASSFILE, a service or KITDRAWER_STORE."
KEEP = "Keep the file as it is and ask for help; a copy that `kitdrawer backup` made holds the book as it was then."
"""What to do with a damaged book: never a command that would put something in its place."""


@contextmanager
def translated(shown: str) -> Iterator[None]:
    """Raise the matching StoreTrouble for anything the driver raises inside; bugs pass through as they are."""
    try:
        yield
    except (DBAPIError, sqlite3.Error) as error:
        if isinstance(error, DBAPIError) and error.connection_invalidated:
            raise broken(shown) from error
        found = _trouble(shown, error.orig if isinstance(error, DBAPIError) else error)
        if found is None:  # a statement of ours is wrong, or a constraint caught a bug: keep the traceback
            raise
        raise found from error
    except OverflowError as error:
        raise _too_large() from error


def _trouble(shown: str, error: BaseException | None) -> KitdrawerError | None:
    code = getattr(error, "sqlite_errorcode", None)
    if getattr(error, "sqlstate", None) == "22003":
        return _too_large()
    return _sqlite(shown, code) if isinstance(code, int) else _server(shown, error)


def _too_large() -> BadInput:
    return BadInput(
        "A number is too large for the book.", hint="Quantities and sums go up to about 9 × 10^15 units."
    )


def _sqlite(shown: str, code: int) -> StoreTrouble | None:
    if code == sqlite3.SQLITE_IOERR_SHMSIZE:  # the little file that guards the log found no room
        code = sqlite3.SQLITE_FULL
    match code & 0xFF:
        case sqlite3.SQLITE_BUSY | sqlite3.SQLITE_LOCKED:
            return busy(shown)
        case sqlite3.SQLITE_READONLY | sqlite3.SQLITE_PERM:
            return read_only(shown)
        case sqlite3.SQLITE_FULL:
            return StoreFull(
                f"There is no room left to write {shown}.",
                hint="Nothing was changed. Make room on the disk, then try again.",
            )
        case sqlite3.SQLITE_CANTOPEN:
            return StoreTrouble(
                f"{shown} cannot be opened.",
                hint="Check that the folder exists and that you may write in it.",
            )
        case sqlite3.SQLITE_NOTADB:
            return not_a_store(shown)
        case sqlite3.SQLITE_CORRUPT:
            return StoreTrouble(f"{shown} is damaged.", hint=KEEP)
        case sqlite3.SQLITE_IOERR:
            return StoreTrouble(
                f"The disk would not read or write {shown}.",
                hint=f"Check that it is there and not full. {KEEP}",
            )
    return None


def _server(shown: str, error: BaseException | None) -> KitdrawerError | None:
    state = getattr(error, "sqlstate", None)
    if state is None:
        return _stateless(shown, error)
    match state[:2], state:
        case _, "3D000":
            return _no_database(shown)
        case _, "42501":
            return not_permitted(shown, said(error))
        case _, "25006":
            return read_only(shown, "The server, or the role, is for looking only.")
        case _, "55P03" | "40001" | "40P01" | "57014":
            return busy(shown)
        case "53", _:
            return StoreFull(
                f"The server has no room left for {shown}.",
                hint="Nothing was changed. Ask whoever keeps the server to make room, then try again.",
            )
        case _, "25P03":
            return broken(shown, "The server heard nothing for too long and gave up what was half done.")
        case "08" | "28" | "57", _:
            return _unreachable(shown, error)
    return None


def _stateless(shown: str, error: BaseException | None) -> KitdrawerError | None:
    """What the driver finds out by itself, while connecting or before it asks the server."""
    kind = type(error).__name__
    if kind == "OperationalError" and not isinstance(error, sqlite3.Error):
        return _unreachable(shown, error)
    if kind == "ProgrammingError" and "invalid connection option" in said(error):
        return StoreTrouble(
            f"The URL {shown} has an option no server knows.",
            hint="After the ? come options such as sslmode=require, service=NAME or connect_timeout=5.",
        )
    if kind == "DataError" and "NUL" in said(error):
        return BadInput(
            "A text holds a character with the number 0, which a server does not keep.",
            hint="Nothing was changed. Name the part, order or note without it.",
        )
    return None


def said(error: BaseException | None) -> str:
    """The first line of what a driver complains of."""
    return str(error).strip().partition("\n")[0]


LINE_STATES = ("08", "57P")
"""SQLSTATEs, by how they begin, after which nothing more comes over a line: its own troubles, a server going down."""


def line_lost(error: DBAPIError) -> bool:
    """Whether nobody is at the other end any more; then an answer may have been lost."""
    state = getattr(error.orig, "sqlstate", None)
    if state is not None:
        return error.connection_invalidated or str(state).startswith(LINE_STATES) or state == _IDLE
    return error.connection_invalidated or type(error.orig).__name__ == "OperationalError"


def broken(shown: str, so: str = "") -> StoreTrouble:
    """The refusal where a line that was there is no more. so: what became of the work."""
    return StoreTrouble(
        f"The line to the server of {shown} broke. {so}".rstrip(),
        hint="Check the network and that the server runs, then try again.",
    )


_IDLE = "25P03"
"""SQLSTATE of a half-done transaction that said nothing for too long and was given up."""


def _unreachable(shown: str, error: BaseException | None) -> StoreTrouble:
    # Said while connecting, so that no SQLSTATE comes with it; a server's own words come after FATAL.
    _, refused, why = str(error).partition("FATAL: ")
    why = why.strip().partition("\n")[0]
    if "does not exist" in why and "database" in why:
        return _no_database(shown)
    if "no password supplied" in why + str(error):
        return StoreTrouble(
            f"The server of {shown} asks for a password, and none was given.",
            hint=f"{_PASSWORDS} Look there.",
        )
    if refused:
        return StoreTrouble(
            f"The server of {shown} does not let us in: {why}.",
            hint=f"{_PASSWORDS} Ask whoever keeps the server whether your role may use this database.",
        )
    return StoreTrouble(
        f"The server of {shown} does not answer.",
        hint="Check that it runs, and the address and port in the URL.",
    )


def _no_database(shown: str) -> NoStore:
    return NoStore(
        f"There is no database at {shown}.", hint="Create it on the server, then run `kitdrawer begin`."
    )


def busy(shown: str) -> StoreBusy:
    """The refusal where somebody else holds the store for longer than we wait."""
    return StoreBusy(
        f"Another program is writing to {shown}.", hint="Wait until it has finished, then try again."
    )


def read_only(shown: str, why: str = "Check the permissions of the file and its folder.") -> StoreReadOnly:
    """The refusal where looking works and writing does not."""
    return StoreReadOnly(f"{shown} cannot be written.", hint=f"Nothing was changed. {why}")


def not_permitted(shown: str, why: str) -> StoreReadOnly:
    """The refusal where the server's role has too few rights."""
    return StoreReadOnly(
        f"Your role on the server may not do that in {shown}: {why}.",
        hint="Nothing was changed. Who owns the book can give the rights: see `kitdrawer admit --help`.",
    )
