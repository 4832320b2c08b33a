"""Version 1: suppliers, their offers, and orders."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op


def _supplier() -> None:
    op.create_table(
        "supplier",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("lead_days", sa.Integer(), nullable=True),
        sa.Column("postage", sa.BigInteger(), nullable=False),
        sa.Column("free_from", sa.BigInteger(), nullable=True),
        sa.Column("minimum_order", sa.BigInteger(), nullable=True),
        sa.Column("currency", sa.String(), nullable=False),
        sa.Column("email", sa.String(), nullable=False),
        sa.Column("note", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_supplier")),
        sa.UniqueConstraint("key", name=op.f("uq_supplier_key")),
    )


def _offer() -> None:
    op.create_table(
        "offer",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("supplier_id", sa.Integer(), nullable=False),
        sa.Column("pack", sa.BigInteger(), nullable=False),
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("price_group", sa.String(), nullable=False),
        sa.Column("seen_on", sa.Date(), nullable=True),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_offer_part_id_part")),
        sa.ForeignKeyConstraint(["supplier_id"], ["supplier.id"], name=op.f("fk_offer_supplier_id_supplier")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_offer")),
        sa.UniqueConstraint(
            "part_id", "supplier_id", "pack", "code", name=op.f("uq_offer_part_id_supplier_id_pack_code")
        ),
    )


def _price_step() -> None:
    op.create_table(
        "price_step",
        sa.Column("offer_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("from_packs", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("price", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["offer_id"], ["offer.id"], name=op.f("fk_price_step_offer_id_offer")),
        sa.PrimaryKeyConstraint("offer_id", "from_packs", name=op.f("pk_price_step")),
    )


def _wish() -> None:
    op.create_table(
        "wish",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("key", sa.String(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("pattern_id", sa.Integer(), nullable=False),
        sa.Column("blank_id", sa.Integer(), nullable=False),
        sa.Column("count", sa.Integer(), nullable=False),
        sa.Column("due", sa.Date(), nullable=False),
        sa.Column("customer", sa.String(), nullable=False),
        sa.Column("refill_id", sa.Integer(), nullable=True),
        sa.Column("extra_diameter", sa.String(), nullable=True),
        sa.Column("price", sa.BigInteger(), nullable=True),
        sa.Column("state", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(["blank_id"], ["part.id"], name=op.f("fk_wish_blank_id_part")),
        sa.ForeignKeyConstraint(["pattern_id"], ["pattern.id"], name=op.f("fk_wish_pattern_id_pattern")),
        sa.ForeignKeyConstraint(["refill_id"], ["part.id"], name=op.f("fk_wish_refill_id_part")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_wish")),
        sa.UniqueConstraint("key", name=op.f("uq_wish_key")),
    )


def _wish_plating() -> None:
    op.create_table(
        "wish_plating",
        sa.Column("wish_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("position", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("plating_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["plating_id"], ["plating.id"], name=op.f("fk_wish_plating_plating_id_plating")
        ),
        sa.ForeignKeyConstraint(["wish_id"], ["wish.id"], name=op.f("fk_wish_plating_wish_id_wish")),
        sa.PrimaryKeyConstraint("wish_id", "position", name=op.f("pk_wish_plating")),
    )


def create() -> None:
    """These tables, each after the ones it refers to."""
    _supplier()
    _offer()
    _price_step()
    _wish()
    _wish_plating()
