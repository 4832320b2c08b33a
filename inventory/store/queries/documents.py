"""Documents and a part's lines through all of them: the only reading that grows with the book's past."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from sqlalchemy import Connection, Select, Table, func, select

from inventory.errors import UnknownName
from inventory.ledger import Line
from inventory.ledger.documents.booked import Booked, Document, Happening
from inventory.store.mapping.booked_shapes import DOCUMENT, LINE
from inventory.store.queries.old_names import part_numbers
from inventory.store.queries.standing import Chains, standing
from inventory.store.schema.core import table

_DOCUMENT, _LINE, _PART, _ORDER = table("document"), table("movement"), table("part"), table("customer_order")
_LOT, _PURCHASE, _SUPPLIER = table("lot"), table("purchase"), table("supplier")
_STEP, _DOUBT = table("order_step"), table("doubt")
_SESSION_STEP, _OUTCOME = table("session_step"), table("outcome")
_OBSERVED, _WORD = table("observed"), table("rate_word")
_LATER = _DOCUMENT.alias("later")
_HEAD = (*DOCUMENT.columns, _LATER.c.id)
_WITH_LATER = _DOCUMENT.outerjoin(_LATER, _LATER.c.reverses == _DOCUMENT.c.id)


def heads() -> Select[Any]:
    """A SELECT of what `document` wants."""
    return select(*_HEAD).select_from(_WITH_LATER)


def document(row: Iterable[Any]) -> Document:
    """A document from a row of `heads`."""
    *head, later = row
    return DOCUMENT.build(head, undone_by=later)


def documents(connection: Connection, *, last: int | None, kind: str | None) -> tuple[Document, ...]:
    """Documents, newest first."""
    query = heads().order_by(_DOCUMENT.c.id.desc()).limit(last)
    if kind is not None:
        query = query.where(_DOCUMENT.c.kind == kind)
    return tuple(map(document, connection.execute(query)))


def first_day(connection: Connection) -> date | None:
    """The earliest day of an entry that stands; None where nothing was booked."""
    found: date | None = connection.execute(select(func.min(_DOCUMENT.c.on_date)).where(standing())).scalar()
    return found


def head(connection: Connection, number: int) -> Document:
    """One document without its lines. Raises UnknownName."""
    row = connection.execute(heads().where(_DOCUMENT.c.id == number)).first()
    if row is None:
        last = connection.execute(select(func.max(_DOCUMENT.c.id))).scalar()
        unknown = UnknownName("entry", str(number), ())
        unknown.hint = f"The last one is entry {last}." if last else "Nothing is booked yet."
        raise unknown
    return document(row)


def booked(connection: Connection, number: int) -> Booked:
    """One document with all it said. Raises UnknownName."""
    told = head(connection, number)
    steps = (
        select(_ORDER.c.name, _STEP.c.state)
        .select_from(_STEP.join(_ORDER))
        .where(_STEP.c.document_id == number)
        .order_by(_ORDER.c.id)
    )
    doubts = (
        select(_PART.c.name, _DOUBT.c.doubtful)
        .select_from(_DOUBT.join(_PART))
        .where(_DOUBT.c.document_id == number)
        .order_by(_PART.c.id)
    )
    return Booked(
        told,
        _lines(connection, number),
        tuple((order, state) for order, state in connection.execute(steps)),
        tuple((part, doubtful) for part, doubtful in connection.execute(doubts)),
        tuple((session, state) for session, state in connection.execute(_session_steps(number))),
        any(_tells(connection, of, number) for of in (_OUTCOME, _OBSERVED, _WORD)),
    )


def _session_steps(number: int) -> Select[Any]:
    c = _SESSION_STEP.c
    return select(c.session_id, c.state).where(c.document_id == number).order_by(c.session_id)


def _tells(connection: Connection, of: Table, number: int) -> bool:
    query = select(of.c.document_id).where(of.c.document_id == number).limit(1)
    return connection.execute(query).first() is not None


def _lines(connection: Connection, number: int) -> tuple[Line, ...]:
    c = _LINE.c
    query = LINE.select().where(c.document_id == number).order_by(c.id)
    return tuple(map(LINE.build, connection.execute(query)))


def history(connection: Connection, part: str, *, everything: bool = False) -> tuple[Happening, ...]:
    """Lines of a part in the order in which they came into force. Raises UnknownName.

    Only what stands: nothing that was taken back, and no undo. everything: every line ever booked, as it was booked.
    """
    found = part_numbers(connection, part)
    if not found:
        raise UnknownName("part", part, connection.execute(select(_PART.c.name)).scalars())
    return _in_force(connection, _ever(connection, found), everything=everything)


def all_lines(connection: Connection, *, everything: bool = False) -> tuple[Happening, ...]:
    """The same of all parts."""
    return _in_force(connection, _ever(connection), everything=everything)


def _in_force(
    connection: Connection, lines: tuple[Happening, ...], *, everything: bool
) -> tuple[Happening, ...]:
    if everything:
        return lines
    chains = Chains(connection)
    stand = [one for one in lines if chains.stands(one.document.id)]
    return tuple(sorted(stand, key=lambda one: chains.tip(one.document.id)))


def _ever(connection: Connection, parts: tuple[int, ...] = ()) -> tuple[Happening, ...]:
    c, width = _LINE.c, len(_HEAD)
    query = (
        select(*_HEAD, _PART.c.name, c.account, c.quantity, c.cost, c.lot_id, _LOT.c.name, c.purchase_id)
        .add_columns(_SUPPLIER.c.name, _ORDER.c.name, c.reason, c.stage, c.cost_from)
        .select_from(
            _LINE.join(_DOCUMENT, c.document_id == _DOCUMENT.c.id)
            .join(_PART, c.part_id == _PART.c.id)
            .outerjoin(_LATER, _LATER.c.reverses == _DOCUMENT.c.id)
            .outerjoin(_LOT, c.lot_id == _LOT.c.id)
            .outerjoin(_PURCHASE, c.purchase_id == _PURCHASE.c.id)
            .outerjoin(_SUPPLIER, _PURCHASE.c.supplier_id == _SUPPLIER.c.id)
            .outerjoin(_ORDER, c.order_id == _ORDER.c.id)
        )
        .order_by(c.id)
    )
    if parts:
        query = query.where(c.part_id.in_(parts))
    known: dict[int, Document] = {}
    return tuple(_happening(known, tuple(row), width) for row in connection.execute(query))


def _happening(known: dict[int, Document], row: tuple[Any, ...], width: int) -> Happening:
    head = known.get(row[0]) or known.setdefault(row[0], document(row[:width]))
    part, account, quantity, cost, lot, lot_name, purchase, supplier, order, *rest = row[width:]
    names = supplier or "", order or ""
    return Happening(head, part, account, quantity, cost, lot, lot_name or "", purchase, *names, *rest)
