"""What somebody calls a thing never becomes a formula, a code or a link, whichever sheet of ours it is written to."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path

import pytest
from openpyxl import load_workbook
from sheets.on_pages import place

from inventory.cli.app import make_app
from inventory.cli.edge import run
from inventory.sheets.csv import unprotect
from inventory.sheets.xlsx.markup import unescaped

from .conftest import TODAY
from .nasty import faults, nasty_shop, runs_in_csv

pytestmark = pytest.mark.soak  # what each writer makes of such a text is tried with all tests in tests/sheets


@dataclass(frozen=True)
class Saved:
    """The nasty names, and every file that the commands saved."""

    names: set[str]
    folder: Path

    def files(self, ending: str) -> list[Path]:
        """Those with this ending."""
        return sorted(self.folder.rglob(f"*.{ending}"))


@pytest.fixture(scope="module")
def saved(tmp_path_factory: pytest.TempPathFactory) -> Saved:
    """A shop of nasty names taken through every command that saves a sheet."""
    folder = tmp_path_factory.mktemp("nasty")
    names = nasty_shop(folder / "shop.xlsx")
    out = folder / "out"
    out.mkdir()
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("KITDRAWER_STORE", str(folder / "book.kitdrawer"))
        patch.setenv("KITDRAWER_TODAY", TODAY)
        _through(out, folder, names)
    return Saved(names, out)


def _through(out: Path, folder: Path, names: set[str]) -> None:
    def call(*words: str) -> None:
        assert run(make_app(words), words) in (0, 3), words

    def named(end: str) -> str:
        return next(name for name in sorted(names) if name.endswith(end))

    call("begin", "--rate", "USD=0.92")
    call("load", str(folder / "shop.xlsx"), "--yes")
    call("columns", "--save", str(out / "columns.xlsx"))
    for order in ("S41", "S42"):
        call("promise", named(order), "--yes")
    call("shopping", "--save", str(out / "list.xlsx"))
    call("shopping", "--save", str(out / "list"))
    call("placed", str(out / "list"), "--yes")
    call("due-in", "--save", str(out / "parcel.xlsx"))
    call("due-in", "--save", str(out / "parcel"))
    call("plan", named("S41"), "--on", TODAY, "--yes")
    for name in ("saturday.xlsx", "saturday"):
        call("weekend", "sheet", "--save", str(out / name))
    _fill(out / "saturday.xlsx", folder / "filled.xlsx")
    call("weekend", "book", str(folder / "filled.xlsx"), "--save", str(out / "report.xlsx"), "--yes")
    for name in ("count.xlsx", "count.csv", "count"):
        call("count", "sheet", "--save", str(out / name))
    call("verify")


def _fill(path: Path, filled: Path) -> None:
    book = load_workbook(path)
    tab, row, at = place(book, "pieces", 2)
    for heading in ("good", "spoiled at turn"):
        tab.cell(row, at[heading], 1)
    book.save(filled)


def test_every_saving_command_was_asked(saved: Saved) -> None:
    """Six workbooks and three folders, and a file for each supplier, so that no writer is left out."""
    assert [path.stem for path in saved.files("xlsx")] == [
        "columns",
        "count",
        "list",
        "parcel",
        "report",
        "saturday",
    ]
    assert {"list", "parcel", "saturday", "count"} <= {path.parent.name for path in saved.files("csv")}


def test_only_our_own_formulas_run_in_workbooks(saved: Saved) -> None:
    """Nor does a name become an error, a code above the page, a defined name, a list, a link or a chart's source."""
    assert {path.name: list(faults(path)) for path in saved.files("xlsx")} == {
        path.name: [] for path in saved.files("xlsx")
    }


def test_our_own_name_is_in_every_workbook(saved: Saved) -> None:
    """As its author, and what it is as its title."""
    found = [load_workbook(path).properties for path in saved.files("xlsx")]
    assert {(one.creator, bool(one.title)) for one in found} == {("kitdrawer", True)}


def test_nothing_runs_in_csv_wherever_lines_are_parted(saved: Saved) -> None:
    """Not even where a program takes ; or | for the end of a cell."""
    assert [cell for path in saved.files("csv") for cell in runs_in_csv(path)] == []


def test_names_come_back_as_they_were(saved: Saved) -> None:
    """From each workbook and each CSV file by our own reader, to the letter."""
    for path in saved.files("xlsx"):
        cells = {
            unescaped(str(cell.value))
            for sheet in load_workbook(path)
            for row in sheet.iter_rows()
            for cell in row
        }
        assert len(saved.names & cells) >= 3, path.name
    found = set()
    for path in saved.files("csv"):
        with path.open(encoding="utf-8-sig", newline="") as file:
            found |= {unprotect(cell) for row in csv.reader(file) for cell in row}
    assert len({name for name in saved.names & found if name[0] in "=+-@'＝－"}) >= 10
