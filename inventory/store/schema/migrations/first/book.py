"""Version 1: what happened."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op


def _document() -> None:
    op.create_table(
        "document",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("kind", sa.String(), nullable=False),
        sa.Column("title", sa.String(), nullable=False),
        sa.Column("on_date", sa.Date(), nullable=False),
        sa.Column("booked_at", sa.String(), nullable=False),
        sa.Column("fingerprint", sa.String(), nullable=False),
        sa.Column("reverses", sa.Integer(), nullable=True),
        sa.Column("turn", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(["reverses"], ["document.id"], name=op.f("fk_document_reverses_document")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_document")),
    )
    op.create_index("ux_document_reverses", "document", ["reverses"], unique=True)


def _lot() -> None:
    op.create_table(
        "lot",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("document_id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(), nullable=False),
        sa.Column("received_on", sa.Date(), nullable=True),
        sa.Column("opened_on", sa.Date(), nullable=True),
        sa.Column("use_by", sa.Date(), nullable=True),
        sa.Column("smallest_diameter", sa.String(), nullable=True),
        sa.Column("length", sa.String(), nullable=True),
        sa.ForeignKeyConstraint(["document_id"], ["document.id"], name=op.f("fk_lot_document_id_document")),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_lot_part_id_part")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_lot")),
    )
    op.create_index(op.f("ix_lot_part_id"), "lot", ["part_id"], unique=False)


def _purchase() -> None:
    op.create_table(
        "purchase",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("document_id", sa.Integer(), nullable=False),
        sa.Column("supplier_id", sa.Integer(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("expected_on", sa.Date(), nullable=True),
        sa.Column("code", sa.String(), nullable=False),
        sa.Column("pack", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(
            ["document_id"], ["document.id"], name=op.f("fk_purchase_document_id_document")
        ),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_purchase_part_id_part")),
        sa.ForeignKeyConstraint(
            ["supplier_id"], ["supplier.id"], name=op.f("fk_purchase_supplier_id_supplier")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_purchase")),
    )


def _movement() -> None:
    op.create_table(
        "movement",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("document_id", sa.Integer(), nullable=False),
        sa.Column("account", sa.String(), nullable=False),
        sa.Column("part_id", sa.Integer(), nullable=False),
        sa.Column("lot_id", sa.Integer(), nullable=True),
        sa.Column("purchase_id", sa.Integer(), nullable=True),
        sa.Column("wish_id", sa.Integer(), nullable=True),
        sa.Column("quantity", sa.BigInteger(), nullable=False),
        sa.Column("cost", sa.BigInteger(), nullable=False),
        sa.Column("reason", sa.String(), nullable=False),
        sa.Column("stage", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["document_id"], ["document.id"], name=op.f("fk_movement_document_id_document")
        ),
        sa.ForeignKeyConstraint(["lot_id"], ["lot.id"], name=op.f("fk_movement_lot_id_lot")),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_movement_part_id_part")),
        sa.ForeignKeyConstraint(
            ["purchase_id"], ["purchase.id"], name=op.f("fk_movement_purchase_id_purchase")
        ),
        sa.ForeignKeyConstraint(["wish_id"], ["wish.id"], name=op.f("fk_movement_wish_id_wish")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_movement")),
    )
    op.create_index("ix_movement_document_id", "movement", ["document_id"], unique=False)
    op.create_index("ix_movement_part_id_account", "movement", ["part_id", "account"], unique=False)


def _wish_step() -> None:
    op.create_table(
        "wish_step",
        sa.Column("document_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("wish_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("state", sa.String(), nullable=False),
        sa.ForeignKeyConstraint(
            ["document_id"], ["document.id"], name=op.f("fk_wish_step_document_id_document")
        ),
        sa.ForeignKeyConstraint(["wish_id"], ["wish.id"], name=op.f("fk_wish_step_wish_id_wish")),
        sa.PrimaryKeyConstraint("document_id", "wish_id", name=op.f("pk_wish_step")),
    )
    op.create_index("ix_wish_step_wish_id", "wish_step", ["wish_id"], unique=False)


def _doubt() -> None:
    op.create_table(
        "doubt",
        sa.Column("document_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("part_id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("doubtful", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["document_id"], ["document.id"], name=op.f("fk_doubt_document_id_document")),
        sa.ForeignKeyConstraint(["part_id"], ["part.id"], name=op.f("fk_doubt_part_id_part")),
        sa.PrimaryKeyConstraint("document_id", "part_id", name=op.f("pk_doubt")),
    )
    op.create_index("ix_doubt_part_id", "doubt", ["part_id"], unique=False)


def _imprint() -> None:
    op.create_table(
        "imprint",
        sa.Column("fingerprint", sa.String(), autoincrement=False, nullable=False),
        sa.Column("document_id", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["document_id"], ["document.id"], name=op.f("fk_imprint_document_id_document")
        ),
        sa.PrimaryKeyConstraint("fingerprint", name=op.f("pk_imprint")),
        sa.UniqueConstraint("document_id", name=op.f("uq_imprint_document_id")),
    )


def _shop() -> None:
    op.create_table(
        "shop",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("version", sa.BigInteger(), nullable=False),
        sa.Column("currency", sa.String(), nullable=False),
        sa.Column("program", sa.String(), nullable=False),
        sa.CheckConstraint("id = 1", name=op.f("ck_shop_one_row")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_shop")),
    )


def _setting() -> None:
    op.create_table(
        "setting",
        sa.Column("key", sa.String(), autoincrement=False, nullable=False),
        sa.Column("value", sa.String(), nullable=False),
        sa.PrimaryKeyConstraint("key", name=op.f("pk_setting")),
    )


def create() -> None:
    """These tables, each after the ones it refers to."""
    _document()
    _lot()
    _purchase()
    _movement()
    _wish_step()
    _doubt()
    _imprint()
    _shop()
    _setting()
