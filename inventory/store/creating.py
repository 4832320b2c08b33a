"""Making a store where nothing is: tables and first rows, all of it or nothing."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

from sqlalchemy import Connection, inspect

from inventory import leftovers
from inventory.errors import StoreTrouble
from inventory.store import engine as engines
from inventory.store.db_errors import translated
from inventory.store.engine import MAKING, Whereabouts
from inventory.store.schema import version as schema
from inventory.store.schema.columns import COLUMNS
from inventory.store.transaction import whole

_MAKING = 7_046_127
"""The server's lock for making a store; any number will do, as long as it is always the same."""

Fill = Callable[[Connection], None]
"""Puts the first rows into tables just made, in the transaction that made them."""


def make(place: Whereabouts, fill: Fill, version: str = schema.HEAD) -> None:
    """Make the tables at a place where nothing is and fill them: all of it, or nothing. Raises StoreTrouble.

    version: of the tables, see `schema.VERSIONS`.
    """
    if place.file is None:
        with translated(place.shown):
            _fill(place, fill, version)
    else:
        _make_file(place.file, fill, version)


def _make_file(file: Path, fill: Fill, version: str) -> None:
    from inventory.store.copies.copy import to_disk

    if file.exists():
        raise _already(str(file))
    leftovers.clear(file)
    fresh = leftovers.unfinished(file)
    with translated(str(file)):
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            fresh.touch(engines.PRIVATE, exist_ok=False)
        except OSError as error:
            hint = f"{error.strerror}: choose another place with --store."
            raise StoreTrouble(f"No file can be made at {file}.", hint=hint) from None
        try:
            _fill(Whereabouts(file=fresh), fill, version)
            _appear(fresh, file)
        finally:
            fresh.unlink(missing_ok=True)
        to_disk(file.parent)


def _appear(fresh: Path, file: Path) -> None:
    try:
        os.link(fresh, file)  # unlike a rename, it fails where somebody else was quicker
    except FileExistsError:
        raise _already(str(file)) from None
    except OSError:  # a file system without hard links
        fresh.rename(file)


def _fill(place: Whereabouts, fill: Fill, version: str) -> None:
    engine = engines.engine(place)
    try:
        with engine.connect() as connection:
            if place.file is not None:
                connection.connection.driver_connection.execute("PRAGMA journal_mode = WAL")  # type: ignore[union-attr]  # a sqlite3 connection here
            connection.execution_options(**MAKING)
            with whole(connection, place):
                if place.file is None:
                    _nothing_there(connection, place.shown)
                schema.upgrade(connection, version)
                fill(connection)
    finally:
        engine.dispose()


def _nothing_there(connection: Connection, shown: str) -> None:
    """Refuse a database that holds a store, or somebody's table of the same name, or where one is just being made."""
    connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_MAKING})")
    if {*COLUMNS, "alembic_version"}.intersection(inspect(connection).get_table_names()):
        raise _already(shown)


def _already(shown: str) -> StoreTrouble:
    return StoreTrouble(
        f"There is already something at {shown}.",
        hint="Use it as it is, or begin a store under another name.",
    )
