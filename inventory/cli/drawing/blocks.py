"""What a screen is made of: an answer, facts, rows, sentences, doors to more, and the next command."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass


def more_of(many: int) -> str:
    """What stands for rows that are folded."""
    return f"and {many} more: --all"


@dataclass(frozen=True, slots=True)
class Fact:
    """A label of at most 8 letters and what is said of it; empty text: nothing is shown.

    folds: where the page is full it is left to `--all`, those with the highest first; 0 never.
    """

    label: str
    text: str
    folds: int = 0


@dataclass(frozen=True, slots=True)
class Sentence:
    """Text that is wrapped. first: what its first line begins with, under whose end the others stand."""

    text: str
    first: str = ""


@dataclass(frozen=True, slots=True)
class Cells:
    """A column. right: figures that line up at their end. folds: the higher, the sooner its cells stand below their row
    where the screen is narrow; 0 never. keeps: columns its names keep before others are folded for it; 0 as usual."""

    heading: str
    right: bool = False
    folds: int = 0
    keeps: int = 0


@dataclass(frozen=True, slots=True)
class Listing:
    """Rows of cells; a column that is empty in every row is left out.

    bare: without headings; indent: from the left; least: rows that are never folded (None: none is), the most
    important first; rest: what is said of so many that are.
    """

    columns: Sequence[Cells]
    rows: Sequence[Sequence[str]]
    bare: bool = False
    indent: int = 0
    least: int | None = None
    rest: Callable[[int], str] = more_of


@dataclass(frozen=True, slots=True)
class Whole:
    """What is pasted, such as a path or a command, and what it is: it stays on one line at every width."""

    what: str
    pasted: str


Block = Fact | Sentence | Listing | Whole
Group = Sequence[Block]
"""Blocks without an empty line between them."""


@dataclass(frozen=True, slots=True)
class Screen:
    """An answer. headline: line 1, with the day it hangs on; under: what was asked, right below.

    rest: a sentence that stands for what has no row. doors: what is behind `--all`, `--why` and `--safety`, in that
    order, as (what, option). following: the next command and what it does, ready to paste, the last line of all.
    reserved: lines that are said below it, such as a question.
    """

    headline: str
    under: Sequence[str] = ()
    groups: Sequence[Group] = ()
    rest: str = ""
    doors: Sequence[tuple[str, str]] = ()
    following: tuple[str, str] | None = None
    reserved: int = 0
