"""Version 1: what it adds up to."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op


def _lot_balance() -> None:
    op.create_table(
        "lot_balance",
        sa.Column("lot_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("quantity", sa.BigInteger(), nullable=False),
        sa.Column("cost", sa.BigInteger(), nullable=False),
        sa.Column("claimed", sa.BigInteger(), nullable=False),
        sa.CheckConstraint("claimed >= 0 AND claimed <= quantity", name=op.f("ck_lot_balance_claimed")),
        sa.CheckConstraint(
            "quantity >= 0 AND cost >= 0 AND (quantity > 0 OR cost = 0)", name=op.f("ck_lot_balance_layer")
        ),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_lot_balance_lot_id_lot")),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_lot_balance_part_id_part")),
        sa.PrimaryKeyConstraint("lot_id", name=op.f("pk_lot_balance")),
    )
    op.create_index(
        "ix_lot_balance_open",
        "lot_balance",
        ["part_id"],
        unique=False,
        sqlite_where=sa.text("quantity > 0"),
        postgresql_where=sa.text("quantity > 0"),
    )


def _part_balance() -> None:
    op.create_table(
        "part_balance",
        sa.Column("part_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("on_hand", sa.BigInteger(), nullable=False),
        sa.Column("claimed", sa.BigInteger(), nullable=False),
        sa.Column("due_in", sa.BigInteger(), nullable=False),
        sa.Column("due_claimed", sa.BigInteger(), nullable=False),
        sa.Column("to_buy", sa.BigInteger(), nullable=False),
        sa.Column("to_count", sa.Boolean(), nullable=False),
        sa.CheckConstraint("claimed >= 0 AND claimed <= on_hand", name=op.f("ck_part_balance_shelf")),
        sa.CheckConstraint("due_claimed >= 0 AND due_claimed <= due_in", name=op.f("ck_part_balance_due")),
        sa.CheckConstraint("to_buy >= 0", name=op.f("ck_part_balance_to_buy")),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_part_balance_part_id_part")),
        sa.PrimaryKeyConstraint("part_id", name=op.f("pk_part_balance")),
    )


def _claim_balance() -> None:
    op.create_table(
        "claim_balance",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("wish_id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("account", sa.String(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=True),
        sa.Column("purchase_id", sa.Integer(), nullable=True),
        sa.Column("quantity", sa.BigInteger(), nullable=False),
        sa.CheckConstraint("quantity > 0", name=op.f("ck_claim_balance_quantity")),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_claim_balance_lot_id_lot")),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_claim_balance_part_id_part")),
        sa.ForeignKeyConstraint(
            ["purchase_id"], ["purchase.id"], name=op.f("fk_claim_balance_purchase_id_purchase")
        ),
        sa.ForeignKeyConstraint(["wish_id"], ["wish.id"], name=op.f("fk_claim_balance_wish_id_wish")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_claim_balance")),
    )
    op.create_index("ix_claim_balance_wish_id", "claim_balance", ["wish_id"], unique=False)


def _due_balance() -> None:
    op.create_table(
        "due_balance",
        sa.Column("purchase_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("quantity", sa.BigInteger(), nullable=False),
        sa.Column("cost", sa.BigInteger(), nullable=False),
        sa.Column("claimed", sa.BigInteger(), nullable=False),
        sa.CheckConstraint("claimed >= 0 AND claimed <= quantity", name=op.f("ck_due_balance_claimed")),
        sa.CheckConstraint(
            "quantity >= 0 AND cost >= 0 AND (quantity > 0 OR cost = 0)", name=op.f("ck_due_balance_layer")
        ),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_due_balance_part_id_part")),
        sa.ForeignKeyConstraint(
            ["purchase_id"], ["purchase.id"], name=op.f("fk_due_balance_purchase_id_purchase")
        ),
        sa.PrimaryKeyConstraint("purchase_id", name=op.f("pk_due_balance")),
    )
    op.create_index(
        "ix_due_balance_open",
        "due_balance",
        ["part_id"],
        unique=False,
        sqlite_where=sa.text("quantity > 0"),
        postgresql_where=sa.text("quantity > 0"),
    )


def create() -> None:
    """These tables, each after the ones it refers to."""
    _lot_balance()
    _part_balance()
    _claim_balance()
    _due_balance()
