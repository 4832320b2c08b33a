"""An open store: looking into it, and the transactions that write."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Self, TypeVar

from sqlalchemy import Connection, Engine, select

from inventory import leftovers
from inventory.errors import StoreBusy
from inventory.store import engine as engines
from inventory.store.copies import checksums
from inventory.store.db_errors import read_only, translated
from inventory.store.engine import WRITING, Whereabouts
from inventory.store.read import Read
from inventory.store.schema.columns import COLUMNS
from inventory.store.schema.core import table
from inventory.store.transaction import Remember, silent, whole

if TYPE_CHECKING:
    from inventory.ledger import Intake, Proposal
    from inventory.ledger.learned import LearnedFigures
    from inventory.store.commit.writer import Progress

_SHOP = table("shop")
T = TypeVar("T")


class ExclusiveSession(Read):
    """A look with the write lock held: the book stays as it is seen until this look ends."""

    def commit(self, proposal: Proposal, intake: Intake | None = None) -> int:
        """Book what was worked out from this look; it is there once the look has ended without an error.

        At most once a look. Returns and raises what `Store.commit` does.
        """
        from inventory.store.commit.writer import Writer  # who only looks never writes

        self._kept.clear()
        return Writer(self.connection, proposal).book(intake, {})


class Store:
    """An open store. Use it in a `with`; `reading()` looks, everything that writes is one document."""

    def __init__(self, where: Whereabouts, engine: Engine, *, writable: bool = True) -> None:
        self.where = where
        self.engine = engine
        self.writable = writable
        self.kept = None
        self.talk = silent
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
            with whole(connection, self.where, self.talk, lambda: self.remember):
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
    def exclusive(self) -> Iterator[ExclusiveSession]:
        """A look nobody can book behind, and the hand that books from it. Everybody else waits: never ask in it.

        Waits at most `engines.BUSY_SECONDS` for whoever writes, then raises StoreBusy. Nothing is changed where
        nothing is committed or an error leaves it.
        """
        with self.writing() as connection:
            yield ExclusiveSession(connection)

    def commit(
        self,
        proposal: Proposal,
        intake: Intake | None = None,
        *,
        settings: Mapping[str, str] | None = None,
        progress: Progress | None = None,
    ) -> int:
        """Book a proposed document, and what a set of sheets said beside it, whole or not at all.

        intake: catalogue and orders to merge; settings: text by key, added or replaced; progress: told how many
        lines are written, of how many. Returns the document's number. Raises BookMoved, AlreadyBooked, NotEnough,
        UnknownName, Refused or StoreTrouble; then nothing was changed.
        """
        from inventory.store.commit.writer import Writer

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


def _hold(connection: Connection) -> None:
    """On a server: keep the tables as they are while they are looked at, so that all waiting is done at once."""
    if connection.dialect.name == "postgresql":
        with engines.waiting_no_longer(connection):
            connection.exec_driver_sql(f"LOCK TABLE {', '.join(COLUMNS)} IN ACCESS SHARE MODE")
