"""What true numbers need kept: each piece of `third` says what.

Revision ID: 0003
"""

from __future__ import annotations

from collections.abc import Callable

from inventory.store.schema.migrations.third import costs, handed, offers, points, worth

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

PIECES: tuple[Callable[[], None], ...] = (
    costs.create,
    worth.create,
    handed.create,
    points.create,
    offers.create,
)
"""The `create` of each module of `third`, in order."""


def upgrade() -> None:
    """Every piece in turn."""
    for create in PIECES:
        create()
