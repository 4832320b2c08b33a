"""What there is after a fault, read without the program's own eyes: rows of stores, cells of workbooks, bytes."""

from __future__ import annotations

import hashlib
import re
import sqlite3
import zipfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import closing, contextmanager
from datetime import date
from pathlib import Path
from typing import Any

STORE = "the book"
"""The item of a world that is the store the command worked on."""
NOTHING = "nothing"
Ask = Callable[[str], Sequence[tuple[Any, ...]]]
World = Mapping[str, str]
"""What each place holds, as a digest; a place that is not there is missing."""
UNLIKE = {"document": {"booked_at"}, "shop": {"mark"}}
"""Columns that differ from one run to the next: the clock, and what tells one new book from another."""
_STAMP = re.compile(r"\d{8}-\d{6}-\d{6}")


def world(store: str, folder: Path) -> World:
    """The store and every file of the folder a person would see, but logs beside stores."""
    found = {}
    if there(store):
        found[STORE] = picture(store) if "://" in store else content(Path(store))
    for path in sorted(folder.rglob("*")):
        shown = str(path.relative_to(folder))
        if path.is_file() and not re.search(r"(^|/)\.|-(wal|shm|journal)$", shown) and str(path) != store:
            found[_STAMP.sub("STAMP", shown)] = content(path)
    return found


def there(store: str) -> bool:
    """Whether a store stands there: a file, or a database with tables in it."""
    return bool(asked(store, _names(store))) if "://" in store else Path(store).exists()


def picture(store: str) -> str:
    """Every row of every table, as one digest; neither the order of rows matters nor where the store is."""
    sums = {}
    for table, rows in tables(store).items():
        total = sum(int.from_bytes(hashlib.sha256(repr(_plain(row)).encode()).digest()) for row in rows)
        sums[table] = (len(rows), total)
    return hashlib.sha256(repr(sorted(sums.items())).encode()).hexdigest()


def _plain(row: tuple[Any, ...]) -> tuple[Any, ...]:
    """A row as a file keeps it: days as text, yes and no as numbers."""
    texts = [value.isoformat() if isinstance(value, date) else value for value in row]
    return tuple(int(value) if isinstance(value, bool) else value for value in texts)


def tables(store: str) -> dict[str, list[tuple[Any, ...]]]:
    """The rows of every table by its name, without the columns that differ between runs."""
    with asking(store) as ask:
        return {name: _rows(ask, name, server="://" in store) for (name,) in ask(_names(store))}


@contextmanager
def asking(store: str) -> Iterator[Ask]:
    """Ask plain queries of a file or a server."""
    if "://" not in store:
        with closing(sqlite3.connect(f"{Path(store).as_uri()}?mode=rw", uri=True, timeout=20)) as connection:
            yield lambda query: connection.execute(query).fetchall()
        return
    import psycopg

    with psycopg.connect(store, autocommit=True) as server:
        yield lambda query: server.execute(query.encode()).fetchall()


def asked(store: str, query: str) -> Sequence[tuple[Any, ...]]:
    """The rows one plain query gives."""
    with asking(store) as ask:
        return ask(query)


def content(path: Path) -> str:
    """What a file says: the rows of a store, the cells of a workbook whenever it was made, else its bytes."""
    data = path.read_bytes()
    if data.startswith(b"SQLite format 3"):
        return picture(str(path))
    if data.startswith(b"PK"):
        with zipfile.ZipFile(path) as archive:
            assert archive.testzip() is None, path
            names = [name for name in archive.namelist() if not name.startswith("docProps/")]
            data = b"".join(name.encode() + archive.read(name) for name in sorted(names))
    return hashlib.sha256(data).hexdigest()


def _names(store: str) -> str:
    if "://" in store:
        return "SELECT tablename FROM pg_tables WHERE schemaname = 'public' ORDER BY tablename"
    return "SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name"


def _rows(ask: Ask, table: str, *, server: bool) -> list[tuple[Any, ...]]:
    left_out = UNLIKE.get(table, set())
    if not left_out:
        return list(ask(f'SELECT * FROM "{table}"'))
    query = f"SELECT name FROM pragma_table_info('{table}')"
    if server:
        query = (
            "SELECT column_name FROM information_schema.columns WHERE table_schema = 'public' "
            f"AND table_name = '{table}' ORDER BY ordinal_position"
        )
    columns = ", ".join(f'"{name}"' for (name,) in ask(query) if name not in left_out)
    return list(ask(f'SELECT {columns} FROM "{table}"'))
