"""From names to row numbers: the pure rooms speak in names, the tables refer by number."""

from __future__ import annotations

from collections.abc import Mapping

from sqlalchemy import Connection, Table, func, select

from inventory.catalogue import fold
from inventory.errors import UnknownName
from inventory.store.mapping.bulk import Values, change, put
from inventory.store.schema.core import table


class Numbers:
    """The rows of one table of named things: numbers by folded name."""

    def __init__(self, connection: Connection, of: Table, what: str) -> None:
        self.table, self.what = of, what
        rows = connection.execute(select(of.c.key, of.c.id, of.c.name)).all()
        self.known: dict[str, int] = {key: number for key, number, _ in rows}
        self.names: dict[int, str] = {number: name for _, number, name in rows}

    def of(self, name: str) -> int:
        """The number of a name. Raises UnknownName with the nearest."""
        number = self.known.get(fold(name))
        if number is None:
            raise UnknownName(self.what, name, self.names.values())
        return number

    def put(self, connection: Connection, rows: Mapping[str, Values]) -> None:
        """Add rows under new names and replace those under known ones; each has `name` and the other columns."""
        new, old = [], []
        after = max(self.names, default=0)
        for key, row in rows.items():
            number = self.known.get(key)
            if number is None:
                after += 1
                self.known[key] = after
                new.append({"id": after, "key": key, **row})
            else:
                old.append({"id": number, **row})
            self.names[self.known[key]] = row["name"]
        put(connection, self.table, new)
        change(connection, self.table, "id", old)


class Names:
    """Every table of named things, by its name; each is read when it is first asked for."""

    def __init__(self, connection: Connection) -> None:
        self.connection = connection
        self._read: dict[str, Numbers] = {}

    def __getitem__(self, of: str) -> Numbers:
        if of not in self._read:
            self._read[of] = Numbers(self.connection, table(of), _CALLED.get(of, of))
        return self._read[of]


_CALLED = {"customer_order": "order"}
"""How people call what a table holds, where it is not the table's name."""


def next_number(connection: Connection, of: Table) -> int:
    """The first number not handed out yet; only meaningful under the write lock."""
    return int(connection.execute(select(func.coalesce(func.max(of.c.id), 0))).scalar_one()) + 1
