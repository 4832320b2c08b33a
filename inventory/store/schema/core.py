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


METADATA = MetaData()
for _name, _text in COLUMNS.items():
    Table(_name, METADATA, *map(_column, columns(_text)))


def table(name: str) -> Table:
    """One table by its name."""
    return METADATA.tables[name]
