"""Sessions, outcomes, what was weighed and learned, into their tables. The caller holds the write lock."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Connection, delete

from inventory.ledger import Proposal
from inventory.ledger.sessions import LearnedFigures, Session
from inventory.store.mapping import codecs
from inventory.store.mapping.bulk import Values, change, put
from inventory.store.mapping.names import Names, next_number
from inventory.store.schema.core import table

_SESSION, _PLAN, _STEP = table("making_session"), table("session_plan"), table("session_step")
_OUTCOME, _LOSS, _OBSERVED = table("outcome"), table("outcome_loss"), table("observed")
_WORD, _RATE, _SHARE = table("rate_word"), table("learned_rate"), table("learned_loss")


def put_sessions(connection: Connection, proposal: Proposal, document: int, names: Names) -> None:
    """Everything a proposal says of sessions and of what was learned."""
    first = next_number(connection, _SESSION) if proposal.sessions else 0
    states: dict[int, str] = dict(proposal.session_states)
    for number, session in enumerate(proposal.sessions, first):
        _session(connection, session, number, document, names)
        states[number] = session.state
    steps = [{"document_id": document, "session_id": of, "state": state} for of, state in states.items()]
    put(connection, _STEP, steps)
    change(connection, _SESSION, "id", [{"id": of, "state": state} for of, state in states.items()])
    _outcomes(connection, proposal, document, names)
    observed = [
        {
            "document_id": document,
            "part_id": names.part.of(one.part),
            "used": one.used,
            "error": one.error,
            "way": one.way,
        }
        for one in proposal.observed
    ]
    put(connection, _OBSERVED, observed)
    words = [
        {
            "document_id": document,
            "part_id": names.part.of(one.part),
            "per": one.per,
            "word": one.word,
            "factor": one.factor,
        }
        for one in proposal.rate_words
    ]
    put(connection, _WORD, words)
    if proposal.learned is not None:
        put_learned(connection, proposal.learned, names)


def _session(connection: Connection, session: Session, number: int, document: int, names: Names) -> None:
    head = {
        "id": number,
        "document_id": document,
        "name": session.name,
        "on_date": session.on,
        "state": session.state,
    }
    put(connection, _SESSION, [head])
    rows = [
        {
            "session_id": number,
            "position": position,
            "wish_id": names.order.of(row.order),
            "kit_id": names.part.of(row.kit),
            "starts": row.starts,
        }
        for position, row in enumerate(session.rows)
    ]
    put(connection, _PLAN, rows)


def _outcomes(connection: Connection, proposal: Proposal, document: int, names: Names) -> None:
    rows: list[Values] = [
        {
            "document_id": document,
            "position": position,
            "wish_id": names.order.maybe(one.order or None),
            "pattern_id": names.pattern.of(one.pattern),
            "kit_id": names.part.of(one.kit),
            "blank_id": names.part.of(one.blank),
            "refill_id": names.part.maybe(one.refill),
            "extra_diameter": codecs.written(one.extra_diameter),
            "good": one.good,
            "tubes_saved": one.tubes_saved,
            "kits_saved": one.kits_saved,
            "in_part": one.in_part,
        }
        for position, one in enumerate(proposal.outcomes)
    ]
    put(connection, _OUTCOME, rows)
    losses = [
        {"document_id": document, "position": position, "stage": stage, "pieces": pieces}
        for position, one in enumerate(proposal.outcomes)
        for stage, pieces in one.lost.items()
        if pieces
    ]
    put(connection, _LOSS, losses)


def put_learned(connection: Connection, learned: LearnedFigures, names: Names) -> None:
    """These figures in place of all earlier ones."""
    connection.execute(delete(_RATE))
    connection.execute(delete(_SHARE))
    rates = [
        {
            "part_id": names.part.of(one.part),
            "per": one.per,
            "factor": one.factor,
            "low": one.low,
            "high": one.high,
            "sessions": one.sessions,
            "outliers": _listed(one.outliers),
            "pinned": one.pinned,
            "scatter": one.scatter,
            "points": _listed(one.points),
            "hands": _listed(one.hands),
            "ordinary": one.ordinary,
        }
        for one in learned.rates
    ]
    put(connection, _RATE, rates)
    losses = [
        {
            "material_id": names.material.of(one.material),
            "stage": one.stage,
            "share": one.share,
            "low": one.low,
            "high": one.high,
            "reached": one.reached,
            "lost": one.lost,
            "worth": one.worth,
        }
        for one in learned.losses
    ]
    put(connection, _SHARE, losses)


def _listed(numbers: Iterable[int]) -> str:
    return codecs.listed(tuple(str(number) for number in numbers))
