"""A filled count sheet, back again."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from inventory.catalogue import Catalogue, fold
from inventory.errors import AskedCell
from inventory.ledger import fingerprint
from inventory.reports.filled import FilledCounts
from inventory.sheets.counts.pages import PRINTED
from inventory.sheets.counts.rows import counts_of
from inventory.sheets.forms.cells import check_columns
from inventory.sheets.forms.kinds import NEEDED, foreign, kind_of, whose
from inventory.sheets.forms.returned_form import ReturnedForm
from inventory.sheets.forms.returned_tab import ReturnedRow
from inventory.sheets.forms.twice import once
from inventory.sheets.forms.unseen import check_unseen
from inventory.sheets.sessions.tabs import COUNT_COLUMNS, COUNTS, OF, count_of
from inventory.sheets.stock.template import LISTS


def read_counts(path: Path, known: Catalogue, answers: Mapping[AskedCell, str] | None = None) -> FilledCounts:
    """What a filled count sheet says was counted: a workbook, a CSV file or a folder of them.

    Rows where nothing is filled in are left out. answers: to cells that were asked about. Raises BadSheet with every
    cell that cannot be taken, or where the file is a sheet of another kind.
    """
    form = ReturnedForm(path, PRINTED, answers)
    kinds = [(kind_of(tab), tab) for tab in form.tabs]
    mine = [tab for kind, tab in kinds if kind == COUNTS]
    rows = [row for tab in mine for row in tab.rows]
    other = any(kind not in ("", COUNTS, LISTS) for kind, _ in kinds)
    if not form.problems and (not mine or other or any(whose(row.said(OF)) == "session" for row in rows)):
        strange = [tab for kind, tab in kinds if kind != COUNTS] or form.tabs
        raise foreign(strange, form.name, "count sheet", of_count=True)
    headings = [column.heading for column in COUNT_COLUMNS]
    check_unseen(form, mine, headings)
    form.announced += [
        f"{tab.file}, {tab.name}: no tab of a count sheet; it was left alone."
        for kind, tab in kinds
        if not kind
    ]
    good = [tab for tab in mine if check_columns(form, tab, headings, NEEDED[COUNTS])]
    counted = [one for tab in good for one in counts_of(tab.rows, known, form.announced)]
    once(form.problems, [((one.part, one.lot), one.where, one.part) for one in counted])
    mark, version = _whose(rows)
    form.finish()
    said = sorted(
        (fold(one.part), one.lot, one.counted, -1 if one.second is None else one.second) for one in counted
    )
    print_ = fingerprint("count", mark, version, said)
    return FilledCounts(mark, version, tuple(counted), print_, form.told())


def _whose(rows: list[ReturnedRow]) -> tuple[str, int]:
    """The book and its version the sheet was made from; refuses rows of two sheets."""
    first: tuple[str, int] | None = None
    for row in rows:
        found = count_of(row.said(OF))
        first = first or found
        if found is not None and found != first:
            row.refuse(OF, "This row is of another count sheet than the first ones. Keep them apart.")
    return first or ("", 0)
