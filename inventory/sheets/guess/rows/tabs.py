"""One tab walked from top to bottom: headings, sub-headings, rows of stock, totals, notes, and what is left."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from fractions import Fraction

from inventory.sheets.guess.cells import Cell, Grid
from inventory.sheets.guess.guesses import Kept, Understanding
from inventory.sheets.guess.orders.lines import orders_of_lines
from inventory.sheets.guess.orders.looks import asks_for_pieces, is_order, looks_like_orders
from inventory.sheets.guess.orders.rows import order_of_row
from inventory.sheets.guess.rows.headings import (
    ASIDE,
    NO_HEADING,
    Block,
    Role,
    by_content,
    heading_row,
    role_of,
    settled,
    total_row,
)
from inventory.sheets.guess.rows.matrix import matrix_of, things_of_matrix
from inventory.sheets.guess.rows.sides import side_by_side
from inventory.sheets.guess.rows.walk import Walk, titled
from inventory.sheets.guess.texts.amounts import read_amount
from inventory.sheets.guess.texts.days import day_of
from inventory.sheets.guess.texts.naming import taken_apart
from inventory.sheets.guess.texts.prices import read_price
from inventory.sheets.guess.texts.words import plainly

_ROLE_BY_WORD = {
    "how many": "quantity", "paid": "paid", "drill": "drill", "where it lies": "where", "note": "note",
    "supplier": "supplier", "plating": "plating", "what": "what", "nothing": "number",
}  # fmt: skip


def blocks_of(grid: Grid) -> list[Block]:
    """The rows of a tab under their rows of headings; those above the first under none."""
    blocks = [Block(0, {})]
    for number in sorted(grid.rows):
        roles = heading_row(grid.rows[number].values())
        if roles is not None:
            roles = {at: _under(grid, number, at, role) for at, role in roles.items()}
            blocks.append(Block(number, roles, orders=blocks[-1].orders if not blocks[-1].head else None))
            continue
        orders = titled(list(grid.rows[number].values()))
        last = blocks[-1]
        if orders is not None and (not last.head or (orders and last.rows)):  # orders below the stock
            blocks.append(Block(0, {}, orders=orders))
        blocks[-1].rows.append(number)
    return [block for block in blocks if block.rows or block.head]


def _under(grid: Grid, head: int, at: int, role: Role) -> Role:
    """A heading of two rows: what stands over `each` may say that it is the least there should be."""
    above = grid.rows.get(head - 1, {}).get(at)
    over = role_of(above.text) if above is not None else None
    return over if over is not None and over.what == "level" else role


def read_tab(grid: Grid, found: Understanding, today: date) -> list[tuple[Grid, Block]]:
    """What one tab holds, added to `found`; blocks of orders are handed back, to be read when all kits are known."""
    parts = side_by_side(grid)
    if len(parts) > 1:
        return [block for part in parts for block in read_tab(part, found, today)]
    later = []
    blocks = blocks_of(grid)
    for at, block in enumerate(blocks):
        if block.orders is None and not block.head and len(blocks) > 1 and at == 0 and _above(grid, block):
            _title(grid, block, found)
        elif looks_like_orders(grid, block):
            later.append((grid, block))
        else:
            later += _orders_beside(grid, block) if block.head else _orders_between(grid, block)
            _stock_block(grid, block, found, today)
    return later


def _orders_between(grid: Grid, block: Block) -> list[tuple[Grid, Block]]:
    """Lines of free text among the stock that ask for pieces by a day or are paid: taken out of the block."""
    orders = [
        number
        for number in block.rows
        if len(grid.rows[number]) == 1 and is_order(next(iter(grid.rows[number].values())).text)
    ]
    block.rows = [number for number in block.rows if number not in set(orders)]
    return [(grid, Block(0, {}, orders, orders=True))] if orders else []


def _orders_beside(grid: Grid, block: Block) -> list[tuple[Grid, Block]]:
    """A column of orders as free text beside the stock: taken out of the block, each cell a line."""
    for at in block.columns("what")[1:]:
        cells = {number: cell for number in block.rows if (cell := grid.rows[number].get(at))}
        if not cells or 2 * sum(asks_for_pieces(cell.text) for cell in cells.values()) <= len(cells):
            continue
        block.roles[at] = Role(ASIDE)
        beside = Grid(grid.file, grid.tab, {number: {at: cell} for number, cell in cells.items()})
        return [(beside, Block(0, {}, sorted(cells), orders=True))]
    return []


def _above(grid: Grid, block: Block) -> bool:
    """Whether the rows above the headings are only a title: a cell or two each, and no counts."""
    return all(
        len(grid.rows[number]) <= 2
        and not any(taken_apart(cell.text, counted=True).amount for cell in grid.rows[number].values())
        for number in block.rows
    )


def _title(grid: Grid, block: Block, found: Understanding) -> None:
    for number in block.rows:
        found.kept += [Kept(cell, "title") for cell in grid.rows[number].values()]


def _stock_block(grid: Grid, block: Block, found: Understanding, today: date) -> None:
    _head_by_shape(grid, block)
    matrix = matrix_of(grid, block)
    if matrix is not None:
        found.things += things_of_matrix(grid, block, matrix, found)
        return
    _head(grid, block, found)
    block.roles = settled(grid, block)
    _unheaded(grid, block, found)
    walk = Walk(grid, block, found, today)
    for number in block.rows:
        walk.row(number)


def _head_by_shape(grid: Grid, block: Block) -> None:
    """Words alone over columns of numbers are headings, though none of them is known."""
    if block.head or len(block.rows) < 3:
        return
    first, *below = block.rows
    cells = grid.rows[first]
    if len(cells) < 2 or any(re.search("[0-9]", cell.text) or cell.unworked for cell in cells.values()):
        return
    columns = [[cell for number in below if (cell := grid.rows[number].get(at))] for at in cells]
    counted = [
        at
        for at, under in zip(cells, columns, strict=True)
        if len(under) >= 2 and all(re.fullmatch("[0-9]{1,4}", cell.text) for cell in under)
    ]
    if counted and min(cells) not in counted:
        block.head, block.rows = first, below
        block.roles = {at: role for at, cell in cells.items() if (role := role_of(cell.text)) is not None}


def _head(grid: Grid, block: Block, found: Understanding) -> None:
    if block.head:
        found.kept += [
            Kept(cell, "heading" if at in block.roles else "heading not known", _of(block, at))
            for at, cell in grid.rows[block.head].items()
        ]


def _of(block: Block, at: int) -> str:
    return block.roles[at].what if at in block.roles else ""


def _unheaded(grid: Grid, block: Block, found: Understanding) -> None:
    """Columns without a heading one can read: by what stands in them; numbers nobody can name are asked about."""
    rows = [number for number in block.rows if not total_row(list(grid.rows[number].values()))]
    guessed = by_content(grid, rows, block.roles)
    for column, role in guessed.items():
        head = grid.rows.get(block.head, {}).get(column)
        block.roles[column] = replace(role, why=f"“{head.text}” {NO_HEADING}") if head else role
        if role.what == "unknown":
            block.roles[column] = _asked_role(grid, block, column, found)
    for at in list(block.roles):
        if block.roles[at].what == "note" and block.column("what") is None:
            block.roles[at] = replace(block.roles[at], what="what", grade="guessed")


def _asked_role(grid: Grid, block: Block, column: int, found: Understanding) -> Role:
    cells = [cell for number in block.rows if (cell := grid.rows[number].get(column))]
    heading = grid.rows.get(block.head, {}).get(column)
    numbers = any(re.search("[0-9]", cell.text) for cell in cells)
    if not numbers and {plainly(cell.text) for cell in cells} & _suppliers(found):
        return Role("supplier", "guessed", why="suppliers named elsewhere stand in it")
    if len(cells) < 3 or not (numbers or (heading and _short_words(cells))):
        return Role("note", "guessed", why=f"“{heading.text}” {NO_HEADING}" if heading else "no heading")
    if _count_times_price(grid, block, column):
        return Role("sum", "guessed", why="count times price")
    head = grid.rows.get(block.head, {}).get(column)
    shown = ", ".join(cell.text for cell in cells[:3])
    name = f"column {cells[0].ref.split('!')[1].rstrip('0123456789')}" + (f" “{head.text}”" if head else "")
    about = f"What is {name} ({shown} …)?"
    key = f"column|{grid.tab}|{column}"
    said = found.asking.ask(key, about, "note", *cells[:1], choices=tuple(_ROLE_BY_WORD))
    if said.grade == "asked":  # all that stands in it waits for the answer
        found.asking.waiting.update(dict.fromkeys(cells, key))
    return Role(_ROLE_BY_WORD.get(said.value, "note"), said.grade, why=said.why)


def _suppliers(found: Understanding) -> set[str]:
    return {plainly(thing.value("supplier")) for thing in found.things} - {""}


def _short_words(cells: list[Cell]) -> bool:
    """Whether cells hold a word or two that stand in more than one row: names of something, and no remarks."""
    said = [plainly(cell.text) for cell in cells]
    return len(set(said)) < len(said) and all(len(text.split()) <= 3 for text in said)


def _count_times_price(grid: Grid, block: Block, column: int) -> bool:
    """Whether each sum in a column is the count times the price beside it."""
    count, paid = block.column("quantity"), block.column("paid")
    if count is None or paid is None:
        return False
    said = []
    for number in block.rows:
        row = grid.rows[number]
        if not total_row(list(row.values())) and {count, paid, column} <= set(row):
            many, price, total = read_amount(row[count]), read_price(row[paid]), read_price(row[column])
            if many and price and total and many.value and price.value and total.value:
                each = price.value / int(price.per) if price.per.isdecimal() else price.value
                said.append(abs(each * many.value - total.value) <= Fraction(1, 100))
    return len(said) >= 2 and 5 * sum(said) >= 4 * len(said)


def _due_by_content(grid: Grid, block: Block, today: date) -> None:
    """Where no cell under the heading of days is a day but others are: `Wanted by` was who wants it."""
    due = block.column("due")
    received = block.column("received")
    if due is None and received is not None and _days(grid, block, received, today):
        block.roles[received] = Role("due", "guessed", why="days, beside orders")
        return
    if due is None or _days(grid, block, due, today):
        return
    others = {at for number in block.rows for at in grid.rows[number] if at != due}
    free = sorted(
        at for at in others if at not in block.roles or block.roles[at].what in ("note", "received")
    )
    for at in free:
        if 2 * _days(grid, block, at, today) > len(block.rows):
            block.roles[due] = Role("note" if block.column("customer") is not None else "customer")
            block.roles[at] = Role("due", "guessed", why="days stand in it")
            return


def _days(grid: Grid, block: Block, at: int, today: date) -> int:
    cells = [cell for number in block.rows if (cell := grid.rows[number].get(at))]
    return sum(day_of(cell.raw, cell.text, today) is not None for cell in cells)


def read_orders(later: list[tuple[Grid, Block]], found: Understanding, today: date) -> None:
    """The blocks of orders, once every kit and blank is known."""
    for grid, block in later:
        if block.roles and block.column("what") is not None:
            _due_by_content(grid, block, today)
            if block.column("customer") is None and (by := block.column("supplier")) is not None:
                block.roles[by] = Role("customer", "guessed", why="who wants it, in a list of orders")
            _head(grid, block, found)
            for number in block.rows:
                order_of_row(grid, block, number, found, today)
        else:
            _head(grid, block, found)
            orders_of_lines(grid, block, found, today)
