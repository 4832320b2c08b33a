"""Intervals of losses are worked out where they are shown.

Revision ID: 0006
"""

from __future__ import annotations

from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """What the classes say beyond version 0005."""
    op.drop_column("learned_loss", "high")
    op.drop_column("learned_loss", "low")
