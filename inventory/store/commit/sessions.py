"""Sessions, outcomes, what was weighed and learned, into their tables. The caller holds the write lock."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from sqlalchemy import Connection, delete

from inventory.ledger import Proposal
from inventory.ledger.learned import LearnedFigures
from inventory.ledger.sessions import Session
from inventory.store.mapping.bulk import change, put
from inventory.store.mapping.mapper import Shape, put_lists
from inventory.store.mapping.names import Names, next_number
from inventory.store.mapping.session_shapes import OBSERVED, OUTCOME, PLANNED, RATE_WORD, SESSION
from inventory.store.mapping.shapes import LEARNED_LOSS, LEARNED_RATE
from inventory.store.schema.core import table

_STEP, _LOSS = table("session_step"), table("outcome_loss")


def put_sessions(connection: Connection, proposal: Proposal, document: int, names: Names) -> None:
    """Everything a proposal says of sessions and of what was learned."""
    first = next_number(connection, SESSION.table) if proposal.sessions else 0
    states: dict[int, str] = dict(proposal.session_states)
    for number, session in enumerate(proposal.sessions, first):
        _session(connection, session, number, document, names)
        states[number] = session.state
    steps = [{"document_id": document, "session_id": of, "state": state} for of, state in states.items()]
    put(connection, _STEP, steps)
    change(connection, SESSION.table, "id", [{"id": of, "state": state} for of, state in states.items()])
    _outcomes(connection, proposal, document, names)
    observed = [OBSERVED.row(one, names, document_id=document) for one in proposal.observed]
    put(connection, OBSERVED.table, observed)
    words = [RATE_WORD.row(one, names, document_id=document) for one in proposal.rate_words]
    put(connection, RATE_WORD.table, words)
    if proposal.learned is not None:
        put_learned(connection, proposal.learned, names)


def _session(connection: Connection, session: Session, number: int, document: int, names: Names) -> None:
    put(connection, SESSION.table, [SESSION.row(session, names, id=number, document_id=document)])
    rows = [PLANNED.row(row, names) for row in session.rows]
    put_lists(connection, "session_plan", "session_id", {number: rows})


def _outcomes(connection: Connection, proposal: Proposal, document: int, names: Names) -> None:
    placed = [{"document_id": document, "position": at} for at in range(len(proposal.outcomes))]
    rows = [OUTCOME.row(one, names, **at) for one, at in zip(proposal.outcomes, placed, strict=True)]
    put(connection, OUTCOME.table, rows)
    losses = [
        {**at, "stage": stage, "pieces": pieces}
        for one, at in zip(proposal.outcomes, placed, strict=True)
        for stage, pieces in one.lost.items()
        if pieces
    ]
    put(connection, _LOSS, losses)


def put_learned(connection: Connection, learned: LearnedFigures, names: Names) -> None:
    """These figures in place of all earlier ones."""
    _replace(connection, LEARNED_RATE, learned.rates, names)
    _replace(connection, LEARNED_LOSS, learned.losses, names)


def _replace(connection: Connection, shape: Shape[Any], figures: Iterable[Any], names: Names) -> None:
    connection.execute(delete(shape.table))
    put(connection, shape.table, [shape.row(one, names) for one in figures])
