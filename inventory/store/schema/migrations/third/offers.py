"""Version 3: how many packs of an offer a supplier has left."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op


def create() -> None:
    """The column; nobody said so far."""
    op.add_column("offer", sa.Column("at_most", sa.Integer(), nullable=True))
