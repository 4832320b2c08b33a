"""What was lent and what of it came back, out of the documents that can say so."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from sqlalchemy import Connection, func, select

from inventory.ledger import Line
from inventory.ledger.documents.booked import Document
from inventory.ledger.lending import BACK, LENDING, LENT, Lending
from inventory.store.mapping.booked_shapes import LINE, NEW_LOT
from inventory.store.queries.documents import document, heads
from inventory.store.queries.standing import Chains, standing
from inventory.store.schema.core import table

_DOCUMENT, _LINE, _LOT = table("document"), table("movement"), table("lot")
_PART = table("part")


def lendings(connection: Connection) -> tuple[Lending, ...]:
    """Every lending that stands and every return, in the order of booking."""
    query = heads().where(_DOCUMENT.c.kind.in_(LENDING), standing())
    known = {one.id: one for one in map(document, connection.execute(query))}
    c = _LINE.c
    lines = LINE.select(c.document_id, c.id).order_by(c.id)
    lines = lines.where(c.document_id.in_(list(known)), c.reason.in_((LENT, BACK)), c.account == "shelf")
    found = [(known[number], at, LINE.build(row)) for number, at, *row in connection.execute(lines)]
    return tuple(_lending(connection, *one) for one in found)


def _lending(connection: Connection, of: Document, at: int, line: Line) -> Lending:
    lot = connection.execute(NEW_LOT.select().where(_LOT.c.id == line.lot)).one()
    c = _LINE.c
    # how far the cost was known then: later words on a lot's cost are not of what had left it
    mark = (
        select(func.sum(c.cost_from))
        .select_from(_LINE.join(_PART, c.part_id == _PART.c.id))
        .where(_PART.c.name == line.part, c.account == "shelf", c.lot_id == line.lot, c.id <= at)
    )
    cost_from = int(connection.execute(mark).scalar_one() or 0)
    return Lending(of, NEW_LOT.build(lot, tag=""), -line.quantity, -line.cost, cost_from)


def more_back_than_lent(connection: Connection, then: Chains, parts: Iterable[str]) -> tuple[str, ...]:
    """Of these parts those of which more would have come back than was lent. then: which documents stand by then."""
    c = _LINE.c
    query: Any = (
        select(_PART.c.name, c.document_id, c.quantity)
        .select_from(
            _LINE.join(_PART, c.part_id == _PART.c.id).join(_DOCUMENT, c.document_id == _DOCUMENT.c.id)
        )
        .where(_DOCUMENT.c.kind.in_(LENDING), c.reason.in_((LENT, BACK)), c.account == "shelf")
    )
    wanted, back = set(parts), dict[str, int]()
    for part, number, quantity in connection.execute(query):
        if part in wanted and then.stands(number):
            back[part] = back.get(part, 0) + quantity
    return tuple(part for part, quantity in back.items() if quantity > 0)
