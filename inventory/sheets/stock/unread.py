"""What stands in a tab and could be passed over in silence: under no heading, in hidden rows, in merged cells."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from inventory.errors import Place
from inventory.ledger.documents.intake import Unused
from inventory.sheets.files import Merge, RowValues, Source, letters
from inventory.sheets.hidden import hidden_rows
from inventory.sheets.merged import refused, unclear
from inventory.sheets.stock.cells import text_of
from inventory.sheets.stock.columns import Tab
from inventory.sheets.stock.headings import for_people

MOST_UNUSED = 10_000
"""Cells of a tab that were read in vain and are told one by one."""
_NO_HEADING, _STRANGER = "its column has no heading", "its column is not one of {}"


class Unread:
    """Looks at the rows of one tab as they pass. gaps: columns among the headings that have none.

    unused: the first cells under no heading of ours, each as (row, column, what it says, heading).
    """

    def __init__(self) -> None:
        self.heading_row = self.width = self.last = 0
        self.beyond = self.bare = 0
        self.gaps: list[int] = []
        self.strangers: dict[int, str] = {}
        self.unused: list[tuple[int, int, str, str]] = []

    def begin(self, number: int, headings: RowValues, read: Collection[int]) -> None:
        """Take the row of headings. read: where columns stand that are ours."""
        self.heading_row, self.width, self.last = number, len(headings), number
        said = [text_of(cell) for cell in headings]
        self.gaps = [at for at, heading in enumerate(said) if not heading]
        self.strangers = {
            at: heading for at, heading in enumerate(said) if at not in read and not for_people(heading)
        }

    def look(self, number: int, raw: RowValues) -> None:
        """Note the first row with something to the right of the headings, and all cells under no heading of ours."""
        self.last = number
        if len(raw) > self.width:
            self.beyond = self.beyond or self._keep(number, raw, range(self.width, len(raw)))
        if self.strangers:
            self._keep(number, raw, self.strangers)
            if self.gaps and not self.bare and any(text_of(raw[at]) for at in self.gaps if at < len(raw)):
                self.bare = number

    def _keep(self, number: int, raw: RowValues, places: Iterable[int]) -> int:
        """The row, where anything stands in one of these places; 0 where nothing does."""
        found = [(at, said) for at in places if at < len(raw) and (said := text_of(raw[at]))]
        if len(self.unused) < MOST_UNUSED:
            self.unused += [(number, at, said, self.strangers.get(at, "")) for at, said in found]
        return number if found else 0

    def cells(self, source: Source, tab: Tab) -> list[Unused]:
        """The cells that were read in vain, as the person finds them."""
        return [
            Unused(
                source.file,
                tab.name,
                f"{letters(at)}{row}",
                says,
                f"{_STRANGER.format(tab.name)}: “{heading}”" if heading else _NO_HEADING,
            )
            for row, at, says, heading in self.unused[:MOST_UNUSED]
        ]

    def notes(self, source: Source, tab: Tab) -> Iterator[str]:
        """What the person should know."""
        place = f"{source.file}, {tab.name}"
        if self.beyond:
            yield f"{place}, row {self.beyond}: cells to the right of the last heading were left alone."
        if self.bare:
            yield f"{place}, row {self.bare}: cells of a column without a heading were left alone."
        hidden = sorted(row for row in source.aside.hidden if self.heading_row < row <= self.last)
        yield from hidden_rows(source.file, tab.name, hidden)

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
