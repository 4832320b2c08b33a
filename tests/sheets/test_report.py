"""The workbook of Sunday night: its figures, its two pages."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from inventory.errors import Refused
from inventory.measures import currency
from inventory.reports.session_report import SessionDifference, SessionReport
from inventory.sheets.paper import SMALL
from inventory.sheets.reports.writing import write_report

from .lists_case import office
from .report_case import REPORT

TABS = ["made", "used and learned"]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """The report of the weekend."""
    write_report(tmp_path / "sunday.xlsx", REPORT)
    return tmp_path / "sunday.xlsx"


def rows(path: Path, tab: str) -> list[list[Any]]:
    """What the rows of a tab hold, without what is empty and without the mark before them."""
    book: Any = load_workbook(path)
    return [[cell.value for cell in row[1:] if cell.value is not None] for row in book[tab].iter_rows()]


def check(path: Path) -> None:
    """The figures of the report."""
    made, used = rows(path, "made"), rows(path, "used and learned")
    assert ["pattern", "order", "good", "spoiled", "materials"] in made
    assert ["Dunlin gloss pen", "=teal", 2, 0, 17.31] in made
    assert ["together", 18, 3, 145.27] in made
    assert ["together", 3, 12.47] in made
    assert ["godwit gift", "Dunlin kit chrome", 2, "pieces", "Sat 12 Dec 2026"] in made
    assert ["Dunlin kit chrome", 5, "pieces"] in [row[:3] for row in made]
    difference = next(row for row in used if row[:2] == ["Dunlin kit chrome", 17])
    assert difference[2:5] == [15, -2, "pieces"]
    assert difference[5].startswith("two pieces were made and not written down")
    assert any(row[-1] == "no reason was found" for row in used if row)
    assert ["thin CA", 14.25, 17.9, "ml"] in [row[:4] for row in used]
    learned = next(row for row in used if "thin CA a barrel, ml" in row)
    assert learned[-3:] == [0.8, pytest.approx(101 / 110), "+14.8 %"]


def test_the_report_shows_its_figures(path: Path) -> None:
    """Made, spoiled, used, differences with reasons, orders that wait, learned, to buy; sums beside their labels."""
    assert load_workbook(path).sheetnames == TABS
    check(path)
    assert ["thin CA passes its use-by on 2027-03-01."] in rows(path, "made")


@pytest.mark.soak  # starts a spreadsheet program
def test_another_program_shows_the_same(path: Path) -> None:
    """Nothing is worked out anew."""
    check(office(path))


def test_two_pages_and_nothing_small(path: Path) -> None:
    """On A4 and Letter alike, upright; the title says the day once, with its weekday."""
    book: Any = load_workbook(path)
    for tab in TABS:
        sheet = book[tab]
        setup = sheet.page_setup
        assert (setup.orientation, setup.fitToWidth, setup.fitToHeight) == ("portrait", 1, 1)
        assert all(
            cell.font.size >= SMALL for row in sheet.iter_rows() for cell in row if cell.value is not None
        )
        assert not sheet._charts
    assert rows(path, "made")[0] == ["Session 3 & market on the quay, Sun 29 Nov 2026 (page 1 of 2)"]
    assert book.properties.creator == "kitdrawer"


def test_a_title_that_says_the_day_says_it_once(tmp_path: Path) -> None:
    """In the words of all pages."""
    write_report(tmp_path / "a.xlsx", replace(REPORT, title="Session of 2026-11-29"))
    assert rows(tmp_path / "a.xlsx", "made")[0] == ["Session of Sun 29 Nov 2026 (page 1 of 2)"]


def changes(path: Path, what: str) -> list[Any]:
    """What the report says of how a figure changed."""
    return [row[-1] for row in rows(path, "used and learned") if what in row]


def test_no_change_is_less_than_nothing(tmp_path: Path) -> None:
    """A share that fell by a hundredth of a point has not changed, and has no row."""
    one = REPORT.losses[0]
    what = f"{one.material} spoiled at {one.stage}, %"
    for name, points in (("a.xlsx", Fraction(1, 10_000)), ("b.xlsx", Fraction(1, 100))):
        less = replace(one, after=one.before - points)
        write_report(tmp_path / name, replace(REPORT, losses=(less,)))
    assert changes(tmp_path / "a.xlsx", what) == []
    assert changes(tmp_path / "b.xlsx", what) == ["−1.0 points"]


def test_an_empty_weekend(tmp_path: Path) -> None:
    """Nothing made is said as plainly."""
    empty = SessionReport("Session 4", date(2026, 12, 6), currency("JPY"))
    write_report(tmp_path / "a.xlsx", empty)
    assert rows(tmp_path / "a.xlsx", "made").count(["none"]) == 4
    assert rows(tmp_path / "a.xlsx", "used and learned").count(["none"]) == 2


def test_what_nobody_knows_the_cost_of(tmp_path: Path) -> None:
    """It is left out of the sum, and named."""
    one = replace(REPORT.made[0], priced=False)
    write_report(tmp_path / "a.xlsx", replace(REPORT, made=(one,), unpriced=("felt",)))
    made = rows(tmp_path / "a.xlsx", "made")
    assert "unknown" in made[3]
    assert ["Cost unknown, left out of the sums: felt."] in made


def test_no_file_is_replaced_unasked(path: Path) -> None:
    """Nor one written that no program would open."""
    with pytest.raises(Refused, match="there already"):
        write_report(path, REPORT)
    write_report(path, REPORT, overwrite=True)
    with pytest.raises(Refused, match="no name for a workbook"):
        write_report(path.with_suffix(".csv"), REPORT)


def test_a_difference_is_counted_less_expected() -> None:
    """Less than expected is negative."""
    assert SessionDifference("pads", "pad", 3000, 1000).difference == -2000
