"""The first book: catalogue, documents, lines and what they add up to.

Revision ID: 0001
"""

from __future__ import annotations

from inventory.store.schema.migrations.first import balances, book, patterns, things, trade, triggers

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Create every table, then the triggers that keep what was written."""
    for piece in (things, patterns, trade, book, balances, triggers):
        piece.create()
