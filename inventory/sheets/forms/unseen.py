"""What the rows of a filled sheet do not say of themselves: which of them are hidden, which cells are merged."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.errors import Place
from inventory.sheets.files import Aside, Merge
from inventory.sheets.forms.returned_form import FilledRow, FilledTab
from inventory.sheets.stock.columns import fold_heading


def check_unseen(tabs: Sequence[FilledTab], fields: Sequence[str], announced: list[str]) -> None:
    """Say which filled rows are hidden, and refuse merged cells of which nobody can tell what they are said of.

    fields: headings that matter. A merge over two rows, or over two such columns, leaves it open which one is meant.
    """
    for tab in tabs:
        if tab.hidden:
            announced.append(f"{tab.file}, {tab.name}: the tab is hidden; it was read like the others.")
        _announce(tab, tab.aside, announced)
        _refuse(tab, tab.aside, {fold_heading(name) for name in fields})


def _announce(tab: FilledTab, found: Aside, announced: list[str]) -> None:
    rows = [row.number for row in tab.rows if row.number in found.hidden]
    if rows:
        which = f"row {rows[0]} is" if len(rows) == 1 else f"rows {', '.join(map(str, rows[:12]))} are"
        more = f" and {len(rows) - 12} more" if len(rows) > 12 else ""
        announced.append(f"{tab.file}, {tab.name}: {which} hidden{more}; they were read like the others.")


def _refuse(tab: FilledTab, found: Aside, fields: set[str]) -> None:
    rows = {row.number: row for row in tab.rows}
    for merge in sorted(found.merged, key=lambda merge: (merge.rows, merge.columns)):
        row = rows.get(merge.rows[0])
        if row is not None:
            _refuse_one(tab, row, merge, fields)


def _refuse_one(tab: FilledTab, row: FilledRow, merge: Merge, fields: set[str]) -> None:
    first, last = merge.columns
    under = [at for at in range(first, min(last + 1, len(tab.headings))) if tab.headings[at] in fields]
    said = row.cells.get(tab.headings[first], "") if first < len(tab.headings) else ""
    many = merge.rows[1] > merge.rows[0]
    if said and under and (many or len(under) > 1):
        problem = (
            f"The cells {merge.name} are merged, so it is open which {'row' if many else 'column'} “{said[:40]}” is"
            " said of. Take the merge apart and write each value into its own cell."
        )
        heading = tab.titles[under[0]]
        row.problems.append(Place(tab.file, tab.name, row.number, heading, said[:120], problem))
