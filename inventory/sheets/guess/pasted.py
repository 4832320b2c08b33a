"""Text as it is pasted out of a mail: lines of code, name, count and price made into rows, all others kept whole."""

from __future__ import annotations

import re
from collections.abc import Sequence

from inventory.sheets.guess.cells import Cell, Grid

HEADINGS = ("Item code", "Item", "Qty", "Price each")
_PRICE = r"(?:[€£$]\s?)?\d+[.,]\d{2}(?:\s?(?:€|£|\$|EUR|GBP|USD|CHF))?"
_CODE = r"(?:(?P<code>[A-Z]{1,5}[-./]?\d{2,8}[A-Z]?|\d{4,8})[\s:]+)?"
_EACH = r"(?:\s*(?:each|ea|je|pièce|/\s?\w+))?"
_REST = r"(?:\s.*)?"
_PIECES = r"(?:x|×|stk\.?|pcs?\.?|off)"
_LINES = tuple(
    re.compile(rf"\s*{_CODE}{pattern}", re.IGNORECASE)
    for pattern in (
        # 10 x Dunlin kit chrome 3.60
        rf"(?P<count>\d+)\s*{_PIECES}\s+(?P<name>\S.*?)[\s,:@à]+(?P<price>{_PRICE}){_EACH}{_REST}",
        # Dunlin kit chrome 10 x 3.60; 7 mm tube, qty 20, 0.14
        rf"(?P<name>\S.*?)[\s,;:]+(?:qty|menge|qté)?[\s.:]*(?P<count>\d+)\s*(?:{_PIECES}|@|à)?[\s,;@à]+"
        rf"(?P<price>{_PRICE}){_EACH}{_REST}",
        # 10 Dunlin kit chrome 3.60
        rf"(?P<count>\d+)\s+(?!mm\b|in\b|inch)(?P<name>\D.*?)[\s,:@à]+(?P<price>{_PRICE}){_EACH}{_REST}",
    )
)
_PARTED = re.compile(r"\t|\s*[|;]\s*|\s{3,}")


def grid_of(text: str, name: str = "pasted") -> Grid:
    """A tab of what was pasted: parted by tabs, bars or wide gaps; else read line by line."""
    lines = [line.strip("\ufeff\r ") for line in text.splitlines()]
    parted = [[one.strip() for one in _PARTED.split(line)] for line in lines]
    filled = [row for row, line in zip(parted, lines, strict=True) if line]
    if 2 * sum(len(row) > 1 for row in filled) > len(filled):
        return _grid(name, parted)
    read = [_row(line) for line in lines]
    if 2 * sum(len(row) == len(HEADINGS) for row in read) > len(filled):
        return _grid(name, [list(HEADINGS), *[row if len(row) > 1 else ["", *row] for row in read]])
    return _grid(name, [[line] for line in lines])


def _row(line: str) -> list[str]:
    for pattern in _LINES:
        if found := pattern.fullmatch(line):
            return [found["code"] or "", found["name"].strip(" ,;:-–—"), found["count"], found["price"]]
    return [line]


def _grid(name: str, rows: Sequence[Sequence[str]]) -> Grid:
    grid = Grid(name, name)
    for number, row in enumerate(rows, start=1):
        cells = {at: Cell(name, number, at, text[:2000], text[:2000]) for at, text in enumerate(row) if text}
        if cells:
            grid.rows[number] = cells
    return grid
