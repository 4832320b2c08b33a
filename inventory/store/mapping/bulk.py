"""Rows written in sets. Thousands of rows go to the driver as they are: SQLAlchemy would look at each value first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from operator import itemgetter
from typing import Any

from sqlalchemy import Connection, Date, Table

Values = dict[str, Any]
"""One row by column name; all rows of a set have the same columns."""


def put(connection: Connection, into: Table, rows: Sequence[Values]) -> None:
    """Insert rows as one set; none is fine."""
    if rows:
        columns = list(rows[0])
        marks = ", ".join([_mark(connection)] * len(columns))
        names = ", ".join(_quoted(connection, columns))
        _send(connection, f"INSERT INTO {into.name} ({names}) VALUES ({marks})", into, columns, rows)


def change(connection: Connection, of: Table, key: str, rows: Sequence[Values]) -> None:
    """Set the other columns of the rows whose column `key` holds what the row says; none is fine."""
    if rows:
        columns = [name for name in rows[0] if name != key]
        mark = _mark(connection)
        values = ", ".join(f"{name} = {mark}" for name in _quoted(connection, columns))
        (where,) = _quoted(connection, [key])
        _send(connection, f"UPDATE {of.name} SET {values} WHERE {where} = {mark}", of, [*columns, key], rows)


def drop(connection: Connection, out_of: Table, by: str, numbers: Iterable[int]) -> None:
    """Delete the rows whose column `by` holds one of these numbers."""
    rows = [(number,) for number in numbers]
    if rows:
        (where,) = _quoted(connection, [by])
        connection.exec_driver_sql(f"DELETE FROM {out_of.name} WHERE {where} = {_mark(connection)}", rows)


def _send(connection: Connection, sql: str, of: Table, columns: list[str], rows: Sequence[Values]) -> None:
    found: Iterable[tuple[Any, ...]] = (
        map(itemgetter(*columns), rows) if len(columns) > 1 else ((row[columns[0]],) for row in rows)
    )
    dates = [at for at, name in enumerate(columns) if isinstance(of.c[name].type, Date)]
    if dates and connection.dialect.name == "sqlite":  # which has no dates, only text
        found = (_spelled(values, dates) for values in found)
    connection.exec_driver_sql(sql, list(found))


def _spelled(values: Sequence[Any], dates: list[int]) -> tuple[Any, ...]:
    spelled = list(values)
    for at in dates:
        if spelled[at] is not None:
            spelled[at] = spelled[at].isoformat()
    return tuple(spelled)


def _mark(connection: Connection) -> str:
    return "?" if connection.dialect.name == "sqlite" else "%s"


def _quoted(connection: Connection, names: Iterable[str]) -> list[str]:
    return [connection.dialect.identifier_preparer.quote(name) for name in names]
