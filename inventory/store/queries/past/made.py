"""What pieces took that were made: by the part they are, or by the order they went out for."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from sqlalchemy import Connection, case, func, select

from inventory.catalogue import fold
from inventory.ledger.past.made import MadeLot, PiecesMade, TookLine
from inventory.store.queries.past.sold import class_of_part, unknown_lots, with_parts
from inventory.store.queries.standing import standing
from inventory.store.schema.core import table

_DOCUMENT, _LINE, _LOT, _PART = table("document"), table("movement"), table("lot"), table("part")
_ORDER = table("customer_order")


def of_piece(connection: Connection, part: str) -> PiecesMade:
    """Of all pieces of a part that were ever made and stand. part: a finished piece's name."""
    c = _LINE.c
    query = (
        select(c.document_id, _DOCUMENT.c.on_date, func.sum(c.quantity), func.sum(c.cost))
        .select_from(_LINE.join(_PART, c.part_id == _PART.c.id).join(_DOCUMENT))
        .where(_PART.c.key == fold(part), c.account == "shelf", c.reason == "made", standing())
        .group_by(c.document_id, _DOCUMENT.c.on_date)
        .order_by(c.document_id)
    )
    lots = [MadeLot(one, on, int(many), int(cost)) for one, on, many, cost in connection.execute(query)]
    return _with_makings(connection, lots, ())


def of_order(connection: Connection, order: str) -> PiecesMade:
    """Of what went out for an order. order: its name."""
    lines = _took(connection, _ORDER.c.key == fold(order))
    lots = [
        MadeLot(one.made_in or 0, _day(connection, one.made_in or one.document), one.quantity, one.cost)
        for one in lines
        if one.of == "piece" and one.word == "handed over"
    ]
    beside = [one for one in lines if one.of != "piece"]
    return _with_makings(connection, lots, beside)


def _with_makings(
    connection: Connection, lots: Collection[MadeLot], beside: Collection[TookLine]
) -> PiecesMade:
    numbers = sorted({lot.document for lot in lots})
    took = _took(connection, _LINE.c.document_id.in_(numbers)) if numbers else ()
    c = _LINE.c
    made = (
        select(c.document_id, func.sum(c.cost))
        .where(c.account == "shelf", c.reason == "made", c.document_id.in_(numbers))
        .group_by(c.document_id)
    )
    sums = {number: int(cost) for number, cost in connection.execute(made)}
    return PiecesMade(tuple(lots), tuple(took), tuple(beside), sums)


def _took(connection: Connection, which: Any) -> tuple[TookLine, ...]:
    """Lines of the shelf that went out, by entry, part and word."""
    c = _LINE.c
    made_in = case((_PART.c.kind == "piece", _LOT.c.document_id))
    dark = unknown_lots()
    query = (
        select(c.document_id, _PART.c.name, _PART.c.unit, class_of_part(), c.reason)
        .add_columns(
            func.sum(-c.quantity),
            func.sum(-c.cost),
            made_in,
            func.max(case((c.lot_id.in_(dark), 1), else_=0)),
        )
        .select_from(
            with_parts()
            .join(_LOT, c.lot_id == _LOT.c.id)
            .join(_DOCUMENT, c.document_id == _DOCUMENT.c.id)
            .outerjoin(_ORDER, c.order_id == _ORDER.c.id)
        )
        .where(
            which, c.account == "shelf", c.reason.in_(("used", "lost", "handed over", "saved")), standing()
        )
        .group_by(c.document_id, _PART.c.name, _PART.c.unit, class_of_part(), c.reason, made_in)
        .order_by(c.document_id, func.min(c.id))
    )
    return tuple(
        TookLine(number, part, unit, of, word, int(many), int(cost), made, bool(unknown))
        for number, part, unit, of, word, many, cost, made, unknown in connection.execute(query)
    )


def _day(connection: Connection, number: int) -> Any:
    return connection.execute(select(_DOCUMENT.c.on_date).where(_DOCUMENT.c.id == number)).scalar_one()
