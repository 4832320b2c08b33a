"""Which documents stand: the one place that knows it.

An undo is a document that takes another one back, and undoing that brings the first one back. So documents form chains:
at the bottom one that says something itself (a first-hand one), above it its undo, the undo of that, and so on. A
first-hand document stands where an even number of others is above it. What undos say is never looked at for what
happened: it is what the first-hand ones that stand say.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from sqlalchemy import CTE, ColumnElement, Connection, and_, func, literal, select

from inventory.store.schema.core import table

_DOCUMENT = table("document")


@cache  # a query of queries takes as long to write as to answer, and most questions have it in them
def _turned() -> CTE:
    """Every undo with the first-hand document at its bottom and how far it is above it: id, first, depth."""
    bottom, later = _DOCUMENT.alias(), _DOCUMENT.alias()
    lowest = (
        select(_DOCUMENT.c.id, _DOCUMENT.c.reverses.label("first"), literal(1).label("depth"))
        .join(bottom, _DOCUMENT.c.reverses == bottom.c.id)
        .where(_DOCUMENT.c.reverses > 0, bottom.c.reverses.is_(None))  # > 0 finds them by the index
        .cte("turned", recursive=True)
    )
    above = select(later.c.id, lowest.c.first, lowest.c.depth + 1).join(
        lowest, later.c.reverses == lowest.c.id
    )
    return lowest.union_all(above)


@cache
def standing() -> ColumnElement[bool]:
    """The condition on the table `document` that a row is first-hand and stands."""
    turned = _turned()
    off = select(turned.c.first).group_by(turned.c.first).having(func.max(turned.c.depth) % 2 == 1)
    return and_(_DOCUMENT.c.reverses.is_(None), _DOCUMENT.c.id.not_in(off))


class Chains:
    """The chains of undos as they are; reversed_: as they will be once that document is reversed too."""

    def __init__(self, connection: Connection, reversed_: int | None = None) -> None:
        turned = _turned()
        self._first: dict[int, int] = {}
        self._above: dict[int, list[int]] = {}
        query: Any = select(turned.c.id, turned.c.first).order_by(turned.c.depth)
        for number, first in connection.execute(query):
            self._first[number] = first
            self._above.setdefault(first, []).append(number)
        self._once_more = None if reversed_ is None else self.first(reversed_)

    def first(self, number: int) -> int:
        """The first-hand document at the bottom of a document's chain; itself where it is one."""
        return self._first.get(number, number)

    def tip(self, number: int) -> int:
        """The last document of the chain: to reverse it turns the first-hand one round."""
        return self._chain(number)[-1]

    def _chain(self, number: int) -> list[int]:
        first = self.first(number)
        return [first, *self._above.get(first, ())]

    def stands(self, number: int) -> bool:
        """Whether this is a first-hand document that stands."""
        return number not in self._first and (len(self._chain(number)) - (number == self._once_more)) % 2 == 1

    def changed(self, number: int, version: int) -> bool:
        """Whether the chain of a document makes a difference to what the book was when it held `version` documents."""
        return sum(one > version for one in self._chain(number)) % 2 == 1

    def first_stands(self, number: int) -> bool:
        """Whether what this document does or takes back stands."""
        return self.stands(self.first(number))
