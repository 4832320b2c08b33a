"""What is known of sessions to come beside a rate's interval: empty until the figures are worked out anew."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op


def create() -> None:
    """The columns; what an older book says of its rates is then read from their intervals."""
    for name in ("points", "hands"):
        op.add_column("learned_rate", sa.Column(name, sa.String(), nullable=False, server_default="[]"))
    op.add_column("learned_rate", sa.Column("ordinary", sa.BigInteger(), nullable=False, server_default="0"))
