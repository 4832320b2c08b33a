"""Tables of where parts come from and what customers want: suppliers, offers, orders."""

from __future__ import annotations

from datetime import date

from sqlalchemy import UniqueConstraint

from inventory.store.schema.models.base import Row, named, number, to, whole


class SupplierRow(Row, table=True):
    """Where parts come from; money in minor units of its own currency (empty: the shop's)."""

    __tablename__ = "supplier"

    id: int = number()
    key: str = named()
    name: str
    lead_days: int | None = None
    postage: int = whole(default=0)
    free_from: int | None = whole(default=None)
    minimum_order: int | None = whole(default=None)
    currency: str = ""
    email: str = ""
    note: str = ""


class OfferRow(Row, table=True):
    """One pack of a part at a supplier; pack in thousandths of the part's unit, `at_most` packs are left there."""

    __tablename__ = "offer"
    __table_args__ = (UniqueConstraint("part_id", "supplier_id", "pack", "code"),)

    id: int = number()
    part_id: int = to("part.id")
    supplier_id: int = to("supplier.id")
    pack: int = whole()
    code: str = ""
    price_group: str = ""
    seen_on: date | None = None
    at_most: int | None = None


class PriceStepRow(Row, table=True):
    """From so many packs on, one pack costs this."""

    __tablename__ = "price_step"

    offer_id: int = number("offer.id")
    from_packs: int = number()
    price: int = whole()


class OrderRow(Row, table=True):
    """What a customer asked for or was promised; the state follows from the documents (see `OrderStepRow`).

    blanks: the words of a wish for one of several blanks; `blank_id` is then the one that was chosen.
    """

    __tablename__ = "customer_order"

    id: int = number()
    key: str = named()
    name: str
    pattern_id: int = to("pattern.id")
    blank_id: int = to("part.id")
    count: int
    due: date
    customer: str = ""
    refill_id: int | None = to("part.id", default=None)
    extra_diameter: str | None = None
    price: int | None = whole(default=None)
    state: str = "wish"
    blanks: str = ""


class OrderPlatingRow(Row, table=True):
    """A plating the customer accepts, the wished one first."""

    __tablename__ = "order_plating"

    order_id: int = number("customer_order.id")
    position: int = number()
    plating_id: int = to("plating.id")
