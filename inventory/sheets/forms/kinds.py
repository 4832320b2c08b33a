"""Which tab of a form that came back is which, and what kind of sheet a file is when it is none of ours."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.catalogue import fold
from inventory.errors import BadSheet
from inventory.sheets.forms.returned_tab import ReturnedTab
from inventory.sheets.sessions.tabs import (
    AFTER,
    BOTTLES,
    COUNTS,
    CUTTING,
    NOTES,
    OF,
    PIECES,
    SESSION,
    USED,
    count_of,
    session_of,
)
from inventory.sheets.stock.tabs import TABS
from inventory.sheets.stock.template import LISTS

NEEDED = {
    PIECES: ("good",),
    CUTTING: ("part", "cut"),
    BOTTLES: ("part", "gross g"),
    COUNTS: ("part", "counted"),
    USED: ("part", "used"),
    SESSION: ("what", "said"),
    NOTES: ("notes",),
}
"""By these columns a tab is known, whatever its name or that of its file; pieces have a row or a pattern too."""


def kind_of(tab: ReturnedTab) -> str:
    """The tab of ours it is; empty where it is none."""
    for kind in NEEDED:
        if tab.has(*needed_of(kind, tab)) and (kind != PIECES or tab.has("row") or tab.has("pattern")):
            return kind
    name = fold(tab.name)
    return name if name in NEEDED and not stock_kind(tab) else LISTS if name == LISTS else ""


def needed_of(kind: str, tab: ReturnedTab) -> tuple[str, ...]:
    """The columns by which a tab is known. Where one before is asked for, the weight is “after g”."""
    return ("part", AFTER) if kind == BOTTLES and tab.has(AFTER) else NEEDED[kind]


def stock_kind(tab: ReturnedTab) -> str:
    """The stock sheet a tab looks like; empty where it looks like none."""
    name = fold(tab.name)
    required = [column.heading for column in TABS[name].columns if column.required] if name in TABS else []
    return name if required and tab.has(*required) else ""


def foreign(tabs: Sequence[ReturnedTab], what: str, wanted: str, of_count: bool) -> BadSheet:
    """A sentence for a file that holds no `wanted` sheet, saying what it seems to be."""
    hint = _seems(tabs, of_count)
    return BadSheet(f"{what} is no {wanted}.", hint=hint)


def _seems(tabs: Sequence[ReturnedTab], of_count: bool) -> str:
    if any(tab.has("part", "arrived") for tab in tabs):
        return "It looks like a delivery sheet: book it with `arrived`."
    if any(tab.has("part", "packs", "price") for tab in tabs):
        return "It looks like a supplier list: note it with `placed`."
    stock = next((stock for tab in tabs if (stock := stock_kind(tab))), "")
    if stock:
        return f"Its tab “{stock}” is one of a stock workbook: take that in with `load`."
    if any(tab.has("part", "counted") for tab in tabs) and not of_count:
        return "It is a count sheet: book it with `count book`."
    if of_count and any(_of_session(tab) for tab in tabs):
        return "It is the sheet of a session: book it with `weekend book`."
    made_by = "count sheet" if of_count else "weekend sheet"
    return f"Give the sheet saved by `{made_by}`, filled in."


def _of_session(tab: ReturnedTab) -> bool:
    known = tab.has("good") or tab.has(*needed_of(BOTTLES, tab)) or tab.has("part", "cut")
    return known or any(whose(row.said(OF)) == "session" for row in tab.rows)


def whose(text: str) -> str:
    """`session`, `count` or nothing, by what a row says of where it belongs."""
    return "session" if session_of(text) else "count" if count_of(text) else ""
