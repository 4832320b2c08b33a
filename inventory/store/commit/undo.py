"""Which document to take back, and what the book says of all it touched; the rest is `ledger.documents.undoing`."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from sqlalchemy import Connection, func, select

from inventory.catalogue import OrderState, fold
from inventory.errors import Refused
from inventory.ledger import Line, Proposal
from inventory.ledger.documents.booked import Booked, Document
from inventory.ledger.documents.undoing import (
    Layer,
    Surroundings,
    already,
    standing_on,
    undoing,
)
from inventory.ledger.lending import LENDING
from inventory.ledger.sessions import SessionState
from inventory.store.commit.changes import changed_later
from inventory.store.queries import book
from inventory.store.queries.documents import booked, document, head, heads
from inventory.store.queries.lending import more_back_than_lent
from inventory.store.queries.standing import Chains, standing
from inventory.store.schema.core import table

_DOCUMENT, _LINE, _PART, _ORDER = table("document"), table("movement"), table("part"), table("customer_order")
_SESSION_STEP, _PAYMENT = table("session_step"), table("payment")
_STEP, _DOUBT, _LEFT, _DUE = table("order_step"), table("doubt"), table("lot_balance"), table("due_balance")

AT_ONCE = 5_000
"""Numbers asked for in one statement: SQLite takes some 32,000, and long lists are slow to compile."""


def undo_proposal(connection: Connection, version: int, number: int | None, on: date) -> Proposal:
    """The proposal that takes document `number` (None: the newest first-hand one that stands) back.

    A first-hand document that was brought back is meant by its own number: the last of its chain is reversed.
    """
    chains = Chains(connection)
    asked = _newest(connection) if number is None else head(connection, number).id
    told = booked(connection, chains.tip(asked) if chains.stands(asked) else asked)
    first = head(connection, chains.first(asked))
    if told.document.undone_by is not None:
        raise already(first, asked, chains.tip(asked), stands=chains.first_stands(asked))
    return undoing(told, _surroundings(connection, told), on, version, first)


def stands_on(connection: Connection, number: int) -> tuple[Document, ...]:
    """The later documents that have to be undone before this one can be turned round, oldest first.

    None for one whose turn it is not: it is already undone.
    """
    chains = Chains(connection)
    told = booked(connection, chains.tip(number) if chains.stands(number) else number)
    if told.document.undone_by is not None:
        return ()
    return standing_on(told, _surroundings(connection, told))


def _newest(connection: Connection) -> int:
    found = connection.execute(select(func.max(_DOCUMENT.c.id)).where(standing())).scalar()
    if found is None:
        raise Refused("There is nothing to undo.", hint="Only what was booked can be undone.")
    return int(found)


def _surroundings(connection: Connection, told: Booked) -> Surroundings:
    number = told.document.id
    in_force = _InForce(connection, number)
    orders = {fold(line.order) for line in told.lines if line.order is not None}
    return Surroundings(
        lots=_layers(connection, _LEFT, "lot_id", {line.lot for line in told.lines}),
        due=_layers(connection, _DUE, "purchase_id", {line.purchase for line in told.lines}),
        balances=book.balances(connection),
        claims=tuple(claim for claim in book.claims(connection) if fold(claim.order) in orders),
        states=in_force.states(told),
        doubts=in_force.doubts(told),
        sessions=in_force.sessions(told),
        later=_Later(connection, number),
        later_states=in_force.later_states(told),
        not_lent=in_force.not_lent(told),
    )


def _layers(connection: Connection, of: Any, key: str, numbers: Iterable[Any]) -> dict[int, Layer]:
    wanted = [number for number in numbers if number is not None]
    query = select(of.c[key], _PART.c.name, of.c.quantity, of.c.cost, of.c.claimed).select_from(
        of.join(_PART)
    )
    found: dict[int, Layer] = {}
    for start in range(0, len(wanted), 5_000):
        rows = connection.execute(query.where(of.c[key].in_(wanted[start : start + 5_000])))
        found.update((row[0], Layer(*row[1:])) for row in rows)
    return found


class _Later:
    """Lines of later documents about one part, read where the part turns out to be short: they name what stands on it.

    A document and its undo cancel out and are left out.
    """

    def __init__(self, connection: Connection, number: int) -> None:
        self.connection, self.number = connection, number
        self.known: dict[str, tuple[tuple[Document, Line], ...]] = {}

    def __call__(self, part: str) -> tuple[tuple[Document, Line], ...]:
        """The lines of a part, each with its document."""
        if part not in self.known:
            self.known[part] = self._lines(part)
        return self.known[part]

    def _lines(self, part: str) -> tuple[tuple[Document, Line], ...]:
        c = _LINE.c
        query = (
            select(
                c.document_id, c.account, c.quantity, c.cost, c.lot_id, c.purchase_id, _ORDER.c.name, c.reason
            )
            .select_from(
                _LINE.join(_PART, c.part_id == _PART.c.id).outerjoin(_ORDER, c.order_id == _ORDER.c.id)
            )
            .where(c.document_id > self.number, _PART.c.key == fold(part))
            .order_by(c.id)
        )
        rows = self.connection.execute(query).all()
        heads = {head.id: head for head in _standing(self.connection, self.number, {row[0] for row in rows})}
        return tuple(
            (heads[document], Line(account, part, quantity, cost, lot, purchase, order, reason))
            for document, account, quantity, cost, lot, purchase, order, reason in rows
            if document in heads
        )


def _standing(connection: Connection, number: int, wanted: Iterable[int]) -> tuple[Document, ...]:
    """Of these documents later than `number` those that still make a difference to what there was then."""
    rest, found = sorted(wanted), []
    for start in range(0, len(rest), AT_ONCE):
        query = heads().where(_DOCUMENT.c.id.in_(rest[start : start + AT_ONCE])).order_by(_DOCUMENT.c.id)
        found += list(map(document, connection.execute(query)))
    chains = Chains(connection)
    return tuple(one for one in found if chains.tip(one.id) == one.id and chains.changed(one.id, number))


class _InForce:
    """What the documents that stand say of orders, sessions and doubtful parts, once one of them is turned round."""

    def __init__(self, connection: Connection, number: int) -> None:
        self.connection, self.then = connection, Chains(connection, number)

    def _last_word(self, query: Any) -> dict[Any, Any]:
        return {
            key: word
            for number, key, word in self.connection.execute(query)  # the last one to speak stands
            if self.then.stands(number)
        }

    def states(self, told: Booked) -> dict[str, OrderState]:
        """The state each order of `told` goes back to; orders nobody decided about are left out."""
        keys = {fold(name) for name, _ in told.order_states}
        query = select(_STEP.c.document_id, _ORDER.c.key, _STEP.c.state).select_from(_STEP.join(_ORDER))
        return self._last_word(query.where(_ORDER.c.key.in_(keys)).order_by(_STEP.c.document_id))

    def doubts(self, told: Booked) -> dict[str, bool]:
        """Whether each part `told` doubted or counted goes back to being doubtful."""
        keys = {fold(name) for name, _ in told.doubts}
        query = select(_DOUBT.c.document_id, _PART.c.key, _DOUBT.c.doubtful).select_from(_DOUBT.join(_PART))
        return self._last_word(query.where(_PART.c.key.in_(keys)).order_by(_DOUBT.c.document_id))

    def sessions(self, told: Booked) -> dict[int, SessionState]:
        """The state each session of `told` goes back to; those nobody else decided about are left out."""
        numbers = [number for number, _ in told.session_states]
        c = _SESSION_STEP.c
        query = select(c.document_id, c.session_id, c.state).where(c.session_id.in_(numbers))
        return self._last_word(query.order_by(c.document_id)) if numbers else {}

    def not_lent(self, told: Booked) -> tuple[str, ...]:
        """Parts of `told` of which more would have come back than was lent."""
        if told.document.kind not in (*LENDING, "undo"):
            return ()
        return more_back_than_lent(self.connection, self.then, {line.part for line in told.lines})

    def _paid_back(self, told: Booked) -> set[int]:
        """Documents about the money of an order of `told` of which more would have gone back than was paid."""
        c, first = _PAYMENT.c, self.then.first(told.document.id)
        found: set[int] = set()
        mine = self.connection.execute(select(c.order_id).where(c.document_id == first)).scalars().all()
        for order in mine:
            said = self.connection.execute(select(c.document_id, c.amount).where(c.order_id == order)).all()
            if sum(amount for number, amount in said if self.then.stands(number)) < 0:
                found |= {self.then.tip(number) for number, _ in said}
        return {number for number in found if number > told.document.id}

    def later_states(self, told: Booked) -> tuple[Document, ...]:
        """Later documents that still stand and decided about an order or session of `told`, or changed what it did."""
        keys = {fold(name) for name, _ in told.order_states}
        numbers = {number for number, _ in told.session_states}
        decided = set(changed_later(self.connection, told.document.id)) | self._paid_back(told)
        if not keys and not numbers and not decided:
            return ()
        orders = select(_STEP.c.document_id).select_from(_STEP.join(_ORDER)).where(_ORDER.c.key.in_(keys))
        steps = select(_SESSION_STEP.c.document_id).where(_SESSION_STEP.c.session_id.in_(numbers))
        after = told.document.id
        decided |= set(self.connection.execute(orders.where(_STEP.c.document_id > after)).scalars())
        decided |= set(self.connection.execute(steps.where(_SESSION_STEP.c.document_id > after)).scalars())
        return _standing(self.connection, after, decided)
