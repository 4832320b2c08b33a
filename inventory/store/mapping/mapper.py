"""A frozen class and the table its fields lie in: one rule for reading and writing instead of a query for each.

A field lies in the column of its name. A field that names a thing (`family`) lies in the column `family_id`, as the
number of that thing; where the field is a number itself, so is what is read. How a value is spelled in its column goes
by the field's type (`codecs.CODECS`). What has no column, such as the barrels of a family, is given beside.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import MISSING, Field, fields
from functools import cached_property
from operator import attrgetter
from typing import Any, Generic, NamedTuple, TypeVar

from sqlalchemy import Column, Connection, FromClause, Select, Table, select

from inventory.store.mapping.bulk import Values, drop, put
from inventory.store.mapping.codecs import CODECS
from inventory.store.mapping.names import Names
from inventory.store.schema.core import referred, table

T = TypeVar("T")


class _Field(NamedTuple):
    """One field with its column. named: the table whose rows it names, or empty; missing: what stands for none."""

    name: str
    column: Column[Any]
    kind: str
    named: str
    missing: str | None


class Shape(Generic[T]):
    """How a frozen class lies in a table, and in others which that one refers to.

    beside: fields without a column, given to `build` by name and written by hand. renamed: column by field, where it is
    not the field's name. A field that is neither there nor beside is a mistake: ValueError, when it is first used.
    """

    def __init__(
        self, of: type[T], home: str, *others: str, beside: Iterable[str] = (), **renamed: str
    ) -> None:
        self.of, self._tables, self._beside, self._renamed = of, (home, *others), frozenset(beside), renamed

    @property
    def table(self) -> Table:
        """The table its rows are in."""
        return table(self._tables[0])

    @cached_property
    def _declared(self) -> dict[str, str]:
        """The class's fields with their types as they are written."""
        return {one.name: str(one.type) for one in fields(self.of)}  # type: ignore[arg-type]  # T is a dataclass

    @cached_property
    def _fields(self) -> tuple[_Field, ...]:
        return tuple(
            self._field(name, kind) for name, kind in self._declared.items() if name not in self._beside
        )

    def _field(self, name: str, kind: str) -> _Field:
        wanted = self._renamed.get(name, name)
        for columns in (table(one).c for one in self._tables):
            for column in (columns.get(wanted), columns.get(f"{wanted}_id")):
                if column is not None:
                    number = column.name == name or kind.startswith("int")
                    named = "" if number else referred(column)
                    missing = "" if named and column.nullable and "None" not in kind else None
                    return _Field(name, column, kind.removesuffix(" | None"), named, missing)
        raise ValueError(f"{self.of.__name__}.{name} has no column in {' or '.join(self._tables)}")

    @cached_property
    def _read(self) -> tuple[tuple[Column[Any], ...], FromClause]:
        source: FromClause = self.table
        for other in self._tables[1:]:
            source = source.join(table(other))
        columns = []
        for one in self._fields:
            column = one.column
            if one.named:
                there = table(one.named).alias()
                source = source.join(there, column == there.c.id, isouter=bool(column.nullable))
                column = there.c.name
            columns.append(column)
        return tuple(columns), source

    @property
    def columns(self) -> tuple[Column[Any], ...]:
        """What to select, in the order `build` wants it."""
        return self._read[0]

    @property
    def source(self) -> FromClause:
        """The table, joined with all whose names or columns are selected."""
        return self._read[1]

    def select(self, *first: Column[Any]) -> Select[Any]:
        """A SELECT of these columns of its tables, then of its own."""
        return select(*first, *self.columns).select_from(self.source)

    @cached_property
    def build(self) -> Callable[..., T]:
        """One thing from the values of its columns, and by name what has none; what is not given is the default.

        Written out once for each class, as a dataclass writes its own methods: a call by position is what a line by
        hand would be, and thousands of rows are read at every look.
        """
        known: dict[str, Any] = {"of": self.of}
        at = {one.name: number for number, one in enumerate(self._fields)}
        beside, values = [], []
        for one in fields(self.of):  # type: ignore[arg-type]  # T is a dataclass
            if one.name in at:
                values.append(_value(self._fields[at[one.name]], at[one.name], known))
            else:
                beside.append(_parameter(one, known))
                values.append(one.name)
        head = ", ".join(["row", *(["*", *beside] if beside else [])])
        build: Callable[..., T] = eval(f"lambda {head}: of({', '.join(values)})", known)  # noqa: S307 - names of fields
        return build

    def all(self, connection: Connection, *order: Any) -> tuple[T, ...]:
        """Every row, in an order."""
        return tuple(map(self.build, connection.execute(self.select().order_by(*order))))

    def named(self, connection: Connection, **beside: Mapping[int, Any]) -> dict[str, T]:
        """Every row of a table of named things, by folded name. beside: by number, what has no column."""
        c = self.table.c
        found = {}
        for number, key, *row in connection.execute(self.select(c.id, c.key).order_by(c.id)):
            more = {field: of[number] for field, of in beside.items() if number in of}
            found[key] = self.build(row, **more)
        return found

    def lists(self, connection: Connection, owner: str) -> dict[int, tuple[T, ...]]:
        """The rows that belong to each owner, by its number, in the order of their key."""
        query = self.select(self.table.c[owner]).order_by(*self.table.primary_key)
        return grouped((number, self.build(row)) for number, *row in connection.execute(query))

    @cached_property
    def row(self) -> Callable[..., Values]:
        """One thing as a row: `row(thing, names, **said)`; said: columns known already, or of no field."""
        plain = [one for one in self._fields if not one.named and one.kind not in CODECS]
        columns = tuple(one.column.name for one in plain)
        values = attrgetter(*(one.name for one in plain)) if len(plain) > 1 else None
        coded = tuple((one.column.name, one.name, _encoder(one)) for one in self._fields if one not in plain)

        def write(thing: T, names: Names, **said: Any) -> Values:
            said_plainly = values(thing) if values else (getattr(thing, one.name) for one in plain)
            found: Values = dict(zip(columns, said_plainly, strict=True))
            for column, field, encode in coded:
                if column not in said:
                    found[column] = encode(getattr(thing, field), names)
            found.update(said)
            return found

        return write


def _value(of: _Field, at: int, known: dict[str, Any]) -> str:
    """What is written for a field's value in a row."""
    if of.kind in CODECS:
        known[f"read{at}"] = CODECS[of.kind].read
        return f"None if row[{at}] is None else read{at}(row[{at}])"
    return f"row[{at}]" if of.missing is None else f"row[{at}] or {of.missing!r}"


def _parameter(of: Field[Any], known: dict[str, Any]) -> str:
    """What is written for a field that is given by name."""
    made = (
        of.default if of.default_factory is MISSING else of.default_factory()
    )  # the same for all, and never changed
    if made is MISSING:
        return of.name
    known[f"default_{of.name}"] = made
    return f"{of.name}=default_{of.name}"


def _encoder(of: _Field) -> Callable[[Any, Names], Any]:
    if of.named:
        return lambda value, names: None if value == of.missing else names[of.named].of(value)
    write = CODECS[of.kind].write
    return lambda value, _: None if value is None else write(value)


def grouped(pairs: Iterable[tuple[Any, T]]) -> dict[Any, tuple[T, ...]]:
    """What belongs to each, in the order it comes."""
    found: dict[Any, list[T]] = defaultdict(list)
    for owner, one in pairs:
        found[owner].append(one)
    return {owner: tuple(some) for owner, some in found.items()}


def names_of(connection: Connection, of: str, owner: str, what: str) -> dict[int, tuple[str, ...]]:
    """The names a list refers to by the column `what`, by owner, in the order of the list."""
    c = table(of).c
    there = table(referred(c[what])).alias()
    query = select(c[owner], there.c.name).join_from(table(of), there, c[what] == there.c.id)
    return grouped((a, b) for a, b in connection.execute(query.order_by(*table(of).primary_key)))


def put_lists(connection: Connection, of: str, owner: str, lists: Mapping[int, Sequence[Values]]) -> None:
    """Put lists of rows in the place of those the owners had, each row at its position."""
    into = table(of)
    drop(connection, into, owner, lists)
    placed = "position" in into.c
    put(
        connection,
        into,
        [
            {owner: number, **({"position": at} if placed else {}), **row}
            for number, rows in lists.items()
            for at, row in enumerate(rows)
        ],
    )
