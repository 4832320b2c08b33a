"""What every table has in common: one private metadata, named constraints and the usual columns."""

from __future__ import annotations

from typing import Any

from sqlalchemy import BigInteger, MetaData
from sqlalchemy.orm import registry
from sqlmodel import Field, SQLModel

# Every constraint has a name of its own, so that a later migration can speak of it on any server.
METADATA = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "ck": "ck_%(table_name)s_%(constraint_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
        "pk": "pk_%(table_name)s",
    }
)


class Row(SQLModel, registry=registry(metadata=METADATA)):
    """One row of the store. Metadata is our own: nothing else that uses SQLModel can meet it."""


def number(foreign: str | None = None) -> Any:
    """A key column. The store hands out the numbers itself, under its lock: no sequence, no RETURNING."""
    if foreign:
        return Field(primary_key=True, foreign_key=foreign, sa_column_kwargs={"autoincrement": False})
    return Field(primary_key=True, sa_column_kwargs={"autoincrement": False})


def to(foreign: str, **more: Any) -> Any:
    """A reference to a row of another table."""
    return Field(foreign_key=foreign, **more)


def whole(**more: Any) -> Any:
    """Thousandths of a unit, or minor units of money: 64 bits, never a float."""
    return Field(sa_type=BigInteger, **more)


def named() -> Any:
    """The folded name under which two spellings meet."""
    return Field(unique=True)
