"""Tables of what happened. Rows of all but the last four are written once and never changed: triggers see to it."""

from __future__ import annotations

from datetime import date

from sqlalchemy import CheckConstraint, Index

from inventory.store.schema.models.base import Row, number, to, whole


class DocumentRow(Row, table=True):
    """What caused lines. reverses: the document this one undoes; undo_depth: 0, or one more than that document's.

    An even depth brings something about, an odd one takes it back. booked_by: the user's name on the machine, the
    role on a server; empty where nobody knows.
    """

    __tablename__ = "document"
    __table_args__ = (Index("ux_document_reverses", "reverses", unique=True),)

    id: int = number()
    kind: str
    title: str
    on_date: date
    booked_at: str
    fingerprint: str = ""
    reverses: int | None = to("document.id", default=None)
    undo_depth: int = 0
    booked_by: str = ""


class LotRow(Row, table=True):
    """What one receipt brought; how much is left stands in `LotBalanceRow`."""

    __tablename__ = "lot"

    id: int = number()
    document_id: int = to("document.id")
    part_id: int = to("part.id", index=True)
    name: str = ""
    received_on: date | None = None
    opened_on: date | None = None
    use_by: date | None = None
    smallest_diameter: str | None = None
    length: str | None = None


class PurchaseRow(Row, table=True):
    """One bought line; how much is still to come stands in `DueBalanceRow`."""

    __tablename__ = "purchase"

    id: int = number()
    document_id: int = to("document.id")
    supplier_id: int = to("supplier.id")
    part_id: int = to("part.id")
    expected_on: date | None = None
    code: str = ""
    pack: int = whole()


class MovementRow(Row, table=True):
    """One line of the book: so much of one part on one account."""

    __tablename__ = "movement"
    __table_args__ = (
        Index("ix_movement_document_id", "document_id"),
        Index("ix_movement_part_id_account", "part_id", "account"),
    )

    id: int = number()
    document_id: int = to("document.id")
    account: str
    part_id: int = to("part.id")
    lot_id: int | None = to("lot.id", default=None)
    purchase_id: int | None = to("purchase.id", default=None)
    order_id: int | None = to("customer_order.id", default=None)
    quantity: int = whole()
    cost: int = whole()
    reason: str = ""
    stage: str = ""
    cost_from: int = 0


class OrderStepRow(Row, table=True):
    """What a document made of an order. handed: pieces that went to the customer while the rest stays promised."""

    __tablename__ = "order_step"
    __table_args__ = (Index("ix_order_step_order_id", "order_id"),)

    document_id: int = number("document.id")
    order_id: int = number("customer_order.id")
    state: str
    handed: int = 0


class PaymentRow(Row, table=True):
    """What a document says was paid for an order, minor units; below 0 where it was given back."""

    __tablename__ = "payment"
    __table_args__ = (Index("ix_payment_order_id", "order_id"),)

    document_id: int = number("document.id")
    order_id: int = number("customer_order.id")
    amount: int = whole()


class ExpenseRow(Row, table=True):
    """What a document says was spent beside parts, minor units, above 0. at: where, as `sold --at` has it.

    on_date: the day it was spent, which a sheet may say of each; order_id: the order it was spent for.
    """

    __tablename__ = "expense"

    document_id: int = to("document.id", primary_key=True)
    position: int = number()
    on_date: date
    what: str
    amount: int = whole()
    at: str = ""
    order_id: int | None = to("customer_order.id", default=None)


class DoubtRow(Row, table=True):
    """A document made the book's figure of a part doubtful, or a count checked it."""

    __tablename__ = "doubt"
    __table_args__ = (Index("ix_doubt_part_id", "part_id"),)

    document_id: int = number("document.id")
    part_id: int = number("part.id")
    doubtful: bool


class DocumentFingerprintRow(Row, table=True):
    """The fingerprint of a document that stands: the same one is not booked twice."""

    __tablename__ = "document_fingerprint"

    fingerprint: str = number()
    document_id: int = to("document.id", unique=True)


class ShopRow(Row, table=True):
    """The one row every write locks first; version counts booked documents, mark tells this book from others."""

    __tablename__ = "shop"
    __table_args__ = (CheckConstraint("id = 1", name="one_row"),)

    id: int = number()
    version: int = whole()
    currency: str
    program: str
    mark: str = ""


class SettingRow(Row, table=True):
    """What the shop has settled for itself, as text."""

    __tablename__ = "setting"

    key: str = number()
    value: str


class SheetRowRow(Row, table=True):
    """A row that stood in a tab of a file when it was loaded last, by its folded name: to miss it where it is gone."""

    __tablename__ = "sheet_row"

    sheet: str = number()
    tab: str = number()
    row: str = number()
