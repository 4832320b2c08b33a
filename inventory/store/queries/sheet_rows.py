"""Which rows stood in which sheet when it was loaded last."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection

from sqlalchemy import Connection, select

from inventory.ledger.documents.intake import SheetTab
from inventory.store.schema.core import table

_ROW = table("sheet_row")


def stood(connection: Connection, tabs: Collection[str]) -> tuple[SheetTab, ...]:
    """The rows of these tabs of every sheet."""
    c = _ROW.c
    found: dict[tuple[str, str], set[str]] = defaultdict(set)
    for sheet, tab, row in connection.execute(select(c.sheet, c.tab, c.row).where(c.tab.in_(tabs))):
        found[sheet, tab].add(row)
    return tuple(SheetTab(sheet, tab, frozenset(rows)) for (sheet, tab), rows in sorted(found.items()))
