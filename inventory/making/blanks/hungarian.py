"""Least-cost assignment in whole numbers, without a library: exact answers, no time lost in loading one."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

_NOBODY = -1


def least_cost_assignment(costs: Sequence[Sequence[int]]) -> list[int]:
    """For each row a column of its own so that the sum of the costs is least.

    `costs` has n rows of m ≥ n whole numbers. Rows enter one by one along shortest augmenting paths with
    potentials (Kuhn 1955 and Munkres 1957 in the form of Edmonds & Karp 1972; from memory), O(n² · m).
    Returns the column of each row.
    """
    width = len(costs[0]) if costs else 0
    row_price = [0] * len(costs)
    column_price = [0] * (width + 1)
    owner = [_NOBODY] * (width + 1)  # the last column is where the row now entering waits
    for row in range(len(costs)):
        owner[width] = row
        _enter(costs, row_price, column_price, owner)
    found = {row: column for column, row in enumerate(owner[:width]) if row != _NOBODY}
    return [found[row] for row in range(len(costs))]


def _enter(
    costs: Sequence[Sequence[int]], row_price: list[int], column_price: list[int], owner: list[int]
) -> None:
    """Give the waiting row a column, moving others along the cheapest chain; the prices stay feasible."""
    width = len(owner) - 1
    slack: list[float] = [inf] * width  # whole numbers, infinite only until first seen
    came_from = [width] * width
    fixed, unfixed, at = [width], list(range(width)), width
    while owner[at] != _NOBODY:
        row = owner[at]
        for column in unfixed:
            reduced = costs[row][column] - row_price[row] - column_price[column]
            if reduced < slack[column]:
                slack[column], came_from[column] = reduced, at
        at = min(unfixed, key=slack.__getitem__)
        step = int(slack[at])
        for column in fixed:
            row_price[owner[column]] += step
            column_price[column] -= step
        for column in unfixed:
            slack[column] -= step
        unfixed.remove(at)
        fixed.append(at)
    while at != width:
        owner[at] = owner[came_from[at]]
        at = came_from[at]
