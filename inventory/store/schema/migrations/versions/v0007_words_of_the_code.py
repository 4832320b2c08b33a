"""Tables and columns called what the code calls them: orders, substitutes, fingerprints, depths of undoing.

Revision ID: 0007
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import sqlalchemy as sa
from alembic import op

from inventory.store.schema.migrations.steps.words import rename

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

WORDS = {
    "wish_step": "order_step",
    "wish_plating": "order_plating",
    "wish_id": "order_id",
    "wish": "customer_order",
    "plating_stand_in": "plating_substitute",
    "stand_in_id": "substitute_id",
    "imprint": "document_fingerprint",
}
TABLES: dict[str, tuple[str, ...]] = {
    "plating_stand_in": ("stand_in_id",),
    "imprint": (),
    "wish": (),
    **dict.fromkeys(("wish_plating", "wish_step", "claim_balance", "session_plan"), ("wish_id",)),
    **dict.fromkeys(("outcome", "movement"), ("wish_id",)),
}


def upgrade() -> None:
    """The names, and what earlier names and notes of changed rows say of them."""
    op.execute("ALTER TABLE document RENAME COLUMN turn TO undo_depth")
    rename(TABLES, WORDS)
    for table in ("old_name", "retired"):
        op.execute(f"UPDATE {table} SET of_table = 'customer_order' WHERE of_table = 'wish'")
    with _unguarded("changed_row"):
        for before, now in WORDS.items():
            op.execute(f"UPDATE changed_row SET of_table = '{now}' WHERE of_table = '{before}'")
            for column in ("row_key", "before", "after"):
                op.execute(
                    f"""UPDATE changed_row SET {column} = replace({column}, '"{before}":', '"{now}":')"""
                )


@contextmanager
def _unguarded(table: str) -> Iterator[None]:
    """While rows that are never changed are told in other words."""
    if op.get_bind().dialect.name == "postgresql":
        op.execute(f"ALTER TABLE {table} DISABLE TRIGGER USER")
        yield
        op.execute(f"ALTER TABLE {table} ENABLE TRIGGER USER")
        return
    rows = sa.text("SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = :of")
    guards = [(str(name), str(sql)) for name, sql in op.get_bind().execute(rows, {"of": table})]
    for name, _ in guards:
        op.execute(f"DROP TRIGGER {name}")
    yield
    for _, statement in guards:
        op.execute(statement)
