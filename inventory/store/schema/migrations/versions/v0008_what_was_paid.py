"""What was paid.

Revision ID: 0008
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from inventory.store.schema.migrations.steps.tables import guard

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """What the classes say beyond version 0007."""
    op.create_table(
        "payment",
        sa.Column("document_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("order_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("amount", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(
            ["document_id"], ["document.id"], name=op.f("fk_payment_document_id_document")
        ),
        sa.ForeignKeyConstraint(
            ["order_id"], ["customer_order.id"], name=op.f("fk_payment_order_id_customer_order")
        ),
        sa.PrimaryKeyConstraint("document_id", "order_id", name=op.f("pk_payment")),
    )
    op.create_index("ix_payment_order_id", "payment", ["order_id"], unique=False)
    # nobody could say so before: what was handed over is taken as paid then, so that undoing that undoes it too
    op.execute(
        "INSERT INTO payment (document_id, order_id, amount)"
        " SELECT max(step.document_id), one.id, coalesce(one.price, 0) * one.count"
        " FROM customer_order one JOIN order_step step ON step.order_id = one.id AND step.state = 'handed over'"
        " JOIN document ON document.id = step.document_id AND document.reverses IS NULL"
        " WHERE one.state = 'handed over' GROUP BY one.id, one.price, one.count"
    )
    guard("payment", ("document_id", "order_id"))
