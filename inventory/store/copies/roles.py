"""The least a role on a server needs: to work in a book, or only to look into it."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import Table
from sqlalchemy.dialects.postgresql.base import PGDialect

from inventory.store.check.structure import GUARDED
from inventory.store.schema.core import every_table

_SUMS = ("lot_balance", "part_balance", "due_balance")
"""Derived tables whose rows stay once they are there."""


def rights(role: str, *, look: bool = False, schema: str = "public") -> tuple[str, ...]:
    """The SQL statements that give a role its rights in a book, and take every other away.

    look: reading alone. Otherwise rows of what happened may be added, never changed or deleted; of the shop only the
    version changes; named things and sums are never deleted. They are for the owner of the tables to run.
    """
    quote = PGDialect().identifier_preparer.quote_identifier  # type: ignore[no-untyped-call]  # SQLAlchemy's own
    who, inside = quote(role), quote(schema)
    return (
        f"REVOKE CREATE ON SCHEMA {inside} FROM PUBLIC;",
        f"REVOKE ALL ON SCHEMA {inside} FROM {who};",
        f"REVOKE ALL ON ALL TABLES IN SCHEMA {inside} FROM {who};",
        f"GRANT USAGE ON SCHEMA {inside} TO {who};",
        *(
            f"GRANT {verbs} ON {inside}.{quote(name)} TO {who};"
            for name, verbs in (("alembic_version", "SELECT"), *_of_tables(look))
        ),
    )


def _of_tables(look: bool) -> Iterator[tuple[str, str]]:
    for name, table in sorted(every_table().tables.items()):
        yield name, "SELECT" if look else f"SELECT, {_writing(table)}"


def _writing(table: Table) -> str:
    if table.name in GUARDED:
        return "INSERT"
    if table.name == "shop":
        return "UPDATE (version)"
    if table.name in _SUMS or {"id", "key", "name"} <= set(table.columns.keys()):
        return "INSERT, UPDATE"
    return "INSERT, UPDATE, DELETE"
