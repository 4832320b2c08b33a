"""Every workbook in print: nothing smaller than 10 points on A4 or Letter, our own name in it, days for people."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.styles import Font
from printed import too_low, too_small

from inventory.catalogue.safety import Safety
from inventory.catalogue.safety.statements import Statement
from inventory.errors import BadSheet, Refused
from inventory.measures import currency
from inventory.reports.days_sheet import DONE, SAID
from inventory.reports.due_soon import DueSoonRow
from inventory.sheets.days.reading import HEADINGS, DaysKnown, read_days
from inventory.sheets.days.writing import write_days
from inventory.sheets.orders.due_soon import write_due_soon
from inventory.sheets.paper import AUTHOR
from inventory.sheets.purchasing.list_writing import write_csv_lists, write_lists
from inventory.sheets.purchasing.parcel_writing import write_delivery_sheet
from inventory.sheets.reports.writing import write_report
from inventory.sheets.saving import make_folder
from inventory.sheets.sessions.pages import make_page, one_page, weigh_page
from inventory.sheets.sessions.writing import write_session
from inventory.sheets.stock.template import write_template
from inventory.sheets.values import DAY_FORMAT, days_said

from . import lists_case as case
from .deliveries_case import DUE
from .report_case import REPORT
from .sessions_case import SHEET

SOON = DueSoonRow(
    *(
        "S42",
        "harbour office",
        date(2026, 12, 14),
        "promised, 4 to buy",
        "6 × Dunlin pen, gunmetal",
        6,
        210,
        320,
    ),
    *(None, "accelerator", Decimal("11.22"), "ml", "Saltmarsh Turning Supplies", date(2026, 12, 11)),
)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Each kind of workbook the program writes."""
    folder = tmp_path_factory.mktemp("paper")
    write_lists(folder / "list.xlsx", case.a_shop(), _promised())
    write_delivery_sheet(folder / "parcel.xlsx", case.a_shop(), DUE)
    write_days(folder / "days.xlsx")
    write_template(folder / "start.xlsx", case.known())
    write_session(folder / "bench.xlsx", SHEET)
    write_report(folder / "sunday.xlsx", REPORT)
    write_due_soon(folder / "due.xlsx", "Due by 2026-12-26", [SOON, replace(SOON, lacking="tube 7 x 53")])
    return folder


def _promised() -> Any:
    basket = case.a_basket(case.BOUGHT)
    first, *others = basket.bills
    line = replace(first.lines[0], reasons=("S42 is promised for 2026-12-14", "0 free"))
    bill = replace(first, lines=(line, *first.lines[1:]))
    return case.a_list(replace(basket, bills=(bill, *others)))


def test_nothing_is_printed_under_ten_points(folder: Path) -> None:
    """On A4 and on Letter; the workbooks of what looks back and ahead are held to it by the tests of their commands."""
    every = {path.stem: too_small(path) for path in folder.glob("*.xlsx")}
    assert {name: found for name, found in every.items() if found} == {}


def test_a_row_is_as_high_as_its_texts(folder: Path) -> None:
    """Of pages for the bench, which lie on a grid of narrow columns, it is told by their own tests."""
    every = {
        path.stem: too_low(path) for path in folder.glob("*.xlsx") if path.stem not in ("bench", "sunday")
    }
    assert {name: found for name, found in every.items() if found} == {}


def test_small_letters_would_be_found(folder: Path, tmp_path: Path) -> None:
    """A tab too wide for its paper, shrunk to it or cut off by it, and letters that are small themselves."""
    book: Any = load_workbook(folder / "due.xlsx")
    tab, path = book.worksheets[0], tmp_path / "wide.xlsx"
    tab.column_dimensions["A"].width += 30
    book.save(path)
    assert [said.partition(":")[0] for said in too_small(path)] == [tab.title] * 2
    tab.sheet_properties.pageSetUpPr.fitToPage = False
    book.save(path)
    assert too_small(path) == [f"{tab.title}: 0.0"] * 2
    tab.sheet_properties.pageSetUpPr.fitToPage = True
    tab.column_dimensions["A"].width -= 45
    tab["A2"].font = Font(sz=9)
    book.save(path)
    assert too_small(path) == [f"{tab.title}: 9.0"] * 2


def test_a_row_too_low_for_its_texts_would_be_found(folder: Path, tmp_path: Path) -> None:
    """A name of two lines in a row that the program which opens it is left to make high enough."""
    book: Any = load_workbook(folder / "due.xlsx")
    tab = book.worksheets[0]
    tab.row_dimensions[2].height = None
    book.save(tmp_path / "low.xlsx")
    assert f"{tab.title} D2" in too_low(tmp_path / "low.xlsx")


def test_our_own_name_is_in_every_workbook(folder: Path) -> None:
    """Not the library's; a title too."""
    for path in folder.glob("*.xlsx"):
        found = load_workbook(path).properties
        assert (found.creator, bool(found.title)) == (AUTHOR, True), path.name


def test_days_on_a_list_are_days_for_people(folder: Path, tmp_path: Path) -> None:
    """Real days with a weekday; words have them too; CSV files keep ISO 8601."""
    book: Any = load_workbook(folder / "list.xlsx")
    tab = book.worksheets[1]
    cell = tab["H2"]
    assert (cell.value.date(), cell.number_format) == (date(2026, 12, 14), DAY_FORMAT)
    assert tab["I2"].value == "S42 is promised for Mon 14 Dec 2026"
    assert not [
        one for row in book["summary"] for one in row if "2026-" in str(one.value) and one.data_type == "s"
    ]
    (first, *_) = write_csv_lists(tmp_path / "list", case.a_shop(), _promised())
    assert "2026-12-14,S42 is promised for 2026-12-14" in first.read_text(encoding="utf-8-sig")


def test_a_day_that_is_part_of_a_name_stays() -> None:
    """Names are to be pasted as they are; what is no day is left alone."""
    for text in ("stall 2026-11-28 a", "the order is 2026-11-28 b", "due on 2026-02-31", "lot 2026-11-28"):
        assert days_said(text) == text
    assert days_said("by 2026-12-01.") == f"by {date(2026, 12, 1):%a} 1 Dec 2026."


def test_safety_goes_to_the_first_page_where_the_second_is_full() -> None:
    """Of a session with much to say: both are one page, nothing is said twice or left out."""
    long = "Guards in place, blades sharp, blanks held in a vice; a shield for the face, nothing loose near the lathe. "
    said = [
        Statement(moment, f"{moment}: {long * times}", "common practice, no source")
        for moment, times in (("cut", 4), ("finish", 3), ("glue", 4), ("flammables", 3))
    ]
    sheet = replace(
        SHEET,
        bottles=SHEET.bottles * 5,
        safety=Safety(("wood dust",), tuple(said)),
        check_first=(),
        pieces=SHEET.pieces[:2],
    )
    first, second = make_page(sheet), weigh_page(sheet)
    assert one_page(first)
    assert one_page(second)
    texts = [getattr(one, "text", "") for one in (*first, *second)]
    assert [sum(one.says in text for text in texts) for one in said] == [1] * len(said)
    assert any(said[0].says in getattr(one, "text", "") for one in first)


def test_nobody_is_told_to_replace_a_file(folder: Path) -> None:
    """A name that is taken is refused with what to do, and never with a way to lose what lies there."""
    writes: tuple[Callable[[], None], ...] = (
        lambda: write_days(folder / "days.xlsx"),
        lambda: write_lists(folder / "list.xlsx", case.a_shop(), _promised()),
        lambda: make_folder(folder, [folder / "days.xlsx"]),
    )
    for write in writes:
        with pytest.raises(Refused) as found:
            write()
        said = f"{found.value.message} {found.value.hint}"
        assert "Give another" in said
        assert not [word for word in ("replace", "overwrite", "remove", "delete") if word in said]


def test_what_is_short_is_printed_as_a_hand_measures_it(folder: Path) -> None:
    """Up to the whole ml; an order's own cells stand in its first row, its name and day in each, for a filter."""
    tab: Any = load_workbook(folder / "due.xlsx")["due soon"]
    heads, first, second = ([cell.value for cell in row] for row in tab.iter_rows())
    at = heads.index("quantity")
    assert (first[at], second[at]) == ("12 ml", "12 ml")
    assert second[:3] == ["S42", None, first[2]]
    assert "Due by Sat 26 Dec 2026" in tab.oddHeader.left.text


def test_how_a_sheet_of_days_is_filled_is_printed(folder: Path) -> None:
    """A line for each thing that may be said, and every column: nothing is told by hovering alone."""
    tab: Any = load_workbook(folder / "days.xlsx")["how"]
    said = [[str(cell.value) for cell in row[1:] if cell.value] for row in tab.iter_rows()]
    assert [one for one in (*DONE, *SAID) if not any(row[0] == one for row in said)] == []
    columns = {cell for row in said for cell in row}
    assert set(HEADINGS[1:]) <= columns
    with pytest.raises(BadSheet, match="Nothing is filled in"):
        read_days(folder / "days.xlsx", DaysKnown(case.known(), currency("EUR"), date(2026, 11, 28)))
