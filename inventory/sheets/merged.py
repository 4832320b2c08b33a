"""Merged cells of which nobody can tell what they are said of."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from inventory.errors import Place
from inventory.sheets.files import Aside, Merge

_PROBLEM = (
    "The cells {} are merged, so it is open what this is said of. "
    "Take the merge apart and write the value into each cell."
)


def unclear(aside: Aside, heading_row: int, read: Mapping[int, str]) -> list[Merge]:
    """Merges below the headings over two rows or two columns that are read. read: headings by where they stand."""
    in_order = sorted(aside.merged, key=lambda merge: (merge.rows, merge.columns))
    return [merge for merge in in_order if _unclear(merge, heading_row, read)]


def _unclear(merge: Merge, heading_row: int, read: Mapping[int, str]) -> bool:
    first, last = merge.columns
    under = sum(first <= at <= last for at in read)
    below = merge.rows[0] > heading_row
    return below and first in read and (under > 1 or merge.rows[1] > merge.rows[0])


def refused(
    file: str, tab: str, merges: list[Merge], read: Mapping[int, str], said: Callable[[Merge], str]
) -> list[Place]:
    """The place of each, with what stands in its first cell; where nothing stands in it there is nothing to tell."""
    return [
        Place(file, tab, merge.rows[0], read[merge.columns[0]], text[:120], _PROBLEM.format(merge.name))
        for merge in merges
        if (text := said(merge))
    ]
