"""Which rows stand in which sheet, kept from load to load. What things are is never undone, and so neither is this."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Connection, delete

from inventory.ledger.documents.intake import SheetTab
from inventory.store.mapping.bulk import put
from inventory.store.schema.core import table

_ROW = table("sheet_row")


def keep_rows(connection: Connection, sheets: Iterable[SheetTab]) -> None:
    """Put the rows of these tabs in the place of what stood there, under whatever name the file had then."""
    for one in sheets:
        c = _ROW.c
        earlier = {one.sheet, one.instead_of} - {""}
        connection.execute(delete(_ROW).where(c.tab == one.tab, c.sheet.in_(earlier)))
        put(
            connection,
            _ROW,
            [{"sheet": one.sheet, "tab": one.tab, "row": row} for row in sorted(one.rows)],
        )
