"""Rows of our tabs as they are put together."""

from __future__ import annotations

from dataclasses import dataclass, field

from inventory.sheets.guess.guesses import Said
from inventory.sheets.guess.shop import usual
from inventory.sheets.guess.texts.words import plainly
from inventory.sheets.stock.cells import USUAL as MARK
from inventory.sheets.stock.tabs import TABS

PART_TABS = {
    "tube": "tubes", "kit": "kits", "blank": "blanks", "tool": "tools", "supply": "supplies",
    "refill": "supplies", "packaging": "supplies", "spare": "supplies",
}  # fmt: skip


_BARE = ("name", "names", "choice")


def written(said: Said, tab: str, heading: str) -> str:
    """What stands in a cell of `shop.xlsx`: what is usual is marked, so that loading it keeps the mark."""
    column = TABS[tab].column(heading) if heading in TABS[tab].at else None
    if said.why != usual.WHY or column is None or column.notation in _BARE:
        return said.value
    return said.value + MARK


@dataclass(frozen=True, slots=True)
class OnItsWay:
    """So much of a part, as it is written, that a supplier has confirmed; supplier: empty where nobody says who."""

    part: str
    quantity: str
    supplier: str


@dataclass(slots=True)
class TabLine:
    """One row of one of our tabs. cells: what is written under each heading, with how sure it is and from where."""

    cells: dict[str, Said] = field(default_factory=dict)

    @property
    def source(self) -> str:
        """The places in the stranger's sheet that it comes from."""
        places = dict.fromkeys(cell.ref for said in self.cells.values() for cell in said.cells)
        return _short(list(places))

    @property
    def why(self) -> str:
        """What was guessed in it, column by column."""
        usual_ones = [heading for heading, said in self.cells.items() if said.why == usual.WHY]
        reasons: dict[str, list[str]] = {}
        for heading, said in self.cells.items():
            if said.why and said.grade != "read" and said.why != usual.WHY:
                reasons.setdefault(said.why, []).append(heading)
        told = [f"{', '.join(headings)}: {why}" for why, headings in reasons.items()]
        return "; ".join([*told, *([f"usual: {', '.join(usual_ones)}"] if usual_ones else [])])


def _short(places: list[str]) -> str:
    tabs: dict[str, list[str]] = {}
    for place in places:
        tab, _, cell = place.rpartition("!")
        tabs.setdefault(tab, []).append(cell)
    return "; ".join(
        f"{tab}!{', '.join(cells[:8])}{' …' if len(cells) > 8 else ''}" for tab, cells in tabs.items()
    )


@dataclass(slots=True)
class ShopTabs:
    """Rows by tab, and what could not be written into any. coming: what a list says is on its way."""

    lines: dict[str, list[TabLine]] = field(default_factory=dict)
    left_out: list[str] = field(default_factory=list)
    coming: list[OnItsWay] = field(default_factory=list)
    by_name: dict[tuple[str, str], TabLine] = field(default_factory=dict)

    def put(self, tab: str, name: str, **cells: Said | None) -> TabLine:
        """A row of a tab under its name; of one that is there already only empty cells are filled."""
        line = self.by_name.get((tab, plainly(name)))
        if line is None:
            line = self.by_name[(tab, plainly(name))] = TabLine()
            self.lines.setdefault(tab, []).append(line)
        for heading, said in cells.items():
            column = heading.replace("_", " ")
            if said is not None and said.value and column not in line.cells:
                line.cells[column] = said
        return line

    def has(self, tab: str, name: str) -> bool:
        """Whether a tab has a row of this name."""
        return (tab, plainly(name)) in self.by_name
