"""Which column of a tab stands where in a file."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from inventory.errors import SLIP, nearest
from inventory.sheets.files import fold_heading
from inventory.sheets.stock.cells import text_of
from inventory.sheets.stock.columns import Tab

LONGEST_SAID = 80
"""Characters of a heading; none of ours has as many."""
_FROM = "frommysheet"
"""A column of ours that says where a row comes from, for people alone."""
MOST_STRANGERS = 40
"""Columns that are not ours, each of which is told; of a sheet with more these are enough to see what it is."""


@dataclass(slots=True)
class Headings:
    """positions: place in the file by place in the tab. problems: (heading, sentence). notes: what was left alone."""

    positions: dict[int, int] = field(default_factory=dict)
    problems: list[tuple[str, str]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    width: int = 0


def match(tab: Tab, row: Sequence[object]) -> Headings:
    """The headings of `row` found among the columns of `tab`, whatever their case, spaces, underscores, hyphens."""
    found = Headings(width=len(row))
    strangers: list[str] = []
    for position, cell in enumerate(row):
        said = text_of(cell)[:LONGEST_SAID]
        place = tab.places.get(fold_heading(said))
        if place is None:
            strangers += [said] if said and not for_people(said) else []
        elif place in found.positions:
            found.problems.append((said, f"There are two columns called “{said}”. Take one out."))
        else:
            found.positions[place] = position
    _missing(tab, found, strangers)
    return found


def for_people(heading: str) -> bool:
    """Whether a column of this heading is ours and for people alone: nothing is read from it."""
    return fold_heading(heading) == _FROM


def near_tab(name: str, tabs: Iterable[str]) -> str:
    """The tab that `name` may have meant, or nothing."""
    return "".join(nearest(name, tabs, 1, alike=SLIP, fold=fold_heading))


def _missing(tab: Tab, found: Headings, strangers: Sequence[str]) -> None:
    missing = {column.heading for place, column in enumerate(tab.columns) if place not in found.positions}
    required = [column.heading for column in tab.columns if column.required and column.heading in missing]
    meant: set[str] = set()
    for said in strangers:
        close = _near(said, required) or _near(said, [column.heading for column in tab.columns])
        if close in required:
            meant.add(close)
            found.problems.append((said, f"“{said}” is not a heading of {tab.name}. Did you mean “{close}”?"))
        else:
            near = f"; did you mean “{close}”?" if close else "."
            if len(found.notes) < MOST_STRANGERS:
                found.notes.append(f"the column “{said}” is not one of {tab.name} and was left alone{near}")
    for heading in required:
        if heading not in meant:
            means = tab.column(heading).means
            found.problems.append((heading, f"The column “{heading}” is missing from {tab.name}. {means}"))


def _near(said: str, headings: Iterable[str]) -> str:
    return "".join(nearest(said, headings, 1, alike=SLIP, fold=fold_heading))
