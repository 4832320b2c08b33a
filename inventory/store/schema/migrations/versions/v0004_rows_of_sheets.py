"""Rows of sheets.

Revision ID: 0004
"""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """What the classes say beyond version 0003."""
    op.create_table(
        "sheet_row",
        sa.Column("sheet", sa.String(), autoincrement=False, nullable=False),
        sa.Column("tab", sa.String(), autoincrement=False, nullable=False),
        sa.Column("row", sa.String(), autoincrement=False, nullable=False),
        sa.PrimaryKeyConstraint("sheet", "tab", "row", name=op.f("pk_sheet_row")),
    )
