"""One row of a tab, and what its builder may ask of it."""

from __future__ import annotations

import re
from collections.abc import Collection
from datetime import date
from fractions import Fraction
from typing import Any

from inventory.catalogue import Part, Supply, fold
from inventory.errors import BadMeasure, Place
from inventory.measures import Currency, read_amount, read_money, read_unit_price
from inventory.quick import dataclass
from inventory.sheets.stock.cells import text_of
from inventory.sheets.stock.columns import Tab
from inventory.sheets.stock.load_context import Gathering, Named

WHOLE = {"kit": "Kits", "tube": "Tubes", "blank": "Blanks", "tool": "Tools", "supply": ""}


@dataclass(slots=True)
class Row:
    """values: in the order of the tab's columns, None where blank or bad. bad: whether any cell was refused."""

    gathering: Gathering
    file: str
    tab: Tab
    number: int
    values: list[Any]
    bad: bool = False

    def refuse(self, column: str, problem: str, said: object = None) -> None:
        """Note a problem in this row; said: what the cell holds, sought among the values where not given."""
        self.bad = True
        if said is None and column in [one.heading for one in self.tab.columns]:
            said = self.values[self.tab.columns.index(self.tab.column(column))]
        self.gathering.problems.append(self.place(column, text_of(said), problem))

    def place(self, column: str = "", said: str = "", problem: str = "") -> Place:
        """Where this row stands."""
        return Place(self.file, self.tab.name, self.number, column, said[:120], problem)

    def note(self, text: str) -> None:
        """A remark about this row that the person should see."""
        self.gathering.notes.append(f"{self.place()}: {text}")

    def give(self, what: Named, column: str, name: str | None, *owner: str) -> str:
        """Register `name` as given here; refused where this load gave it already. Its folded form, or nothing."""
        if name is None:
            return ""
        key = fold(name)
        kind = self.tab.name if owner else what  # a part has one name in all its tabs
        before = self.gathering.given.get((kind, *owner, key))
        if before is not None:
            self.refuse(column, f"“{name}” is given twice; the first is in {before}.")
            return ""
        self.gathering.given[(kind, *owner, key)] = self.place()
        if not owner:
            self.gathering.names[what][key] = name
        return key

    def reference(self, what: Named, column: str, name: str | None) -> str | None:
        """`name` as its owner spells it; refused with the nearest names where nobody has it."""
        if name is None:
            return None
        spelled = self.gathering.names[what].get(fold(name))
        if spelled is None and self.gathering.torn:
            self.bad = True
        elif spelled is None:
            self.refuse(column, self.gathering.unknown(what, name), name)
        return spelled

    def amount(self, column: str, text: str | None, part: Part, *, above_zero: bool = True) -> int | None:
        """Steps of `part` for what a cell says: whole for kits, tubes, blanks and tools."""
        detail = part.detail
        net, density = (detail.net, detail.density) if isinstance(detail, Supply) else (None, None)
        return self.steps(column, text, part.unit, net, density, WHOLE[part.kind], above_zero=above_zero)

    def steps(
        self,
        column: str,
        text: str | None,
        unit: str,
        net: int | None = None,
        density: Any = None,
        whole: str = "",
        *,
        above_zero: bool = True,
    ) -> int | None:
        """Steps of `unit` for what a cell says; every wording is only read once."""
        if text is None:
            return None
        seen = self.gathering.amounts
        key = (text, unit, net, density, whole)
        if key not in seen:
            try:
                seen[key] = read_amount(text, unit, net=net, density=density, whole=whole or False)
            except BadMeasure as error:
                seen[key] = sentence(error)
        found = seen[key]
        if isinstance(found, str):
            self.refuse(column, found, text)
            return None
        if found == 0 and above_zero:
            self.refuse(column, f"The {column} cannot be zero.", text)
            return None
        return found

    def money(
        self, column: str, text: str | None, currency: Currency, *, above_zero: bool = False
    ) -> int | None:
        """Smallest coins of `currency` for what a cell says."""
        if text is None:
            return None
        try:
            sum_ = read_money(text, currency)
        except BadMeasure as error:
            self.refuse(column, sentence(error), text)
            return None
        if sum_ == 0 and above_zero:
            self.refuse(column, f"The {column} cannot be zero.", text)
            return None
        return sum_

    def unit_price(self, column: str, text: str | None) -> Fraction | None:
        """Smallest coins of the shop's currency for one unit, exactly; every wording is only read once."""
        if text is None:
            return None
        seen = self.gathering.prices
        if text not in seen:
            try:
                seen[text] = read_unit_price(text, self.gathering.currency)
            except BadMeasure as error:
                seen[text] = sentence(error)
        found = seen[text]
        if isinstance(found, str):
            self.refuse(column, found, text)
            return None
        return found

    def names(
        self, column: str, text: str | None, known: Collection[str], separators: str = ";,"
    ) -> tuple[str, ...]:
        """The names a cell lists. A piece is split further only where that yields a known name."""
        if text is None:
            return ()
        found = split_names(text, known, separators)
        folded = [fold(name) for name in found]
        for name in {name for name in folded if folded.count(name) > 1}:
            self.refuse(column, f"“{name}” is listed twice.", text)
        return tuple(found)

    def in_order(self, earlier: tuple[str, date | None], later: tuple[str, date | None]) -> None:
        """Refuse a later day before an earlier one."""
        (first, before), (second, after) = earlier, later
        if before is not None and after is not None and after < before:
            self.refuse(second, f"“{second}” ({after}) is before “{first}” ({before}).", after)

    def not_ahead(self, column: str, day: date | None) -> None:
        """Refuse a day that has not come yet."""
        if day is not None and day > self.gathering.today:
            self.refuse(column, f"{day} is still to come; today is {self.gathering.today}.", day)


def sentence(error: BadMeasure) -> str:
    """What is wrong and what is accepted, in one line."""
    return f"{error.message} {error.hint}".strip()


def split_names(text: str, known: Collection[str], separators: str) -> list[str]:
    """The names listed in `text`; after `;`, a piece is split further only where that yields a known name."""
    if not separators or fold(text) in known:
        return [text.strip()] if text.strip() else []
    pieces = [piece.strip() for piece in re.split(re.escape(separators[0]), text)]
    deeper = [name for piece in pieces for name in split_names(piece, known, separators[1:])]
    if separators[0] == ";" or len(pieces) == 1 or any(fold(name) in known for name in deeper):
        return deeper
    return [text.strip()]
