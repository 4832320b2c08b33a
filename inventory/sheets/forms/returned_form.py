"""Sheets that come back filled or edited: each tab by its headings, every bad cell collected."""

from __future__ import annotations

import warnings
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack
from itertools import chain
from pathlib import Path

from inventory.errors import AskedCell, BadSheet, Place
from inventory.measures import plural
from inventory.sheets.files import NO_VALUE, Source, SourceError, fold_heading
from inventory.sheets.forms.printed import NumberedRow, Printed, PrintedPage, marked
from inventory.sheets.forms.returned_tab import ReturnedRow, ReturnedTab, untouched
from inventory.sheets.sources import open_sources
from inventory.sheets.stock.cells import text_of

MOST_CELLS = 1_000_000
"""Cells of one tab; it is kept as a whole, and a sheet that went out to be filled has a few thousand."""


class ReturnedForm:
    """A form on its way in: its tabs, and all that is wrong with it or should be known of it.

    It is a workbook, a CSV file or a folder of them; the first filled row of each tab holds its headings. once: what
    headings were called in earlier versions, and what they are called now.
    """

    def __init__(
        self,
        path: Path,
        printed: Printed | None = None,
        answers: Mapping[AskedCell, str] | None = None,
        once: Mapping[str, str] | None = None,
    ) -> None:
        self.name, self.printed = path.name, printed or {}
        self.once = {fold_heading(old): now for old, now in (once or {}).items()}
        self.problems: list[Place] = []
        self.announced: list[str] = []
        with ExitStack() as stack, warnings.catch_warnings():
            warnings.filterwarnings("ignore", module=r"openpyxl\b")  # about styles, which are not read here
            sources = open_sources([path], stack, self.problems.append, self.announced.append)
            read = [tab for source in sources for tab in self._tabs(source)]
        self.tabs = [tab for tab in read if tab.headings]
        for question, answer in (answers or {}).items():
            self._put(question, answer)

    def _put(self, question: AskedCell, answer: str) -> None:
        """Let a cell say what somebody answered it means."""
        name = fold_heading(question.column)
        for tab in self.tabs:
            for row in tab.rows if (tab.file, tab.name) == (question.file, question.tab) else ():
                whose = row.said("part") or row.said("order") or row.said("pattern")
                if (row.number, row.cells.get(name), whose) == (question.row, question.said, question.of):
                    row.cells[name] = answer
                    self.announced.append(f"{question}: “{question.said[:60]}” was answered with {answer}.")

    def _tabs(self, source: Source) -> list[ReturnedTab]:
        """One tab, or every table of a printed page."""
        self.announced += source.notes
        try:
            rows = _checked(source.rows())
            first = next(rows, None)
            if first is not None and marked(first[1]):
                return PrintedPage(source, self.printed, self.problems).tables((first, *rows))
            tab = ReturnedTab(source.file, source.tab, hidden=source.hidden, aside=source.aside)
            _fill(tab, rows if first is None else chain((first,), rows), self.problems, self.once)
        except SourceError as error:
            self.problems.append(error.place or Place(source.file, source.tab, problem=error.problem))
            return []
        return [tab]

    def told(self) -> tuple[str, ...]:
        """What the person should know, each once."""
        return tuple(dict.fromkeys(self.announced))

    def finish(self) -> None:
        """Refuse everything where anything could not be taken. Raises BadSheet."""
        if self.problems:
            raise BadSheet(
                f"{plural(len(self.problems), 'thing')} in {self.name} cannot be taken.",
                hint="Nothing was booked. Correct these cells and give the sheet again.",
                where=self.problems,
            )


def _checked(rows: Iterator[Sequence[object]]) -> Iterator[NumberedRow]:
    """The filled rows with their numbers and texts. Raises SourceError where there are more than any sheet has."""
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
        yield number, texts, raw


def _fill(
    tab: ReturnedTab, rows: Iterable[NumberedRow], problems: list[Place], once: Mapping[str, str]
) -> None:
    for number, texts, raw in rows:
        if not tab.headings:
            tab.heading_row = number
            tab.titles = [once.get(fold_heading(text), text) for text in texts]
            tab.headings = [fold_heading(title) for title in tab.titles]
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


def _heading(tab: ReturnedTab, at: int) -> str:
    return tab.headings[at] if at < len(tab.headings) else ""


def _twice(tab: ReturnedTab, number: int, texts: Sequence[str], problems: list[Place]) -> None:
    for at, name in enumerate(tab.headings):
        if name and name in tab.headings[:at]:
            problem = f"There are two columns called “{texts[at]}”. Take one out."
            problems.append(Place(tab.file, tab.name, number, texts[at], problem=problem))
