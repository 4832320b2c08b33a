"""Sessions, what came of them, and what was learned, out of their tables."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping
from typing import Any

from sqlalchemy import ColumnElement, Connection, Join, Subquery, and_, false, func, or_, select

from inventory.ledger.as_one import happened_as_one, words_as_one
from inventory.ledger.sessions import Happened, Observed, Outcome, RateWord, Session
from inventory.store.mapping.codecs import CODECS
from inventory.store.mapping.mapper import grouped
from inventory.store.mapping.session_shapes import OBSERVED, OUTCOME, PLANNED, RATE_WORD, SESSION
from inventory.store.queries.old_names import last_of
from inventory.store.queries.standing import Chains
from inventory.store.queries.turned import called_then, into_turned
from inventory.store.schema.core import table

_PATTERN = table("pattern")
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
    """Whether taking a document back changes what is learned from, or of which part it is."""
    bottom = Chains(connection).first(number)
    kind = connection.execute(select(_DOCUMENT.c.kind).where(_DOCUMENT.c.id == bottom)).scalar()
    if kind == "merge":
        return any(connection.execute(select(of.c.part_id).limit(1)).first() for of in (_OBSERVED, _WORD))
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
    return _happened(connection, turned, _outcomes(connection))


def seen(connection: Connection) -> tuple[Happened, ...]:
    """The same as far as supplies were looked at, with nothing of what was made: `came_of` tells that."""
    made = connection.execute(select(_OUTCOME.c.document_id).distinct()).scalars()
    return _happened(connection, None, dict.fromkeys(made, ()))


def came_of(connection: Connection, sessions: Collection[int]) -> dict[int, tuple[Outcome, ...]]:
    """What came of these sessions, the rows of one pattern and size added up: by the number of its entry."""
    c, same = (
        _OUTCOME.c,
        and_(_LOSS.c.document_id == _OUTCOME.c.document_id, _LOSS.c.position == _OUTCOME.c.position),
    )
    rows = c.document_id, c.pattern_id, c.extra_diameter
    lost: dict[tuple[Any, ...], dict[str, int]] = defaultdict(dict)
    losses = (
        select(*rows, _LOSS.c.stage, func.sum(_LOSS.c.pieces))
        .select_from(_OUTCOME.join(_LOSS, same))
        .where(c.document_id.in_(sessions))
        .group_by(*rows, _LOSS.c.stage)
    )
    for *row, stage, pieces in connection.execute(losses):
        lost[tuple(row)][stage] = int(pieces)
    good = (
        select(*rows, func.sum(c.good).label("good"))
        .where(c.document_id.in_(sessions))
        .group_by(*rows)
        .subquery()
    )
    named = select(good, _PATTERN.c.name).join(_PATTERN, good.c.pattern_id == _PATTERN.c.id)
    length = CODECS["Length"].read
    return grouped(
        (
            number,
            Outcome(
                "",
                name,
                "",
                "",
                int(many),
                lost[number, pattern, extra],
                extra_diameter=None if extra is None else length(extra),
            ),
        )
        for number, pattern, extra, many, name in connection.execute(named)
    )


def _happened(
    connection: Connection, turned: int | None, outcomes: Mapping[int, tuple[Outcome, ...]]
) -> tuple[Happened, ...]:
    observed = OBSERVED.lists(connection, "document_id")
    observed.update(_counts(connection, {*outcomes, *observed}, into_turned(connection, turned)))
    chains = Chains(connection, turned)
    numbers = {number for number in outcomes.keys() | observed.keys() if chains.stands(number)}
    if not numbers:
        return ()
    c = _DOCUMENT.c
    days = select(c.id, c.on_date).where(c.id.in_(numbers)).order_by(c.on_date, c.id)
    found = tuple(
        Happened(number, on, outcomes.get(number, ()), observed.get(number, ()))
        for number, on in connection.execute(days)
    )
    called = called_then(connection, turned)
    return happened_as_one(found, called) if called else found


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


def _counts(
    connection: Connection, sessions: Collection[int], into: Mapping[int, int]
) -> dict[int, tuple[Observed, ...]]:
    """What documents other than sessions counted of the parts that sessions drew while nobody looked.

    into: the numbers of parts that are others. What a merge says of doubts is no look at the shelf.
    """
    query = select(_DOUBT.c.document_id, _PART.c.name).select_from(_counted_after(_unseen()).join(_PART))
    if into:
        query = select(_DOUBT.c.document_id, _PART.c.name).where(_PART.c.id == _DOUBT.c.part_id)
        query = query.where(_DOUBT.c.document_id == _DOCUMENT.c.id, _DOCUMENT.c.kind != "merge")
        ours = [_counted_of(some, first) for some, first in _unseen_as_one(connection, into)]
        query = query.where(or_(false(), *ours))
    query = query.where(_DOUBT.c.doubtful.is_(False)).order_by(_DOUBT.c.document_id, _DOUBT.c.part_id)
    return grouped(
        (document, Observed(name, 0, 0, "not learned"))
        for document, name in connection.execute(query)
        if document not in sessions
    )


def _unseen_as_one(connection: Connection, into: Mapping[int, int]) -> Iterator[tuple[set[int], int]]:
    """The numbers of each part that sessions drew by the bill, those it had before too, with the first that did."""
    firsts: dict[int, int] = {}
    found = _unseen().c
    for part, first in connection.execute(select(found.part_id, found.first)):
        last = last_of(part, into)
        firsts[last] = min(first, firsts.get(last, first))
    for last, first in firsts.items():
        yield {last, *(number for number in into if last_of(number, into) == last)}, first


def _counted_of(parts: Collection[int], first: int) -> ColumnElement[bool]:
    return and_(_DOUBT.c.part_id.in_(sorted(parts)), _DOUBT.c.document_id > first)


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
    found = tuple(one for one in said if chains.stands(one.document))
    return words_as_one(found, called_then(connection, turned)) if found else ()
