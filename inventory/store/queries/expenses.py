"""What was spent beside parts, by documents that stand."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from sqlalchemy import Connection, select

from inventory.ledger.documents.proposal import Expense
from inventory.store.queries.standing import standing
from inventory.store.schema.core import table

_EXPENSE, _ORDER, _DOCUMENT = table("expense"), table("customer_order"), table("document")


def expenses(connection: Connection, first: date, last: date) -> tuple[Expense, ...]:
    """Of the days from the first to the last, in the order of days. order: folded name."""
    c = _EXPENSE.c
    query = (
        select(c.what, c.amount, c.on_date, c.at, _ORDER.c.key)
        .select_from(
            _EXPENSE.join(_DOCUMENT, c.document_id == _DOCUMENT.c.id).outerjoin(
                _ORDER, c.order_id == _ORDER.c.id
            )
        )
        .where(c.on_date >= first, c.on_date <= last, standing())
        .order_by(c.on_date, c.document_id, c.position)
    )
    return tuple(Expense(*row) for row in connection.execute(query))


def sold_off_the_shelf(connection: Connection, orders: Collection[str]) -> frozenset[str]:
    """Of these orders (folded names) those that were no order before they were sold."""
    step = table("order_step")
    query = (
        select(_ORDER.c.key)
        .select_from(step.join(_ORDER).join(_DOCUMENT, step.c.document_id == _DOCUMENT.c.id))
        .where(_ORDER.c.key.in_(sorted(orders)), step.c.state == "handed over")
        .where(_DOCUMENT.c.kind.in_(("sold", "days")))
    )
    return frozenset(connection.execute(query).scalars())
