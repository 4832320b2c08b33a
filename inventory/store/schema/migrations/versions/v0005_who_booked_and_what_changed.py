"""Who booked, old names, what is retired, merged and changed.

Revision ID: 0005
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from inventory.store.schema.migrations.steps.tables import guard

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """What the classes say beyond version 0004."""
    op.create_table(
        "old_name",
        sa.Column("of_table", sa.String(), autoincrement=False, nullable=False),
        sa.Column("key", sa.String(), autoincrement=False, nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("of_table", "key", name=op.f("pk_old_name")),
    )
    op.create_table(
        "retired",
        sa.Column("of_table", sa.String(), autoincrement=False, nullable=False),
        sa.Column("number", sa.Integer(), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("of_table", "number", name=op.f("pk_retired")),
    )
    op.create_table(
        "changed_row",
        sa.Column("document_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("of_table", sa.String(), nullable=False),
        sa.Column("row_key", sa.String(), nullable=False),
        sa.Column("before", sa.String(), nullable=True),
        sa.Column("after", sa.String(), nullable=True),
        sa.ForeignKeyConstraint(
            ["document_id"], ["document.id"], name=op.f("fk_changed_row_document_id_document")
        ),
        sa.PrimaryKeyConstraint("document_id", "position", name=op.f("pk_changed_row")),
    )
    op.create_index("ix_changed_row_of_table_row_key", "changed_row", ["of_table", "row_key"], unique=False)
    op.add_column("document", sa.Column("booked_by", sa.String(), server_default="", nullable=False))
    # in one statement, which SQLite knows: it cannot add a reference to a column that is there
    op.execute(
        "ALTER TABLE part ADD COLUMN into_id INTEGER CONSTRAINT fk_part_into_id_part REFERENCES part (id)"
    )
    guard("changed_row", ("document_id", "position"))
