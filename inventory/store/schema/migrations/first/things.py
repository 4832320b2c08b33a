"""Version 1: what is counted."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op


def _part() -> None:
    op.create_table(
        "part",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("unit", sa.String(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.Column("level", sa.BigInteger(), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_part")),
        sa.UniqueConstraint("key", name=op.f("uq_part_key")),
    )


def _plating() -> None:
    op.create_table(
        "plating",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_plating")),
        sa.UniqueConstraint("key", name=op.f("uq_plating_key")),
    )


def _plating_stand_in() -> None:
    op.create_table(
        "plating_stand_in",
        sa.Column("plating_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("position", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("stand_in_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["plating_id"], ["plating.id"], name=op.f("fk_plating_stand_in_plating_id_plating")
        ),
        sa.ForeignKeyConstraint(
            ["stand_in_id"], ["plating.id"], name=op.f("fk_plating_stand_in_stand_in_id_plating")
        ),
        sa.PrimaryKeyConstraint("plating_id", "position", name=op.f("pk_plating_stand_in")),
    )


def _material() -> None:
    op.create_table(
        "material",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("allowance", sa.String(), nullable=False),
        sa.Column("caution", sa.String(), nullable=False),
        sa.Column("listed_species", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_material")),
        sa.UniqueConstraint("key", name=op.f("uq_material_key")),
    )


def _material_loss() -> None:
    op.create_table(
        "material_loss",
        sa.Column("material_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("position", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("stage", sa.String(), nullable=False),
        sa.Column("share", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["material_id"], ["material.id"], name=op.f("fk_material_loss_material_id_material")
        ),
        sa.PrimaryKeyConstraint("material_id", "position", name=op.f("pk_material_loss")),
    )


def _tube() -> None:
    op.create_table(
        "tube",
        sa.Column("part_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("outside", sa.String(), nullable=False),
        sa.Column("length", sa.String(), nullable=False),
        sa.Column("drill", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_tube_part_id_part")),
        sa.PrimaryKeyConstraint("part_id", name=op.f("pk_tube")),
    )


def _blank() -> None:
    op.create_table(
        "blank",
        sa.Column("part_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("material_id", sa.Integer(), nullable=False),
        sa.Column("shape", sa.String(), nullable=False),
        sa.Column("width", sa.String(), nullable=True),
        sa.Column("length", sa.String(), nullable=True),
        sa.ForeignKeyConstraint(["material_id"], ["material.id"], name=op.f("fk_blank_material_id_material")),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_blank_part_id_part")),
        sa.PrimaryKeyConstraint("part_id", name=op.f("pk_blank")),
    )


def _supply() -> None:
    op.create_table(
        "supply",
        sa.Column("part_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("type", sa.String(), nullable=False),
        sa.Column("net", sa.BigInteger(), nullable=True),
        sa.Column("tare", sa.BigInteger(), nullable=True),
        sa.Column("keeps_sealed", sa.Integer(), nullable=True),
        sa.Column("keeps_opened", sa.Integer(), nullable=True),
        sa.Column("hazards", sa.String(), nullable=False),
        sa.Column("density", sa.String(), nullable=True),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_supply_part_id_part")),
        sa.PrimaryKeyConstraint("part_id", name=op.f("pk_supply")),
    )


def _tool() -> None:
    op.create_table(
        "tool",
        sa.Column("part_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("type", sa.String(), nullable=False),
        sa.Column("size", sa.String(), nullable=False),
        sa.Column("life", sa.BigInteger(), nullable=True),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_tool_part_id_part")),
        sa.PrimaryKeyConstraint("part_id", name=op.f("pk_tool")),
    )


def create() -> None:
    """These tables, each after the ones it refers to."""
    _part()
    _plating()
    _plating_stand_in()
    _material()
    _material_loss()
    _tube()
    _blank()
    _supply()
    _tool()
