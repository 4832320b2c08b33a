"""Sessions, what came of them, and what was learned, out of their tables."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping

from sqlalchemy import Connection, Join, Subquery, and_, func, select

from inventory.ledger.sessions import (
    Happened,
    Observed,
    Outcome,
    Planned,
    RateWord,
    Session,
)
from inventory.store.mapping import codecs
from inventory.store.mapping.selecting import rows
from inventory.store.queries.standing import Chains
from inventory.store.schema.core import table

_PART, _ORDER, _PATTERN = table("part"), table("wish"), table("pattern")
_DOCUMENT = table("document")
_SESSION, _PLAN = table("making_session"), table("session_plan")
_OUTCOME, _LOSS, _OBSERVED = table("outcome"), table("outcome_loss"), table("observed")
_DOUBT = table("doubt")
_WORD = table("rate_word")


def sessions(connection: Connection) -> tuple[Session, ...]:
    """Every session ever planned, oldest first."""
    planned: dict[int, list[Planned]] = defaultdict(list)
    query = (
        select(_PLAN.c.session_id, _ORDER.c.name, _PART.c.name, _PLAN.c.starts)
        .select_from(_PLAN.join(_ORDER).join(_PART, _PLAN.c.kit_id == _PART.c.id))
        .order_by(_PLAN.c.session_id, _PLAN.c.position)
    )
    for number, *row in rows(connection, query):
        planned[number].append(Planned(*row))
    c = _SESSION.c
    every = select(c.id, c.document_id, c.name, c.on_date, c.state).order_by(c.id)
    return tuple(
        Session(name, on, tuple(planned[number]), state, number, document)
        for number, document, name, on, state in rows(connection, every)
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
    outcomes, observed = _outcomes(connection), _observed(connection)
    _counts(connection, outcomes, observed)
    chains = Chains(connection, turned)
    numbers = {number for number in outcomes.keys() | observed.keys() if chains.stands(number)}
    if not numbers:
        return ()
    c = _DOCUMENT.c
    days = select(c.id, c.on_date).where(c.id.in_(numbers)).order_by(c.on_date, c.id)
    return tuple(
        Happened(number, on, tuple(outcomes.get(number, ())), tuple(observed.get(number, ())))
        for number, on in rows(connection, days)
    )


def _outcomes(connection: Connection) -> Mapping[int, list[Outcome]]:
    lost: dict[tuple[int, int], dict[str, int]] = defaultdict(dict)
    for document, position, stage, pieces in rows(connection, select(_LOSS)):
        lost[document, position][stage] = pieces
    kit, blank, refill, c = _PART.alias(), _PART.alias(), _PART.alias(), _OUTCOME.c
    query = (
        select(c.document_id, c.position, _ORDER.c.name, _PATTERN.c.name, kit.c.name, blank.c.name, c.good)
        .add_columns(refill.c.name, c.extra_diameter, c.tubes_saved, c.kits_saved, c.in_part)
        .select_from(
            _OUTCOME.join(_PATTERN)
            .join(kit, c.kit_id == kit.c.id)
            .join(blank, c.blank_id == blank.c.id)
            .outerjoin(refill, c.refill_id == refill.c.id)
            .outerjoin(_ORDER, c.wish_id == _ORDER.c.id)
        )
        .order_by(c.document_id, c.position)
    )
    found: dict[int, list[Outcome]] = defaultdict(list)
    for document, position, order, pattern, kit_name, blank_name, good, swap, extra, *saved in rows(
        connection, query
    ):
        extra_diameter = codecs.maybe_length(extra)
        losses = lost[document, position]
        found[document].append(
            Outcome(order or "", pattern, kit_name, blank_name, good, losses, swap, extra_diameter, *saved)
        )
    return found


def _observed(connection: Connection) -> dict[int, list[Observed]]:
    c = _OBSERVED.c
    query = select(c.document_id, _PART.c.name, c.used, c.error, c.way).select_from(_OBSERVED.join(_PART))
    found: dict[int, list[Observed]] = defaultdict(list)
    for document, *row in rows(connection, query.order_by(c.document_id, c.part_id)):
        found[document].append(Observed(*row))
    return found


def _counts(connection: Connection, outcomes: Collection[int], observed: dict[int, list[Observed]]) -> None:
    """Add what documents other than sessions counted of the parts that sessions drew while nobody looked."""
    sessions = {*outcomes, *observed}
    query = select(_DOUBT.c.document_id, _PART.c.name).select_from(_counted_after(_unseen()).join(_PART))
    query = query.where(_DOUBT.c.doubtful.is_(False)).order_by(_DOUBT.c.document_id, _DOUBT.c.part_id)
    for document, name in rows(connection, query):
        if document not in sessions:
            observed[document].append(Observed(name, 0, 0, "not learned"))


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
    c = _WORD.c
    query = select(_PART.c.name, c.per, c.word, c.factor, c.document_id).select_from(_WORD.join(_PART))
    said = [RateWord(*row) for row in rows(connection, query.order_by(c.document_id, c.part_id, c.per))]
    chains = Chains(connection, turned)
    return tuple(one for one in said if chains.stands(one.document))
