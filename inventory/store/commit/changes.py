"""Rows that a document changes so that its undo can put them back: names, what is retired or merged, what was agreed.

What a load says of things is not among them: it stays when the load is taken back. Every change is noted with what the
row was before and after; the undo of a document turns its changes round, newest first, and notes that in turn.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import Any

from sqlalchemy import Connection, Date, Table, and_, delete, insert, select, update

from inventory.errors import StillNeeded
from inventory.store.mapping.bulk import Values
from inventory.store.schema.core import table

_CHANGED = table("changed_row")


class Changes:
    """The changes of one document that is being booked."""

    def __init__(self, connection: Connection, document: int) -> None:
        self.connection, self.document, self.position = connection, document, 0

    def put(self, of: str, key: Values, after: Mapping[str, Any] | None) -> None:
        """Make a row say `after`: change it, add it where there is none, or (None) take it away."""
        before = row_of(self.connection, of, key)
        if before is not None and after is not None:
            after = {column: value for column, value in after.items() if before[column] != value}
            before = {column: before[column] for column in after}
        if before != after:
            self._write(of, key, before, after)

    def put_list(self, of: str, owner: Values, rows: Iterable[Values]) -> None:
        """Make the rows of an owner be these, by their position."""
        wanted = dict(enumerate(rows))
        c = table(of).c
        query = select(c.position).where(_where(table(of), owner))
        there = set(self.connection.execute(query).scalars())
        for at in sorted(there | wanted.keys()):
            self.put(of, {**owner, "position": at}, wanted.get(at))

    def turn(self, document: int) -> None:
        """Turn round what a document changed. Raises StillNeeded where a row is not as it left it."""
        c = _CHANGED.c
        query = select(c.of_table, c.row_key, c.before, c.after).where(c.document_id == document)
        for of, key, before, after in self.connection.execute(query.order_by(c.position.desc())).all():
            self._put_back(of, *(_read(table(of), text) for text in (key, before, after)))

    def _put_back(self, of: str, key: Values | None, before: Values | None, after: Values | None) -> None:
        there = row_of(self.connection, of, key or {})
        same = there is None if after is None else there is not None and after.items() <= there.items()
        if not same:
            raise StillNeeded(
                "It cannot be taken back: what it changed was changed again since, perhaps by a sheet.",
                hint="Change it by hand: `kitdrawer rename`, `kitdrawer change`, or load a sheet.",
            )
        self._refuse_taken(of, key or {}, before or {})
        self._write(of, key or {}, after, before)

    def _refuse_taken(self, of: str, key: Values, before: Values) -> None:
        """Raises StillNeeded where what gets its former name back would share it with something else."""
        if not ("key" in before and "id" in key):
            return
        c = table(of).c
        same = select(c.id).where(c.key == before["key"], c.id != key["id"])
        if self.connection.execute(same).first() is not None:
            name = before.get("name") or before["key"]
            raise StillNeeded(
                f"It cannot be taken back: something else is called “{name}” since.",
                hint="Leave it as it is, or say it anew: `kitdrawer merge`, `kitdrawer rename`.",
            )

    def _write(self, of: str, key: Values, before: Values | None, after: Mapping[str, Any] | None) -> None:
        there = table(of)
        if before is None:
            self.connection.execute(insert(there), {**key, **(after or {})})
        elif after is None:
            self.connection.execute(delete(there).where(_where(there, key)))
        else:
            self.connection.execute(update(there).where(_where(there, key)).values(dict(after)))
        note = {"document_id": self.document, "position": self.position, "of_table": of}
        said = {"row_key": _said(key), "before": _said(before), "after": _said(after)}
        self.connection.execute(insert(_CHANGED), {**note, **said})
        self.position += 1


def row_of(connection: Connection, of: str, key: Values) -> Values | None:
    """What a row says beside its key; None where there is none."""
    there = table(of)
    row = connection.execute(select(there).where(_where(there, key))).mappings().first()
    return None if row is None else {column: value for column, value in row.items() if column not in key}


def changed_later(connection: Connection, document: int) -> Iterator[int]:
    """Later documents that changed a row that this one changed."""
    later, c = _CHANGED.alias(), _CHANGED.c
    same = and_(later.c.of_table == c.of_table, later.c.row_key == c.row_key, later.c.document_id > document)
    query = (
        select(later.c.document_id).select_from(_CHANGED.join(later, same)).where(c.document_id == document)
    )
    yield from connection.execute(query.distinct()).scalars()


def _where(of: Table, key: Values) -> Any:
    return and_(*(of.c[column] == value for column, value in key.items()))


def _said(values: Mapping[str, Any] | None) -> str | None:
    return None if values is None else json.dumps(values, default=date.isoformat, sort_keys=True)


def _read(of: Table, text: str | None) -> Values | None:
    if text is None:
        return None
    found = json.loads(text)
    return {
        column: date.fromisoformat(value) if value and isinstance(of.c[column].type, Date) else value
        for column, value in found.items()
    }
