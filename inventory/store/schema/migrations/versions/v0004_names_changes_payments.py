"""Orders, substitutes and fingerprints called what the code calls them; old names, changed rows, what was paid.

Revision ID: 0004
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from inventory.store.schema.migrations.steps.tables import guard, index, make
from inventory.store.schema.migrations.steps.words import rename

revision = "0004"
down_revision = "0003"
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
RENAMED: dict[str, tuple[str, ...]] = {
    "plating_stand_in": ("stand_in_id",),
    "imprint": (),
    "wish": (),
    **dict.fromkeys(("wish_plating", "wish_step", "claim_balance", "session_plan"), ("wish_id",)),
    **dict.fromkeys(("outcome", "movement"), ("wish_id",)),
}
TABLES = {
    "sheet_row": "sheet:s* tab:s* row:s*",
    "old_name": "of_table:s* key:s* name:s number:i",
    "retired": "of_table:s* number:i*",
    "changed_row": "document_id:i*>document.id position:i* of_table:s row_key:s before:s? after:s?",
    "payment": "document_id:i*>document.id order_id:i*>customer_order.id amount:b",
}
USUAL = ("barrel", "bill_line", "blank", "kit", "material", "supply", "tube")
APPEND_ONLY = {"changed_row": ("document_id", "position"), "payment": ("document_id", "order_id")}


def upgrade() -> None:
    """The names, then the tables, columns and guards, and what the rows that are there already say in them."""
    op.execute("ALTER TABLE document RENAME COLUMN turn TO undo_depth")
    rename(RENAMED, WORDS)
    for name, text in TABLES.items():
        make(name, text)
    index("ix_changed_row_of_table_row_key", "changed_row", "of_table row_key")
    index("ix_payment_order_id", "payment", "order_id")
    _column("document", "booked_by", "")
    # in one statement, which SQLite knows: it cannot add a reference to a column that is there
    op.execute(
        "ALTER TABLE part ADD COLUMN into_id INTEGER CONSTRAINT fk_part_into_id_part REFERENCES part (id)"
    )
    for of in USUAL:
        _column(of, "usual", "[]")
    _column("pattern", "finish", "")
    _taken_as_paid()
    for name, keys in APPEND_ONLY.items():
        guard(name, keys)


def _column(of: str, name: str, default: str) -> None:
    op.add_column(of, sa.Column(name, sa.String(), server_default=default, nullable=False))


def _taken_as_paid() -> None:
    """Nobody could say so before: what was handed over is taken as paid then, so that undoing that undoes it too."""
    op.execute(
        "INSERT INTO payment (document_id, order_id, amount)"
        " SELECT max(step.document_id), one.id, coalesce(one.price, 0) * one.count"
        " FROM customer_order one JOIN order_step step ON step.order_id = one.id AND step.state = 'handed over'"
        " JOIN document ON document.id = step.document_id AND document.reverses IS NULL"
        " WHERE one.state = 'handed over' GROUP BY one.id, one.price, one.count"
    )
