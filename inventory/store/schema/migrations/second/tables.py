"""Version 2: its new tables and columns."""

from __future__ import annotations

from collections.abc import Mapping
from secrets import token_hex
from typing import Any

import sqlalchemy as sa
from alembic import op

_TABLES: Mapping[str, tuple[str, ...]] = {
    "piece": (
        "part_id i* part",
        "pattern_id i pattern",
        "kit_id i part",
        "blank_id i part",
        "refill_id i? part",
        "extra_diameter s?",
    ),
    "making_session": ("id i*", "document_id i document", "name s", "on_date d", "state s"),
    "session_plan": (
        "session_id i* making_session",
        "position i*",
        "wish_id i wish",
        "kit_id i part",
        "starts i",
    ),
    "session_step": ("document_id i* document", "session_id i* making_session", "state s"),
    "outcome": (
        "document_id i* document",
        "position i*",
        "wish_id i? wish",
        "pattern_id i pattern",
        "kit_id i part",
        "blank_id i part",
        "refill_id i? part",
        "extra_diameter s?",
        "good i",
        "tubes_saved i",
        "kits_saved i",
        "in_part i",
    ),
    "outcome_loss": ("document_id i* document", "position i*", "stage s*", "pieces i"),
    "observed": ("document_id i* document", "part_id i* part", "used b", "error b", "way s"),
    "rate_word": ("document_id i* document", "part_id i* part", "per s*", "word s", "factor b"),
    "learned_rate": (
        "part_id i* part",
        "per s*",
        "factor b",
        "low b",
        "high b",
        "sessions i",
        "outliers s",
        "pinned t",
        "scatter b",
    ),
    "learned_loss": (
        "material_id i* material",
        "stage s*",
        "share b",
        "low b",
        "high b",
        "reached i",
        "lost i",
    ),
}
"""Column, kind (i whole, b big whole, s text, d day, t yes or no; * key, ? may be missing), table it refers to."""

_TYPES: Mapping[str, type[Any]] = {
    "i": sa.Integer,
    "b": sa.BigInteger,
    "s": sa.String,
    "d": sa.Date,
    "t": sa.Boolean,
}


def create() -> None:
    """The tables, a stirring time for mixed glues, and a mark by which a sheet knows its book."""
    for name, columns in _TABLES.items():
        _table(name, columns)
    op.add_column("supply", sa.Column("works", sa.Integer(), nullable=True))
    op.add_column("shop", sa.Column("mark", sa.String(), nullable=False, server_default=""))
    op.execute(sa.text("UPDATE shop SET mark = :mark").bindparams(mark=token_hex(6)))


def _table(name: str, columns: tuple[str, ...]) -> None:
    made, keys = [], []
    for text in columns:
        column, kind, *to = text.split()
        if "*" in kind:
            keys.append(column)
        foreign = [_foreign(name, column, other) for other in to]
        made.append(sa.Column(column, _TYPES[kind[0]](), *foreign, nullable="?" in kind, autoincrement=False))
    op.create_table(name, *made, sa.PrimaryKeyConstraint(*keys, name=op.f(f"pk_{name}")))


def _foreign(table: str, column: str, to: str) -> sa.ForeignKey:
    return sa.ForeignKey(f"{to}.id", name=op.f(f"fk_{table}_{column}_{to}"))
