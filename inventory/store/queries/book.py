"""The book as it stands, out of the derived tables: the number of lines ever booked makes no difference."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from sqlalchemy import Connection, func, or_, select

from inventory.catalogue import Order
from inventory.ledger import Balance, Claim, DueIn, Lot
from inventory.store.mapping.mapper import grouped, names_of
from inventory.store.mapping.shapes import BALANCE, CLAIM, DUE_IN, LOT, ORDER
from inventory.store.queries.old_names import OldNames, present_keys
from inventory.store.schema.core import table

_PART, _LOT, _PURCHASE = table("part"), table("lot"), table("purchase")
_TOTAL, _ORDER, _STEP = BALANCE.table, ORDER.table, table("order_step")
_NOTHING = Balance()


def balances(connection: Connection) -> Mapping[str, Balance]:
    """Totals by folded part name, of every part that has any."""
    query = select(_PART.c.key, *BALANCE.columns).select_from(_TOTAL.join(_PART)).order_by(_PART.c.id)
    found = ((key, BALANCE.build(totals)) for key, *totals in connection.execute(query).all())
    return {key: balance for key, balance in found if balance != _NOTHING}


def to_count(connection: Connection) -> tuple[str, ...]:
    """Names of the parts whose figure in the book is doubtful."""
    query = select(_PART.c.name).select_from(_TOTAL.join(_PART)).where(_TOTAL.c.to_count.is_(True))
    return tuple(connection.execute(query.order_by(_PART.c.key)).scalars())


def lots(
    connection: Connection, parts: Iterable[str] | None, *, perishable: bool = False
) -> Mapping[str, tuple[Lot, ...]]:
    """Open lots by folded part name, first in first out (no date counts as oldest); None: of every part.

    perishable: only those that `ledger.bottles.shelf_life.use_by` can give a day, a few of the thousands of a large
    shop.
    """
    names = None if parts is None else list(parts)
    if names == []:  # who has not seen yet which he wants
        return {}
    left = LOT.table.c
    query = (
        select(_PART.c.key, *LOT.columns)
        .select_from(LOT.source.join(_PART, left.part_id == _PART.c.id))
        .where(left.quantity > 0)
        .order_by(left.part_id, _LOT.c.received_on.nulls_first(), _LOT.c.id)
    )
    if names is not None:
        query = query.where(_PART.c.key.in_(present_keys(connection, names)))
    if perishable:
        query = query.where(or_(_LOT.c.use_by.is_not(None), _PART.c.kind == "supply"))
    return grouped((key, LOT.build(row)) for key, *row in connection.execute(query))


def claims(connection: Connection) -> tuple[Claim, ...]:
    """What is set aside for orders, the earliest due first; not by when it was booked, which an undo changes."""
    c = CLAIM.table.c
    query = (
        select(*CLAIM.columns)
        .select_from(CLAIM.source.join(_ORDER, c.order_id == _ORDER.c.id))
        .order_by(_ORDER.c.due, _ORDER.c.id, c.part_id, c.account)
        .order_by(c.lot_id.nulls_last(), c.purchase_id.nulls_last())
    )
    return tuple(map(CLAIM.build, connection.execute(query)))


def due(connection: Connection) -> tuple[DueIn, ...]:
    """What is bought and has not arrived, the earliest expected first."""
    query = DUE_IN.select().where(DUE_IN.table.c.quantity > 0)
    rows = connection.execute(query.order_by(_PURCHASE.c.expected_on.nulls_last(), _PURCHASE.c.id))
    return tuple(map(DUE_IN.build, rows))


def lent(connection: Connection) -> dict[str, int]:
    """Thousandths of each part that somebody has, by folded name."""
    from inventory.ledger.lending import BACK, LENDING, LENT  # only the shelf tells of it
    from inventory.store.queries.standing import standing

    line, document = table("movement"), table("document")
    c = line.c
    query = (
        select(_PART.c.key, func.sum(-c.quantity))
        .select_from(line.join(_PART, c.part_id == _PART.c.id).join(document, c.document_id == document.c.id))
        .where(document.c.kind.in_(LENDING), standing())
        .where(c.reason.in_((LENT, BACK)), c.account == "shelf")
        .group_by(_PART.c.key)
    )
    return {key: int(many) for key, many in connection.execute(query) if many}


def orders(connection: Connection) -> Mapping[str, Order]:
    """Every order by folded name, in whatever state."""
    accepted = names_of(connection, "order_plating", "order_id", "plating_id")
    handed, c = _handed(connection), _ORDER.c
    found = {}
    for number, key, *row in connection.execute(ORDER.select(c.id, c.key).order_by(c.id)):
        order = ORDER.build(row, platings=accepted.get(number, ()))
        gone = handed.get(number, 0)
        found[key] = replace(order, count=order.count - gone, handed=gone) if gone else order
    return OldNames(connection).known("customer_order", found)


def _handed(connection: Connection) -> dict[int, int]:
    """Pieces of promised orders, by their number, that went out since they were promised."""
    c = _STEP.c
    query = (
        select(c.order_id, c.document_id, c.state, c.handed)
        .select_from(_STEP.join(_ORDER, c.order_id == _ORDER.c.id))
        .where(_ORDER.c.state == "promised")
        .order_by(c.document_id)
    )
    steps = connection.execute(query).all()
    if not any(handed for *_, handed in steps):
        return {}
    from inventory.store.queries.standing import Chains  # most books have no half-delivered orders

    chains, done = Chains(connection), dict[int, int]()
    for order, document, state, handed in steps:
        if chains.stands(document):
            done[order] = done.get(order, 0) + handed if state == "promised" else 0
    return done
