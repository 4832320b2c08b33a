"""Two lists side by side in one tab, with an empty column between them: each is read by itself."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from inventory.sheets.guess.cells import Grid
from inventory.sheets.guess.rows.headings import heading_row

_FIRST_ROWS = 6
"""Rows in which a list beside another has its headings."""


def side_by_side(grid: Grid) -> list[Grid]:
    """The lists of a tab from left to right; the tab itself where it holds only one."""
    columns = sorted({at for row in grid.rows.values() for at in row})
    for left, right in pairwise(columns):
        before, beside = _between(grid, 0, right), _between(grid, right, columns[-1] + 1)
        if right > left + 1 and _a_list(beside) and _several_rows(before):
            return [before, *side_by_side(beside)]
    return [grid]


def _between(grid: Grid, first: int, end: int) -> Grid:
    """The columns from `first` to before `end`, in their places."""
    rows = {
        number: kept
        for number, row in grid.rows.items()
        if (kept := {at: cell for at, cell in row.items() if first <= at < end})
    }
    spread = {place: cell for place, cell in grid.spread.items() if first <= place[1] < end}
    return replace(grid, rows=rows, spread=spread)


def _a_list(grid: Grid) -> bool:
    """Whether its first rows hold headings of what and how many."""
    for number in sorted(grid.rows)[:_FIRST_ROWS]:
        roles = {role.what for role in (heading_row(grid.rows[number].values()) or {}).values()}
        if {"what", "quantity"} <= roles:
            return True
    return False


def _several_rows(grid: Grid) -> bool:
    return sum(len(row) >= 2 for row in grid.rows.values()) >= 2
