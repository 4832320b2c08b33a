"""Making sessions, and what is learned from them.

Revision ID: 0002
"""

from __future__ import annotations

from inventory.store.schema.migrations.second import tables, triggers

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """The new tables, then the triggers that keep what is written into them."""
    tables.create()
    triggers.create()
