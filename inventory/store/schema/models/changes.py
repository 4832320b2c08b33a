"""Tables of what things were called, what is no longer used, and what documents changed of rows that can change."""

from __future__ import annotations

from sqlalchemy import Index

from inventory.store.schema.models.base import Row, number, to


class OldNameRow(Row, table=True):
    """A name a thing had before: whoever says it means the thing. of_table, number: where the thing is."""

    __tablename__ = "old_name"

    of_table: str = number()
    key: str = number()
    name: str
    number: int


class RetiredRow(Row, table=True):
    """A thing that is no longer offered, planned or listed; its past stays."""

    __tablename__ = "retired"

    of_table: str = number()
    number: int = number()


class ChangedRow(Row, table=True):
    """What a document made of a row of another table, so that it can be put back. Written once and never changed.

    row_key, before, after: JSON by column; before: null of a row that came, after: null of one that went.
    """

    __tablename__ = "changed_row"
    __table_args__ = (Index("ix_changed_row_of_table_row_key", "of_table", "row_key"),)

    document_id: int = to("document.id", primary_key=True)
    position: int = number()
    of_table: str
    row_key: str
    before: str | None = None
    after: str | None = None
