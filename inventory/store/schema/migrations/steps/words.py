"""Tables and columns called otherwise, with the names of their keys, indexes and guards.

A server renames each. SQLite cannot rename a constraint, so there a table is made anew from its own words, filled and
put in the place of the former one; nothing else refers to what is made anew.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import sqlalchemy as sa
from alembic import op

Words = Mapping[str, str]
"""What is called otherwise, longer words before the shorter ones in them."""


def said_now(text: str, words: Words) -> str:
    """A name, or a statement of a table, in the words of now."""
    for before, now in words.items():
        text = text.replace(before, now)
    return text


def rename(tables: Mapping[str, tuple[str, ...]], words: Words) -> None:
    """Rename tables and their columns. tables: each with those of its columns that change, parents first."""
    if op.get_bind().dialect.name == "postgresql":
        _on_a_server(tables, words)
    else:
        _made_anew(tuple(tables), words)


def _made_anew(tables: tuple[str, ...], words: Words) -> None:
    said = {table: list(_statements(table)) for table in tables}
    for table in tables:
        op.execute(f"ALTER TABLE {table} RENAME TO {table}_before")
    for table in tables:
        op.execute(said_now(said[table][0], words))
        op.execute(f"INSERT INTO {said_now(table, words)} SELECT * FROM {table}_before")
    for table in reversed(tables):
        op.execute(f"DROP TABLE {table}_before")
    for table in tables:
        for statement in said[table][1:]:
            op.execute(said_now(statement, words))


def _statements(table: str) -> Iterator[str]:
    """The statement that makes a table, then those of its indexes and triggers."""
    rows = sa.text(
        "SELECT sql FROM sqlite_master WHERE tbl_name = :of AND sql IS NOT NULL ORDER BY type <> 'table', rowid"
    )
    for statement in op.get_bind().execute(rows, {"of": table}).scalars():
        yield str(statement)


def _on_a_server(tables: Mapping[str, tuple[str, ...]], words: Words) -> None:
    for table, columns in tables.items():
        for column in columns:
            op.execute(f"ALTER TABLE {table} RENAME COLUMN {column} TO {said_now(column, words)}")
        for kind, name in list(_named_by(table)):
            if said_now(name, words) != name:
                where = "" if kind == "INDEX" else f" ON {table}"
                how = (
                    f"ALTER TABLE {table} RENAME CONSTRAINT {name} TO"
                    if kind == "CONSTRAINT"
                    else f"ALTER {kind} {name}{where} RENAME TO"
                )
                op.execute(f"{how} {said_now(name, words)}")
        if said_now(table, words) != table:
            op.execute(f"ALTER TABLE {table} RENAME TO {said_now(table, words)}")


def _named_by(table: str) -> Iterator[tuple[str, str]]:
    """Constraints, indexes that are none, and triggers of a table."""
    rows = sa.text(
        "SELECT 'CONSTRAINT', conname FROM pg_constraint WHERE conrelid = CAST(:of AS regclass)"
        " UNION ALL SELECT 'INDEX', of.relname FROM pg_index i JOIN pg_class of ON of.oid = i.indexrelid"
        " WHERE i.indrelid = CAST(:of AS regclass)"
        " AND NOT EXISTS (SELECT 1 FROM pg_constraint c WHERE c.conindid = i.indexrelid)"
        " UNION ALL SELECT 'TRIGGER', tgname FROM pg_trigger"
        " WHERE tgrelid = CAST(:of AS regclass) AND NOT tgisinternal"
    )
    for kind, name in op.get_bind().execute(rows, {"of": table}):
        yield str(kind), str(name)
