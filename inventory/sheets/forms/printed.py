"""A printed page on its way back: every table of it as a tab of its own, known by the heading it begins with."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from inventory.errors import Place
from inventory.sheets.files import NO_VALUE, Source, fold_heading
from inventory.sheets.forms.pages import TABLE, TEXT
from inventory.sheets.forms.returned_tab import ReturnedRow, ReturnedTab, untouched

NumberedRow = tuple[int, list[str], Sequence[object]]
"""A row's number, its cells as text and as they are."""
MOST_COLUMNS = 16_384
"""Columns of a sheet in ECMA-376 workbooks, as common programs write them."""
Printed = Mapping[str, Mapping[str, str] | None]
"""Of tables on a printed page, by the heading each begins with: what its headings stand for, empty for nothing; None
for a table that is only looked at."""


def marked(texts: Sequence[str]) -> bool:
    """Whether a tab's first filled row is one of a printed page."""
    return texts[0] in (TABLE, TEXT)


@dataclass(slots=True)
class _Table:
    """A table on its way in: the tab it becomes, the columns it reaches over, those of them that are only looked at."""

    tab: ReturnedTab
    first: int
    last: int
    looked: frozenset[int]


class PrintedPage:
    """The tables of one page."""

    def __init__(self, source: Source, printed: Printed, problems: list[Place]) -> None:
        self.source, self.problems = source, problems
        self.printed = {fold_heading(name): names for name, names in printed.items()}
        self.done: list[ReturnedTab] = []
        self.open: list[_Table] = []

    def tables(self, rows: Iterable[NumberedRow]) -> list[ReturnedTab]:
        """Every table that is read back, in their order. A row somebody put in belongs to the table above it."""
        for number, texts, raw in rows:
            if texts[0] == TABLE:
                self._headings(number, texts)
            elif texts[0] != TEXT:
                for table in self.open:
                    self._row(table, number, texts, raw)
        return self.done

    def _headings(self, number: int, texts: Sequence[str]) -> None:
        """The tables that begin in a row of headings, side by side."""
        folded = [fold_heading(text) for text in texts]
        starts = [at for at, name in enumerate(folded) if at and name in self.printed] or [1]
        ends = [*(at - 1 for at in starts[1:]), MOST_COLUMNS]
        self.open = []
        for first, last in zip(starts, ends, strict=True):
            names = self.printed.get(folded[first], {})
            if names is None:
                continue
            tab = ReturnedTab(self.source.file, self.source.tab, aside=self.source.aside)
            tab.hidden, tab.heading_row = self.source.hidden, number
            stands = {fold_heading(name): other for name, other in names.items()}
            mine = [text if first <= at <= last else "" for at, text in enumerate(texts)]
            tab.titles = [stands.get(fold_heading(text), text) if text else "" for text in mine]
            tab.headings = [fold_heading(title) for title in tab.titles]
            looked = frozenset(at for at, text in enumerate(mine) if text and not tab.titles[at])
            self.done.append(tab)
            self.open.append(_Table(tab, first, last, looked))

    def _row(self, table: _Table, number: int, texts: Sequence[str], raw: Sequence[object]) -> None:
        tab = table.tab
        row = ReturnedRow(tab.file, tab.name, number, {}, self.problems)
        unworked = set()
        for at in range(table.first, min(len(texts), table.last + 1)):
            text, name = texts[at], tab.headings[at] if at < len(tab.headings) else ""
            if not text or untouched(text):
                continue
            if name:
                row.cells[name] = text  # a code beside what is printed goes before it
                unworked |= {name} if raw[at] is NO_VALUE else set()
            elif at not in table.looked and any(sign.isdigit() for sign in text):
                problem = f"“{text[:40]}” stands beside the blanks. Write it into a shaded one."
                self.problems.append(Place(tab.file, tab.name, number, "", text[:40], problem))
        row.unworked = frozenset(unworked)
        if row.cells:
            tab.rows.append(row)
