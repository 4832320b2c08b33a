"""A column is said once: what its row makes takes it by name, and nothing of an entry is left without a column."""

from __future__ import annotations

import ast
from dataclasses import fields
from pathlib import Path

import pytest

import inventory.sheets.stock.entries as entries
from inventory.catalogue import STAGES, Part
from inventory.sheets.stock.columns import StockColumn, Tab
from inventory.sheets.stock.tabs import TABS, lost_at

from .shop import problems, read, shop, write_xlsx

WORKED = {
    "offers": {"price", "from packs"},
    "materials": {lost_at(stage) for stage in STAGES[:-1]},
    "barrels": {"family"},
    "bills": {"pattern"},
    "patterns": {"makes"},
    "counts": {"paid", "for"},
    "orders": {"plating"},
}
"""Columns that fill no field of their own: their builder makes something of several."""
UNSAID = {
    "offers": {"steps"},
    "materials": {"losses"},
    "families": {"barrels"},
    "patterns": {"bill"},
    "counts": {"container", "number", "place"},
    "orders": {"state", "handed", "blanks"},
}
"""Fields a row does not say, or says in several columns, or beside another in one (a wish for several blanks)."""
OF_PARTS = {"detail", "unit"}


@pytest.mark.parametrize("tab", TABS.values(), ids=TABS)
def test_every_column_fills_a_field_and_every_field_has_its_column(tab: Tab) -> None:
    """Fields and columns are one another's, but for those listed above."""
    there = {one.name for made in tab.makes for one in fields(made)}
    filled = {column.fills for column in tab.columns if column.key not in WORKED.get(tab.name, ())}
    missing = there - filled - {"usual"} - UNSAID.get(tab.name, set())
    assert filled <= there
    assert missing <= (OF_PARTS if Part in tab.makes else set())


def test_builders_ask_for_headings_that_are_there() -> None:
    """Whatever a builder names in `row[…]` is a heading of some tab, or one it had."""
    known = {name for tab in TABS.values() for name in tab.at}
    folder = Path(str(entries.__file__)).parent
    asked = {
        node.slice.value
        for path in folder.glob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Subscript)
        and isinstance(node.slice, ast.Constant)
        and ast.unparse(node.value) == "row"
    }
    assert asked
    assert asked <= known


def test_a_field_is_called_as_its_heading_is() -> None:
    """Blanks and hyphens become underscores; only where the entry calls it otherwise is it said."""
    assert StockColumn("seen on", "date", "", "").fills == "seen_on"
    assert StockColumn("substitutes", "names", "", "").fills == "substitutes"
    assert StockColumn("supplier code", "text", "", "", field="code").fills == "code"


def test_a_row_says_its_cells_by_name() -> None:
    """Another column between the others, and another heading for one, leave what a row's digest names alone."""
    tab = TABS["platings"]
    more = Tab(tab.name, tab.means, (tab.columns[0], StockColumn("colour", "text", "", ""), *tab.columns[1:]))
    assert [name for name, _ in tab.named] == ["plating", "stand-ins"]
    assert [name for name, _ in more.named] == ["colour", "plating", "stand-ins"]
    assert [more.columns[at].heading for _, at in more.named] == ["colour", "plating", "substitutes"]


def test_a_heading_of_earlier_versions_is_read_like_its_own(tmp_path: Path) -> None:
    """`stand-ins` are `substitutes` now; both together are two columns of one name."""
    rows = shop()["platings"][1:]
    earlier = read(write_xlsx(tmp_path / "shop.xlsx", shop(platings=[["plating", "Stand Ins"], *rows])))
    assert earlier.catalogue.platings["chrome"].substitutes == ("rhodium",)
    assert earlier == read(write_xlsx(tmp_path / "shop.xlsx", shop()))
    both = shop(platings=[["plating", "stand-ins", "substitutes"], ["chrome", "rhodium", "rhodium"]])
    found = problems(write_xlsx(tmp_path / "both.xlsx", both))
    assert [place.problem for place in found] == ["There are two columns called “substitutes”. Take one out."]


OLD = {one.heading: old for tab in TABS.values() for one in tab.columns for old in one.once}


def test_every_sheet_of_an_earlier_version_is_read_as_before(tmp_path: Path) -> None:
    """The same shop under all the headings its columns had: the same rows, the same fingerprint."""
    now = shop()
    earlier = {name: [[OLD.get(str(one), one) for one in rows[0]], *rows[1:]] for name, rows in now.items()}
    assert sum(before[0] != rows[0] for before, rows in zip(earlier.values(), now.values(), strict=True)) >= 6
    assert read(write_xlsx(tmp_path / "shop.xlsx", earlier)) == read(write_xlsx(tmp_path / "shop.xlsx", now))


@pytest.mark.parametrize(
    ("tab", "said", "cell"),
    [("supplies", "Keeps Opened", "soon"), ("barrels", "finished a", "6 mm"), ("tools", "life", "0")],
)
def test_a_bad_cell_is_told_by_the_heading_of_its_sheet(
    tmp_path: Path, tab: str, said: str, cell: str
) -> None:
    """Who has an earlier sheet looks for the word that stands in it, in cells and in what rows say together."""
    heads, *rows = shop()[tab]
    at = TABS[tab].column(said.casefold()).heading
    number = heads.index(at)
    rows[0] = [cell if place == number else value for place, value in enumerate(rows[0])]
    sheet = [[said if one == at else one for one in heads], *rows]
    found = problems(write_xlsx(tmp_path / "shop.xlsx", shop(**{tab: sheet})))
    assert {place.column for place in found} == {said.casefold()}
