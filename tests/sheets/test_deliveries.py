"""Delivery sheets: out to be filled, and back with what came."""

from __future__ import annotations

import csv
import shutil
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from openpyxl import load_workbook
from searching import examples

from inventory.errors import BadSheet, Refused
from inventory.ledger.shop import Shop
from inventory.reports.purchasing.parcels import Arrived, Delivery
from inventory.sheets.drawing import GROUND
from inventory.sheets.purchasing.parcel_writing import write_delivery_csv, write_delivery_sheet

from .deliveries_case import COLUMNS, DUE, TAB, fill, parcel, read, refused
from .lists_case import EUR, GLUE, ISLAND, KIT, MARSH, ODD, PADS, REACH, TODAY, a_shop, known, office
from .shop import write_xlsx


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sheet for all that is due in, written once."""
    path = tmp_path_factory.mktemp("written") / "parcel.xlsx"
    write_delivery_sheet(path, a_shop(), DUE)
    return path


@pytest.fixture
def sheet(tmp_path: Path, written: Path) -> Path:
    """A copy of it."""
    return Path(shutil.copy(written, tmp_path))


def test_the_sheet_lists_what_is_due(sheet: Path) -> None:
    """By supplier, part and pack, orders of one pack together, with the agreed price where there is one."""
    book: Any = load_workbook(sheet)
    assert book.sheetnames == ["delivery", TAB, "Far Reach"]
    rows = [[cell.value for cell in row] for row in book[TAB].iter_rows(min_row=1, max_row=5)]
    assert rows[0] == COLUMNS
    assert [row[:3] + row[5:6] + row[14:15] for row in rows[1:]] == [
        [KIT, "SM-10", 7, 1, 4.3],
        [GLUE, None, "112 ml", "56 ml", 7.05],
        [ODD, "A", 1, 1, 3],
        [ODD, "B", 5, 5, 14],
    ]
    assert [row[15].date() for row in rows[3:]] == [date(2026, 12, 9), date(2026, 12, 2)]
    assert all(cell is None for row in rows[1:] for cell in row[3:5] + row[6:14])
    far = [cell.value for cell in book["Far Reach"][2]]
    assert (far[14], far[15], far[16]) == (3.33, None, REACH)
    assert book["Far Reach"]["O2"].number_format == "#,##0.00"
    assert "prices in USD" in book["Far Reach"].oddHeader.left.text
    assert [cell.value for cell in book["delivery"]["A"]] == ["supplier", MARSH, REACH]


def test_the_agreed_price_is_left_out_where_nobody_knows_the_rate(tmp_path: Path) -> None:
    """What is due in stays due in."""
    shop = Shop(known(), a_shop().book, EUR, TODAY)
    write_delivery_sheet(tmp_path / "parcel.xlsx", shop, DUE)
    assert load_workbook(tmp_path / "parcel.xlsx")["Far Reach"]["O2"].value is None


def test_the_sheet_helps_to_fill_it(sheet: Path) -> None:
    """A drop-down for yes and no, one for the parts due, print set-up, links; what to write above the page."""
    book: Any = load_workbook(sheet)
    rules = {str(rule.sqref): rule.formula1 for rule in book[TAB].data_validations.dataValidation}
    assert rules == {"I2:I11": '"yes,no"', "N2:N11": '"yes,no"', "H2:H11": "$A$2:$A$5"}
    assert book[TAB]["H1"].comment is None
    assert "a tick is all that was due" in book[TAB].oddHeader.left.text
    assert book[TAB]["P1"].value == "due in by"
    assert book[TAB].page_setup.orientation == "landscape"
    assert book[TAB].freeze_panes == "B2"
    assert book["delivery"]["A2"].hyperlink is not None
    waiting = [
        book[TAB][place].fill.fgColor.rgb[2:] == GROUND for place in ("A5", "A6", "F5", "F6", "D5", "D6")
    ]
    assert waiting == [False, True, False, True, True, True]  # row 6 is for what came unordered


def test_nothing_due_is_still_a_sheet(tmp_path: Path) -> None:
    """An empty one."""
    write_delivery_sheet(tmp_path / "parcel.xlsx", a_shop(), ())
    assert load_workbook(tmp_path / "parcel.xlsx").sheetnames == ["delivery"]
    with pytest.raises(BadSheet, match="of nothing that it arrived"):
        read(tmp_path / "parcel.xlsx")


def test_no_file_is_replaced_unasked(sheet: Path) -> None:
    """A filled sheet is not lost by asking for another."""
    with pytest.raises(Refused, match="there already"):
        write_delivery_sheet(sheet, a_shop(), DUE)
    write_delivery_sheet(sheet, a_shop(), DUE, overwrite=True)
    with pytest.raises(Refused, match="no name for a workbook"):
        write_delivery_sheet(sheet.with_suffix(".csv"), a_shop(), DUE)


def test_a_filled_sheet(sheet: Path) -> None:
    """Partial, damaged, at another price, instead of something else, cancelled, with lot and use-by."""
    fill(sheet, 2, arrived=5, damaged=1, price="4.10", lot="box 3")
    fill(sheet, 3, arrived="56 ml", rest_cancelled="Yes", use_by=date(2027, 6, 1))
    fill(sheet, 6, part=PADS, arrived=2, instead_of=KIT, settles_it="yes")
    fill(sheet, 2, "Far Reach", damaged="12")
    parcel(sheet, 2, 4711, "24 Nov 2026", "5,90")
    marsh, far = read(sheet)
    assert marsh == Delivery(
        MARSH,
        date(2026, 11, 24),
        (
            Arrived(KIT, 5000, 1000, 410, "", False, "box 3", None, 1000),
            Arrived(GLUE, 56_000, 0, None, "", True, "", date(2027, 6, 1), 56_000),
            Arrived(PADS, 2000, 0, None, KIT, settles=True),
        ),
        590,
        "4711",
    )
    assert far == Delivery(REACH, TODAY, (Arrived(PADS, 0, 12_000, pack=3000),))
    assert (marsh.lines[0].place.tab, marsh.lines[0].place.row) == (TAB, 2)


@pytest.mark.soak  # starts a spreadsheet program
@pytest.mark.outside
def test_a_sheet_saved_by_an_office_program(sheet: Path) -> None:
    """Source: an office program (soffice), which rewrites every cell."""
    fill(sheet, 2, arrived=7, use_by=date(2027, 6, 1))
    parcel(sheet, 2, "LS-9", date(2026, 11, 24), 5.9)
    assert read(office(sheet)) == read(sheet)


@examples(10, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.integers(0, 10**9),
    st.integers(0, 10**9),
    st.booleans(),
    st.none() | st.integers(0, 10**8),
    st.none() | st.dates(date(2026, 1, 1), date(2030, 1, 1)),
)
def test_any_amounts_come_back(
    tmp_path: Path, good: int, damaged: int, cancelled: bool, price: int | None, use_by: date | None
) -> None:
    """Whatever thousandths and coins are filled in, they are read exactly."""
    path = tmp_path / "any.xlsx"
    write_delivery_sheet(path, a_shop(), DUE, overwrite=True)
    fill(path, 2, arrived=1)
    fill(
        path,
        3,
        arrived=f"{good // 1000}.{good % 1000:03} ml",
        damaged=f"{damaged // 1000}.{damaged % 1000:03}",
        rest_cancelled="yes" if cancelled else "no",
        price=None if price is None else price / 100,
        use_by=use_by,
    )
    ((first, *rest),) = (one.lines for one in read(path)) if good or damaged or cancelled else ((None,),)
    line = Arrived(GLUE, good, damaged, price, "", cancelled, "", use_by, 56_000)
    assert rest == ([line] if first else [])


@pytest.mark.parametrize(
    ("said", "cancelled"), [(True, True), ("1", True), ("✓", True), (False, False), ("-", False)]
)
def test_yes_and_no_are_read_as_in_every_sheet(sheet: Path, said: object, cancelled: bool) -> None:
    """A spreadsheet's own true and false too."""
    fill(sheet, 2, arrived=1, rest_cancelled=said)
    ((line,),) = (one.lines for one in read(sheet))
    assert line.rest_cancelled is cancelled


@pytest.mark.parametrize(
    ("values", "column", "problem"),
    [
        ({"arrived": "some"}, "arrived", "not an amount"),
        ({"arrived": -1}, "arrived", "cannot be negative"),
        ({"arrived": "2 kg"}, "arrived", "kg"),
        ({"arrived": date(2026, 5, 7)}, "arrived", "05-07"),
        ({"damaged": "0.0001"}, "damaged", "finer than a thousandth"),
        ({"arrived": "=Z9"}, "arrived", "no stored result"),
        ({"arrived": 1, "part": "Dunlin kit crome"}, "part", "Dunlin kit chrome"),
        ({"arrived": 1, "part": None}, "part", "Name the part"),
        ({"arrived": 1, "instead_of": "nothing known"}, "instead of", "no part called"),
        ({"arrived": 1, "rest_cancelled": "maybe"}, "rest cancelled", "neither yes nor no"),
        ({"arrived": 1, "use_by": "30 February 2027"}, "use by", "February"),
        ({"arrived": 1, "use_by": "3/4/2027"}, "use by", "could be"),
        ({"arrived": 1, "price": "gratis"}, "price", "not a sum of money"),
        ({"arrived": 1, "lot": "x" * 121}, "lot", "At most 120"),
        ({"arrived": 1, "supplier": "Somebody"}, "supplier", "no supplier called"),
        ({"lot": "box 3"}, "arrived", "How much arrived?"),
        ({"arrived": 0, "price": 4}, "arrived", "How much arrived?"),
        ({"arrived": 1, "pack": "a box"}, "pack", "not an amount"),
    ],
    ids=lambda value: str(value)[:28],
)
def test_what_cannot_be_taken(sheet: Path, values: dict[str, Any], column: str, problem: str) -> None:
    """A sentence with file, tab, row and column."""
    fill(sheet, 3, arrived=1)
    (place,) = refused(fill(sheet, 2, **values))
    assert (place.file, place.tab, place.row, place.column) == ("parcel.xlsx", TAB, 2, column)
    assert problem in place.problem


@pytest.mark.parametrize(
    ("row", "values", "problem"),
    [
        (2, ("", date(2026, 11, 26), ""), "still to come"),
        (2, ("", "someday", ""), "not a date"),
        (2, ("", "", "-1"), "cannot be negative"),
        (2, ("", "", "4 USD"), "not in EUR"),
        (2, ("x" * 121, "", ""), "At most 120"),
        (3, ("LS-9", "", ""), "Nothing is filled in as arrived from Far Reach"),
    ],
    ids=str,
)
def test_a_parcel_that_cannot_be_taken(sheet: Path, row: int, values: tuple[Any, ...], problem: str) -> None:
    """Its note, day and postage are looked at like the rest."""
    fill(sheet, 2, arrived=1)
    parcel(sheet, row, *values)
    (place,) = refused(sheet)
    assert (place.tab, place.row) == ("delivery", row)
    assert problem in place.problem


def test_parcels_of_nobody_or_twice(sheet: Path) -> None:
    """A parcel has one sender, and one row."""
    fill(sheet, 2, arrived=1)
    parcel(sheet, 2, "LS-9")
    book = load_workbook(sheet)
    for row, name in ((4, MARSH), (5, "Somebody"), (6, None)):
        book["delivery"][f"A{row}"] = name
        book["delivery"][f"B{row}"] = "LS-10"
    book.save(sheet)
    assert [place.row for place in refused(sheet)] == [4, 5, 6]


def test_everything_wrong_is_told_at_once(sheet: Path) -> None:
    """Over all tabs."""
    fill(sheet, 2, arrived="some", damaged="y", price="z")
    fill(sheet, 2, "Far Reach", arrived="some")
    assert [(one.tab, one.column) for one in refused(sheet)] == [
        (TAB, "arrived"),
        (TAB, "damaged"),
        (TAB, "price"),
        ("Far Reach", "arrived"),
    ]


def test_two_tabs_of_one_supplier_are_one_delivery(sheet: Path) -> None:
    """So that its postage is not booked twice."""
    fill(sheet, 2, arrived=1)
    fill(sheet, 2, "Far Reach", arrived=1, supplier=MARSH)
    parcel(sheet, 2, "", "", 4.9)
    (one,) = read(sheet)
    assert [line.part for line in one.lines] == [KIT, PADS]
    assert one.postage == 490


def test_one_csv_file(sheet: Path, tmp_path: Path) -> None:
    """A tab saved as CSV is a delivery sheet too: its rows name their supplier."""
    fill(sheet, 2, arrived=3)
    with (tmp_path / "mine.csv").open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows(load_workbook(sheet)[TAB].iter_rows(values_only=True))
    assert read(tmp_path / "mine.csv") == (Delivery(MARSH, TODAY, (Arrived(KIT, 3000, pack=1000),)),)


def fill_csv(path: Path, **values: str) -> None:
    """Fill the first row of a CSV file, by headings with _ for a space."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        headings, first, *rest = csv.reader(file)
    for name, value in values.items():
        heading = name.replace("_", " ")
        if heading not in headings:
            headings.append(heading)
            first.append("")
        first[headings.index(heading)] = value
    with path.open("w", encoding="utf-8-sig", newline="") as file:
        csv.writer(file).writerows([headings, first, *rest])


def test_a_folder_of_csv_files(sheet: Path, tmp_path: Path) -> None:
    """Saved as CSV files, filled and read back, the sheet says what the workbook says."""
    paths = write_delivery_csv(tmp_path / "parcels", a_shop(), DUE)
    assert [path.name for path in paths] == ["delivery.csv", f"{TAB}.csv", "Far Reach.csv"]
    fill_csv(paths[0], delivery_note="4711", date="2026-11-24", postage="5.90")
    fill_csv(paths[1], arrived="5", damaged="1", price="4.10", lot="box 3")
    fill_csv(paths[2], rest_cancelled="yes")
    fill(sheet, 2, arrived=5, damaged=1, price="4.10", lot="box 3")
    fill(sheet, 2, "Far Reach", rest_cancelled="yes")
    parcel(sheet, 2, 4711, "24 Nov 2026", "5,90")
    assert sorted(read(tmp_path / "parcels"), key=lambda one: one.supplier) == sorted(
        read(sheet), key=lambda one: one.supplier
    )
    assert [len(one.lines) for one in read(tmp_path / "parcels")] == [1, 1]
    (alone,) = read(paths[1])
    assert (alone.supplier, alone.note, alone.on) == (MARSH, "", TODAY)


def test_csv_sheets_are_not_replaced_unasked(tmp_path: Path) -> None:
    """Whether one file is there or all; and what is no folder cannot become one."""
    write_delivery_csv(tmp_path / "parcels", a_shop(), DUE[:1])
    with pytest.raises(Refused, match=r"delivery\.csv, .* already"):
        write_delivery_csv(tmp_path / "parcels", a_shop(), DUE)
    assert not (tmp_path / "parcels" / "Far Reach.csv").exists()
    assert len(write_delivery_csv(tmp_path / "parcels", a_shop(), DUE, overwrite=True)) == 3
    (tmp_path / "file").write_text("")
    with pytest.raises(Refused, match="cannot be made"):
        write_delivery_csv(tmp_path / "file", a_shop(), DUE)


def test_a_suppliers_list_with_what_arrived(tmp_path: Path) -> None:
    """The list that was ordered, with a column `arrived`: its prices alone say nothing of having come."""
    path = tmp_path / "list.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        write = csv.writer(file).writerow
        write(["part", "pack", "packs", "price", "supplier", "arrived"])
        write([KIT, "1", "7", "4.10", MARSH, "6"])
        write([ODD, "5", "1", "14.00", MARSH, ""])
    assert read(path) == (Delivery(MARSH, TODAY, (Arrived(KIT, 6000, 0, 410, pack=1000),)),)


def test_sheets_of_something_else(sheet: Path, tmp_path: Path) -> None:
    """Nothing filled in, no delivery sheet, rows of nobody."""
    with pytest.raises(BadSheet, match="of nothing that it arrived"):
        read(sheet)
    fill(sheet, 2, arrived=0, rest_cancelled="no")
    with pytest.raises(BadSheet, match="of nothing that it arrived"):
        read(sheet)
    write_xlsx(tmp_path / "other.xlsx", {"stock": [["a", "b"], [1, 2]]})
    assert "No tab of a delivery sheet" in refused(tmp_path / "other.xlsx")[0].problem
    write_xlsx(tmp_path / "nobody.xlsx", {"stock": [["part", "arrived", "supplier"], [KIT, 2, None]]})
    assert "Who sells it?" in refused(tmp_path / "nobody.xlsx")[0].problem


def test_a_supplier_of_another_coin(tmp_path: Path) -> None:
    """Prices and postage are read in the supplier's coin."""
    rows = [replace(DUE[0], supplier=ISLAND, cost=273)]
    write_delivery_sheet(tmp_path / "parcel.xlsx", a_shop(), rows)
    fill(tmp_path / "parcel.xlsx", 2, ISLAND, arrived=1, price=455)
    parcel(tmp_path / "parcel.xlsx", 2, "", "", "1250 JPY")
    (one,) = read(tmp_path / "parcel.xlsx")
    assert (one.lines[0].price, one.postage) == (455, 1250)
