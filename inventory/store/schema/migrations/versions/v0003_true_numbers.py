"""Marks of costs nobody knows, what learned figures are worth, and parts of orders handed over.

Revision ID: 0003
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from inventory.store.schema.migrations.steps import unknown_costs, worth_of_losses

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """The columns, and what the rows that are there already say in them."""
    for name in ("movement", "lot_balance"):
        op.add_column(name, sa.Column("cost_from", sa.Integer(), nullable=False, server_default="0"))
    unknown_costs.mark()
    op.add_column("learned_loss", sa.Column("worth", sa.BigInteger(), nullable=False, server_default="0"))
    worth_of_losses.work_out()
    # none were handed over in part in earlier books, which knew whole orders only
    op.add_column("wish_step", sa.Column("handed", sa.Integer(), nullable=False, server_default="0"))
    for name in (
        "points",
        "hands",
    ):  # until the figures are worked out anew they are read from their intervals
        op.add_column("learned_rate", sa.Column(name, sa.String(), nullable=False, server_default="[]"))
    op.add_column("learned_rate", sa.Column("ordinary", sa.BigInteger(), nullable=False, server_default="0"))
    op.add_column("offer", sa.Column("at_most", sa.Integer(), nullable=True))
