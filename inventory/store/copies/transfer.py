"""A whole book carried to another place: from a file to a server, back, or from one server to the next."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, MetaData, Table, func, select

from inventory.errors import StoreTrouble
from inventory.store import engine
from inventory.store.check.proof import problems
from inventory.store.commit.writer import Progress
from inventory.store.creating import make
from inventory.store.mapping.bulk import put
from inventory.store.schema.core import every_table
from inventory.store.store import Store

_EVERY = every_table()
_PORTION = 5_000


@dataclass(frozen=True, slots=True)
class Carried:
    """What was carried: where to (without a password), and how many rows of how many tables."""

    shown: str
    tables: int
    rows: int


@dataclass(slots=True)
class Digest:
    """What a table holds, whatever the order of its rows: how many, and the sum of a hash of each."""

    rows: int = 0
    sum: int = 0

    def add(self, rows: Sequence[tuple[Any, ...]]) -> None:
        """Take rows in; None, numbers, texts, days and yes or no are told apart."""
        self.rows += len(rows)
        for row in rows:
            self.sum += int.from_bytes(sha256(repr(row).encode("utf-8", "surrogatepass")).digest())


def carry(store: Store, target: str | Path, progress: Progress | None = None) -> Carried:
    """Copy every row of a store, as of one moment, to a place where nothing is, and prove it there.

    All happens in one transaction at the target: it appears whole, equal row by row and sound, or not at all. The
    store it came from stays as it is, and may be used meanwhile. progress: told how many rows are carried, of how
    many. Raises StoreTrouble, or BadInput for what the target cannot hold.
    """
    place = engine.find(target)
    carried: dict[str, Digest] = {}
    with store.reading() as read:

        def fill(connection: Connection) -> None:
            carried.update(pour(read.connection, connection, progress))
            _prove(connection, carried, place.shown)

        make(place, fill)
    return Carried(place.shown, len(carried), sum(one.rows for one in carried.values()))


def digests(connection: Connection, tables: MetaData = _EVERY) -> dict[str, Digest]:
    """What every table holds, by name: two books with the same digests are the same book."""
    found = {}
    for table in tables.sorted_tables:
        digest = found[table.name] = Digest()
        for rows in _portions(connection, table):
            digest.add(rows)
    return found


def pour(
    source: Connection, target: Connection, progress: Progress | None, tables: MetaData = _EVERY
) -> dict[str, Digest]:
    """Copy all rows: each table after those it refers to, each row after the earlier ones of its own table.

    progress: told how many rows are copied, of how many. Returns what was sent, by table.
    """
    counts = (
        source.execute(select(func.count()).select_from(one)).scalar_one() for one in tables.sorted_tables
    )
    total, done = sum(counts), 0
    poured = {}
    for table in tables.sorted_tables:
        digest = poured[table.name] = Digest()
        names = [column.name for column in table.columns]
        for rows in _portions(source, table):
            digest.add(rows)
            put(target, table, [dict(zip(names, row, strict=True)) for row in rows])
            done += len(rows)
            if progress is not None:
                progress(done, total)
    return poured


def _prove(connection: Connection, carried: dict[str, Digest], shown: str) -> None:
    if connection.dialect.name == "postgresql":
        connection.exec_driver_sql("ANALYZE")  # else the proof's large joins are planned for empty tables
    same(connection, carried, shown)
    if found := tuple(problems(connection)):
        raise StoreTrouble(
            f"The book is not sound: {found[0]}",
            hint="Nothing was carried. Run `kitdrawer verify` on the book as it is.",
        )


def same(connection: Connection, sent: Mapping[str, Digest], shown: str, tables: MetaData = _EVERY) -> None:
    """Raise StoreTrouble where what arrived is not what was sent."""
    arrived = digests(connection, tables)
    differing = [name for name, digest in sent.items() if arrived[name] != digest]
    if differing:
        raise StoreTrouble(
            f"What arrived at {shown} is not what was sent: {', '.join(differing)} differ.",
            hint="Nothing was kept there, and the book it came from is as it was.",
        )


def _portions(connection: Connection, table: Table) -> Iterator[list[tuple[Any, ...]]]:
    query = select(table).order_by(*table.primary_key.columns).execution_options(stream_results=True)
    with connection.execute(query) as found:
        while rows := found.fetchmany(_PORTION):
            yield [tuple(row) for row in rows]
