"""Sheets that come back filled or edited: each tab by its headings, every bad cell collected."""

from __future__ import annotations

import warnings
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from inventory.errors import BadSheet, KitdrawerError, Place
from inventory.measures import plural
from inventory.sheets.files import NO_VALUE, Aside, Source, SourceError, fold_heading
from inventory.sheets.sources import open_sources
from inventory.sheets.stock.cells import LONGEST_NAME, text_of

T = TypeVar("T")
MOST_CELLS = 1_000_000
"""Cells of one tab; it is kept as a whole, and a sheet that went out to be filled has a few thousand."""


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
        if fold_heading(heading) in self.unworked:
            self.refuse(heading, "The formula here has no stored result. Write the value.")
            return default
        try:
            return reader(text)
        except KitdrawerError as error:
            self.refuse(heading, f"{error.message} {error.hint}".strip())
            return default

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


class ReturnedForm:
    """A form on its way in: its tabs, and all that is wrong with it or should be known of it.

    It is a workbook, a CSV file or a folder of them; the first filled row of each tab holds its headings.
    """

    def __init__(self, path: Path) -> None:
        self.name = path.name
        self.problems: list[Place] = []
        self.announced: list[str] = []
        with ExitStack() as stack, warnings.catch_warnings():
            warnings.filterwarnings("ignore", module=r"openpyxl\b")  # about styles, which are not read here
            sources = open_sources([path], stack, self.problems.append, self.announced.append)
            read = [self._tab(source) for source in sources]
        self.tabs = [tab for tab in read if tab is not None and tab.headings]

    def _tab(self, source: Source) -> ReturnedTab | None:
        self.announced += source.notes
        tab = ReturnedTab(source.file, source.tab, hidden=source.hidden, aside=source.aside)
        try:
            _fill(tab, source.rows(), self.problems)
        except SourceError as error:
            self.problems.append(error.place or Place(source.file, source.tab, problem=error.problem))
            return None
        return tab

    def told(self) -> tuple[str, ...]:
        """What the person should know, each once."""
        return tuple(dict.fromkeys(self.announced))

    def finish(self) -> None:
        """Refuse everything where anything could not be taken. Raises BadSheet."""
        if self.problems:
            raise BadSheet(
                f"{plural(len(self.problems), 'thing')} in {self.name} cannot be taken.",
                hint="Nothing was booked. Mend what is listed and give the sheet again.",
                where=self.problems,
            )


def _fill(tab: ReturnedTab, rows: Iterator[Sequence[object]], problems: list[Place]) -> None:
    filled = 0
    for number, raw in enumerate(rows, start=1):
        texts = [text_of(cell) for cell in raw]
        if not any(texts):
            continue
        filled += len(texts)
        if filled > MOST_CELLS:
            raise SourceError(
                f"It has more than {MOST_CELLS:,} cells, as no sheet has that went out to be filled."
            )
        if not tab.headings:
            tab.heading_row = number
            tab.titles, tab.headings = texts, [fold_heading(text) for text in texts]
            _twice(tab, number, texts, problems)
            continue
        cells = {
            name: text
            for name, text in zip(tab.headings, texts, strict=False)
            if name and not untouched(text)
        }
        unworked = frozenset(name for name, cell in zip(tab.headings, raw, strict=False) if cell is NO_VALUE)
        loose = tuple(text for at, text in enumerate(texts) if text and not _heading(tab, at))
        tab.rows.append(ReturnedRow(tab.file, tab.name, number, cells, problems, unworked, loose))


def untouched(text: str) -> bool:
    """Whether a cell holds nothing but the circles it was printed with."""
    return bool(text) and not text.translate(_NO_CIRCLES)


def _heading(tab: ReturnedTab, at: int) -> str:
    return tab.headings[at] if at < len(tab.headings) else ""


def _twice(tab: ReturnedTab, number: int, texts: Sequence[str], problems: list[Place]) -> None:
    for at, name in enumerate(tab.headings):
        if name and name in tab.headings[:at]:
            problem = f"There are two columns called “{texts[at]}”. Take one out."
            problems.append(Place(tab.file, tab.name, number, texts[at], problem=problem))
