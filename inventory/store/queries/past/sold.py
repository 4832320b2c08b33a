"""What was handed over, sold and given between two days, and all that left the shelf; standing entries only."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from sqlalchemy import ColumnElement, Connection, Select, and_, case, func, select

from inventory.ledger.costs import UNKNOWN
from inventory.ledger.past.sales import OF_THE_PIECE, CostClass, Gift, Handed, PastSales, WentOut
from inventory.store.queries.expenses import expenses, sold_off_the_shelf
from inventory.store.queries.standing import standing
from inventory.store.schema.core import table

_DOCUMENT, _LINE, _LOT, _PART = table("document"), table("movement"), table("lot"), table("part")
_ORDER, _STEP, _SUPPLY = table("customer_order"), table("order_step"), table("supply")
_LEFT = table("lot_balance")
_SESSION, _SESSION_STEP = table("making_session"), table("session_step")


def past_sales(connection: Connection, first: date, last: date) -> PastSales:
    """Both days included."""
    costs, days = _costs(connection, first, last)
    spent = expenses(connection, first, last)
    brought = {one.made_in for one in costs if one.made_in is not None}
    return PastSales(
        handed_between(connection, first, last),
        _gifts(connection, first, last) if any(one.word == "given away" for one in costs) else (),
        costs,
        _makings(connection, brought),
        _sessions(connection),
        days,
        _unknown(connection, first, last),
        spent,
        sold_off_the_shelf(connection, {one.order for one in spent if one.order is not None}),
    )


def went_out(connection: Connection) -> Mapping[str, date]:
    """By folded order the last day any of its pieces went to its customer, sold off the shelf ones among them."""
    query = (
        select(_ORDER.c.key, func.max(_DOCUMENT.c.on_date))
        .select_from(_STEP.join(_ORDER).join(_DOCUMENT, _STEP.c.document_id == _DOCUMENT.c.id))
        .where((_STEP.c.state == "handed over") | (_STEP.c.handed > 0), standing())
        .group_by(_ORDER.c.key)
    )
    return dict(tuple(row) for row in connection.execute(query))


def _between(first: date, last: date) -> ColumnElement[bool]:
    return and_(_DOCUMENT.c.on_date >= first, _DOCUMENT.c.on_date <= last)


def _entry(connection: Connection, first: date, last: date) -> ColumnElement[int]:
    """The entry of a line, as one look at lines should name it of which few are wanted.

    Where the days hold most of the book its lines are gone through as they lie, of few days by their entries. No book
    keeps statistics that tell which is less; a sum, though nothing is added, is what no index is used for.
    """
    inside = func.sum(case((_between(first, last), 1), else_=0))
    many, of = connection.execute(select(inside, func.count(_DOCUMENT.c.id))).one()
    return _LINE.c.document_id + 0 if 2 * (many or 0) > of else _LINE.c.document_id


def _in_those(
    first: date, last: date, entry: ColumnElement[int] = _LINE.c.document_id
) -> ColumnElement[bool]:
    return entry.in_(select(_DOCUMENT.c.id).where(_between(first, last), standing()))


def handed_between(connection: Connection, first: date, last: date) -> tuple[Handed, ...]:
    """What each entry handed over: what it says of a part of an order, or all that was left of one."""
    query = (
        select(_STEP.c.document_id, _DOCUMENT.c.on_date, _DOCUMENT.c.kind, _ORDER.c.key, _ORDER.c.count)
        .add_columns(_STEP.c.state, _STEP.c.handed)
        .select_from(_STEP.join(_ORDER).join(_DOCUMENT, _STEP.c.document_id == _DOCUMENT.c.id))
        # a promise alone hands nothing over, and is half of all steps
        .where(standing(), (_STEP.c.state != "promised") | (_STEP.c.handed > 0))
        .order_by(_STEP.c.document_id)
    )
    gone: dict[str, int] = {}
    found = []
    for number, on, word, order, count, state, part in connection.execute(query):
        before = gone.get(order, 0)
        pieces = count - before if state == "handed over" else part
        gone[order] = before + part if state == "promised" else 0
        if pieces and first <= on <= last:
            found.append(Handed(number, on, word, order, pieces))
    return tuple(found)


def _gifts(connection: Connection, first: date, last: date) -> tuple[Gift, ...]:
    query = (
        select(_LINE.c.document_id, _DOCUMENT.c.on_date, _PART.c.key, func.sum(-_LINE.c.quantity))
        .select_from(_LINE.join(_PART, _LINE.c.part_id == _PART.c.id).join(_DOCUMENT))
        .where(_PART.c.kind == "piece", _LINE.c.reason == "given away", _LINE.c.account == "shelf")
        .where(_between(first, last), standing())
        .group_by(_LINE.c.document_id, _DOCUMENT.c.on_date, _PART.c.key)
        .order_by(_LINE.c.document_id, _PART.c.key)
    )
    return tuple(
        Gift(number, on, key, int(many) // 1000) for number, on, key, many in connection.execute(query)
    )


def class_of_part() -> ColumnElement[Any]:
    return case(
        (_PART.c.kind == "piece", "piece"),
        (_PART.c.kind == "tool", "tools"),
        (_PART.c.kind != "supply", "materials"),
        (_SUPPLY.c.type.in_(sorted(OF_THE_PIECE)), "materials"),
        (_SUPPLY.c.type == "packaging", "packaging"),
        else_="supplies",
    )


def with_parts() -> Any:
    parts = _LINE.join(_PART, _LINE.c.part_id == _PART.c.id)
    return parts.outerjoin(_SUPPLY, _SUPPLY.c.part_id == _PART.c.id)


def _costs(connection: Connection, first: date, last: date) -> tuple[tuple[WentOut, ...], Mapping[int, date]]:
    """All lines of the shelf that took something out and were not drawn for pieces of a session; days by entry.

    What a session drew for good pieces lies in them, and is most of all lines: it is asked for by `_makings`.
    """
    c, entry = _LINE.c, _entry(connection, first, last)
    over = select(_STEP.c.document_id).where((_STEP.c.state == "handed over") | (_STEP.c.handed > 0))
    made_in = case((_PART.c.kind == "piece", _LOT.c.document_id))
    groups = entry, c.order_id, class_of_part(), c.reason, made_in
    names = "entry", "order_id", "of", "word", "made_in"
    sums = (
        select(*(one.label(name) for one, name in zip(groups, names, strict=True)))
        .add_columns(func.sum(-c.cost).label("cost"))
        .select_from(with_parts().join(_LOT, c.lot_id == _LOT.c.id))
        .where(c.account == "shelf", c.quantity < 0, _in_those(first, last, entry))
        .where(c.reason.not_in(("used", "robbed", "saved")) | entry.in_(over))
        .group_by(*groups)
        .subquery()
    )
    g = sums.c
    query = (
        select(g.entry, _ORDER.c.key, g.of, g.word, g.cost, g.made_in, _DOCUMENT.c.on_date)
        .select_from(
            sums.join(_DOCUMENT, g.entry == _DOCUMENT.c.id).outerjoin(_ORDER, g.order_id == _ORDER.c.id)
        )
        .order_by(g.entry, _ORDER.c.key, g.of, g.word, g.made_in)
    )
    found, days = list[WentOut](), dict[int, date]()
    for document, order, of, word, cost, made, on in connection.execute(query):
        found.append(WentOut(document, order, of, word, int(cost), made))
        days[document] = on
    return tuple(found), days


def _makings(connection: Connection, documents: set[int]) -> Mapping[int, Mapping[CostClass, int]]:
    """By entry what its good pieces took of each class; only of these entries.

    Most of these lines are of materials: a class is a sum of its own beside that of all, so that the lines need no
    sorting by class.
    """
    c, found = _LINE.c, dict[int, dict[CostClass, int]]()
    parts = select(_PART.c.id, class_of_part().label("of")).outerjoin(
        _SUPPLY, _SUPPLY.c.part_id == _PART.c.id
    )
    of_part = parts.subquery()
    others: tuple[CostClass, ...] = ("supplies", "packaging", "tools", "piece")
    ours = {of: c.part_id.in_(select(of_part.c.id).where(of_part.c.of == of)) for of in others}
    numbers = sorted(documents)
    for start in range(0, len(numbers), 5000):
        query = (
            select(c.document_id, func.sum(-c.cost))
            .add_columns(*(func.sum(case((mine, -c.cost), else_=0)) for mine in ours.values()))
            .where(c.account == "shelf", c.reason == "used", c.document_id.in_(numbers[start : start + 5000]))
            .group_by(c.document_id)
        )
        for number, whole, *sums in connection.execute(query):
            mine = dict(zip(others, map(int, sums), strict=True))
            found[number] = {"materials": int(whole) - sum(mine.values()), **mine}
    return found


def unknown_lots() -> Select[tuple[int]]:
    """Lots whose cost nobody knows: what their lines add up to is kept with what is left of them."""
    return select(_LEFT.c.lot_id).where(_LEFT.c.cost_from >= UNKNOWN)


def _sessions(connection: Connection) -> Mapping[int, str]:
    """By the entry that booked it what a session was called."""
    query = (
        select(_SESSION_STEP.c.document_id, _SESSION.c.name)
        .select_from(_SESSION_STEP.join(_SESSION))
        .where(_SESSION_STEP.c.state == "booked")
    )
    return dict(tuple(row) for row in connection.execute(query))


def _unknown(connection: Connection, first: date, last: date) -> tuple[str, ...]:
    """Names of parts of which something left whose cost nobody knows."""
    c, marks = _LINE.c, unknown_lots()
    if connection.execute(marks.limit(1)).first() is None:
        return ()
    query = (
        select(_PART.c.name)
        .distinct()
        .select_from(_LINE.join(_PART, c.part_id == _PART.c.id))
        .where(c.account == "shelf", c.quantity < 0, c.lot_id.in_(marks), _in_those(first, last))
        .where(c.reason.not_in(("merged", "opened", "moved")))
        .order_by(_PART.c.name)
    )
    return tuple(connection.execute(query).scalars())
