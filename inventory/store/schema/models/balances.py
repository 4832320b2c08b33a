"""Derived tables: what all lines add up to, kept in the same transaction, provable from the lines."""

from __future__ import annotations

from sqlalchemy import CheckConstraint, Index, text

from inventory.store.schema.models.base import Row, number, to, whole

_OPEN = text("quantity > 0")


class LotBalanceRow(Row, table=True):
    """What a lot still holds, what that cost and how far that is known, and how much of this very lot is claimed."""

    __tablename__ = "lot_balance"
    __table_args__ = (
        CheckConstraint("quantity >= 0 AND cost >= 0 AND (quantity > 0 OR cost = 0)", name="layer"),
        CheckConstraint("claimed >= 0 AND claimed <= quantity", name="claimed"),
        Index("ix_lot_balance_open", "part_id", sqlite_where=_OPEN, postgresql_where=_OPEN),
    )

    lot_id: int = number("lot.id")
    part_id: int = to("part.id")
    quantity: int = whole()
    cost: int = whole()
    claimed: int = whole()
    cost_from: int = 0


class PartBalanceRow(Row, table=True):
    """A part's totals, and whether it is on the list for counting."""

    __tablename__ = "part_balance"
    __table_args__ = (
        CheckConstraint("claimed >= 0 AND claimed <= on_hand", name="shelf"),
        CheckConstraint("due_claimed >= 0 AND due_claimed <= due_in", name="due"),
        CheckConstraint("to_buy >= 0", name="to_buy"),
    )

    part_id: int = number("part.id")
    on_hand: int = whole(default=0)
    claimed: int = whole(default=0)
    due_in: int = whole(default=0)
    due_claimed: int = whole(default=0)
    to_buy: int = whole(default=0)
    to_count: bool = False


class ClaimBalanceRow(Row, table=True):
    """What is set aside, or still to be bought, for an order; rows that reach zero go away."""

    __tablename__ = "claim_balance"
    __table_args__ = (
        CheckConstraint("quantity > 0", name="quantity"),
        Index("ix_claim_balance_order_id", "order_id"),
    )

    id: int = number()
    order_id: int = to("customer_order.id")
    part_id: int = to("part.id")
    account: str
    lot_id: int | None = to("lot.id", default=None)
    purchase_id: int | None = to("purchase.id", default=None)
    quantity: int = whole()


class DueBalanceRow(Row, table=True):
    """What of a bought line has not arrived, and what it is expected to cost."""

    __tablename__ = "due_balance"
    __table_args__ = (
        CheckConstraint("quantity >= 0 AND cost >= 0 AND (quantity > 0 OR cost = 0)", name="layer"),
        CheckConstraint("claimed >= 0 AND claimed <= quantity", name="claimed"),
        Index("ix_due_balance_open", "part_id", sqlite_where=_OPEN, postgresql_where=_OPEN),
    )

    purchase_id: int = number("purchase.id")
    part_id: int = to("part.id")
    quantity: int = whole()
    cost: int = whole()
    claimed: int = whole()
