"""What a file holds, read row by row: its tabs, and what their rows do not say of themselves."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

from inventory.errors import Place

RowValues = Sequence[object]
MOST_ROWS = 1_048_576
"""Rows of a sheet in ECMA-376 workbooks, as common programs write them."""


class NoValue:
    """Stands in a cell whose formula was never worked out."""

    def __str__(self) -> str:
        return "a formula"


NO_VALUE: Final = NoValue()


class SourceError(Exception):
    """A file or tab that cannot be read on; caught by the reader and reported with the other problems."""

    def __init__(self, problem: str, place: Place | None = None) -> None:
        super().__init__(problem)
        self.problem = problem
        self.place = place


@dataclass(frozen=True, slots=True)
class Merge:
    """Merged cells: rows from 1, columns from 0, both ends belong to it."""

    name: str
    rows: tuple[int, int]
    columns: tuple[int, int]


@dataclass(slots=True)
class Aside:
    """What the rows do not say of themselves; known when they were read."""

    hidden: set[int] = field(default_factory=set)
    merged: list[Merge] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Source:
    """One tab: its file's label, its name, what it is likely to hold, and what opens its rows.

    rows may raise SourceError at any row. size: rows it is expected to have, 0 where unknown. aside: known when the
    rows were read.
    """

    file: str
    tab: str
    rows: Callable[[], Iterator[RowValues]]
    size: int = 0
    hidden: bool = False
    notes: tuple[str, ...] = ()
    aside: Aside = field(default_factory=Aside)


def letters(column: int) -> str:
    """A column's letters: 0 is A, 26 is AA."""
    name, left = "", column + 1
    while left:
        left, rest = divmod(left - 1, 26)
        name = chr(65 + rest) + name
    return name


@lru_cache(maxsize=4096)
def fold_heading(text: str) -> str:
    """The form under which headings meet: no case, spaces, underscores or hyphens.

    >>> fold_heading(" Outside_Diameter ")
    'outsidediameter'
    """
    return "".join(text.replace("\u200b", "").replace("\ufeff", "").split()).translate(_IGNORED).casefold()


_IGNORED = str.maketrans("", "", "_-\u2010\u2011\u2012\u2013\u2014")
