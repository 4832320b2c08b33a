"""Rows as plain tuples: what a SELECT brings, whatever its columns."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, cast

from sqlalchemy import Connection, Select


def rows(connection: Connection, query: Select[*tuple[Any, ...]]) -> Iterable[tuple[Any, ...]]:
    """Run a SELECT and walk its rows."""
    return cast("Iterable[tuple[Any, ...]]", connection.execute(query))
