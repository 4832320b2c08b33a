"""What a tab is and what a column is: the one description that reading, helping and the template share."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from typing import Literal

from inventory.sheets.files import fold_heading

Notation = Literal[
    "name", "names", "text", "choice", "yes or no", "length", "drill", "amount", "money", "unit price",
    "whole", "days", "minutes", "date", "share", "density", "unit", "currency", "codes",
]  # fmt: skip

ACCEPTED: Mapping[Notation, str] = {
    "name": "a name; capitals and doubled spaces make no difference",
    "names": "one name, or several separated by ;",
    "text": "anything",
    "choice": "one of the words listed",
    "yes or no": "yes or no",
    "length": "7 mm, 7,5 mm, 27/64, 1-3/16 in, 0.316 in, #7, letter O; a bare number is millimetres",
    "drill": "7 mm, 27/64, #7 or letter O",
    "amount": "a number in the part's own unit, or with a unit: 12, 12.5 ml, 2 bottles, 1/2 fl oz",
    "money": "12.50 or 12,50, with or without the currency",
    "unit price": "12.50 or 12,50 for one unit; it may be finer than the smallest coin: 0.125",
    "whole": "a whole number",
    "days": "a number of days, or 6 weeks, 12 months (of 30 days), 1 year (of 365)",
    "minutes": "a number of minutes: 5 or 5 min",
    "date": "a date cell, 2026-11-25, 25 Nov 2026 or 25.11.2026",
    "share": "4 % or 0.04, below 100 %",
    "density": "grams in a millilitre: 1.05 or 1.05 g/ml",
    "unit": "piece, g, ml, sheet, pad …",
    "currency": "three letters of ISO 4217: EUR, GBP, USD",
    "codes": "codes separated by ; or ,",
}


PART_OF = {
    "tubes": "7 mm tube",
    "kits": "Dunlin kit, chrome",
    "blanks": "walnut blank",
    "supplies": "thin CA",
    "tools": "drill 7 mm",
}
"""A part of each kind, as an example of its name."""
HELP, EXAMPLE = "Help: ", "Example: "
"""How the first cell of a row begins that only helps to fill the others: it is never loaded."""


def only_helps(raw: Sequence[object]) -> bool:
    """Whether a row is one of help, or an example."""
    first = raw[0]
    return first.__class__ is str and str(first).startswith((HELP, EXAMPLE))


@dataclass(frozen=True, slots=True)
class StockColumn:
    """One column. names: what its drop-down suggests; least, most: bounds of a whole number or of a length in mm.

    field: what it fills of the entry a row makes, where that is not called as the heading is. once: headings it had in
    earlier versions, which are read like its own.
    """

    heading: str
    notation: Notation
    means: str
    example: str
    required: bool = False
    choices: tuple[str, ...] = ()
    names: str = ""
    least: int = 0
    most: int = 10_000
    own_words: bool = False
    field: str = ""
    once: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """What the program calls it: the first heading it ever had, which books keep beside what is usual."""
        return (*self.once, self.heading)[0]

    def called(self, headings: Collection[str]) -> StockColumn:
        """The column under the heading that stands among these, folded: its own, or one it had before."""
        if fold_heading(self.heading) in headings:
            return self
        said = next((one for one in self.once if fold_heading(one) in headings), "")
        if not said:
            return self
        return replace(self, heading=said, field=self.fills, once=(*self.once, self.heading))

    @property
    def fills(self) -> str:
        """The field of an entry it fills: `seen on` fills `seen_on`."""
        return self.field or self.heading.translate(_IN_FIELDS)

    @property
    def accepted(self) -> str:
        """The notation in words."""
        if self.choices:
            listed = ", ".join(self.choices)
            return f"{listed}; or a word of your own" if self.own_words else f"one of {listed}"
        return ACCEPTED[self.notation]


@dataclass(frozen=True, slots=True)
class Tab:
    """One tab of a workbook, or one CSV file of its name.

    makes: the classes of the catalogue or the ledger a row is made into. places: where a column stands, by its folded
    headings; at: by its heading as it is written here, and those it had; needed: where the required ones stand; filled:
    for each class the fields that columns fill, and where these stand; named: where each stands, by the first heading
    it ever had: a row's digest names its cells so, and is the same whatever columns come to the tab.
    """

    name: str
    means: str
    columns: tuple[StockColumn, ...]
    makes: tuple[type, ...] = ()
    places: Mapping[str, int] = field(init=False)
    at: Mapping[str, int] = field(init=False)
    needed: tuple[int, ...] = field(init=False)
    filled: Mapping[object, tuple[tuple[str, int], ...]] = field(init=False)
    named: tuple[tuple[str, int], ...] = field(init=False)

    def __post_init__(self) -> None:
        headings = {name: at for at, one in enumerate(self.columns) for name in (one.heading, *one.once)}
        object.__setattr__(self, "at", headings)
        object.__setattr__(self, "places", self._places())
        named = sorted((one.key, at) for at, one in enumerate(self.columns))
        object.__setattr__(self, "named", tuple(named))
        needed = tuple(at for at, column in enumerate(self.columns) if column.required)
        object.__setattr__(self, "needed", needed)
        object.__setattr__(self, "filled", {made: self._fields(made) for made in self.makes})

    def _places(self) -> dict[str, int]:
        called = ((name, at) for at, one in enumerate(self.columns) for name in (one.heading, *one.once))
        return {fold_heading(name): at for name, at in called}

    def _fields(self, made: type) -> tuple[tuple[str, int], ...]:
        names = {one.name for one in fields(made)}
        return tuple((column.fills, at) for at, column in enumerate(self.columns) if column.fills in names)

    def complete(self, values: Sequence[object]) -> bool:
        """Whether no required one of a row's values is missing."""
        return all([values[place] is not None for place in self.needed])  # noqa: C419 - a list is quicker here

    def column(self, heading: str) -> StockColumn:
        """The column of this heading or key; KeyError where there is none."""
        return self.columns[self.at[heading]]

    def as_written(self, headings: Collection[str]) -> Tab:
        """The tab with the headings a file has, folded, where one of them is of an earlier version."""
        columns = tuple(one.called(headings) for one in self.columns)
        return self if columns == self.columns else replace(self, columns=columns)

    def shown(self, key: str) -> str:
        """The heading a person sees of what the program calls so; itself where it is no column."""
        return self.column(key).heading if key in self.at else key


_IN_FIELDS = str.maketrans(" -", "__")
