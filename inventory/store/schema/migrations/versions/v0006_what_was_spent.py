"""What was spent beside parts; nothing is said so in books that are there.

Revision ID: 0006
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from inventory.store.schema.migrations.steps.tables import guard

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None

APPEND_ONLY = {"expense": ("document_id", "position")}


def upgrade() -> None:
    """What the classes say beyond version 0005."""
    op.create_table(
        "expense",
        sa.Column("document_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("on_date", sa.Date(), nullable=False),
        sa.Column("what", sa.String(), nullable=False),
        sa.Column("amount", sa.BigInteger(), nullable=False),
        sa.Column("at", sa.String(), nullable=False),
        sa.Column("order_id", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["document_id"], ["document.id"], name=op.f("fk_expense_document_id_document")
        ),
        sa.ForeignKeyConstraint(
            ["order_id"], ["customer_order.id"], name=op.f("fk_expense_order_id_customer_order")
        ),
        sa.PrimaryKeyConstraint("document_id", "position", name=op.f("pk_expense")),
    )
    for name, keys in APPEND_ONLY.items():
        guard(name, keys)
