"""Beginning a store, and opening one that is there."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from itertools import chain
from pathlib import Path

from sqlalchemy import Connection, insert, text
from sqlalchemy.exc import DBAPIError

from inventory import __version__
from inventory.errors import NoStore, StoreTrouble
from inventory.store import engine as engines
from inventory.store.db_errors import translated
from inventory.store.engine import Whereabouts
from inventory.store.schema import version as schema
from inventory.store.schema.core import table
from inventory.store.store import Store
from inventory.store.transaction import silent

_SHOP, _SETTING = table("shop"), table("setting")


def begin(where: str | Path, currency: str, settings: Mapping[str, str] | None = None) -> Store:
    """Make a new, empty store and open it. currency: an ISO 4217 code; settings: text by key.

    A file appears whole or not at all, and never replaces one that is there. Raises StoreTrouble.
    """
    from secrets import token_hex  # a book is begun once, and opened ever after

    from inventory.store.creating import make

    def first_rows(connection: Connection) -> None:
        shop = {"id": 1, "version": 0, "currency": currency, "program": __version__, "mark": token_hex(6)}
        connection.execute(insert(_SHOP), shop)
        if settings:
            connection.execute(insert(_SETTING), [{"key": k, "value": v} for k, v in settings.items()])

    make(engines.find(where), first_rows)
    return open_store(where)


def open_store(where: str | Path, *, keep: bool = True, talk: Callable[[str], None] = silent) -> Store:
    """Open the store at a path or database URL, bringing its tables up to date where they are older.

    keep: first copy an older book as it is; False for what is a copy itself. talk: see `Store.talk`. Raises NoStore,
    NotAStore, NewerStore, StoreBusy, StoreReadOnly or StoreTrouble.
    """
    store = _readable(_there(where))
    store.talk = talk
    try:
        _up_to_date(store, keep=keep)
    except BaseException:
        store.close()
        raise
    return store


def _there(where: str | Path) -> Whereabouts:
    place = engines.find(where)
    if place.file is not None and not place.file.exists():
        raise _nothing(place.shown)
    if place.file is not None and not place.file.is_file():
        raise schema.not_a_store(place.shown)
    return place


def open_to_look(where: str | Path) -> Store:
    """Open the store at a path or database URL as it is: the database itself refuses whatever would be written.

    Raises NoStore, NotAStore, NewerStore, StoreBusy or StoreTrouble, also where its tables are older.
    """
    place = _there(where)
    store = _readable(place, read_only=True)
    try:
        found = store.patiently(lambda: _version(store))
        if found != schema.HEAD:
            raise StoreTrouble(
                f"{store.shown} has the tables of an earlier version.",
                hint="Any command of kitdrawer brings them up to date, say `kitdrawer shelf`.",
            )
    except BaseException:
        store.close()
        raise
    return store


def _readable(place: Whereabouts, *, read_only: bool = False) -> Store:
    """The store with the most access that works: a file in a folder one may only look into still opens."""
    if place.file is None:
        return Store(place, engines.engine(place, "ro" if read_only else ""), writable=not read_only)
    for access in chain(() if read_only else ("",), engines.reading_accesses(place.file)):
        store = Store(place, engines.engine(place, access), writable=not access)
        try:
            with store.engine.connect() as connection:
                connection.execute(text("SELECT count(*) FROM sqlite_master"))
        except DBAPIError as error:
            store.close()
            if not engines.cannot_lock(error.orig):
                with translated(place.shown):
                    raise
        else:
            store.writable = not access and os.access(place.file, os.W_OK)
            return store
    raise StoreTrouble(
        f"{place.shown} cannot be opened.", hint="Check the permissions of the file and of its folder."
    )


def _up_to_date(store: Store, *, keep: bool) -> None:
    if store.patiently(lambda: _version(store)) != schema.HEAD:
        from inventory.store.copies.upgrade import bring_up_to_date

        store.kept = store.patiently(lambda: bring_up_to_date(store, keep=keep))


def _version(store: Store) -> str:
    with translated(store.shown), store.engine.connect() as connection:
        if store.where.file is not None and store.where.file.stat().st_size == 0:
            raise schema.not_a_store(store.shown)
        nothing = None if store.where.url is None else _nothing(store.shown)
        return schema.revision(connection, store.shown, nothing)


def _nothing(shown: str) -> NoStore:
    return NoStore(f"There is no store at {shown}.", hint="Make one with `kitdrawer begin`.")
