"""What a sheet changes and what of it was not used, on the screen and as JSON."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from inventory.cli.drawing.blocks import Block, Cells, Listing, Sentence
from inventory.cli.drawing.colour import look
from inventory.cli.json.exact import Value
from inventory.jobs.stock.sheet_changes import RowChange, What
from inventory.jobs.stock.sheet_rows import TABS_OF
from inventory.ledger.documents.intake import Unused
from inventory.measures import listed, plural
from inventory.sheets.stock.columns import Tab
from inventory.sheets.stock.tabs import TABS

FEW = 6
"""New rows are shown beside the others where all of them together are no more; of other things so many."""


def new_json(changes: Sequence[RowChange]) -> dict[str, Value]:
    """The rows that are new, by tab."""
    found: dict[str, list[Value]] = {}
    for one in changes:
        if one.what == "new":
            found.setdefault(one.tab, []).append(one.row)
    return dict(found)


def changes_json(changes: Sequence[RowChange]) -> list[Value]:
    """Every row that is changed or gone."""
    return [
        {
            "tab": one.tab,
            "row": one.row,
            "what": one.what,
            "in_the_book": one.what != "gone" or not one.replaced,
            "fields": [
                {"column": _heading(one.tab, it.field), "from": it.before, "to": it.now} for it in one.fields
            ],
        }
        for one in changes
        if one.what != "new"
    ]


def unused_json(unused: Sequence[Unused]) -> list[Value]:
    """Every cell that was read in vain."""
    return [
        {"file": one.file, "tab": one.tab, "cell": one.cell, "says": one.says, "why": one.why}
        for one in unused
    ]


def changed_rows(changes: Sequence[RowChange], *, everything: bool) -> list[Block]:
    """The rows that are not new, and what to do about those that are gone."""
    told = [one for what in ("changed", "gone") for one in changes if one.what == what]
    new = [one for one in changes if one.what == "new"]
    if everything or (told and len(new) <= FEW - len(told)):
        told += new
    rows = [[_row(one)] for one in told]
    return [Listing([Cells("")], rows, bare=True, least=min(FEW, len(rows))), *_doors(changes)]


RETIRED = 3
"""Things that are gone from a sheet of which the command is offered ready to type."""
WHATS: tuple[What, ...] = ("new", "changed", "gone")


def _row(one: RowChange) -> str:
    start = f"{one.tab}, {one.row}"
    if one.what == "new":
        return f"{start}: new"
    if one.what == "gone":
        return f"{start}: gone" + ("" if one.replaced else " from the sheet, still in the book")
    said = (
        f"{_heading(one.tab, it.field)} {it.before or '(empty)'} → {it.now or '(empty)'}" for it in one.fields
    )
    return f"{start}: {', '.join(said)}"


def _doors(changes: Sequence[RowChange]) -> Iterator[Block]:
    """What to do about rows that are gone: the book keeps what it knows until it is told otherwise."""
    orders = [one.row for one in changes if one.what == "gone" and one.tab == "orders"]
    if orders:
        yield Sentence(f"No longer wanted? kitdrawer release {listed(orders, most=1)}")
    own = {tab for tabs in TABS_OF.values() for tab in tabs}
    things = [f'"{one.row}"' for one in changes if one.what == "gone" and one.tab in own]
    if things:
        more = f" (and {len(things) - RETIRED} more)" if len(things) > RETIRED else ""
        yield Sentence(f"No longer had? kitdrawer retire {' '.join(things[:RETIRED])}{more}")


def unused_cells(unused: Sequence[Unused], *, everything: bool) -> list[Block]:
    """The cells that were read and not used, a column at a time; each of them with everything."""
    if not unused:
        return []
    head = Sentence(f"{look('Not used')}: {plural(len(unused), 'cell')}.")
    if everything:
        return [
            head,
            *(Sentence(f"{one.file}, {one.tab} {one.cell}: “{one.says}”; {one.why}", "· ") for one in unused),
        ]
    groups = [list(some) for _, some in groupby(sorted(unused, key=_column), key=_column)]
    rows = [[_column_said(some)] for some in groups]
    return [head, Listing([Cells("")], rows, bare=True, indent=2, least=1, rest=_more_columns)]


def _column_said(some: Sequence[Unused]) -> str:
    first = some[0]
    cells = first.cell if len(some) == 1 else f"{first.cell} to {some[-1].cell}, {len(some)} cells"
    return f"{first.file}, {first.tab} {cells}: “{first.says}” …; {first.why}"


def _more_columns(many: int) -> str:
    return f"and {plural(many, 'more column')}: --all"


def _column(one: Unused) -> tuple[str, str, str]:
    return one.file, one.tab, one.cell.rstrip("0123456789")


def _heading(tab: str, field: str) -> str:
    """What a field is called in its tab."""
    return _headings(TABS[tab]).get(field, field)


def _headings(tab: Tab) -> Mapping[str, str]:
    return {column.fills: column.heading for column in tab.columns}
