"""Usual values.

Revision ID: 0006
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """What the classes say beyond version 0005."""
    op.add_column("barrel", sa.Column("usual", sa.String(), server_default="[]", nullable=False))
    op.add_column("bill_line", sa.Column("usual", sa.String(), server_default="[]", nullable=False))
    op.add_column("blank", sa.Column("usual", sa.String(), server_default="[]", nullable=False))
    op.add_column("kit", sa.Column("usual", sa.String(), server_default="[]", nullable=False))
    op.add_column("material", sa.Column("usual", sa.String(), server_default="[]", nullable=False))
    op.add_column("pattern", sa.Column("finish", sa.String(), server_default="", nullable=False))
    op.add_column("supply", sa.Column("usual", sa.String(), server_default="[]", nullable=False))
    op.add_column("tube", sa.Column("usual", sa.String(), server_default="[]", nullable=False))
