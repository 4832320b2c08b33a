"""One tab walked from top to bottom: headings, sub-headings, rows of stock, totals, notes, and what is left."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

from inventory.sheets.guess.cells import Cell, Grid
from inventory.sheets.guess.guesses import Kept, Said, Thing, Understanding
from inventory.sheets.guess.headings import Block, Role, by_content, heading_row, settled, total_row
from inventory.sheets.guess.matrix import matrix_of, things_of_matrix
from inventory.sheets.guess.naming import lexicon_of_kinds, taken_apart
from inventory.sheets.guess.stock import Context, Row, thing_of
from inventory.sheets.guess.wishes import SPEAKS, is_wish, looks_like_wishes, wish_of_row, wishes_of_lines
from inventory.sheets.guess.words import lexicon, plainly, signs, tokens

_DITTO = ('"', "''", '""', "″", "„")
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
            blocks.append(Block(number, roles, orders=blocks[-1].orders if not blocks[-1].head else None))
            continue
        orders = _titled(list(grid.rows[number].values()))
        if orders is not None and not blocks[-1].head:
            blocks.append(Block(0, {}, orders=orders))
        blocks[-1].rows.append(number)
    return [block for block in blocks if block.rows or block.head]


def _titled(cells: list[Cell]) -> bool | None:
    """Whether a row alone is a title over orders, or over stock; None where it is no title."""
    if len(cells) != 1:
        return None
    if signs("orders").whole(cells[0].text):
        return True
    return False if signs("stock").whole(cells[0].text) else None


def read_tab(grid: Grid, found: Understanding, today: date) -> list[tuple[Grid, Block]]:
    """What one tab holds, added to `found`; the blocks that hold wishes are handed back, to be read when all kits are known."""
    later = []
    blocks = blocks_of(grid)
    for at, block in enumerate(blocks):
        if block.orders is None and not block.head and len(blocks) > 1 and at == 0 and _above(grid, block):
            _title(grid, block, found)
        elif looks_like_wishes(grid, block):
            later.append((grid, block))
        else:
            if not block.head:
                later += _wishes_between(grid, block)
            _stock_block(grid, block, found, today)
    return later


def _wishes_between(grid: Grid, block: Block) -> list[tuple[Grid, Block]]:
    """Lines of free text among the stock that ask for pieces by a day or are paid: taken out of the block."""
    wishes = [
        number
        for number in block.rows
        if len(grid.rows[number]) == 1 and is_wish(next(iter(grid.rows[number].values())).text)
    ]
    block.rows = [number for number in block.rows if number not in set(wishes)]
    return [(grid, Block(0, {}, wishes, orders=True))] if wishes else []


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
    matrix = matrix_of(grid, block)
    if matrix is not None:
        found.things += things_of_matrix(grid, block, matrix, found)
        return
    _head(grid, block, found)
    block.roles = settled(grid, block)
    _unheaded(grid, block, found)
    walk = _Walk(grid, block, found, today)
    for number in block.rows:
        walk.row(number)


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
        block.roles[column] = role
        if role.what == "unknown":
            block.roles[column] = _asked_role(grid, block, column, found)
    for at in list(block.roles):
        if block.roles[at].what == "note" and block.column("what") is None:
            block.roles[at] = replace(block.roles[at], what="what", grade="guessed")


def _asked_role(grid: Grid, block: Block, column: int, found: Understanding) -> Role:
    cells = [cell for number in block.rows if (cell := grid.rows[number].get(column))]
    if len(cells) < 3 or not any(re.search("[0-9]", cell.text) for cell in cells):
        heading = grid.rows.get(block.head, {}).get(column)
        return Role(
            "note", "guessed", why=f"“{heading.text}” is no heading known here" if heading else "no heading"
        )
    head = grid.rows.get(block.head, {}).get(column)
    shown = ", ".join(cell.text for cell in cells[:3])
    name = f"column {cells[0].ref.split('!')[1].rstrip('0123456789')}" + (f" “{head.text}”" if head else "")
    about = f"What is {name} ({shown} …)?"
    said = found.asking.ask(
        f"column|{grid.tab}|{column}", about, "note", *cells[:1], choices=tuple(_ROLE_BY_WORD)
    )
    return Role(_ROLE_BY_WORD.get(said.value, "note"), said.grade, why=said.why)


def _by_title(grid: Grid, block: Block) -> dict[str, Said]:
    """The kind of a whole tab, by the heading over its names or by the tab's own name."""
    at = block.column("what")
    head = grid.rows.get(block.head, {}).get(at) if at is not None else None
    for text, cells in ((head.text, (head,)), (grid.tab, ())) if head else ((grid.tab, ()),):
        kind = lexicon_of_kinds().whole(text) or ("blank|" if plainly(text) in _WOODS else "")
        if kind and plainly(text) not in ("box", "boxes", "pack"):
            return {"kind": Said(kind, "read", "", cells)}
    return {}


_WOODS = frozenset(
    {"wood", "woods", "timber", "timbers", "material", "holz", "holzer", "bois", "essence", "materials"}
)


class _Walk:
    """Goes down the rows of one block and remembers what stands above."""

    def __init__(self, grid: Grid, block: Block, found: Understanding, today: date) -> None:
        self.grid, self.block, self.found, self.today = grid, block, found, today
        self.context = Context(_by_title(grid, block))
        self.last: Thing | None = None
        self.above: dict[int, Cell] = {}

    def row(self, number: int) -> None:
        """Take one row."""
        cells = list(self.grid.rows[number].values())
        words = [cell for cell in cells if signs("postage").whole(cell.text)]
        if words:
            self.found.kept += [Kept(cell, "note", "postage is no stock") for cell in cells]
            return
        if total_row(cells) or _titled(cells) is not None:
            self.found.kept += [Kept(cell, "total" if total_row(cells) else "title") for cell in cells]
            return
        filled = [cell for cell in cells if self.block.roles.get(cell.column, Role("")).what != "number"]
        if len(filled) == 1 and self._sub_heading(filled[0]):
            return
        by_role, spread = self._by_role(number)
        whats = by_role.get("what", [])
        if not any(cell.row == number or cell in self.above.values() for cell in whats) and not self._goes_on(
            by_role
        ):
            self._left_over(cells)
            return
        if len(filled) == 1 and _sentence(filled[0].text):
            self.found.kept.append(Kept(filled[0], "note"))
            return
        self._thing(number, cells, by_role, spread)

    def _thing(
        self, number: int, cells: list[Cell], by_role: dict[str, list[Cell]], spread: frozenset[int]
    ) -> None:
        anchor = next((cell for cell in by_role.get("what", []) if cell.row == number), cells[0])
        row = Row(anchor, by_role, self.block.roles, self.context, self.found.asking, self.today, spread)
        if by_role.get("what"):
            thing = thing_of(row)
        else:
            thing = self._from_above(row)
        for cell in cells:
            if self.block.roles.get(cell.column, Role("")).what == "number":
                self.found.kept.append(Kept(cell, "row number"))
            elif signs("ditto").whole(cell.text) or cell.text in _DITTO:
                self.found.kept.append(Kept(cell, "as above"))
        self.found.kept += [Kept(cell, "not understood", why) for cell, why in row.unread]
        self.found.things.append(thing)
        self.last = thing
        self.above.update({cell.column: cell for cell in cells if not signs("ditto").whole(cell.text)})

    def _from_above(self, row: Row) -> Thing:
        """A row that only says another plating and count of what stands above it."""
        assert self.last is not None  # noqa: S101 - _goes_on has looked
        family = self.last.value("family")
        thing = thing_of(row, name=f"{family} kit", name_cells=(self.last.anchor,))
        for what in ("kind", "family"):
            thing.said[what] = replace(thing.said[what], grade="guessed", why="as in the row above")
        return thing

    def _goes_on(self, by_role: dict[str, list[Cell]]) -> bool:
        return bool(
            self.last and self.last.value("family") and by_role.get("plating") and by_role.get("quantity")
        )

    def _by_role(self, number: int) -> tuple[dict[str, list[Cell]], frozenset[int]]:
        by_role: dict[str, list[Cell]] = {}
        spread = set()
        for column in sorted(self.block.roles):
            cell = self.grid.rows[number].get(column)
            if cell is None and (number, column) in self.grid.spread:
                cell = self.grid.spread[(number, column)]
                spread.add(column)
            elif cell is not None and self._top_of_merge(number, column):
                spread.add(column)
            if cell is not None and (signs("ditto").whole(cell.text) or cell.text in _DITTO):
                cell = self.above.get(column)
            if cell is not None:
                by_role.setdefault(self.block.roles[column].what, []).append(cell)
        return by_role, frozenset(spread)

    def _top_of_merge(self, number: int, column: int) -> bool:
        return self.grid.spread.get((number + 1, column)) is self.grid.rows[number].get(column) is not None

    def _sub_heading(self, cell: Cell) -> bool:
        """Take a row of one cell that speaks of the rows below: a kind, a plating, a drawer."""
        text = cell.text.strip(" :-–—*=")
        wide = self.grid.wide.get((cell.row, cell.column), 1) > 1
        if self._kind_and_place(cell, text):
            self.found.kept.append(Kept(cell, "sub-heading"))
            return True
        if (
            re.search(r"[0-9]", (taken_apart(text, counted=True).amount and text) or "")
            and not wide
            and not _place(text)
        ):
            return False
        if (kind := lexicon_of_kinds().whole(text)) and not _counted_row(self.block, cell):
            self.context = Context({"kind": Said(kind, "read", "", (cell,))})
        elif _place(text):
            self.context.said["where"] = Said(text, "read", "", (cell,))
        elif makes := lexicon("makes", "makes").whole(text):
            self.context = Context(
                {"kind": Said("kit|", "guessed", "", (cell,)), "makes": Said(makes, "read", "", (cell,))}
            )
        elif plating := lexicon("platings", "plating").whole(text):
            self.context.said["plating"] = Said(plating, "read", "", (cell,))
        elif kind := _kind_inside(text):
            self.context = Context({"kind": Said(kind, "read", "", (cell,))})
        elif signs("misc").whole(text):
            self.context = Context()
        elif wide or cell.text.rstrip().endswith(":"):
            self.context = Context()
        elif not self._stands_apart(cell):
            return False
        else:
            self.context = Context(
                {"kind": Said(kind, "read", "", (cell,))} if (kind := _one_kind(text)) else {}
            )
        self.found.kept.append(Kept(cell, "sub-heading"))
        return True

    def _kind_and_place(self, cell: Cell, text: str) -> bool:
        """Take a sub-heading that says a kind and a drawer: "SLIM KITS - drawer 1"."""
        parts = [part for part in re.split(r"\s+[-–—]\s+|[:,(]\s*", text.strip(" )")) if part]
        places = [part for part in parts if _place(part)]
        kinds = [kind for part in parts if not _place(part) and (kind := _one_kind(part))]
        if len(parts) < 2 or len(places) != 1 or len(kinds) != len(parts) - 1:
            return False
        self.context = Context(
            {"kind": Said(kinds[0], "read", "", (cell,)), "where": Said(places[0], "read", "", (cell,))}
        )
        return True

    def _stands_apart(self, cell: Cell) -> bool:
        """Whether a cell alone in its row is set above the rows below: in capitals, or after a gap and of a kind's words."""
        below = self.grid.rows.get(cell.row + 1, {})
        if len(below) < 2 or re.search("[0-9]", cell.text) or _sentence(cell.text):
            return False
        if cell.text.isupper():
            return True
        return cell.row - 1 not in self.grid.rows and bool(
            lexicon_of_kinds().find(tokens(plainly(cell.text)))
        )

    def _left_over(self, cells: list[Cell]) -> None:
        """A row that names nothing: a note where it is words, a total where it is only numbers at the end."""
        only_numbers = all(re.fullmatch(r"[0-9.,€£$ ]+", cell.text) or cell.unworked for cell in cells)
        for cell in cells:
            if only_numbers:
                self.found.kept.append(Kept(cell, "total", "numbers without a name"))
            elif _sentence(cell.text) or self.block.roles.get(cell.column, Role("")).what == "note":
                self.found.kept.append(Kept(cell, "note"))
            else:
                self.found.kept.append(Kept(cell, "not understood"))


def _counted_row(block: Block, cell: Cell) -> bool:
    return block.roles.get(cell.column, Role("")).what not in ("what", "number", "kind")


def _place(text: str) -> bool:
    said = tokens(plainly(text))
    found = signs("place").find(said)
    return (
        bool(found)
        and found[0].start <= 1
        and len(said) <= 4
        and (len(said) > found[0].end or found[0].start == 1)
    )


def _kind_inside(text: str) -> str:
    """The kind of a sub-heading such as "Pen kits (slim)" or "Bausätze Schublade 2": plural, short, no count."""
    said = tokens(plainly(text))
    found = lexicon_of_kinds().find(said)
    joined = {one.meaning for one in found}
    if len(joined) > 1 and all("|" in one and one.startswith("supply") for one in joined):
        return found[0].meaning
    words = [token for token in said if token.isalpha()]
    covered = sum(one.end - one.start for one in found)
    return (
        found[0].meaning
        if found
        and len(joined) == 1
        and covered >= len(words) - 1
        and "&" not in said
        and covered == len(words)
        else ""
    )


def _one_kind(text: str) -> str:
    """The kind that a sub-heading of several words speaks of, or nothing where it speaks of several."""
    said = tokens(plainly(text))
    kinds = {one.meaning for one in lexicon_of_kinds().find(said)}
    if not kinds and (
        {"wood", "woods", "holz", "bois"} & set(said) or lexicon("materials", "sort").find(said)
    ):
        return "blank|"
    return next(iter(kinds)) if len(kinds) == 1 else ""


def _sentence(text: str) -> bool:
    """Whether a text speaks in a sentence rather than naming a thing."""
    said = [token for token in tokens(plainly(text)) if token.isalpha()]
    if said and (said[-1] in _LACKING or said[0] in _LACKING) and not re.search("[0-9]", text):
        return True
    return (
        (len(said) >= 6 and not taken_apart(text, counted=True).amount)
        or text.rstrip().endswith(("!", "?"))
        or (len(said) >= 4 and said[0] in SPEAKS)
        or bool(said and said[0] in _NOTES)
    )


_LACKING = frozenset(
    "fehlen fehlt missing manque manquent needed bestellen nachbestellen kaufen buy order commander acheter".split()
)
_NOTES = frozenset(
    {
        "note",
        "nb",
        "ps",
        "notiz",
        "hinweis",
        "remarque",
        "achtung",
        "attention",
        "todo",
        "updated",
        "stand",
        "counted",
        "gezahlt",
        "compte",
        "last",
    }
)


def read_wishes(later: list[tuple[Grid, Block]], found: Understanding, today: date) -> None:
    """The blocks of wishes, once every kit and blank is known."""
    for grid, block in later:
        if block.roles and block.column("what") is not None:
            _head(grid, block, found)
            for number in block.rows:
                wish_of_row(grid, block, number, found, today)
        else:
            _head(grid, block, found)
            wishes_of_lines(grid, block, found, today)
