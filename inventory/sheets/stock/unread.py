"""What stands in a tab and could be passed over in silence: under no heading, in hidden rows, in merged cells."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from inventory.errors import Place
from inventory.sheets.files import Aside, Merge, RowValues, Source
from inventory.sheets.merged import refused, unclear
from inventory.sheets.stock.cells import text_of
from inventory.sheets.stock.columns import Tab


class Unread:
    """Looks at the rows of one tab as they pass. gaps: columns among the headings that have none."""

    def __init__(self) -> None:
        self.heading_row = self.width = self.last = 0
        self.beyond = self.bare = 0
        self.gaps: list[int] = []

    def begin(self, number: int, headings: RowValues) -> None:
        """Take the row of headings."""
        self.heading_row, self.width, self.last = number, len(headings), number
        self.gaps = [at for at, cell in enumerate(headings) if not text_of(cell)]

    def look(self, number: int, raw: RowValues) -> None:
        """Note the first row with something to the right of the headings, and the first with something under none."""
        self.last = number
        if not self.beyond and len(raw) > self.width and any(text_of(cell) for cell in raw[self.width :]):
            self.beyond = number
        if self.gaps and not self.bare and any(text_of(raw[at]) for at in self.gaps if at < len(raw)):
            self.bare = number

    def notes(self, aside: Aside) -> Iterator[str]:
        """What the person should know, each to be put behind the tab's name."""
        if self.beyond:
            yield f", row {self.beyond}: cells to the right of the last heading were left alone."
        if self.bare:
            yield f", row {self.bare}: cells of a column without a heading were left alone."
        hidden = sum(self.heading_row < row <= self.last for row in aside.hidden)
        if hidden:
            rows = "a row is hidden; it was" if hidden == 1 else f"{hidden} rows are hidden; they were"
            yield f": {rows} read like the others."

    def merged(self, source: Source, tab: Tab, read: Mapping[int, str]) -> list[Place]:
        """Merged cells below the headings, refused. read: headings of columns that are read, by where they stand."""
        merges = unclear(source.aside, self.heading_row, read)
        firsts = _firsts(source, merges) if merges else {}
        return refused(
            source.file, tab.name, merges, read, lambda one: firsts.get((one.rows[0], one.columns[0]), "")
        )


def _firsts(source: Source, merges: Sequence[Merge]) -> dict[tuple[int, int], str]:
    """What stands in the first cell of each; the rows are read once more, for merges are told after them."""
    wanted: dict[int, list[int]] = {}
    for merge in merges:
        wanted.setdefault(merge.rows[0], []).append(merge.columns[0])
    found = {}
    for number, raw in enumerate(source.rows(), start=1):
        for at in wanted.get(number, ()):
            found[number, at] = text_of(raw[at]) if at < len(raw) else ""
    return found
