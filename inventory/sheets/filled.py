"""Sheets that come back filled or edited: each tab by its headings, every bad cell collected."""

from __future__ import annotations

import warnings
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from inventory.errors import BadSheet, KitdrawerError, Place
from inventory.sheets.cells import NO_VALUE, text_of
from inventory.sheets.columns import fold_heading
from inventory.sheets.sources import SourceError, open_sources

T = TypeVar("T")


@dataclass(slots=True)
class FilledRow:
    """One row: its cells as text by folded heading. Bad cells go to `problems`."""

    file: str
    tab: str
    number: int
    cells: dict[str, str]
    problems: list[Place]

    def said(self, heading: str) -> str:
        """The cell under a heading; empty where there is none."""
        return self.cells.get(fold_heading(heading), "")

    def place(self, heading: str = "", problem: str = "") -> Place:
        """Where a cell of this row stands."""
        return Place(
            self.file, self.tab, self.number, heading, self.said(heading) if heading else "", problem
        )

    def refuse(self, heading: str, problem: str) -> None:
        """A cell that cannot be taken."""
        self.problems.append(self.place(heading, problem))

    def read(self, heading: str, reader: Callable[[str], T], default: T) -> T:
        """The cell read; `default` where it is empty or (after noting why) cannot be read."""
        text = self.said(heading)
        if not text:
            return default
        try:
            return reader(text)
        except KitdrawerError as error:
            self.refuse(heading, f"{error.message} {error.hint}".strip())
            return default


@dataclass(slots=True)
class FilledTab:
    """One tab with its headings and filled rows."""

    file: str
    name: str
    headings: list[str] = field(default_factory=list)
    rows: list[FilledRow] = field(default_factory=list)


def filled_tabs(path: Path, problems: list[Place]) -> list[FilledTab]:
    """Every tab of a workbook, a CSV file or a folder of them. The first filled row of each holds its headings."""
    with ExitStack() as stack, warnings.catch_warnings():
        warnings.filterwarnings("ignore", module=r"openpyxl\b")  # about styles, which are not read here
        sources = open_sources([path], stack, problems.append, lambda _: None)
        tabs = []
        for source in sources:
            tab = FilledTab(source.file, source.tab)
            try:
                _fill(tab, source.rows(), problems)
            except SourceError as error:
                problems.append(error.place or Place(source.file, source.tab, problem=error.problem))
            tabs.append(tab)
        return tabs


def _fill(tab: FilledTab, rows: Iterator[Sequence[object]], problems: list[Place]) -> None:
    for number, raw in enumerate(rows, start=1):
        texts = ["" if cell is NO_VALUE else text_of(cell) for cell in raw]
        if not any(texts):
            continue
        if not tab.headings:
            tab.headings = [fold_heading(text) for text in texts]
            continue
        cells = {name: text for name, text in zip(tab.headings, texts, strict=False) if name}
        tab.rows.append(FilledRow(tab.file, tab.name, number, cells, problems))


def finish(problems: Sequence[Place], what: str) -> None:
    """Refuse everything where anything could not be taken."""
    if problems:
        count = len(problems)
        raise BadSheet(
            f"{count} cell{'s' * (count > 1)} of {what} cannot be taken.",
            hint="Nothing was booked. Mend them and give the sheet again.",
            where=problems,
        )
