"""Sessions, what came of them, and what was learned, out of their tables."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection

from sqlalchemy import Connection, Join, Subquery, and_, func, select

from inventory.ledger.sessions import Happened, Observed, Outcome, RateWord, Session
from inventory.store.mapping.mapper import grouped
from inventory.store.mapping.session_shapes import OBSERVED, OUTCOME, PLANNED, RATE_WORD, SESSION
from inventory.store.queries.standing import Chains
from inventory.store.schema.core import table

_PART, _DOCUMENT, _DOUBT = table("part"), table("document"), table("doubt")
_OUTCOME, _LOSS, _OBSERVED, _WORD = OUTCOME.table, table("outcome_loss"), OBSERVED.table, RATE_WORD.table


def sessions(connection: Connection) -> tuple[Session, ...]:
    """Every session ever planned, oldest first."""
    planned, c = PLANNED.lists(connection, "session_id"), SESSION.table.c
    every = SESSION.select(c.id).order_by(c.id)
    return tuple(
        SESSION.build(row, rows=planned.get(number, ())) for number, *row in connection.execute(every)
    )


def teaches(connection: Connection, number: int) -> bool:
    """Whether taking a document back changes what is learned from."""
    bottom = Chains(connection).first(number)
    return any(
        connection.execute(select(of.c.document_id).where(of.c.document_id == bottom).limit(1)).first()
        for of in (_OUTCOME, _OBSERVED, _WORD)
    ) or bool(
        connection.execute(
            select(_DOUBT.c.part_id)
            .select_from(_counted_after(_unseen()))
            .where(_DOUBT.c.document_id == bottom, _DOUBT.c.doubtful.is_(False))
            .limit(1)
        ).first()
    )


def happened(connection: Connection, turned: int | None = None) -> tuple[Happened, ...]:
    """Every booked session that stands (once `turned` is reversed), oldest first: what to learn from.

    Among them are the counts of parts that sessions drew by the bill: they bring the book to what is there.
    """
    outcomes, observed = _outcomes(connection), OBSERVED.lists(connection, "document_id")
    observed.update(_counts(connection, {*outcomes, *observed}))
    chains = Chains(connection, turned)
    numbers = {number for number in outcomes.keys() | observed.keys() if chains.stands(number)}
    if not numbers:
        return ()
    c = _DOCUMENT.c
    days = select(c.id, c.on_date).where(c.id.in_(numbers)).order_by(c.on_date, c.id)
    return tuple(
        Happened(number, on, outcomes.get(number, ()), observed.get(number, ()))
        for number, on in connection.execute(days)
    )


def _outcomes(connection: Connection) -> dict[int, tuple[Outcome, ...]]:
    lost: dict[tuple[int, int], dict[str, int]] = defaultdict(dict)
    for document, position, stage, pieces in connection.execute(select(_LOSS)):
        lost[document, position][stage] = pieces
    c = _OUTCOME.c
    query = OUTCOME.select(c.document_id, c.position).order_by(c.document_id, c.position)
    return grouped(
        (document, OUTCOME.build(row, lost=lost[document, position]))
        for document, position, *row in connection.execute(query)
    )


def _counts(connection: Connection, sessions: Collection[int]) -> dict[int, tuple[Observed, ...]]:
    """What documents other than sessions counted of the parts that sessions drew while nobody looked."""
    query = select(_DOUBT.c.document_id, _PART.c.name).select_from(_counted_after(_unseen()).join(_PART))
    query = query.where(_DOUBT.c.doubtful.is_(False)).order_by(_DOUBT.c.document_id, _DOUBT.c.part_id)
    return grouped(
        (document, Observed(name, 0, 0, "not learned"))
        for document, name in connection.execute(query)
        if document not in sessions
    )


def _unseen() -> Subquery:
    """The parts that sessions drew by the bill, with the first that did."""
    c = _OBSERVED.c
    query = select(c.part_id, func.min(c.document_id).label("first")).where(c.way == "by the bill")
    return query.group_by(c.part_id).subquery()


def _counted_after(unseen: Subquery) -> Join:
    after = and_(unseen.c.part_id == _DOUBT.c.part_id, unseen.c.first < _DOUBT.c.document_id)
    return _DOUBT.join(unseen, after)


def rate_words(connection: Connection, turned: int | None = None) -> tuple[RateWord, ...]:
    """What the maker said of rates and did not take back, oldest first."""
    said = RATE_WORD.all(connection, *_WORD.primary_key)
    chains = Chains(connection, turned)
    return tuple(one for one in said if chains.stands(one.document))
