"""One row of a tab, and what its builder may ask of it."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from functools import lru_cache
from typing import Any, TypeVar

from inventory.catalogue import Part, Supply, fold
from inventory.errors import BadInput, BadMeasure, Place
from inventory.measures import Currency, read_amount, read_money, read_unit_price
from inventory.sheets.stock.cells import reader, text_of
from inventory.sheets.stock.columns import StockColumn, Tab
from inventory.sheets.stock.load_context import LoadContext, Named

T = TypeVar("T")
WHOLE = {"kit": "Kits", "tube": "Tubes", "blank": "Blanks", "tool": "Tools", "supply": ""}


@dataclass(slots=True)
class StockRow:
    """values: in the order of the tab's columns, None where blank or bad. bad: whether any cell was refused.

    A cell is asked for by its heading: `row["lead days"]`. usual: headings under which a usual value stands.
    """

    context: LoadContext
    file: str
    tab: Tab
    number: int
    values: list[Any]
    bad: bool = False
    usual: list[str] = field(default_factory=list)
    refused: set[str] = field(default_factory=set)

    def __getitem__(self, heading: str) -> Any:
        return self.values[self.tab.at[heading]]

    def make(self, made: Callable[..., T], **worked: Any) -> T:
        """The entry the row makes: each field by its column, or as `worked` out of several cells or in context.

        A blank cell leaves its field to the class's own default.
        """
        for name, at in self.tab.filled[made]:
            if name not in worked and self.values[at] is not None:
                worked[name] = self.values[at]
        if self.usual and hasattr(made, "usual"):
            worked.setdefault("usual", tuple(self.usual))
            self.context.stood_in.setdefault(self.values[0], self.usual)
        return made(**worked)

    def fill(self, heading: str, usual: str) -> None:
        """What is usual where the cell is empty and not refused, as if it stood there, and marked as such."""
        at = self.tab.at[heading]
        if self.values[at] is None and usual and heading not in self.refused:
            try:
                self.values[at] = _read_usual(self.tab.columns[at], usual)
            except BadMeasure:  # a tube called 10001 is named by no drill: the cell stays empty
                return
            self.usual.append(heading)

    def need(self, *headings: str) -> None:
        """Refuse empty cells of which nothing is usual either."""
        for heading in headings:
            if self[heading] is None and heading not in self.refused:
                self.refuse(heading, f"The cell is empty. Write {self.tab.column(heading).accepted}.", "")

    def refuse(self, column: str, problem: str, said: object = None) -> None:
        """Note a problem in this row; said: what the cell holds, sought among the values where not given."""
        self.bad = True
        self.refused |= {column, self.tab.column(column).key} if column in self.tab.at else {column}
        if said is None and column in self.tab.at:
            said = self[column]
        self.context.problems.append(self.place(column, text_of(said), problem))

    def place(self, column: str = "", said: str = "", problem: str = "") -> Place:
        """Where this row stands."""
        return Place(self.file, self.tab.name, self.number, self.tab.shown(column), said[:120], problem)

    def note(self, text: str) -> None:
        """A remark about this row that the person should see."""
        self.context.notes.append(f"{self.place()}: {text}")

    def give(self, what: Named, column: str, *owner: str) -> str:
        """Register what a cell names as given here, and return it folded; refused where this load gave it already."""
        name: str | None = self[column]
        if name is None:
            return ""
        if (now := self.context.present(what, name)) != name:
            self._called_now(column, name, now)
            if not owner and self.context.was_another(what, name):
                return ""
            name = now
        key = fold(name)
        kind = self.tab.name if owner else what  # a part has one name in all its tabs
        before = self.context.given.get((kind, *owner, key))
        if before is not None:
            self.refuse(column, f"“{name}” is given twice; the first is in {before}.")
            return ""
        self.context.given[(kind, *owner, key)] = self.place()
        if not owner:
            self.context.names[what][key] = name
            self.stands(key)
        return key

    def _called_now(self, column: str, old: str, now: str) -> None:
        """The row speaks of a thing by a name it had before."""
        self.values[self.tab.at[column]] = now
        self.context.notes.append(f"“{old}” is called “{now}” in the book; its rows were taken for that.")

    def stands(self, key: str) -> None:
        """Note what the row is called, so that it is missed where it is gone from this tab."""
        self.context.stood.setdefault((self.file, self.tab.name), set()).add(key)

    def reference(self, what: Named, column: str) -> str | None:
        """What a cell names, as its owner spells it; refused with the nearest names where nobody has it."""
        return self.spelled(what, column, self[column])

    def spelled(self, what: Named, column: str, name: str | None) -> str | None:
        """The same of one of the names a cell lists."""
        if name is None:
            return None
        spelled = self.context.names[what].get(fold(name))
        if spelled is None and self.context.torn:
            self.bad = True
        elif spelled is None:
            self.refuse(column, self.context.unknown(what, name), name)
        return spelled

    def known(self, what: Named, column: str) -> str | None:
        """What a cell names, as its owner spells it where it is known; whether it has to be is seen at the end."""
        name: str | None = self[column]
        return None if name is None else self.context.names[what].get(fold(name), name)

    def amount(self, column: str, part: Part, *, above_zero: bool = True) -> int | None:
        """Steps of `part` for what a cell says: whole for kits, tubes, blanks and tools."""
        detail = part.detail
        net, density = (detail.net, detail.density) if isinstance(detail, Supply) else (None, None)
        return self.steps(column, part.unit, net, density, WHOLE[part.kind], above_zero=above_zero)

    def steps(
        self,
        column: str,
        unit: str,
        net: int | None = None,
        density: Any = None,
        whole: str = "",
        *,
        above_zero: bool = True,
    ) -> int | None:
        """Steps of `unit` for what a cell says; every wording is only read once."""
        text: str | None = self[column]
        if text is None:
            return None
        seen = self.context.amounts
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

    def money(self, column: str, currency: Currency, *, above_zero: bool = False) -> int | None:
        """Smallest coins of `currency` for what a cell says."""
        text: str | None = self[column]
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

    def unit_price(self, column: str) -> Fraction | None:
        """Smallest coins of the shop's currency for one unit, exactly; every wording is only read once."""
        text: str | None = self[column]
        if text is None:
            return None
        seen = self.context.prices
        if text not in seen:
            try:
                seen[text] = read_unit_price(text, self.context.currency)
            except BadMeasure as error:
                seen[text] = sentence(error)
        found = seen[text]
        if isinstance(found, str):
            self.refuse(column, found, text)
            return None
        return found

    def names(self, column: str, known: Collection[str], separators: str = ";,") -> tuple[str, ...]:
        """The names a cell lists. A piece is split further only where that yields a known name."""
        text: str | None = self[column]
        if text is None:
            return ()
        found = split_names(text, known, separators)
        folded = [fold(name) for name in found]
        for name in {name for name in folded if folded.count(name) > 1}:
            self.refuse(column, f"“{name}” is listed twice.", text)
        return tuple(found)

    def in_order(self, first: str, second: str) -> None:
        """Refuse a day under the second heading that is before that under the first."""
        after = self[second]
        before = None if after is None else self[first]
        if before is not None and after is not None and after < before:
            self.refuse(second, f"“{second}” ({after}) is before “{first}” ({before}).", after)

    def not_ahead(self, column: str) -> None:
        """Refuse a day that has not come yet."""
        day: date | None = self[column]
        if day is not None and day > self.context.today:
            self.refuse(column, f"{day} is still to come; today is {self.context.today}.", day)


@lru_cache(maxsize=1024)
def _read_usual(column: StockColumn, text: str) -> Any:
    return reader(column)(text)


def sentence(error: BadInput) -> str:
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
