"""A row of stock as it is read: its cells by role, and what rows above say of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from inventory.sheets.guess.cells import Cell
from inventory.sheets.guess.guesses import Asking, Said, Thing
from inventory.sheets.guess.rows.headings import Role

NOTHING = "nothing"
"""Answered where a row is no stock at all: a title, a remark."""
KINDS = ("kit", "tube", "blank", "supply", "refill", "packaging", "tool", "spare", NOTHING)


WHOLE = frozenset({"kit", "tube", "blank", "refill", "packaging", "spare"})


DRILLED = frozenset({"kit", "tube", "tool"})


POURED = frozenset({"adhesive", "finish", "solvent"})


A_COUNT = "a number, such as 4, 1 1/2 or 0"


@dataclass(slots=True)
class Context:
    """What rows above say of those below: a kind, a plating, a drawer, a supplier."""

    said: dict[str, Said] = field(default_factory=dict)

    def value(self, what: str) -> str:
        """What is said, or nothing."""
        found = self.said.get(what)
        return found.value if found else ""


@dataclass(slots=True)
class ReadRow:
    """One row of stock. by_role: its cells; spread: the columns filled from a merged cell; near: the kind above it."""

    anchor: Cell
    by_role: Mapping[str, list[Cell]]
    roles: Mapping[int, Role]
    context: Context
    asking: Asking
    today: date
    spread: frozenset[int] = frozenset()
    near: str = ""
    unread: list[tuple[Cell, str]] = field(default_factory=list)

    def cell(self, what: str) -> Cell | None:
        """The first cell of a role."""
        return next(iter(self.by_role.get(what, ())), None)


def keep_as_note(row: ReadRow, thing: Thing, cell: Cell, note: str, *, understood: bool) -> None:
    thing.add("note", note, cell)
    if not understood:
        row.unread.append((cell, "kept as a note"))
