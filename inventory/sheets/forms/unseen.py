"""What the rows of a filled sheet do not say of themselves: which of them are hidden, which cells are merged."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.errors import Place
from inventory.sheets.files import Aside, Merge
from inventory.sheets.forms.returned_form import FilledTab
from inventory.sheets.merged import refused, unclear
from inventory.sheets.stock.columns import fold_heading


def check_unseen(
    tabs: Sequence[FilledTab], fields: Sequence[str], problems: list[Place], announced: list[str]
) -> None:
    """Say which filled rows are hidden, and refuse merged cells of which nobody can tell what they are said of.

    fields: headings that matter.
    """
    for tab in tabs:
        if tab.hidden:
            announced.append(f"{tab.file}, {tab.name}: the tab is hidden; it was read like the others.")
        _announce(tab, tab.aside, announced)
        problems += _merged(tab, {fold_heading(name) for name in fields})


def _announce(tab: FilledTab, found: Aside, announced: list[str]) -> None:
    rows = [row.number for row in tab.rows if row.number in found.hidden]
    if rows:
        which = f"row {rows[0]} is" if len(rows) == 1 else f"rows {', '.join(map(str, rows[:12]))} are"
        more = f" and {len(rows) - 12} more" if len(rows) > 12 else ""
        announced.append(f"{tab.file}, {tab.name}: {which} hidden{more}; they were read like the others.")


def _merged(tab: FilledTab, fields: set[str]) -> list[Place]:
    read = {at: title for at, title in enumerate(tab.titles) if fold_heading(title) in fields}
    rows = {row.number: row for row in tab.rows}

    def said(merge: Merge) -> str:
        row = rows.get(merge.rows[0])
        return row.cells.get(tab.headings[merge.columns[0]], "") if row else ""

    return refused(tab.file, tab.name, unclear(tab.aside, tab.heading_row, read), read, said)
