"""The catalogue's bills and merged parts as they will be once a document is reversed."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace

from sqlalchemy import Connection, select

from inventory.catalogue import Catalogue, Known, Part, fold, over
from inventory.store.queries.old_names import last_of, merged_into
from inventory.store.schema.core import table

_CHANGED, _PART, _PATTERN = table("changed_row"), table("part"), table("pattern")


def into_turned(connection: Connection, turned: int | None) -> dict[int, int]:
    """The numbers of parts that are others then, each with that one's."""
    into = merged_into(connection)
    for key, before in _put_back(connection, "part", turned):
        if "into_id" in before:
            into.pop(key["id"], None)
            into |= {key["id"]: before["into_id"]} if before["into_id"] is not None else {}
    return into


def called_then(connection: Connection, turned: int | None = None) -> dict[str, str]:
    """The names of merged parts' present ones, by the folded names they had."""
    into = into_turned(connection, turned)
    names = _names(connection, {*into, *into.values()})
    return {fold(names[number]): names[last_of(number, into)] for number in into}


def with_turned(
    connection: Connection, known: Catalogue, every: Mapping[str, Part], turned: int
) -> Catalogue:
    """A catalogue with what a document merged apart again, or together where it had parted it.

    every: all parts, those too that are others now.
    """
    if into_turned(connection, turned) == merged_into(connection):
        return known
    lines = list(_put_back(connection, "bill_line", turned))
    numbers = {before["part_id"] for _, before in lines if "part_id" in before}
    names = _names(connection, numbers)
    patterns = dict(tuple(row) for row in connection.execute(select(_PATTERN.c.id, _PATTERN.c.key)))
    bills = {key: list(one.bill) for key, one in known.patterns.items()}
    for key, before in lines:
        if before.get("part_id") is not None and patterns[key["pattern_id"]] in bills:
            bill, at = bills[patterns[key["pattern_id"]]], key["position"]
            bill[at] = replace(bill[at], part=names[before["part_id"]])
    called = {old: fold(new) for old, new in called_then(connection, turned).items()}
    old = known.parts.old if isinstance(known.parts, Known) else {}
    parts = Known({key: one for key, one in every.items() if key not in called}, {**old, **called}, called)
    changed = {key: replace(one, bill=tuple(bills[key])) for key, one in known.patterns.items()}
    return replace(known, parts=parts, patterns=over(known.patterns, changed))


def _put_back(
    connection: Connection, of: str, turned: int | None
) -> list[tuple[Mapping[str, int], Mapping[str, int | None]]]:
    """Keys of rows of a table, each with what they said before a document changed them, in the order of its undo."""
    c = _CHANGED.c
    query = select(c.row_key, c.before).where(c.document_id == turned, c.of_table == of)
    rows = connection.execute(query.order_by(c.position.desc())) if turned is not None else ()
    return [(json.loads(key), json.loads(before) if before else {}) for key, before in rows]


def _names(connection: Connection, numbers: set[int | None] | set[int]) -> dict[int | None, str]:
    wanted = sorted(number for number in numbers if number is not None)
    query = select(_PART.c.id, _PART.c.name).where(_PART.c.id.in_(wanted))
    return dict(tuple(row) for row in connection.execute(query)) if wanted else {}
