"""The tables for reading and writing in sets.

Building the SQLModel classes costs a looking command more than everything it does with them. They are the only
declaration; `columns.py` is generated from them (`python -m inventory.store.schema.generate`), and so are these tables.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import Column, ForeignKey, MetaData, Table

from inventory.store.schema.columns import COLUMNS
from inventory.store.schema.notation import Short, columns


def _column(of: Short) -> Column[Any]:
    foreign = [ForeignKey(of.target)] if of.target else []
    return Column(
        of.name,
        of.type,
        *foreign,
        primary_key="*" in of.marks,
        nullable="?" in of.marks,
        autoincrement=False,
    )


_MADE = MetaData()


def table(name: str) -> Table:
    """One table by its name, made when it is first asked for: a looking command asks for a third of them."""
    made = _MADE.tables.get(name)
    return made if made is not None else Table(name, _MADE, *map(_column, columns(COLUMNS[name])))


def every_table() -> MetaData:
    """All of them."""
    for name in COLUMNS:
        table(name)
    return _MADE


def referred(column: Column[Any]) -> str:
    """The table whose rows a column refers to by their number; empty where it refers to none."""
    return next((one.target_fullname.partition(".")[0] for one in column.foreign_keys), "")
