"""Pieces of an order that were handed over while the rest of it stays promised."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op


def create() -> None:
    """None in earlier books, which knew whole orders only."""
    op.add_column("wish_step", sa.Column("handed", sa.Integer(), nullable=False, server_default="0"))
