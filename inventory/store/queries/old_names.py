"""Which names things had before, which parts were merged into others, and what is retired."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TypeVar

from sqlalchemy import Connection, select

from inventory.catalogue import Known, Named, fold
from inventory.store.schema.core import table

T = TypeVar("T")
_OLD, _RETIRED, _PART = table("old_name"), table("retired"), table("part")
_OFFER, _SUPPLIER = table("offer"), table("supplier")


NAMED = ("supplier", "plating", "pattern")
"""What is merged by its name alone."""


class OldNames:
    """Present folded names by old ones, by the table of what they name."""

    def __init__(self, connection: Connection) -> None:
        into = merged_into(connection)
        numbers: dict[str, dict[str, int]] = {}
        query = select(_OLD.c.of_table, _OLD.c.key, _OLD.c.number).where(_OLD.c.of_table != "offer")
        for of, key, number in connection.execute(query):
            numbers.setdefault(of, {})[key] = number
        merged = _keys(connection, "part", into)
        if into:
            numbers.setdefault("part", {}).update({key: number for number, key in merged.items()})
        self._merged = frozenset(merged.values())
        present = _keys(connection, "part", {last_of(number, into) for number in into})
        self._into = {number: present[last_of(number, into)] for number in into}
        self._old = {of: _present(connection, of, some, into) for of, some in numbers.items()}

    def keys(self, of: str) -> Mapping[str, str]:
        """Present folded names by old ones."""
        return self._old.get(of, {})

    def known(self, of: str, there: Mapping[str, T]) -> Mapping[str, T]:
        """Things of a table, found by their old names too; as they are where none has any.

        A row whose own name is an old one of another thing is that one now (a part says so in its own row).
        """
        old = self._old.get(of)
        if not old:
            return there
        others = old.keys() & there.keys() if of in NAMED else self._merged & set(old)
        numbers = {**there.numbers, **self._into} if isinstance(there, Known) else None
        return Known({key: one for key, one in there.items() if key not in others}, old, others, numbers)


def _present(
    connection: Connection, of: str, numbers: Mapping[str, int], into: Mapping[int, int]
) -> dict[str, str]:
    last = {key: last_of(number, into if of == "part" else {}) for key, number in numbers.items()}
    keys = _keys(connection, of, last.values())
    return {key: keys[number] for key, number in last.items()}


def _keys(connection: Connection, of: str, numbers: Iterable[int]) -> dict[int, str]:
    wanted = set(numbers)
    if not wanted:
        return {}
    there = table(of)
    query = select(there.c.id, there.c.key).where(there.c.id.in_(sorted(wanted)))
    return dict(tuple(row) for row in connection.execute(query))


def merged_into(connection: Connection) -> dict[int, int]:
    """The numbers of parts that are others now, each with that one's."""
    query = select(_PART.c.id, _PART.c.into_id).where(_PART.c.into_id.is_not(None))
    return dict(tuple(row) for row in connection.execute(query))


def last_of(number: int, into: Mapping[int, int]) -> int:
    """The number of the part one is now."""
    while number in into:
        number = into[number]
    return number


def merged_keys(connection: Connection) -> dict[str, str]:
    """Folded names of parts that are others now, each with that one's."""
    into = merged_into(connection)
    keys = _keys(connection, "part", {*into, *into.values()})
    return {keys[number]: keys[last_of(number, into)] for number in into}


def present_keys(connection: Connection, names: Iterable[str]) -> set[str]:
    """The present folded names of parts, whatever names they are asked for by."""
    known = OldNames(connection).keys("part")
    return {known.get(key, key) for key in map(fold, names)}


def part_numbers(connection: Connection, name: str) -> tuple[int, ...]:
    """The numbers of the part of a present or old name, and of all that were merged into it; none: nobody has it."""
    query = select(_PART.c.id).where(_PART.c.key == fold(name))
    found = connection.execute(query).scalar() or number_of_old(connection, "part", name)
    if found is None:
        return ()
    into = merged_into(connection)
    last = last_of(found, into)
    return (last, *(number for number in into if last_of(number, into) == last))


def number_of_old(connection: Connection, of: str, name: str) -> int | None:
    """The number of the thing of an old name."""
    query = select(_OLD.c.number).where(_OLD.c.of_table == of, _OLD.c.key == fold(name))
    found: int | None = connection.execute(query).scalar()
    return found


def old_codes(connection: Connection) -> dict[tuple[str, str], str]:
    """Present codes of suppliers' offers by folded supplier and folded code they had before."""
    query = (
        select(_SUPPLIER.c.key, _OLD.c.name, _OFFER.c.code)
        .select_from(_OLD.join(_OFFER, _OFFER.c.id == _OLD.c.number).join(_SUPPLIER))
        .where(_OLD.c.of_table == "offer")
    )
    return {(supplier, fold(old)): code for supplier, old, code in connection.execute(query)}


def retired(connection: Connection) -> frozenset[tuple[Named, str]]:
    """What is no longer used, by kind and folded name."""
    numbers: dict[Named, set[int]] = {}
    for of, number in connection.execute(select(_RETIRED.c.of_table, _RETIRED.c.number)):
        numbers.setdefault(of, set()).add(number)
    return frozenset(
        (of, key) for of, some in numbers.items() for key in _keys(connection, of, some).values()
    )
