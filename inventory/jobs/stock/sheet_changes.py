"""What a sheet that is loaded again changes, row by row, and which of its rows are gone."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from inventory.jobs.stock.sheet_rows import RowKey, SheetRow
from inventory.ledger.documents.intake import SheetTab

What = Literal["new", "changed", "gone"]
SAME_SHEET = 2
"""One in so many rows of a tab that was loaded from another file make this file its successor."""


@dataclass(frozen=True, slots=True)
class FieldChange:
    """One field of a row: what it said and what it says now, as it is shown; empty for nothing."""

    field: str
    before: str
    now: str


@dataclass(frozen=True, slots=True)
class RowChange:
    """One row. what: `gone` rows stood in the sheet when it was loaded last, and stand in the book still.

    replaced: of a gone row, that the book lets go of it with this load (a bill's line, a barrel).
    """

    tab: str
    row: str
    what: What
    fields: tuple[FieldChange, ...] = ()
    replaced: bool = False


def changes(known: Mapping[RowKey, SheetRow], now: Mapping[RowKey, SheetRow]) -> Iterator[RowChange]:
    """Rows that are new or say something else. known: of everything `now` names."""
    for key, row in now.items():
        before = known.get(key)
        if before is None:
            yield RowChange(row.tab, row.name, "new")
        elif fields := tuple(_fields(before, row)):
            yield RowChange(row.tab, row.name, "changed", fields)


def _fields(before: SheetRow, now: SheetRow) -> Iterator[FieldChange]:
    for field in dict.fromkeys((*before.says, *now.says)):
        (was, shown), (says, showing) = before.says.get(field, ("", "")), now.says.get(field, ("", ""))
        if was != says:
            yield FieldChange(field, shown, showing)


def left_out(known: Mapping[RowKey, SheetRow], now: Mapping[RowKey, SheetRow]) -> Iterator[RowChange]:
    """Barrels and bill lines that were replaced as a whole and are not among the new ones."""
    owners = {(tab, key.split("\x1f")[0]) for tab, key in now if tab in ("barrels", "bills")}
    for (tab, key), row in known.items():
        if (tab, key) not in now and (tab, key.split("\x1f")[0]) in owners:
            yield RowChange(tab, row.name, "gone", replaced=True)


def succeeding(sheets: Sequence[SheetTab], before: Sequence[SheetTab]) -> tuple[SheetTab, ...]:
    """These sheets, each with the name of the file whose rows it takes the place of: its own, or what it was called.

    A tab of another file is succeeded by one that has at least half of its rows.
    """
    return tuple(replace(one, instead_of=_earlier(one, before)) for one in sheets)


def _earlier(sheet: SheetTab, before: Sequence[SheetTab]) -> str:
    there = {one.sheet: len(one.rows & sheet.rows) for one in before if one.tab == sheet.tab}
    if there.get(sheet.sheet):
        return sheet.sheet
    enough = {
        one.sheet: there[one.sheet]
        for one in before
        if one.tab == sheet.tab and one.rows and SAME_SHEET * there[one.sheet] >= len(one.rows)
    }
    return max(enough, key=lambda name: enough[name]) if enough else ""


def vanished(sheets: Sequence[SheetTab], before: Sequence[SheetTab]) -> set[RowKey]:
    """Rows that stood in what these sheets succeed and stand in no sheet any more."""
    taken = {(one.instead_of, one.tab) for one in sheets}
    standing: Collection[RowKey] = {
        (one.tab, key)
        for one in (*sheets, *(old for old in before if (old.sheet, old.tab) not in taken))
        for key in one.rows
    }
    was = {(one.tab, key) for one in before if (one.sheet, one.tab) in taken for key in one.rows}
    return was - set(standing)
