"""The book as it stands, out of the derived tables: the number of lines ever booked makes no difference."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import Connection, select

from inventory.catalogue import Order, fold
from inventory.ledger import Balance, Claim, DueIn, Lot
from inventory.store.mapping import codecs
from inventory.store.mapping.selecting import rows
from inventory.store.queries.standing import Chains
from inventory.store.schema.core import table

_PART, _LOT, _PURCHASE, _SUPPLIER = table("part"), table("lot"), table("purchase"), table("supplier")
_LEFT, _TOTAL, _CLAIM, _DUE = (
    table("lot_balance"),
    table("part_balance"),
    table("claim_balance"),
    table("due_balance"),
)
_ORDER, _ACCEPTED, _STEP = table("wish"), table("wish_plating"), table("wish_step")
_PATTERN, _PLATING = table("pattern"), table("plating")
_ZEROS = (0, 0, 0, 0, 0)


def balances(connection: Connection) -> Mapping[str, Balance]:
    """Totals by folded part name, of every part that has any."""
    c = _TOTAL.c
    query = select(_PART.c.key, c.on_hand, c.claimed, c.due_in, c.due_claimed, c.to_buy)
    rows = connection.execute(query.select_from(_TOTAL.join(_PART)).order_by(_PART.c.id))
    return {key: Balance(*totals) for key, *totals in rows if tuple(totals) != _ZEROS}


def to_count(connection: Connection) -> tuple[str, ...]:
    """Names of the parts whose figure in the book is doubtful."""
    query = select(_PART.c.name).select_from(_TOTAL.join(_PART)).where(_TOTAL.c.to_count.is_(True))
    return tuple(connection.execute(query.order_by(_PART.c.key)).scalars())


def lots(connection: Connection, parts: Iterable[str] | None) -> Mapping[str, tuple[Lot, ...]]:
    """Open lots by folded part name, first in first out (no date counts as oldest); None: of every part."""
    query = (
        select(_PART.c.key, _LOT.c.id, _PART.c.name, _LOT.c.name, _LOT.c.received_on)
        .add_columns(_LEFT.c.quantity, _LEFT.c.cost, _LEFT.c.claimed, _LOT.c.opened_on, _LOT.c.use_by)
        .add_columns(_LOT.c.smallest_diameter, _LOT.c.length, _LEFT.c.cost_from)
        .select_from(_LEFT.join(_LOT).join(_PART, _LEFT.c.part_id == _PART.c.id))
        .where(_LEFT.c.quantity > 0)
        .order_by(_LEFT.c.part_id, _LOT.c.received_on.nulls_first(), _LOT.c.id)
    )
    if parts is not None:
        query = query.where(_PART.c.key.in_({fold(part) for part in parts}))
    found: dict[str, list[Lot]] = defaultdict(list)
    for row in rows(connection, query):
        fields: list[Any] = [*row[1:10], *map(codecs.maybe_length, row[10:12]), row[12]]
        found[row[0]].append(Lot(*fields))
    return {key: tuple(several) for key, several in found.items()}


def claims(connection: Connection) -> tuple[Claim, ...]:
    """What is set aside for orders, the earliest due first; not by when it was booked, which an undo changes."""
    c = _CLAIM.c
    query = (
        select(_ORDER.c.name, _PART.c.name, c.account, c.quantity, c.lot_id, c.purchase_id)
        .select_from(_CLAIM.join(_ORDER).join(_PART, c.part_id == _PART.c.id))
        .order_by(_ORDER.c.due, _ORDER.c.id, c.part_id, c.account)
        .order_by(c.lot_id.nulls_last(), c.purchase_id.nulls_last())
    )
    return tuple(Claim(*row) for row in rows(connection, query))


def due(connection: Connection) -> tuple[DueIn, ...]:
    """What is bought and has not arrived, the earliest expected first."""
    query = (
        select(_DUE.c.purchase_id, _PART.c.name, _SUPPLIER.c.name, _DUE.c.quantity, _DUE.c.cost)
        .add_columns(_PURCHASE.c.expected_on, _DUE.c.claimed, _PURCHASE.c.pack, _PURCHASE.c.code)
        .select_from(_DUE.join(_PURCHASE).join(_SUPPLIER).join(_PART, _DUE.c.part_id == _PART.c.id))
        .where(_DUE.c.quantity > 0)
        .order_by(_PURCHASE.c.expected_on.nulls_last(), _PURCHASE.c.id)
    )
    return tuple(DueIn(*row) for row in rows(connection, query))


def orders(connection: Connection) -> Mapping[str, Order]:
    """Every order by folded name, in whatever state."""
    accepted: dict[int, list[str]] = defaultdict(list)
    query = select(_ACCEPTED.c.wish_id, _PLATING.c.name).select_from(_ACCEPTED.join(_PLATING))
    for number, plating in rows(connection, query.order_by(_ACCEPTED.c.wish_id, _ACCEPTED.c.position)):
        accepted[number].append(plating)
    maybe, handed = codecs.maybe_length, _handed(connection)
    blank, refill, c = _PART.alias(), _PART.alias(), _ORDER.c
    query = (
        select(c.id, c.key, c.name, _PATTERN.c.name, blank.c.name, c.count, c.due, c.customer)
        .add_columns(refill.c.name, c.extra_diameter, c.price, c.state)
        .select_from(
            _ORDER.join(_PATTERN)
            .join(blank, c.blank_id == blank.c.id)
            .outerjoin(refill, c.refill_id == refill.c.id)
        )
        .order_by(c.id)
    )
    return {
        key: Order(
            name,
            pattern,
            blank_name,
            count - handed.get(number, 0),
            by,
            tuple(accepted[number]),
            customer,
            swap,
            maybe(extra),
            price,
            state,
            handed.get(number, 0),
        )
        for number, key, name, pattern, blank_name, count, by, customer, swap, extra, price, state in rows(
            connection, query
        )
    }


def _handed(connection: Connection) -> dict[int, int]:
    """Pieces of promised orders, by their number, that went out since they were promised."""
    c = _STEP.c
    query = (
        select(c.wish_id, c.document_id, c.state, c.handed)
        .select_from(_STEP.join(_ORDER, c.wish_id == _ORDER.c.id))
        .where(_ORDER.c.state == "promised")
        .order_by(c.document_id)
    )
    steps = list(rows(connection, query))
    if not any(handed for *_, handed in steps):
        return {}
    chains, done = Chains(connection), dict[int, int]()
    for order, document, state, handed in steps:
        if chains.stands(document):
            done[order] = done.get(order, 0) + handed if state == "promised" else 0
    return done
