"""Every workbook of money opened, worked out and saved by a spreadsheet program: its sums are --json's, to the coin."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from printed import too_low, too_small

from inventory.measures import currency
from inventory.reports.accounts.earned import GROUPS

from .conftest import TODAY, Kitdrawer
from .messy_shop import DARK, PATTERN, messy_shop
from .recalculated import (
    OFFICE,
    Figure,
    Opened,
    cost_figures,
    earned_figures,
    history_figures,
    rehearse_figures,
    worked_out_anew,
    worth_figures,
)

pytestmark = [
    pytest.mark.soak,
    pytest.mark.outside,
    pytest.mark.skipif(OFFICE is None, reason="no office program on this machine"),
]
SCRIPTS = Path(__file__).resolve().parents[2] / "scripts"
FIGURES: dict[str, Callable[[Any, Any, int], Iterator[Figure]]] = {
    "worth": worth_figures,
    "earned": earned_figures,
    "history": history_figures,
    "cost": cost_figures,
    "dark": cost_figures,
    "rehearse": rehearse_figures,
}


def book_of(shop: str, folder: Path, patch: pytest.MonkeyPatch) -> Path:
    """The sample with its two years, or a messy shop in this currency."""
    if shop != "two years":
        return messy_shop(folder / "shop", shop)
    patch.syspath_prepend(str(SCRIPTS))
    import two_years

    two_years.make(folder / "book.kitdrawer")
    return folder / "book.kitdrawer"


def told(kitdrawer: Kitdrawer, folder: Path, patterns: tuple[str, str]) -> tuple[dict[str, Any], list[Path]]:
    """What --json says by workbook, and the workbooks."""
    said: dict[str, Any] = {}
    every = {
        **{one: (one,) for one in ("worth", "earned", "history")},
        "cost": ("cost", patterns[0]),
        "dark": ("cost", patterns[1]),
        "rehearse": ("rehearse", "--futures", "40"),
    }
    for name, words in every.items():
        answer = kitdrawer(*words, "--save", str(folder / f"{name}.xlsx"), "--json")
        assert answer.code == 0, answer.err
        said[name] = answer.json
    said["earned"] = {by: kitdrawer("earned", "--by", by, "--json").json for by in GROUPS}
    return said, [folder / f"{name}.xlsx" for name in every]


def compared(said: dict[str, Any], opened: dict[str, Opened], coins: int) -> tuple[int, list[str]]:
    """How many figures were held against --json, and what is wrong."""
    many, faults = 0, []
    for name, one in opened.items():
        for figure in FIGURES[name](one.book, said[name], coins):
            many += 1
            faults += [fault] if (fault := one.wrong(figure)) else []
    return many, faults


@pytest.mark.parametrize("shop", ["two years", "EUR", "JPY", "KWD"])
def test_a_spreadsheet_program_comes_to_the_same_sums(
    shop: str, kitdrawer: Kitdrawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Source: an office program (soffice), which works every formula out anew and shows what it comes to.

    All that stood beside formulas is spoilt before, so that nothing of it is read back.
    """
    monkeypatch.setenv("KITDRAWER_TODAY", TODAY)
    monkeypatch.setenv("KITDRAWER_STORE", str(book_of(shop, tmp_path, monkeypatch)))
    patterns = ("Dunlin pen", "Avocet pen") if shop == "two years" else (PATTERN, DARK)
    said, paths = told(kitdrawer, tmp_path, patterns)
    opened = worked_out_anew(paths, tmp_path / "office")
    assert {path.stem: (*too_small(path), *too_low(path)) for path in paths} == {
        path.stem: () for path in paths
    }
    coins = currency(said["worth"]["currency"]).exponent
    many, faults = compared(said, opened, coins)
    assert faults == []
    worked = sum(_same_results(path, opened[path.stem]) for path in paths)
    sys.stdout.write(f"\n{shop}: {many} figures as --json has them, {worked} formulas worked out anew\n")
    assert many > 300
    assert worked > 300


def _same_results(path: Path, opened: Opened) -> int:
    """Formulas of a workbook; each comes to what was written beside it."""
    formulas, values = load_workbook(path), load_workbook(path, data_only=True)
    places = [
        (tab.title, cell.coordinate)
        for tab in formulas
        for row in tab.iter_rows()
        for cell in row
        if cell.data_type == "f"
    ]
    for tab, cell in places:
        mine, theirs = values[tab][cell].value, opened.book[tab][cell].value
        assert theirs == pytest.approx(mine, abs=1e-9), (path.stem, tab, cell)
    return len(places)


def test_a_wrong_sum_would_be_seen(kitdrawer: Kitdrawer, store: Path, tmp_path: Path) -> None:
    """A formula that leaves a lot out, a figure a coin too high, and a number shown with too few decimals."""
    assert store.is_file()
    path = tmp_path / "worth.xlsx"
    said = kitdrawer("worth", "--save", str(path), "--json").json
    shutil.copy(path, tmp_path / "good.xlsx")
    book: Any = load_workbook(path)
    tab = book["worth by lot"]
    last = next(row for row in range(2, 999) if tab.cell(row, 1).value == "together")
    tab.cell(last, 7).value = f"=SUM(G3:G{last - 1})"
    tab["G3"].value += 0.01
    tab["G4"].number_format = "0.0"
    book.save(path)
    opened = worked_out_anew([path, tmp_path / "good.xlsx"], tmp_path / "office")
    for name, places in (("worth", [f"G{last}", "G3", "G4"]), ("good", [])):
        one = opened[name]
        wrong = [found for figure in worth_figures(one.book, said, 2) if (found := one.wrong(figure))]
        assert len(wrong) == len(places), wrong
        assert all(any(f" {place}" in found for found in wrong) for place in places)
