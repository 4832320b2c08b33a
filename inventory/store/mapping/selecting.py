"""Rows as plain tuples: what a SELECT brings, whatever its columns."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, cast

from sqlalchemy import Connection, Select


def rows(connection: Connection, query: Select[*tuple[Any, ...]]) -> Iterator[tuple[Any, ...]]:
    """Run a SELECT and walk its rows."""
    return cast("Iterator[tuple[Any, ...]]", iter(connection.execute(query)))
