"""One cache of compiled SQL for all stores of a test process, and of what typer reads of a command's function.

A command makes its engine anew, and with it an empty cache: a process that runs one command compiles each statement
once, but a process of tests compiled the same forty thousands of times, which was a third of all the time they took.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, partial
from typing import Any

import pytest
import typer.main
from openpyxl.worksheet._reader import WorksheetReader
from openpyxl.worksheet.merge import MergedCellRange
from sqlalchemy import Connection, Engine, create_engine, event, inspect
from sqlalchemy.engine.default import DefaultDialect
from sqlalchemy.util import LRUCache

from inventory.store.schema import version as schema

Statements = list[tuple[str, Any]]


def share() -> None:
    """From now on dialects of one class are one key in one cache."""
    cache: LRUCache[Any, Any] = LRUCache(3_000)
    made = Engine.__init__

    def init(self: Engine, *arguments: Any, **named: Any) -> None:
        made(self, *arguments, **named)
        self._compiled_cache = cache

    Engine.__init__ = init  # type: ignore[method-assign]  # there is no hook for it
    DefaultDialect.__eq__ = lambda self, other: type(self) is type(other)  # type: ignore[method-assign]  # likewise
    DefaultDialect.__hash__ = lambda self: hash(type(self))  # type: ignore[method-assign]  # likewise


def read_commands_once() -> None:
    """What typer reads of a function's parameters, whose types it evaluates anew for each command."""
    typer.main.get_params_from_function = cache(typer.main.get_params_from_function)  # type: ignore[attr-defined]  # it is there by import


def merge_plainly() -> None:
    """Whoever opens a workbook to look or to write in it need not have lines drawn round merged cells once more.

    It is half of what opening a page takes. The program itself opens none with this library.
    """
    bind = WorksheetReader.bind_merged_cells

    def plainly(reader: Any) -> None:
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(MergedCellRange, "format", lambda _: None)
            bind(reader)

    WorksheetReader.bind_merged_cells = plainly  # type: ignore[assignment, method-assign]  # there is no hook for it


def make_tables_once() -> None:
    """The steps to a fresh book's tables are walked once a process, engine and version; then what they sent is sent."""
    known: dict[tuple[str, str], Statements] = {}
    walk = schema.upgrade

    def upgrade(connection: Connection, version: str = "head") -> None:
        if inspect(connection).has_table("alembic_version"):
            walk(connection, version)
            return
        key = connection.dialect.name, version
        if key not in known:
            known[key] = _sent(connection, partial(walk, connection, version))
            return
        for statement, parameters in known[key]:
            connection.exec_driver_sql(statement, parameters)

    schema.upgrade = upgrade
    with create_engine("sqlite://").begin() as connection:
        upgrade(connection)  # where lines are counted, whichever test is the first


def _sent(connection: Connection, walk: Callable[[], None]) -> Statements:
    """What a walk writes; what it asks, it asks of a book in which there is nothing."""
    sent: Statements = []

    def hear(_connection: Connection, _cursor: Any, statement: str, parameters: Any, *_rest: Any) -> None:
        if not statement.lstrip().startswith(("SELECT", "PRAGMA")):
            sent.append((statement, parameters))

    event.listen(connection, "before_cursor_execute", hear)
    try:
        walk()
    finally:
        event.remove(connection, "before_cursor_execute", hear)
    return sent
