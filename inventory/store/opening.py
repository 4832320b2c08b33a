"""Beginning a store, opening one, and the transactions in it."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping
from contextlib import AbstractContextManager, ExitStack, contextmanager
from datetime import date
from itertools import chain
from pathlib import Path
from secrets import token_hex
from types import TracebackType
from typing import Self, TypeVar

from sqlalchemy import Connection, Engine, insert, inspect, select, text
from sqlalchemy.exc import DBAPIError

from inventory import __version__, leftovers
from inventory.errors import NoStore, StoreBusy, StoreTrouble
from inventory.ledger import Intake, Proposal
from inventory.ledger.sessions import LearnedFigures
from inventory.store import engine as engines
from inventory.store.commit.writer import Progress, Writer
from inventory.store.copies import checksums
from inventory.store.db_errors import read_only, translated
from inventory.store.engine import MAKING, WRITING, Whereabouts
from inventory.store.queries.read import Read
from inventory.store.schema import version as schema
from inventory.store.schema.core import METADATA, table

_SHOP, _SETTING = table("shop"), table("setting")
T = TypeVar("T")
_MAKING = 7_046_127
"""The server's lock for making a store; any number will do, as long as it is always the same."""


Remember = Callable[[str], AbstractContextManager[object]]
"""Keeps in mind, by its ticket, a write whose end is under way: entered before it is sent, left once it is answered."""


def _silent(_: str) -> None:
    pass


class Alone(Read):
    """A look with the write lock held: the book stays as it is seen until this look ends."""

    def commit(self, proposal: Proposal, intake: Intake | None = None) -> int:
        """Book what was worked out from this look; it is there once the look has ended without an error.

        At most once a look. Returns and raises what `Store.commit` does.
        """
        return Writer(self.connection, proposal).book(intake, {})


class Store:
    """An open store. Use it in a `with`; `reading()` looks, everything that writes is one document."""

    def __init__(self, where: Whereabouts, engine: Engine, *, writable: bool = True) -> None:
        self.where = where
        self.engine = engine
        self.writable = writable
        self.kept = None
        self.talk = _silent
        self.remember = None
        self._said = False

    talk: Callable[[str], None]
    """Told what a person should know while it happens: that others are waited for, that an answer was looked up."""
    remember: Remember | None
    """Set while a document is booked, so that it can be found again should this program be killed at its end."""
    kept: Path | None
    """Where the book as it was is, if opening it brought it up to date."""

    @property
    def shown(self) -> str:
        """Where the store is, without its password."""
        return self.where.shown

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file or server; safe to call twice."""
        self.engine.dispose()

    @contextmanager
    def reading(self, *, waits: int = engines.PATIENCE) -> Iterator[Read]:
        """One consistent look: everything read inside belongs to the same moment.

        waits: how often it waits BUSY_SECONDS for somebody who keeps even those out who only look, then StoreBusy.
        """
        with translated(self.shown), self.patiently(self._looking, waits) as connection:
            yield Read(connection)

    def _looking(self) -> Connection:
        with translated(self.shown):
            connection = self.engine.connect()
            try:
                if connection.dialect.name == "postgresql":
                    connection.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)
                connection.begin()
                _hold(connection)
            except BaseException:
                connection.close()
                raise
            return connection

    def patiently(self, once: Callable[[], T], waits: int = engines.PATIENCE) -> T:
        """What `once` gives, tried again where it raises StoreBusy, so often; that others are waited for is said."""
        for _ in range(1, waits):
            try:
                return once()
            except StoreBusy:
                self.waiting()
        return once()

    def waiting(self) -> None:
        """Say, once, that others are waited for."""
        if not self._said:
            self._said = True
            self.talk("Another program is writing to this store; waiting for it.")

    @contextmanager
    def writing(self, how: Mapping[str, object] = WRITING) -> Iterator[Connection]:
        """One write, alone: the shop's row is locked until it is committed or rolled back as a whole.

        how: execution options. Raises StoreUnsure where a server's last answer is lost and cannot be looked up.
        """
        if not self.writable:
            raise read_only(self.shown)
        if self.where.file is not None:
            leftovers.clear(self.where.file)
        with translated(self.shown), self.engine.connect() as connection:
            connection.execution_options(**how)
            with _whole(connection, self.where, self.talk, lambda: self.remember):
                with engines.waiting_no_longer(connection):
                    connection.execute(select(_SHOP.c.version).with_for_update())
                checksums.take_off(connection)
                yield connection

    def outcome(self, ticket: str) -> str:
        """What became of a write by its ticket (see `remember`): `booked`, `not booked` or, on a server, `unknown`."""
        if self.where.url is None:
            from inventory.store.commit.marks import stands

            with self.reading() as read:
                return "booked" if stands(read.connection, ticket) else "not booked"
        from inventory.store.commit.outcomes import look

        return look(lambda: engines.engine(self.where), ticket)

    @contextmanager
    def alone(self) -> Iterator[Alone]:
        """A look nobody can book behind, and the hand that books from it. Everybody else waits: never ask in it.

        Waits at most `engines.BUSY_SECONDS` for whoever writes, then raises StoreBusy. Nothing is changed where
        nothing is committed or an error leaves it.
        """
        with self.writing() as connection:
            yield Alone(connection)

    def commit(
        self,
        proposal: Proposal,
        intake: Intake | None = None,
        *,
        settings: Mapping[str, str] | None = None,
        progress: Progress | None = None,
    ) -> int:
        """Book a proposed document, and what a set of sheets said beside it, whole or not at all.

        intake: catalogue and wishes to merge; settings: text by key, added or replaced; progress: told how many
        lines are written, of how many. Returns the document's number. Raises BookMoved, AlreadyBooked, NotEnough,
        UnknownName, Refused or StoreTrouble; then nothing was changed.
        """
        with self.writing() as connection:
            return Writer(connection, proposal, progress).book(intake, settings or {})

    def learn(self, anew: Callable[[Read], LearnedFigures]) -> None:
        """Put figures worked out anew in place of the kept ones; they are derived, so no document is booked."""
        from inventory.store.commit.sessions import put_learned
        from inventory.store.mapping.names import Names

        with self.writing() as connection:
            put_learned(connection, anew(Read(connection)), Names(connection))

    def undo(self, document: int | None = None, *, on: date) -> Proposal:
        """The proposal that takes a document back, as `Read.undo` tells it; book it with `commit`."""
        with self.reading() as read:
            return read.undo(document, on=on)


def open_store(where: str | Path, *, keep: bool = True, talk: Callable[[str], None] = _silent) -> Store:
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


@contextmanager
def _whole(
    connection: Connection,
    where: Whereabouts,
    talk: Callable[[str], None] = _silent,
    remember: Callable[[], Remember | None] = lambda: None,
) -> Iterator[None]:
    """A transaction that is there as a whole or not at all; on a server it is looked up where the answer is lost.

    remember: asked at the end of it whether it is to be kept in mind.
    """
    if where.url is None:
        with ExitStack() as until_answered, connection.begin():
            yield
            if (kept := remember()) is not None:
                from inventory.store.commit.marks import newest

                until_answered.enter_context(kept(newest(connection)))
        return
    from inventory.store.commit.outcomes import surely

    with surely(connection, lambda: engines.engine(where), where.shown, talk, remember):
        yield


def _hold(connection: Connection) -> None:
    """On a server: keep the tables as they are while they are looked at, so that all waiting is done at once."""
    if connection.dialect.name == "postgresql":
        with engines.waiting_no_longer(connection):
            connection.exec_driver_sql(f"LOCK TABLE {', '.join(METADATA.tables)} IN ACCESS SHARE MODE")


Fill = Callable[[Connection], None]
"""Puts the first rows into tables just made, in the transaction that made them."""


def begin(where: str | Path, currency: str, settings: Mapping[str, str] | None = None) -> Store:
    """Make a new, empty store and open it. currency: an ISO 4217 code; settings: text by key.

    A file appears whole or not at all, and never replaces one that is there. Raises StoreTrouble.
    """

    def first_rows(connection: Connection) -> None:
        shop = {"id": 1, "version": 0, "currency": currency, "program": __version__, "mark": token_hex(6)}
        connection.execute(insert(_SHOP), shop)
        if settings:
            connection.execute(insert(_SETTING), [{"key": k, "value": v} for k, v in settings.items()])

    make(engines.find(where), first_rows)
    return open_store(where)


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
            with _whole(connection, place):
                if place.file is None:
                    _nothing_there(connection, place.shown)
                schema.upgrade(connection, version)
                fill(connection)
    finally:
        engine.dispose()


def _nothing_there(connection: Connection, shown: str) -> None:
    """Refuse a database that holds a store, or somebody's table of the same name, or where one is just being made."""
    connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_MAKING})")
    if {*METADATA.tables, "alembic_version"}.intersection(inspect(connection).get_table_names()):
        raise _already(shown)


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


def _already(shown: str) -> StoreTrouble:
    return StoreTrouble(
        f"There is already something at {shown}.",
        hint="Use it as it is, or begin a store under another name.",
    )
