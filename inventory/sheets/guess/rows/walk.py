"""Rows of stock one below the other: sub-headings, totals, notes, and what is left."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

from inventory.sheets.guess.cells import Cell, Grid
from inventory.sheets.guess.guesses import Kept, Said, Thing, Understanding
from inventory.sheets.guess.rows.headings import ASIDE, Block, Role, total_row
from inventory.sheets.guess.rows.row import NOTHING, Context, ReadRow
from inventory.sheets.guess.rows.stock import thing_of
from inventory.sheets.guess.rows.telling import is_place, is_sentence, kind_of_title, of_goods, one_kind
from inventory.sheets.guess.texts.days import day_in
from inventory.sheets.guess.texts.kinds import lexicon_of_kinds
from inventory.sheets.guess.texts.naming import is_inside, taken_apart
from inventory.sheets.guess.texts.words import lexicon, plainly, signs, tokens

_DITTO = ('"', "''", '""', "″", "„")


def titled(cells: list[Cell]) -> bool | None:
    """Whether a row alone is a title over orders, or over stock; None where it is no title."""
    if len(cells) != 1:
        return None
    if signs("orders").whole(cells[0].text):
        return True
    return False if signs("stock").whole(cells[0].text) else None


def _by_title(grid: Grid, block: Block) -> dict[str, Said]:
    """The kind of a whole tab, by the heading over its names or by the tab's own name."""
    if plating := lexicon("platings", "plating").whole(grid.tab):
        why = f"the tab is called “{grid.tab}”"
        return {"plating": Said(plating, "guessed", why), "kind": Said("kit|", "guessed", why)}
    at = block.column("what")
    head = grid.rows.get(block.head, {}).get(at) if at is not None else None
    for text, cells in ((head.text, (head,)), (grid.tab, ())) if head else ((grid.tab, ()),):
        kind = lexicon_of_kinds().whole(text) or ("blank|" if plainly(text) in _WOODS else "")
        if kind and plainly(text) not in _NO_KIND:
            return {"kind": Said(kind, "guessed", f"“{text}” stands over it", cells)}
    return {}


_NO_KIND = frozenset({"box", "boxes", "pack", "mine"})
"""Kinds as words, but not over a sheet: mine.csv is nobody's drawer of refills (one is a mine in two languages)."""

_WOODS = frozenset(
    [
        *("wood", "woods", "timber", "timbers", "material", "materials", "species", "lumber", "burls"),
        *("holz", "holzer", "holzart", "holzarten", "bois", "essence", "essences"),
    ]
)


class Walk:
    """Goes down the rows of one block and remembers what stands above."""

    def __init__(self, grid: Grid, block: Block, found: Understanding, today: date) -> None:
        self.grid, self.block, self.found, self.today = grid, block, found, today
        self.context = Context(_by_title(grid, block))
        self.absent = ""
        self.last: Thing | None = None
        self.above: dict[int, Cell] = {}

    def row(self, number: int) -> None:
        """Take one row."""
        aside = self.block.columns(ASIDE)
        cells = [cell for at, cell in self.grid.rows[number].items() if at not in aside]
        if not cells:
            return
        what, why = self._no_goods(number, cells)
        if what:
            self.found.kept += [Kept(cell, what, why) for cell in cells]
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
        if len(filled) == 1 and self.block.head and filled[0].text.startswith("*"):
            self.found.kept.append(Kept(filled[0], "note"))
            return
        if len(filled) == 1 and is_sentence(filled[0].text):
            what = "not understood" if of_goods(filled[0].text) else "note"
            self.found.kept.append(
                Kept(filled[0], what, "a sentence that speaks of goods" * (what != "note"))
            )
            return
        if self.absent:
            why = f"it stands below “{self.absent}”"
            self.found.kept += [Kept(cell, "note", why) for cell in cells]
            return
        if any(cell.text and self._finished(cell) for cell in (*by_role.get("kind", ()), *whats[:1])):
            self.found.kept += [Kept(cell, "note", "finished pieces, no kits") for cell in cells]
            return
        self._thing(number, cells, by_role, spread)

    def _no_goods(self, number: int, cells: list[Cell]) -> tuple[str, str]:
        """What a row is that says at its begin that it is no stock, and why: postage, a tax, a title, a total."""
        if any(signs("postage").whole(cell.text) for cell in cells):
            return "note", "postage is no stock"
        if any(_charge(cell) for cell in cells[:2]):
            return "note", "a sum beside the goods is no stock"
        if total_row(cells):
            return "total", ""
        if titled(cells) is not None or self._heads_the_list(number, cells):
            return "title", ""
        return "", ""

    def _heads_the_list(self, number: int, cells: list[Cell]) -> bool:
        """Whether the first row says what the list is and of which day: "ATELIER - inventaire du 20 novembre"."""
        text = " ".join(cell.text for cell in cells)
        said = tokens(plainly(text))
        if number != min(self.block.rows) or len(cells) > 2 or not signs("stock").find(said):
            return False
        lists = (("materials", "sort"), ("platings", "plating"), ("makes", "makes"))
        if lexicon_of_kinds().find(said) or any(lexicon(*one).find(said) for one in lists):
            return False
        return not re.search("[0-9]", text) or day_in(text, self.today) is not None

    def _finished(self, cell: Cell) -> bool:
        """Whether it is a piece as it is made, in a column that calls others kits: a finished one.

        Its kind says so, or its name has the metal and the wood of it: stylo Dunlin chromé noyer.
        """
        whole = lexicon("makes", "makes").whole(cell.text)
        if not whole and not _of_metal_and_wood(cell.text):
            return False
        others = (self.grid.rows[number].get(cell.column) for number in self.block.rows)
        kinds = lexicon_of_kinds()
        return any(
            one is not None and (kinds.whole(one.text) == "kit|" or (not whole and _kit_in(one.text)))
            for one in others
        )

    def _thing(
        self, number: int, cells: list[Cell], by_role: dict[str, list[Cell]], spread: frozenset[int]
    ) -> None:
        anchor = next((cell for cell in by_role.get("what", []) if cell.row == number), cells[0])
        row = ReadRow(anchor, by_role, self.block.roles, self.context, self.found.asking, self.today, spread)
        row.near = self.last.value("kind") if self.last else ""
        thing = thing_of(row) if by_role.get("what") else self._from_above(row)
        if thing.value("kind") == NOTHING:
            self.found.kept += [Kept(cell, "note", thing.said["kind"].why) for cell in cells]
            return
        for cell in cells:
            if self.block.roles.get(cell.column, Role("")).what == "number":
                self.found.kept.append(Kept(cell, "row number"))
            elif self.block.roles.get(cell.column, Role("")).what == "sum":
                self.found.kept.append(Kept(cell, "total", "count times price"))
            elif signs("ditto").whole(cell.text) or cell.text in _DITTO:
                self.found.kept.append(Kept(cell, "as above"))
        self.found.kept += [Kept(cell, "not understood", why) for cell, why in row.unread]
        self.found.things.append(thing)
        self.last = thing
        self.above.update({cell.column: cell for cell in cells if not signs("ditto").whole(cell.text)})

    def _from_above(self, row: ReadRow) -> Thing:
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
        if self._heads_what_is_not_here(cell, text):
            return True
        before, self.absent = self.absent, ""
        if self._heads_goods(cell, text):
            return True
        self.absent = before
        return False

    def _heads_what_is_not_here(self, cell: Cell, text: str) -> bool:
        """Take a sub-heading over what somebody would like to have: someday (don't have), wish list."""
        if not signs("absent").find(tokens(plainly(text))) or len(text.split()) > 5:
            return False
        self.absent, self.context = text, Context()
        self.found.kept.append(Kept(cell, "sub-heading", "what stands below it is not here"))
        return True

    def _heads_goods(self, cell: Cell, text: str) -> bool:
        wide = self.grid.wide.get((cell.row, cell.column), 1) > 1
        if self._kind_and_place(cell, text):
            self.found.kept.append(Kept(cell, "sub-heading"))
            return True
        if (
            re.search(r"[0-9]", (taken_apart(text, counted=True).amount and text) or "")
            and not wide
            and not is_place(text)
        ):
            return False
        if (kind := lexicon_of_kinds().whole(text)) and not _counted_row(self.block, cell):
            self.context = Context({"kind": Said(kind, "read", "", (cell,))})
        elif is_place(text):
            self.context.said["where"] = Said(text, "read", "", (cell,))
        elif makes := lexicon("makes", "makes").whole(text):
            self.context = Context(
                {"kind": Said("kit|", "guessed", "", (cell,)), "makes": Said(makes, "read", "", (cell,))}
            )
        elif plating := lexicon("platings", "plating").whole(text):
            self.context.said["plating"] = Said(plating, "read", "", (cell,))
        elif kind := kind_of_title(text):
            self.context = Context({"kind": Said(kind, "read", "", (cell,))})
        elif signs("misc").whole(text) or wide or cell.text.rstrip().endswith(":"):
            self.context = Context()
        elif not self._stands_apart(cell):
            return False
        else:
            self.context = Context(
                {"kind": Said(kind, "read", "", (cell,))} if (kind := one_kind(text)) else {}
            )
        self.found.kept.append(Kept(cell, "sub-heading"))
        return True

    def _kind_and_place(self, cell: Cell, text: str) -> bool:
        """Take a sub-heading that says a kind and a drawer: "SLIM KITS - drawer 1"."""
        parts = [part for part in re.split(r"\s+[-–—]\s+|[:,(]\s*", text.strip(" )")) if part]
        places = [part for part in parts if is_place(part)]
        kinds = [kind for part in parts if not is_place(part) and (kind := one_kind(part))]
        if len(parts) < 2 or len(places) != 1 or len(kinds) != len(parts) - 1:
            return False
        self.context = Context(
            {"kind": Said(kinds[0], "read", "", (cell,)), "where": Said(places[0], "read", "", (cell,))}
        )
        return True

    def _stands_apart(self, cell: Cell) -> bool:
        """Whether a cell alone in its row is set above those below: in capitals, or after a gap and a kind's word."""
        below = self.grid.rows.get(cell.row + 1, {})
        if self._in_capitals(cell):
            return True
        if len(below) < 2 or re.search("[0-9]", cell.text) or is_sentence(cell.text):
            return False
        if cell.text.isupper():
            return True
        return cell.row - 1 not in self.grid.rows and bool(
            lexicon_of_kinds().find(tokens(plainly(cell.text)))
        )

    def _in_capitals(self, cell: Cell) -> bool:
        """Whether it is set in capitals and without a number, in a list of one column whose lines are not."""
        if not cell.text.isupper() or re.search("[0-9]", cell.text) or len(cell.text) < 4:
            return False
        lines = [one.text for number in self.block.rows for one in self.grid.rows[number].values()]
        return 3 * sum(map(str.isupper, lines)) < len(lines) + 3 and len(self.block.roles) == 1

    def _left_over(self, cells: list[Cell]) -> None:
        """A row that names nothing: a note where it is words, a total where it is only numbers at the end."""
        only_numbers = all(re.fullmatch(r"[0-9.,€£$ ]+", cell.text) or cell.unworked for cell in cells)
        for cell in cells:
            if only_numbers:
                self.found.kept.append(Kept(cell, "total", "numbers without a name"))
            elif is_sentence(cell.text) or self.block.roles.get(cell.column, Role("")).what == "note":
                self.found.kept.append(Kept(cell, "note"))
            else:
                self.found.kept.append(Kept(cell, "not understood"))


def _of_metal_and_wood(text: str) -> bool:
    """Whether a name says what it makes, in which plating and of which wood, and calls it neither kit nor blank."""
    said = tokens(plainly(text))
    lists = (("makes", "makes"), ("platings", "plating"), ("materials", "sort"))
    found = [lexicon(*one).find(said) for one in lists]
    longer = [one for several in found for one in several]
    kinds = lexicon_of_kinds().find(said, slips=False)
    return all(found) and all(any(is_inside(one, other) for other in longer) for one in kinds)


def _kit_in(text: str) -> bool:
    return any(one.meaning == "kit|" for one in lexicon_of_kinds().find(tokens(plainly(text)), slips=False))


def _charge(cell: Cell) -> bool:
    """Whether a cell speaks of a tax, a discount, postage or a back-order, and of no goods."""
    said = tokens(plainly(cell.text))
    return (
        bool(signs("charge").find(said) or signs("postage").find(said))
        and len(said) <= 5
        and not lexicon_of_kinds().find(said)
    )


def _counted_row(block: Block, cell: Cell) -> bool:
    return block.roles.get(cell.column, Role("")).what not in ("what", "number", "kind")
