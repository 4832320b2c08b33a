"""Kits across columns as a colour matrix: names down, platings across, or the other way round."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction

from inventory.measures.numbers import show_number
from inventory.sheets.guess.cells import Cell, Grid
from inventory.sheets.guess.guesses import Kept, Thing, Understanding
from inventory.sheets.guess.rows.headings import ALL, Block, role_of, total_row
from inventory.sheets.guess.texts.amounts import read_amount
from inventory.sheets.guess.texts.naming import taken_apart
from inventory.sheets.guess.texts.platings import Plated, plating_of
from inventory.sheets.guess.texts.prices import read_price
from inventory.sheets.guess.texts.sizes import drill_in
from inventory.sheets.guess.texts.words import lexicon, plainly, signs


@dataclass(slots=True)
class Matrix:
    """head: the row that names what stands across; across: its cells by column; down: the column of names.

    doubt: why nobody can be sure that this is the column of names, where several may be; empty where one is.
    """

    head: int
    across: dict[int, Cell]
    down: int
    platings_across: bool
    doubt: str = ""


def matrix_of(grid: Grid, block: Block) -> Matrix | None:
    """The matrix a block holds, or None: a row with two platings or more makes one, or a column of them beside kits."""
    candidates = [block.head] if block.head else []
    candidates += block.rows[:6] if block.column("plating") is None else []
    for number in candidates:
        row = grid.rows[number]
        plated = {at: cell for at, cell in row.items() if _known(cell)}
        if len(plated) >= 2 and 2 * len(plated) >= len(row) - 1:
            across = {at: cell for at, cell in row.items() if at >= min(plated) and _column(cell)}
            below = [one for one in block.rows if one > number]
            if _counts_below(grid, below, across):
                return Matrix(number, across, *_names_column(grid, number, below, across))
    return _turned(grid, block)


def _known(cell: Cell) -> bool:
    found = plating_of(cell.text)
    role = role_of(cell.text)
    return (
        found is not None
        and not cell.text.isdecimal()
        and "no plating known" not in found.why
        and (role is None or role.grade != "read")
    )


def _column(cell: Cell) -> bool:
    """Whether a heading among platings is one too, though no list has it: no total, no price, no note."""
    total = signs("total").whole(cell.text) or plainly(cell.text) in ALL
    return _known(cell) or (role_of(cell.text) is None and not total)


def _counts_below(grid: Grid, below: list[int], across: dict[int, Cell]) -> bool:
    cells = [cell for number in below for at in across if (cell := grid.rows[number].get(at))]
    counted = [cell for cell in cells if (amount := read_amount(cell)) and amount.value is not None]
    return bool(counted) and 2 * len(counted) >= len(cells)


def _names_column(grid: Grid, head: int, below: list[int], across: dict[int, Cell]) -> tuple[int, bool, str]:
    """The column of names left of the platings: the one whose heading says so, else the first that holds no codes."""
    left = {
        at
        for number in below
        for at, cell in grid.rows[number].items()
        if at < min(across) and not cell.text.isdecimal()
    }
    roles = {at: role_of(cell.text) for at in left if (cell := grid.rows[head].get(at))}
    said = {at: role.what for at, role in roles.items() if role is not None and role.grade == "read"}
    named = [at for at, what in said.items() if what == "what"]
    free = sorted(named or [at for at in left if at not in said] or left)
    doubt = "" if len(named) == 1 or len(free) < 2 else "other words stand beside it"
    return (free[0] if free else 0), True, doubt


def _turned(grid: Grid, block: Block) -> Matrix | None:
    """Platings down the first column, kits across."""
    rows = [number for number in block.rows if grid.rows[number]]
    if block.head and len(block.roles) >= len(grid.rows[block.head]) - 1:
        return None
    for head in [block.head] if block.head else rows[:4]:
        across = {
            at: cell for at, cell in grid.rows[head].items() if _column(cell) and not cell.text.isdecimal()
        }
        below = [number for number in rows if number > head]
        if len(across) < 2 or len(below) < 2:
            continue
        down = min(min(grid.rows[number]) for number in below)
        across = {at: cell for at, cell in across.items() if at > down and read_amount(cell) is None}
        firsts = [
            cell
            for number in below
            if (cell := grid.rows[number].get(down))
            and not total_row(list(grid.rows[number].values()))
            and not _sure_role(cell)
        ]
        plated = len(firsts) >= 2 and sum(map(_known, firsts)) * 4 >= 3 * len(firsts)
        if len(across) >= 2 and plated and _counts_below(grid, below, across):
            return Matrix(head, across, down, False)
    return None


def _sure_role(cell: Cell) -> bool:
    """Whether a word down the side is a heading of its own row: a price, a drill."""
    role = role_of(cell.text)
    return role is not None and (role.grade == "read" or role.what in ("drill", "paid")) and not _known(cell)


def things_of_matrix(grid: Grid, block: Block, matrix: Matrix, found: Understanding) -> list[Thing]:
    """A thing for each count in the matrix; what stands beside goes to every thing of its row."""
    things: list[Thing] = []
    for number in sorted({block.head, *block.rows} - {0}):
        row = grid.rows[number]
        cells = list(row.values())
        if number < matrix.head:
            title = len(cells) <= 2 or not any(re.search("[0-9]", cell.text) for cell in cells)
            found.kept += [Kept(cell, "title" if title else "not understood") for cell in cells]
        elif number == matrix.head:
            found.kept += [
                Kept(cell, "heading", "plating" if matrix.platings_across else "kit") for cell in cells
            ]
        elif total_row(cells):
            found.kept += [Kept(cell, "total") for cell in cells]
        elif not matrix.platings_across and matrix.down in row and _sure_role(row[matrix.down]):
            _under_the_kits(row, matrix, things, found)
        else:
            things += _row(grid, matrix, row, found)
    return things


def _under_the_kits(
    row: dict[int, Cell], matrix: Matrix, things: Iterable[Thing], found: Understanding
) -> None:
    """A price or a drill for each kit in its column, below its colours."""
    head = row[matrix.down]
    role = role_of(head.text)
    found.kept.append(Kept(head, "heading", role.what if role else ""))
    for at, cell in row.items():
        mine = [thing for thing in things if thing.said["family"].cells[0].column == at]
        price = read_price(cell) if role and role.what == "paid" else None
        drill = drill_in(cell.text) if role and role.what == "drill" else ""
        for thing in mine:
            if price is not None and price.value is not None and price.grade != "asked":
                per = price.per or (role.per if role else "") or "each"
                thing.put("paid", price.text, "guessed", f"“{head.text}” below its colours", cell)
                thing.put("per", per, "guessed", "a price below the colours", cell)
                thing.put("coin", price.coin or (role.coin if role else ""), "read", "", cell)
            elif drill:
                thing.put("drill", drill, "guessed", f"“{head.text}” below its colours", cell)
        if at != matrix.down and not (mine and (drill or (price is not None and price.value is not None))):
            found.kept.append(Kept(cell, "not understood", "a row beside the colours"))


def _row(grid: Grid, matrix: Matrix, row: dict[int, Cell], found: Understanding) -> list[Thing]:
    name = row.get(matrix.down)
    if name is None or (len(row) == 1 and name is not None):
        found.kept += [
            Kept(cell, "note" if len(cell.text.split()) > 3 else "sub-heading") for cell in row.values()
        ]
        return []
    made = []
    for at, head in matrix.across.items():
        cell = row.get(at)
        if cell is None:
            continue
        kit, colour = (name, head) if matrix.platings_across else (head, name)
        thing = _thing(kit, colour, cell, found)
        if thing is not None and matrix.doubt:
            thing.said["family"] = replace(thing.said["family"], grade="guessed", why=matrix.doubt)
        if thing is not None:
            made.append(thing)
    _beside(grid, matrix, row, made, found)
    return made


def _thing(kit: Cell, colour: Cell, cell: Cell, found: Understanding) -> Thing | None:
    amount = read_amount(cell)
    if amount is None:
        found.kept.append(Kept(cell, "not understood", "no count"))
        return None
    named, thing = taken_apart(kit.text, kind="kit"), Thing(cell)
    thing.put("kind", "kit", "read" if named.kind == "kit" else "guessed", "", kit)
    thing.put("makes", named.makes, "read", "", kit)
    thing.put("family", named.family[:80] or kit.text[:80], "read", "", kit)
    plated = plating_of(colour.text) or Plated(plainly(colour.text), "guessed", "")
    value, grade, why = plated.plating, plated.grade, plated.why
    if grade == "asked":
        about = f"Which plating is “{colour.text}”?"
        choices = tuple(dict.fromkeys(lexicon("platings", "plating").phrases.values()))
        said = found.asking.ask(f"plating|{plainly(colour.text)}", about, value, colour, choices=choices)
        value, grade, why = said.value, said.grade, said.why
    thing.put("plating", value, grade, why, colour)
    number, grade, why = amount.value, amount.grade, amount.why
    if grade == "asked" or (number is not None and number.denominator != 1):
        guess = "" if number is None else show_number(Fraction(int(number)))
        about = f"How many {named.family} {value}? {why.capitalize()}."
        said = found.asking.ask(f"count|{cell.ref}", about, guess, cell, accepts="a number")
        thing.put("quantity", said.value, said.grade, said.why, cell)
    elif number is not None:
        thing.put("quantity", show_number(number), grade, why, cell)
    if amount.rest:
        thing.add("note", amount.rest, cell)
    return thing


def _beside(
    grid: Grid, matrix: Matrix, row: dict[int, Cell], made: list[Thing], found: Understanding
) -> None:
    """What stands in the row outside the matrix: a price, a supplier, a drill, a total, a note."""
    for at, cell in row.items():
        if at == matrix.down or at in matrix.across:
            continue
        head = grid.rows[matrix.head].get(at)
        role = role_of(head.text) if head else None
        above = grid.rows.get(matrix.head - 1, {}).get(at)
        over = role_of(above.text) if above else None
        what = "level" if over and over.what == "level" else role.what if role else "note"
        if (
            what == "number"
            or (head and (signs("total").whole(head.text) or plainly(head.text) in ALL))
            or (role and role.per == "all")
        ):
            found.kept.append(Kept(cell, "total"))
            continue
        price = read_price(cell) if what == "paid" else None
        for thing in made:
            if price is not None and price.value is not None and price.grade != "asked":
                thing.put("paid", price.text, price.grade, price.why, cell)
                thing.put("coin", price.coin or (role.coin if role else ""), "read", "", cell)
                thing.put(
                    "per",
                    price.per or (role.per if role else "") or "each",
                    "guessed",
                    "a price beside a row of platings",
                    cell,
                )
            elif what == "level" and (least := read_amount(cell)) and least.value is not None:
                thing.put(
                    "level", show_number(least.value), "guessed", "the least of a row of platings", cell
                )
            elif what in ("supplier", "where", "drill"):
                thing.put(what, cell.text, "read", "", cell)
            else:
                thing.add("note", cell.text, cell)
        if not made:
            found.kept.append(Kept(cell, "note"))
