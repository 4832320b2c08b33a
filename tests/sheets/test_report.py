"""The workbook of Sunday night: its figures, its formulas, its chart."""

from __future__ import annotations

import zipfile
from dataclasses import replace
from datetime import date, datetime
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from inventory.errors import Refused
from inventory.jobs.sessions.reconciling.outcome import SessionDifference, SessionReport, Used
from inventory.measures import currency
from inventory.sheets.reports.writing import write_report

from .lists_case import office
from .report_case import REPORT

TABS = ["summary", "used", "differences", "short", "learned", "to buy"]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """The report of the weekend."""
    write_report(tmp_path / "sunday.xlsx", REPORT)
    return tmp_path / "sunday.xlsx"


def rows(path: Path, tab: str) -> list[list[Any]]:
    """What a tab shows to programs that do not compute."""
    book: Any = load_workbook(path, data_only=True)
    return [[cell.value for cell in row] for row in book[tab].iter_rows()]


def check(path: Path) -> None:
    """The figures of the report."""
    summary = rows(path, "summary")
    assert summary[0] == ["pattern", "order", "good", "lost", "cost"]
    assert summary[3] == ["Dunlin gloss pen", "=teal", 2, 0, 17.31]
    assert summary[4] == ["together", None, 18, 3, 145.27]
    assert summary[6:11:4] == [["lost at", None, None, "pieces", "cost"], ["together", None, None, 3, 12.47]]
    used = rows(path, "used")
    assert used[0] == ["part", "unit", "expected", "used", "of expected"]
    assert used[1][:4] == ["thin CA", "ml", 14.25, 17.9]
    assert used[1][4] == pytest.approx(17.9 / 14.25)
    assert used[4] == ["polishing pads", "pad", 0, 1, None]
    differences = rows(path, "differences")
    assert differences[1][:5] == ["Dunlin kit chrome", "piece", 17, 15, -2]
    assert differences[1][5].startswith("1. two pieces were made and not written down")
    assert "\n2. counted into the neighbouring drawer" in differences[1][5]
    assert differences[2][4:] == [1, "no reason was found"]
    assert rows(path, "short")[1] == ["godwit gift", "Dunlin kit chrome", 2, "piece", datetime(2026, 12, 12)]  # noqa: DTZ001 - cells know no zone
    learned = rows(path, "learned")
    assert learned[1][:2] == ["thin CA", "barrel"]
    assert learned[1][2:4] == [0.8, pytest.approx(101 / 110)]
    assert learned[1][5] == pytest.approx(101 / 110 / 0.8 - 1)
    assert learned[3][:2] == ["material", "lost at"]
    assert learned[4][2:] == [0.02, 0.024, None, pytest.approx(0.004)]
    assert rows(path, "to buy")[1][:3] == ["Dunlin kit chrome", 5, "piece"]


def test_the_report_shows_its_figures(path: Path) -> None:
    """Made, lost, cost, used, differences with their reasons, short, learned, to buy; formulas have results."""
    assert load_workbook(path).sheetnames == TABS
    check(path)
    said = [row[0] for row in rows(path, "summary") if row[0]]
    assert "thin CA passes its use-by on 2027-03-01." in said
    assert said[-1] == "differences: 2, short: 1, learned: 2, to buy: 1."


@pytest.mark.soak  # starts a spreadsheet program
def test_another_program_works_out_the_same(path: Path) -> None:
    """The stored results are those of the formulas: an office program computes them anew."""
    book: Any = load_workbook(path)
    assert book["used"]["E2"].value == '=IF(C2>0,D2/C2,"")'
    check(office(path))


def test_the_chart_is_native_and_labelled(path: Path) -> None:
    """Bars drawn from the table's cells, with a title, titles on both axes, and the line of “as expected” at 100 %."""
    with zipfile.ZipFile(path) as archive:
        (name,) = [name for name in archive.namelist() if name.startswith("xl/charts/chart")]
        chart = archive.read(name).decode()
    for said in ("Used, as a share of what was expected", "part", "used / expected (100% is as expected)"):
        assert f"<a:t>{said}</a:t>" in chart.replace("<t>", "<a:t>").replace("</t>", "</a:t>")
    assert "'used'!$E$2:$E$5" in chart
    assert "'used'!$A$2:$A$5" in chart
    assert 'crossesAt val="1"' in chart
    assert 'delete val="1"' not in chart


def test_the_report_prints_on_a4(path: Path) -> None:
    """As wide as the page, the session above each; the chart inside what is printed, long reasons in full."""
    book: Any = load_workbook(path)
    for tab in TABS:
        sheet = book[tab]
        assert (sheet.page_setup.paperSize, sheet.page_setup.fitToWidth) == (9, 1)
        assert sheet.oddHeader.left.text == "Session 3 && market on the quay, 2026-11-29"
    assert book["differences"].page_setup.orientation == "landscape"
    assert book["differences"].row_dimensions[2].height >= 4 * 15
    last = int(book["used"].print_area.rpartition("$")[2])
    anchor = book["used"]._charts[0].anchor
    assert last * 15 * 12700 > anchor._from.row * 15 * 12700 + anchor.ext.height


def test_a_title_that_says_the_day_says_it_once_and_no_change_is_less_than_nothing(tmp_path: Path) -> None:
    """A loss that fell by a hundredth of a point has not changed; “together” stands beside its sums."""
    less = replace(REPORT.losses[0], after=REPORT.losses[0].before - Fraction(1, 10_000))
    write_report(tmp_path / "a.xlsx", replace(REPORT, title="Session of 2026-11-29", losses=(less,)))
    book: Any = load_workbook(tmp_path / "a.xlsx")
    assert book["summary"].oddHeader.left.text == "Session of 2026-11-29"
    assert rows(tmp_path / "a.xlsx", "learned")[4][5] == 0
    assert {book["summary"][place].alignment.vertical for place in ("A5", "C5", "E5")} == {"top"}


def test_a_chart_that_fits_no_more_gets_a_page_of_its_own(path: Path, tmp_path: Path) -> None:
    """Cut in two it would say nothing."""
    used = tuple(Used(f"part {number}", "ml", 1000, 900) for number in range(60))
    write_report(tmp_path / "long.xlsx", replace(REPORT, used=used))
    long: Any = load_workbook(tmp_path / "long.xlsx")
    short: Any = load_workbook(path)
    assert [one.id for one in long["used"].row_breaks.brk] == [62]
    assert not short["used"].row_breaks.brk


def test_an_empty_weekend(tmp_path: Path) -> None:
    """Nothing made is said as plainly; no chart of nothing."""
    empty = SessionReport("Session 4", date(2026, 12, 6), currency("JPY"))
    write_report(tmp_path / "a.xlsx", empty)
    for tab in TABS:
        assert "none" in [row[0] for row in rows(tmp_path / "a.xlsx", tab)]
    with zipfile.ZipFile(tmp_path / "a.xlsx") as archive:
        assert not [name for name in archive.namelist() if "chart" in name]
    write_report(tmp_path / "b.xlsx", replace(empty, used=(Used("pads", "pad", 0, 1000),)))
    assert rows(tmp_path / "b.xlsx", "used")[1][4] is None


def test_no_file_is_replaced_unasked(path: Path) -> None:
    """Nor one written that no program would open."""
    with pytest.raises(Refused, match="there already"):
        write_report(path, REPORT)
    write_report(path, REPORT, overwrite=True)
    with pytest.raises(Refused, match="no name for a workbook"):
        write_report(path.with_suffix(".csv"), REPORT)


def test_data_frames_read_the_tables(path: Path) -> None:
    """Every tab begins with its headings."""
    pandas = pytest.importorskip("pandas")
    frames = pandas.read_excel(path, sheet_name=None)
    assert frames["used"]["used"].sum() == pytest.approx(17.9 + 9.3 + 8 + 1)
    assert list(frames["differences"]["difference"]) == [-2, 1]


def test_a_difference_is_counted_less_expected() -> None:
    """Less than expected is negative."""
    assert SessionDifference("pads", "pad", 3000, 1000).difference == -2000
