"""Version 1: how pieces are made."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op


def _family() -> None:
    op.create_table(
        "family",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("makes", sa.String(), nullable=False),
        sa.Column("refill_id", sa.Integer(), nullable=True),
        sa.Column("note", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(["refill_id"], ["part.id"], name=op.f("fk_family_refill_id_part")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_family")),
        sa.UniqueConstraint("key", name=op.f("uq_family_key")),
    )


def _family_tool() -> None:
    op.create_table(
        "family_tool",
        sa.Column("family_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("duty", sa.String(), autoincrement=False, nullable=False),
        sa.Column("position", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["family_id"], ["family.id"], name=op.f("fk_family_tool_family_id_family")),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_family_tool_part_id_part")),
        sa.PrimaryKeyConstraint("family_id", "duty", "position", name=op.f("pk_family_tool")),
    )


def _barrel() -> None:
    op.create_table(
        "barrel",
        sa.Column("family_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("position", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("tube_id", sa.Integer(), nullable=True),
        sa.Column("drill", sa.String(), nullable=True),
        sa.Column("finished_a", sa.String(), nullable=True),
        sa.Column("finished_b", sa.String(), nullable=True),
        sa.Column("length", sa.String(), nullable=True),
        sa.ForeignKeyConstraint(["family_id"], ["family.id"], name=op.f("fk_barrel_family_id_family")),
        sa.ForeignKeyConstraint(["tube_id"], ["part.id"], name=op.f("fk_barrel_tube_id_part")),
        sa.PrimaryKeyConstraint("family_id", "position", name=op.f("pk_barrel")),
    )


def _kit() -> None:
    op.create_table(
        "kit",
        sa.Column("part_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("family_id", sa.Integer(), nullable=False),
        sa.Column("plating_id", sa.Integer(), nullable=False),
        sa.Column("tubes_inside", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["family_id"], ["family.id"], name=op.f("fk_kit_family_id_family")),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_kit_part_id_part")),
        sa.ForeignKeyConstraint(["plating_id"], ["plating.id"], name=op.f("fk_kit_plating_id_plating")),
        sa.PrimaryKeyConstraint("part_id", name=op.f("pk_kit")),
    )
    op.create_index(op.f("ix_kit_family_id"), "kit", ["family_id"], unique=False)


def _pattern() -> None:
    op.create_table(
        "pattern",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("family_id", sa.Integer(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("minutes", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["family_id"], ["family.id"], name=op.f("fk_pattern_family_id_family")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_pattern")),
        sa.UniqueConstraint("key", name=op.f("uq_pattern_key")),
    )


def _bill_line() -> None:
    op.create_table(
        "bill_line",
        sa.Column("pattern_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("position", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("stage", sa.String(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=True),
        sa.Column("role", sa.String(), nullable=True),
        sa.Column("taken_id", sa.Integer(), nullable=True),
        sa.Column("quantity", sa.BigInteger(), nullable=False),
        sa.Column("per", sa.String(), nullable=False),
        sa.CheckConstraint(
            "(part_id IS NOT NULL AND role IS NULL AND taken_id IS NULL)"
            " OR (part_id IS NULL AND role IS NOT NULL AND taken_id IS NULL)"
            " OR (part_id IS NULL AND role IS NULL AND taken_id IS NOT NULL)",
            name=op.f("ck_bill_line_names_one_thing"),
        ),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_bill_line_part_id_part")),
        sa.ForeignKeyConstraint(["pattern_id"], ["pattern.id"], name=op.f("fk_bill_line_pattern_id_pattern")),
        sa.ForeignKeyConstraint(["taken_id"], ["pattern.id"], name=op.f("fk_bill_line_taken_id_pattern")),
        sa.PrimaryKeyConstraint("pattern_id", "position", name=op.f("pk_bill_line")),
    )


def create() -> None:
    """These tables, each after the ones it refers to."""
    _family()
    _family_tool()
    _barrel()
    _kit()
    _pattern()
    _bill_line()
