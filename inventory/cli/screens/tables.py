"""Plain tables for a terminal 80 columns wide: readable without colour, quick for thousands of rows."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from dataclasses import dataclass
from unicodedata import combining, east_asian_width

GAP = 2


@dataclass(frozen=True, slots=True)
class Column:
    """right: numbers line up at their end. gives: this column is cut first where the row is too wide."""

    heading: str
    right: bool = False
    gives: bool = False


def width_of(text: str) -> int:
    """Columns a text takes on a terminal."""
    if text.isascii():
        return len(text)
    return sum(0 if combining(ch) else 2 if east_asian_width(ch) in "WF" else 1 for ch in text)


def terminal_width() -> int:
    """What the terminal offers, at least 40, and 80 where nobody says."""
    return max(shutil.get_terminal_size((80, 24)).columns, 40)


def table(columns: Sequence[Column], rows: Sequence[Sequence[str]], width: int | None = None) -> list[str]:
    """Lines of a table no wider than `width` as long as the giving columns can still give."""
    widths = [
        max([width_of(column.heading), *(width_of(row[at]) for row in rows)])
        for at, column in enumerate(columns)
    ]
    _fit(widths, columns, width or terminal_width())
    head = _line([column.heading for column in columns], columns, widths)
    rule = (" " * GAP).join("─" * w for w in widths).rstrip()
    return [head, rule, *(_line(row, columns, widths) for row in rows)]


def _fit(widths: list[int], columns: Sequence[Column], room: int) -> None:
    over = sum(widths) + GAP * (len(widths) - 1) - room
    while over > 0:
        giving = [at for at, column in enumerate(columns) if column.gives and widths[at] > 12]
        if not giving:
            return
        widest = max(giving, key=lambda at: widths[at])
        widths[widest] -= 1
        over -= 1


def _line(cells: Sequence[str], columns: Sequence[Column], widths: Sequence[int]) -> str:
    done = [_cell(text, column, w) for text, column, w in zip(cells, columns, widths, strict=True)]
    return (" " * GAP).join(done).rstrip()


def _cell(text: str, column: Column, width: int) -> str:
    taken = width_of(text)
    if taken > width:
        text, taken = _cut(text, width), width
    pad = " " * (width - taken)
    return pad + text if column.right else text + pad


def _cut(text: str, width: int) -> str:
    if text.isascii():
        return text[: width - 1] + "…"
    while width_of(text) > width - 1:
        text = text[:-1]
    return text + "…" + " " * (width - 1 - width_of(text))


def wrapped(text: str, first: str = "", width: int | None = None) -> list[str]:
    """A sentence broken into lines, the later ones indented under the first.

    Signs that steer a terminal or turn the direction of writing, which sheets and file names may hold, become �.
    """
    from textwrap import wrap

    text = "".join(sign if sign.isprintable() else "�" for sign in " ".join(text.split()))
    room = min(width or terminal_width(), 100)
    return wrap(text, room, initial_indent=first, subsequent_indent=" " * len(first)) or [first.rstrip()]
