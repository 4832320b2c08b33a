"""Making sessions, and what is learned from them.

Revision ID: 0002
"""

from __future__ import annotations

from secrets import token_hex

import sqlalchemy as sa
from alembic import op

from inventory.store.schema.migrations.steps.tables import guard, make

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

TABLES = {
    "piece": "part_id:i*>part.id pattern_id:i>pattern.id kit_id:i>part.id blank_id:i>part.id refill_id:i?>part.id"
    " extra_diameter:s?",
    "making_session": "id:i* document_id:i>document.id name:s on_date:d state:s",
    "session_plan": "session_id:i*>making_session.id position:i* wish_id:i>wish.id kit_id:i>part.id starts:i",
    "session_step": "document_id:i*>document.id session_id:i*>making_session.id state:s",
    "outcome": "document_id:i*>document.id position:i* wish_id:i?>wish.id pattern_id:i>pattern.id kit_id:i>part.id"
    " blank_id:i>part.id refill_id:i?>part.id extra_diameter:s? good:i tubes_saved:i kits_saved:i in_part:i",
    "outcome_loss": "document_id:i*>document.id position:i* stage:s* pieces:i",
    "observed": "document_id:i*>document.id part_id:i*>part.id used:b error:b way:s",
    "rate_word": "document_id:i*>document.id part_id:i*>part.id per:s* word:s factor:b",
    "learned_rate": "part_id:i*>part.id per:s* factor:b low:b high:b sessions:i outliers:s pinned:t scatter:b",
    "learned_loss": "material_id:i*>material.id stage:s* share:b low:b high:b reached:i lost:i",
}
APPEND_ONLY = {
    "session_plan": ("session_id", "position"),
    "session_step": ("document_id", "session_id"),
    "outcome": ("document_id", "position"),
    "outcome_loss": ("document_id", "position", "stage"),
    "observed": ("document_id", "part_id"),
    "rate_word": ("document_id", "part_id", "per"),
}


def upgrade() -> None:
    """The tables, a stirring time for mixed glues, a mark by which a sheet knows its book, and the triggers."""
    for name, text in TABLES.items():
        make(name, text, sorted_=False)
    op.add_column("supply", sa.Column("works", sa.Integer(), nullable=True))
    op.add_column("shop", sa.Column("mark", sa.String(), nullable=False, server_default=""))
    op.execute(sa.text("UPDATE shop SET mark = :mark").bindparams(mark=token_hex(6)))
    for name, keys in APPEND_ONLY.items():
        guard(name, keys)
