"""What the rows of a filled sheet do not say of themselves: which of them are hidden, which cells are merged."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.errors import Place
from inventory.sheets.files import Merge, fold_heading
from inventory.sheets.forms.returned_form import ReturnedForm
from inventory.sheets.forms.returned_tab import ReturnedTab
from inventory.sheets.hidden import hidden_rows, hidden_tab
from inventory.sheets.merged import refused, unclear


def check_unseen(form: ReturnedForm, tabs: Sequence[ReturnedTab], headings: Sequence[str]) -> None:
    """Say which filled rows are hidden, and refuse merged cells of which nobody can tell what they are said of.

    headings: those that matter.
    """
    for tab in tabs:
        if tab.hidden:
            form.announced.append(hidden_tab(tab.file, tab.name))
        rows = [row.number for row in tab.rows if row.number in tab.aside.hidden]
        form.announced += hidden_rows(tab.file, tab.name, rows)
        form.problems += _merged_in(tab, headings)


def _merged_in(tab: ReturnedTab, headings: Sequence[str]) -> list[Place]:
    """Merged cells under these headings of which nobody can tell what they are said of."""
    fields = {fold_heading(name) for name in headings}
    read = {at: title for at, title in enumerate(tab.titles) if fold_heading(title) in fields}
    rows = {row.number: row for row in tab.rows}

    def said(merge: Merge) -> str:
        row = rows.get(merge.rows[0])
        return row.cells.get(tab.headings[merge.columns[0]], "") if row else ""

    return refused(tab.file, tab.name, unclear(tab.aside, tab.heading_row, read), read, said)
