"""What was paid for orders, by documents that stand."""

from __future__ import annotations

from collections.abc import Mapping

from sqlalchemy import Connection, func, select

from inventory.store.queries.standing import standing
from inventory.store.schema.core import table

_PAYMENT, _ORDER, _DOCUMENT = table("payment"), table("customer_order"), table("document")


def paid(connection: Connection) -> Mapping[str, int]:
    """Minor units by folded order, of every order somebody paid for, gave money back for or settled for nothing."""
    query = (
        select(_ORDER.c.key, func.sum(_PAYMENT.c.amount))
        .select_from(_PAYMENT.join(_ORDER).join(_DOCUMENT, _PAYMENT.c.document_id == _DOCUMENT.c.id))
        .where(standing())
        .group_by(_ORDER.c.key)
    )
    return {key: int(amount) for key, amount in connection.execute(query)}
