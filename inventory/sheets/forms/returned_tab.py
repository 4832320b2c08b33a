"""A tab of a sheet that comes back: its headings and its filled rows, with every bad cell noted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

from inventory.errors import KitdrawerError, Place
from inventory.sheets.files import Aside, fold_heading
from inventory.sheets.stock.cells import LONGEST_NAME

T = TypeVar("T")
EMPTY_CIRCLES = "○◯"
"""Circles printed to be filled with a pen: as long as all are empty nothing is said."""
_NO_CIRCLES = str.maketrans("", "", EMPTY_CIRCLES + " \n\t")


@dataclass(slots=True)
class ReturnedRow:
    """One row: its cells as text by folded heading. Bad cells go to `problems`.

    unworked: headings of formulas that hold no result; loose: cells that stand under no heading.
    """

    file: str
    tab: str
    number: int
    cells: dict[str, str]
    problems: list[Place]
    unworked: frozenset[str] = frozenset()
    loose: tuple[str, ...] = ()

    def said(self, heading: str) -> str:
        """The cell under a heading; empty where there is none."""
        return self.cells.get(fold_heading(heading), "")

    def place(self, heading: str = "", problem: str = "") -> Place:
        """Where a cell of this row stands."""
        said = self.said(heading) if heading else ""
        return Place(self.file, self.tab, self.number, heading, said, problem)

    def refuse(self, heading: str, problem: str) -> None:
        """A cell that cannot be taken."""
        self.problems.append(self.place(heading, problem))

    def read(self, heading: str, reader: Callable[[str], T], default: T) -> T:
        """The cell read; `default` where it is empty or (after noting why) cannot be read."""
        text = self.said(heading)
        if not text:
            return default
        if self.broken(heading):
            self.refuse(heading, "The formula here has no stored result. Write the value.")
            return default
        try:
            return reader(text)
        except KitdrawerError as error:
            self.refuse(heading, f"{error.message} {error.hint}".strip())
            return default

    def broken(self, heading: str) -> bool:
        """Whether a formula stands there that the file holds no result of."""
        return fold_heading(heading) in self.unworked

    def text(self, heading: str) -> str:
        """The cell as a name or code of at most 120 characters."""
        text = self.read(heading, str, "")
        if len(text) <= LONGEST_NAME and text.isprintable():
            return text
        self.refuse(heading, f"At most {LONGEST_NAME} characters that can be shown are taken.")
        return ""


@dataclass(slots=True)
class ReturnedTab:
    """One tab with its headings, folded and as they are written, and its filled rows."""

    file: str
    name: str
    headings: list[str] = field(default_factory=list)
    titles: list[str] = field(default_factory=list)
    rows: list[ReturnedRow] = field(default_factory=list)
    heading_row: int = 0
    hidden: bool = False
    aside: Aside = field(default_factory=Aside)

    def has(self, *headings: str) -> bool:
        """Whether all these columns are there."""
        return all(fold_heading(heading) in self.headings for heading in headings)


def untouched(text: str) -> bool:
    """Whether a cell holds nothing but the circles it was printed with."""
    return bool(text) and not text.translate(_NO_CIRCLES)
