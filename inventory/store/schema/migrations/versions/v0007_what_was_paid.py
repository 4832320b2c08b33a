"""What was paid.

Revision ID: 0007
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from inventory.store.schema.migrations.steps.tables import guard

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """What the classes say beyond version 0006."""
    op.create_table(
        "payment",
        sa.Column("document_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("wish_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("amount", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(
            ["document_id"], ["document.id"], name=op.f("fk_payment_document_id_document")
        ),
        sa.ForeignKeyConstraint(["wish_id"], ["wish.id"], name=op.f("fk_payment_wish_id_wish")),
        sa.PrimaryKeyConstraint("document_id", "wish_id", name=op.f("pk_payment")),
    )
    op.create_index("ix_payment_wish_id", "payment", ["wish_id"], unique=False)
    # nobody could say so before: what was handed over is taken as paid then, so that undoing that undoes it too
    op.execute(
        "INSERT INTO payment (document_id, wish_id, amount)"
        " SELECT max(step.document_id), wish.id, coalesce(wish.price, 0) * wish.count"
        " FROM wish JOIN wish_step step ON step.wish_id = wish.id AND step.state = 'handed over'"
        " JOIN document ON document.id = step.document_id AND document.reverses IS NULL"
        " WHERE wish.state = 'handed over' GROUP BY wish.id, wish.price, wish.count"
    )
    guard("payment", ("document_id", "wish_id"))
