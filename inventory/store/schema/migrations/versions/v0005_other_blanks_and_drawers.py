"""Blanks that would do, where parts lie, and no intervals of losses: they are worked out where they are shown.

Revision ID: 0005
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """What the classes say beyond version 0004."""
    op.add_column("customer_order", sa.Column("blanks", sa.String(), server_default="", nullable=False))
    op.add_column("part", sa.Column("drawer", sa.String(), server_default="", nullable=False))
    op.drop_column("learned_loss", "high")  # worked out where they are shown
    op.drop_column("learned_loss", "low")
