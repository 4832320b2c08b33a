"""Whether lines speak of orders."""

from __future__ import annotations

import re
from datetime import date

from inventory.sheets.guess.cells import Grid
from inventory.sheets.guess.rows.headings import Block
from inventory.sheets.guess.texts.days import day_in
from inventory.sheets.guess.texts.words import lexicon, plainly, signs, tokens

_UNTIL = re.compile(r"(?:^|\s)(?:by|before|until|till|bis|vor|bis zum|avant|d'ici|avant le|d'ici le)$")
_NAMED_FIRST = re.compile(r"[-–—•*\s]*[^\W\d_][^:;–—]{1,40}[:–—]\s*\d")
"""Somebody, then how many: `Mrs Gull: 2 Dunlin oak`."""


def looks_like_orders(grid: Grid, block: Block) -> bool:
    """Whether a block speaks of orders: its tab or headings say so, or most of its lines do."""
    if block.orders is not None:
        return block.orders
    roles = {role.what for role in block.roles.values()}
    if "due" in roles or ("customer" in roles and "what" in roles and "paid" not in roles):
        return True
    if named_orders(grid.tab):
        return True
    if block.head and {"quantity", "paid", "plating"} & roles:
        return False
    lines = [number for number in block.rows if len(grid.rows[number]) <= 2]
    if len(lines) * 2 < len(block.rows) or not lines:
        return False
    return sum(
        is_order(" ".join(cell.text for cell in grid.rows[number].values())) for number in lines
    ) * 2 > len(lines)


def named_orders(name: str) -> bool:
    said = tokens(plainly(name))
    return bool(signs("orders").find(said)) and "supplier" not in said


def asks_for_pieces(text: str) -> bool:
    """Whether a cell beside the stock asks for pieces: an order's line, or a count and a day."""
    return is_order(text) or (bool(re.search("[0-9]", text)) and day_in(text, date(2000, 1, 1)) is not None)


def is_order(text: str) -> bool:
    """A line of free text that asks for pieces: a piece's word, and a day, a state or several parts."""
    said = tokens(plainly(text))
    makes = bool(lexicon("makes", "makes").find(said))
    day = day_in(text, date(2000, 1, 1))
    dated = day is not None
    until = day is not None and _UNTIL.search(plainly(text)[: day.start].rstrip())
    stated = bool(signs("paid").find(said) or signs("unpaid").find(said))
    return (makes and (dated or stated)) or (dated and stated) or bool(until and _NAMED_FIRST.match(text))
