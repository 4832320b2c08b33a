"""Supplier lists back in: edited or not, by whatever program, or refused with every place."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from openpyxl import load_workbook
from openpyxl.workbook import Workbook
from searching import examples

from inventory.catalogue import Supplier
from inventory.errors import BadSheet, Place
from inventory.reports.purchasing.placed import Placed
from inventory.sheets.purchasing.list_reading import read_lists
from inventory.sheets.purchasing.list_writing import write_csv_lists, write_lists
from inventory.sheets.purchasing.supplier_tabs import titles

from . import lists_case as case
from .shop import write_xlsx

TAB = titles([case.MARSH])[case.MARSH]


@pytest.fixture
def saved(tmp_path: Path) -> Path:
    """The workbook of the list."""
    write_lists(tmp_path / "list.xlsx", case.a_shop(), case.a_list())
    return tmp_path / "list.xlsx"


def edit(path: Path, change: Callable[[Any], None], tab: str = TAB) -> Path:
    """The workbook with one tab changed, as a person would."""
    book = load_workbook(path)
    change(book[tab])
    book.save(path)
    return path


def cells(**values: object) -> Callable[[Any], None]:
    """A change of these cells."""

    def change(sheet: Any) -> None:
        for name, value in values.items():
            sheet[name] = value

    return change


def read(path: Path) -> list[Placed]:
    """What the list orders."""
    return list(read_lists(path, case.known(), case.EUR).lines)


def refused(path: Path) -> list[Place]:
    """The places of everything that cannot be taken."""
    with pytest.raises(BadSheet) as found:
        read(path)
    return list(found.value.where)


def test_an_unedited_copy_is_the_basket(saved: Path) -> None:
    """Exactly its lines, in their order."""
    assert read(saved) == case.rows_of(case.BOUGHT)


@pytest.mark.soak  # starts a spreadsheet program
@pytest.mark.outside
def test_a_copy_saved_by_an_office_program_is_the_basket(saved: Path) -> None:
    """Source: an office program (soffice), which rewrites every cell."""
    assert read(case.office(saved)) == case.rows_of(case.BOUGHT)


def test_csv_lists_are_the_basket(tmp_path: Path) -> None:
    """A folder of them, or one; whatever the file is called."""
    paths = write_csv_lists(tmp_path / "lists", case.a_shop(), case.a_list())
    found = read(tmp_path / "lists")
    assert sorted(found, key=lambda row: list(case.BOUGHT).index(row.supplier)) == case.rows_of(case.BOUGHT)
    other = paths[1].rename(tmp_path / "mine.csv")
    assert read(other) == case.rows_of({case.REACH: case.BOUGHT[case.REACH]})
    with other.open(encoding="utf-8-sig", newline="") as file:
        rows = [[cell.replace("3.33", "3,33") for cell in row] for row in csv.reader(file)]
    with other.open("w", encoding="cp1252", newline="") as file:
        csv.writer(file, delimiter=";").writerows(rows)  # as a spreadsheet in German or French saves it
    assert read(other) == case.rows_of({case.REACH: case.BOUGHT[case.REACH]})


@examples(12, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(
        st.tuples(
            st.sampled_from(
                [
                    (case.KIT, 1000),
                    (case.KIT, 12_000),
                    (case.GLUE, 29_574),
                    (case.PADS, 500),
                    (case.ODD, 1000),
                ]
            ),
            st.integers(1, 100_000),
            st.integers(0, 10**8),
        ),
        max_size=5,
    ),
    st.sampled_from([case.MARSH, case.REACH, case.ISLAND]),
)
def test_any_list_comes_back(tmp_path: Path, lines: list[tuple[tuple[str, int], int, int]], who: str) -> None:
    """Any packs at any prices in any currency, as a workbook and as CSV."""
    bought = {who: [(part, pack, packs, price) for (part, pack), packs, price in lines]}
    result = case.a_list(case.a_basket(bought))
    write_lists(tmp_path / "any.xlsx", case.a_shop(), result, overwrite=True)
    assert read(tmp_path / "any.xlsx") == case.rows_of(bought)
    write_csv_lists(tmp_path / "csv", case.a_shop(), result, overwrite=True)
    (path,) = (one for one in (tmp_path / "csv").iterdir() if one.stem == titles([who])[who])
    assert read(path) == case.rows_of(bought)


def test_packs_and_prices_changed(saved: Path) -> None:
    """The copy's word holds; the tick column, the costs and the totals do not matter."""
    edit(saved, cells(E2=9, F2="4,15 €", A2="x", G3=None, G10="what?"))
    first = read(saved)[0]
    assert (first.packs, first.price, first.place.row) == (9, 415, 2)


def test_lines_left_out(saved: Path) -> None:
    """By 0, by an empty cell, by taking the row or the whole tab out."""
    edit(saved, cells(E2=0, E3=None))
    edit(saved, lambda sheet: sheet.delete_rows(4))
    book = load_workbook(saved)
    del book[case.ISLAND]
    book.save(saved)
    assert read(saved) == case.rows_of({case.REACH: case.BOUGHT[case.REACH]})


def test_lines_added(saved: Path) -> None:
    """In a spare line or under the totals; a pack that is not said is one of what is counted."""
    edit(saved, cells(B5=case.PADS, E5=3, F5=2, C5="MP-1"))
    edit(saved, cells(B30=case.GLUE, D30="56 ml", E30="2", F30="7.00 EUR"))
    assert read(saved)[3:5] == [
        Placed(case.MARSH, case.PADS, 1000, 3, 200, "MP-1"),
        Placed(case.MARSH, case.GLUE, 56_000, 2, 700),
    ]


def test_a_tab_of_ones_own(saved: Path) -> None:
    """A tab named after a supplier, or any tab that names it in its rows; blank tabs do not matter."""
    book = load_workbook(saved)
    book.create_sheet("Sheet1")
    del book[case.ISLAND]
    other = book.create_sheet("island  POST")
    other.append(["part", "packs", "price", "supplier"])
    other.append([case.KIT, 1, 455, None])
    mine = book.create_sheet("more")
    mine.append(["Part", "PACKS", "price", "Supplier"])
    mine.append([case.KIT, 2, 4, case.REACH])
    mine.append([case.PADS, 1, 3, case.MARSH])
    book.save(saved)
    assert read(saved)[-3:] == [
        Placed(case.ISLAND, case.KIT, 1000, 1, 455),
        Placed(case.REACH, case.KIT, 1000, 2, 400),
        Placed(case.MARSH, case.PADS, 1000, 1, 300),
    ]


def test_rows_name_their_supplier_whoever_is_known_by_now(saved: Path) -> None:
    """A supplier with a like name, met after the list was saved, does not take its tab over."""
    twin = Supplier(case.MARSH[:31] + "!", 3)
    more = case.known(twin)
    first = dict(reversed(list(more.suppliers.items())))
    again = type(more)(more.parts, suppliers=first)
    assert list(read_lists(saved, again, case.EUR).lines) == case.rows_of(case.BOUGHT)


@pytest.mark.parametrize(
    ("changes", "column", "problem"),
    [
        ({"B2": "Dunlin kit crome"}, "part", "Did you mean “Dunlin kit chrome”?"),
        ({"B2": None}, "part", "Packs without a part"),
        ({"E2": "some"}, "packs", "no count of packs"),
        ({"E2": 1.5}, "packs", "no count of packs"),
        ({"E2": -1}, "packs", "no count of packs"),
        ({"E2": 100_001}, "packs", "no count of packs"),
        ({"E2": "=SUM(Z1:Z2)"}, "packs", "no stored result"),
        ({"F2": "dear"}, "price", "not a sum of money"),
        ({"F2": None}, "price", "price of a pack is missing"),
        ({"F2": -4}, "price", "cannot be negative"),
        ({"F2": "4 USD"}, "price", "not in EUR"),
        ({"F2": 4.305}, "price", "finer than the smallest coin"),
        ({"D2": "a box"}, "pack", "not an amount"),
        ({"D2": 0}, "pack", "A pack holds something"),
        ({"D3": None}, "pack", "Write it in ml"),
        ({"C2": "x" * 121}, "supplier code", "At most 120"),
        ({"J2": "Somebody"}, "supplier", "no supplier called"),
        ({"E1": "part"}, "part", "two columns"),
    ],
    ids=lambda value: str(value)[:24],
)
def test_what_cannot_be_taken(saved: Path, changes: dict[str, object], column: str, problem: str) -> None:
    """A sentence with file, tab, row and column; nothing is read."""
    edit(saved, cells(**changes))
    where = refused(saved)
    place = next(one for one in where if problem in one.problem)
    row = int(next(iter(changes))[1:])
    assert (place.file, place.tab, place.row, place.column) == ("list.xlsx", TAB, row, column)


def test_everything_wrong_is_told_at_once(saved: Path) -> None:
    """Over all tabs and rows."""
    edit(saved, cells(B2="nothing known", E3="many", F4="dear"))
    edit(saved, cells(F2="free"), case.REACH)
    assert [(one.tab, one.row, one.column) for one in refused(saved)] == [
        (TAB, 2, "part"),
        (TAB, 3, "packs"),
        (TAB, 4, "price"),
        ("Far Reach", 2, "price"),
    ]


def test_a_row_of_nobody(saved: Path) -> None:
    """On a tab that is no supplier's, a row has to say whose it is."""
    book = load_workbook(saved)
    sheet = book.create_sheet("more")
    sheet.append(["part", "packs", "price", "supplier"])
    sheet.append([case.KIT, 2, 4, None])
    book.save(saved)
    (place,) = refused(saved)
    assert (place.tab, place.row, place.column) == ("more", 2, "supplier")
    assert "Who sells it?" in place.problem


def test_an_unknown_tab_is_refused(saved: Path) -> None:
    """With the names tabs may have."""
    book = load_workbook(saved)
    book["Far Reach"].title = "Nearer Reach"
    book["Nearer Reach"]["J1"] = None
    book.save(saved)
    (place,) = refused(saved)
    assert place.tab == "Nearer Reach"
    assert "far reach" in place.problem


def test_no_list_at_all(tmp_path: Path) -> None:
    """A sentence for each kind of stranger."""
    book = Workbook()
    book.save(tmp_path / "blank.xlsx")
    with pytest.raises(BadSheet, match="holds no supplier's list"):
        read(tmp_path / "blank.xlsx")
    write_xlsx(tmp_path / "other.xlsx", {"stock": [["a", "b"], [1, 2]]})
    assert "No supplier's list" in refused(tmp_path / "other.xlsx")[0].problem
    (tmp_path / "broken.xlsx").write_bytes(b"PK\x03\x04 and nothing more")
    assert "damaged" in refused(tmp_path / "broken.xlsx")[0].problem
    assert "no such file" in refused(tmp_path / "gone.xlsx")[0].problem
    (tmp_path / "bad.csv").write_text('part,packs\n"open,1\n')
    assert "quotation mark" in refused(tmp_path / "bad.csv")[0].problem


def test_hidden_rows_and_tabs_are_read_and_announced(saved: Path) -> None:
    """A filter left on must not order unseen."""
    wanted = read(saved)

    def hide(sheet: Any) -> None:
        sheet.row_dimensions[2].hidden = True
        sheet.sheet_state = "hidden"

    found = read_lists(edit(saved, hide), case.known(), case.EUR)
    assert list(found.lines) == wanted
    assert found.announced == (
        f"list.xlsx, {TAB}: the tab is hidden; it was read like the others.",
        f"list.xlsx, {TAB}: row 2 is hidden; it was read like the others.",
    )
