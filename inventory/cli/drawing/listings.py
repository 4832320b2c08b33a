"""Rows of cells at a width: headings give first, then names are wrapped, then cells stand below their row.

Nothing is cut. What is short enough at 40 columns looks there as it does at 120.
"""

from __future__ import annotations

from collections.abc import Sequence

from inventory.cli.drawing.blocks import Cells, Listing
from inventory.cli.drawing.texts import NARROW, broken, plain_of, unbroken, width_of

GAP = 2
NAME, NARROW_NAME = 22, 18
"""Columns a name keeps before others are folded for it, and on a narrow terminal."""
LEAST = 8
"""Columns a name keeps whatever happens."""


def laid_out(listing: Listing, shown: int, width: int) -> tuple[list[str], list[list[str]]]:
    """The lines of its headings, and those of each of the rows shown."""
    rows = [[plain_of(cell) for cell in row] for row in listing.rows[:shown]]
    used = [at for at in range(len(listing.columns)) if any(row[at] for row in rows)]
    indent = listing.indent if width >= NARROW else min(listing.indent, 2)
    if not used:
        return [], [[] for _ in rows]
    frame = _Frame([listing.columns[at] for at in used], [[row[at] for at in used] for row in rows])
    frame.fit(width - indent, bare=listing.bare)
    pad = " " * indent
    head = [] if listing.bare else [pad + line for line in frame.head()]
    return head, [[pad + line for line in frame.lines(row)] for row in frame.rows]


class _Frame:
    """Widths of columns, and which of them are folded."""

    def __init__(self, columns: Sequence[Cells], rows: Sequence[Sequence[str]]) -> None:
        self.columns, self.rows = columns, rows
        self.kept = list(range(len(columns)))
        self.room = 0
        self.widths: list[int] = []

    def fit(self, room: int, *, bare: bool) -> None:
        """Find widths that take no more than `room`."""
        self.room = room
        cells = [max((width_of(row[at]) for row in self.rows), default=1) for at in range(len(self.columns))]
        heads = [0 if bare else width_of(one.heading) for one in self.columns]
        words = [0 if bare else _on_two_lines(one.heading) for one in self.columns]
        whole = [max(cell, head, 1) for cell, head in zip(cells, heads, strict=True)]
        broken_heads = [max(cell, word, 1) for cell, word in zip(cells, words, strict=True)]
        while True:
            self.widths = list(whole)
            self._give(broken_heads)
            if self._over() > 0:
                self.widths = list(whole)
                self._give(self._names(NAME if room >= NARROW else NARROW_NAME, words))
                self._give(broken_heads)
            if self._over() <= 0 or (at := self._next_folded()) is None:
                break
            self.kept.remove(at)
        self._give(self._names(LEAST, words))

    def _over(self) -> int:
        return sum(self.widths[at] for at in self.kept) + GAP * (len(self.kept) - 1) - self.room

    def _give(self, least: Sequence[int]) -> None:
        """The widest gives first, none below its least."""
        while (over := self._over()) > 0:
            giving = [at for at in self.kept if self.widths[at] > least[at]]
            if not giving:
                return
            widest = max(giving, key=lambda at: self.widths[at])
            others = [self.widths[at] for at in giving if at != widest]
            down = max(least[widest], max(others, default=0) - 1)
            self.widths[widest] -= min(over, max(self.widths[widest] - down, 1))

    def _names(self, least: int, words: Sequence[int]) -> list[int]:
        """How narrow each column may get where names give."""
        return [self._least(at, least, words) for at in range(len(self.columns))]

    def _least(self, at: int, least: int, words: Sequence[int]) -> int:
        if self.columns[at].right:
            return self.widths[at]
        longest = max((_longest(row[at]) for row in self.rows), default=1)
        if least > LEAST:
            least = min(least, self.columns[at].keeps or least)
        return min(self.widths[at], max(least, words[at], longest if least > LEAST else 0))

    def _next_folded(self) -> int | None:
        found = [at for at in self.kept if self.columns[at].folds and len(self.kept) > 1]
        return max(found, key=lambda at: (self.columns[at].folds, at), default=None)

    def head(self) -> list[str]:
        """Headings, and the rule below them."""
        rule = (" " * GAP).join("─" * self.widths[at] for at in self.kept)
        return [*self._line([one.heading for one in self.columns], foot=True), rule]

    def lines(self, row: Sequence[str]) -> list[str]:
        """One row, and below it what is folded."""
        below = [
            f"{_small(self.columns[at].heading)} {row[at]}".strip()
            for at in range(len(row))
            if at not in self.kept and row[at]
        ]
        under = broken(", ".join(below), self.room - 2) if below else []
        return [*self._line(row), *(f"  {line}" for line in under)]

    def _line(self, row: Sequence[str], *, foot: bool = False) -> list[str]:
        """The cells beside each other, each on as many lines as it needs. foot: shorter ones stand at the end."""
        cells = [broken(row[at], self.widths[at]) for at in self.kept]
        high = max(map(len, cells))
        columns = [
            [""] * (high - len(cell)) + cell if foot else cell + [""] * (high - len(cell)) for cell in cells
        ]
        return [
            (" " * GAP)
            .join(
                _padded(column[at], self.widths[place], right=self.columns[place].right)
                for column, place in zip(columns, self.kept, strict=True)
            )
            .rstrip()
            for at in range(high)
        ]


def _on_two_lines(heading: str) -> int:
    """The least width at which a heading takes no more than two lines: in more it is read as another row."""
    width = _longest(heading)
    while len(broken(heading, width)) > 2:
        width += 1
    return width


def _small(heading: str) -> str:
    """A heading inside a line: its first letter small, as what it names may have capitals of its own."""
    return heading[:1].lower() + heading[1:]


def _longest(text: str) -> int:
    return max((width_of(word) for word in unbroken(plain_of(text))), default=1)


def _padded(text: str, width: int, *, right: bool) -> str:
    pad = " " * (width - width_of(text))
    return pad + text if right else text + pad
