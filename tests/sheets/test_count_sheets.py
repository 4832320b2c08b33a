"""Count sheets: out, blind or not, and back with what was counted."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from inventory.errors import BadSheet, Place, Refused
from inventory.reports.filled import FilledCounts
from inventory.reports.session_sheet import CountRow
from inventory.sheets.counts.reading import read_counts
from inventory.sheets.counts.writing import write_counts
from inventory.sheets.drawing import GROUND
from inventory.sheets.paper import PEN, SMALL, WIDER
from inventory.sheets.sessions.writing import write_session

from .lists_case import office
from .on_pages import columns, fill_page, place
from .sessions_case import COUNTS, EPOXY, GLUE, KIT, SHEET, STOCK, STRIPS, csv_rows, fill_csv, known
from .shop import write_xlsx


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    """The count sheet as a workbook."""
    assert write_counts(tmp_path / "count.xlsx", STOCK) == [tmp_path / "count.xlsx"]
    return tmp_path / "count.xlsx"


def read(path: Path) -> FilledCounts:
    """What the sheet says."""
    return read_counts(path, known())


def refused(path: Path) -> list[Place]:
    """The places of everything that cannot be taken."""
    with pytest.raises(BadSheet) as found:
        read(path)
    return list(found.value.where)


def headings(path: Path) -> list[str]:
    """What the columns of a workbook's tables stand for, without units and gaps."""
    book: Any = load_workbook(path)
    return list(dict.fromkeys(name for _, _, found in columns(book, "counts") for name in found))


def row(path: Path, number: int) -> int:
    """The row of the tab where a row of the sheet stands."""
    return place(load_workbook(path), "counts", number)[1]


def test_an_unfilled_sheet_says_nothing_but_whose_it_is(sheet: Path, tmp_path: Path) -> None:
    """As a workbook, as one CSV file, as a folder."""
    write_counts(tmp_path / "count.csv", STOCK)
    assert write_counts(tmp_path / "folder", STOCK) == [tmp_path / "folder" / "counts.csv"]
    for path in (sheet, tmp_path / "count.csv", tmp_path / "folder"):
        found = read(path)
        assert (found.mark, found.version, found.rows, found.announced) == ("7f3a-91", 88, (), ())
    assert len({read(path).fingerprint for path in (sheet, tmp_path / "count.csv")}) == 1


def test_a_blind_sheet_keeps_the_books_figure_back(sheet: Path, tmp_path: Path) -> None:
    """So that one counts what is there, not what should be."""
    blind = replace(STOCK, blind=True, rows=tuple(replace(row, booked=None, why="") for row in COUNTS))
    write_counts(tmp_path / "blind.xlsx", blind)
    assert headings(sheet) == ["part", "booked", "counted", "second count", "lot", "sheet of"]
    assert headings(tmp_path / "blind.xlsx") == ["part", "counted", "second count", "lot", "sheet of"]


def in_any_unit(sheet: Path) -> None:
    fill_page(sheet, "counts", 2, {"counted": 0, "second count": " 3 "})
    fill_page(sheet, "counts", 3, {"counted": "1 bottle", "second count": "50,5 ml"})
    fill_page(sheet, "counts", 4, {"part": STRIPS, "counted": "2 packs"})
    fill_page(sheet, "counts", 6, {"part": "5-Minute  EPOXY", "counted": "0.1 kg"})


def test_counts_in_any_unit(sheet: Path) -> None:
    """Bare numbers, containers, other units, zero; parts added by hand."""
    in_any_unit(sheet)
    found = read(sheet)
    assert [(one.part, one.lot, one.counted, one.second) for one in found.rows] == [
        (KIT, 0, 0, 3000),
        (GLUE, 8, 56_000, 50_500),
        (STRIPS, 0, 28_000, None),
        (EPOXY, 0, 100_000, None),
    ]
    assert (found.rows[3].where.file, found.rows[3].where.row) == ("count.xlsx", row(sheet, 6))


@pytest.mark.soak  # starts a spreadsheet program
def test_counts_saved_by_another_program(sheet: Path) -> None:
    """The same counts come back."""
    in_any_unit(sheet)
    found = read(sheet)
    assert [(one.part, one.counted) for one in read(office(sheet)).rows] == [
        (one.part, one.counted) for one in found.rows
    ]


def test_the_fingerprint_is_of_what_was_counted(sheet: Path, tmp_path: Path) -> None:
    """The same figures in another file are the same count."""
    write_counts(tmp_path / "c.csv", STOCK)
    fill_page(sheet, "counts", 2, {"counted": 30})
    fill_page(sheet, "counts", 3, {"counted": "12"})
    fill_csv(tmp_path / "c.csv", 3, {"counted": "12.0 ml"})
    assert read(sheet).fingerprint != read(tmp_path / "c.csv").fingerprint
    fill_csv(tmp_path / "c.csv", 2, {"counted": "30"})
    assert read(sheet).fingerprint == read(tmp_path / "c.csv").fingerprint


def test_everything_bad_is_told_at_once(sheet: Path) -> None:
    """Parts of kits, unknown parts, weights without a density, minus, the same part twice."""
    fill_page(sheet, "counts", 2, {"counted": 2.5, "second count": -1})
    fill_page(sheet, "counts", 3, {"counted": "=A1*2"})
    fill_page(sheet, "counts", 4, {"part": "thin CB", "counted": 1})
    fill_page(sheet, "counts", 5, {"part": EPOXY, "counted": "20 ml"})
    fill_page(sheet, "counts", 6, {"part": STRIPS, "counted": 4})
    fill_page(sheet, "counts", 7, {"part": STRIPS, "counted": 4})
    fill_page(sheet, "counts", 8, {"counted": 4})
    found = refused(sheet)
    assert [(place.row, place.column) for place in found] == [
        *((row(sheet, 2), "counted"), (row(sheet, 2), "second count"), (row(sheet, 3), "counted")),
        *((row(sheet, 4), "part"), (row(sheet, 5), "counted"), (row(sheet, 8), "part")),
        (row(sheet, 7), "counted"),
    ]


def test_rows_of_two_counts(tmp_path: Path) -> None:
    """Each count is booked against its own version of the book."""
    write_counts(tmp_path / "a.csv", STOCK)
    fill_csv(tmp_path / "a.csv", 3, {"sheet of": "7f3a-91 count 87"})
    (place,) = refused(tmp_path / "a.csv")
    assert (place.row, place.column) == (3, "sheet of")


def test_a_sheet_of_ones_own(tmp_path: Path) -> None:
    """Two columns are enough; it then says nothing of a book's version, and unknown columns are announced."""
    path = tmp_path / "drawer.csv"
    path.write_text(f"Part;COUNTED;where\n{KIT};3;left\n", encoding="utf-8")
    found = read(path)
    assert (found.mark, found.version, found.rows[0].counted) == ("", 0, 3000)
    assert found.announced == ("drawer.csv, drawer: the column “where” is not known and was left alone.",)


def test_merged_and_hidden_cells(sheet: Path) -> None:
    """As on a session sheet."""
    fill_page(sheet, "counts", 2, {"counted": 3})
    book: Any = load_workbook(sheet)
    at = row(sheet, 2)
    book["counts"].row_dimensions[at].hidden = True
    book.create_sheet("mine")["A1"] = "x"
    book.save(sheet)
    assert read(sheet).announced == (
        f"count.xlsx, counts: row {at} is hidden; it was read like the others.",
        "count.xlsx, mine: no tab of a count sheet; it was left alone.",
    )
    tab, _, found = place(book, "counts", 2)
    tab.merge_cells(start_row=at, end_row=at + 1, start_column=found["counted"], end_column=found["counted"])
    book.save(sheet)
    assert (at, "counted") in [(one.row, one.column) for one in refused(sheet)]


def test_sheets_of_another_kind(tmp_path: Path) -> None:
    """A session sheet has a tab of counts too, and is told where it belongs; so is a single file of it."""
    write_session(tmp_path / "weekend.xlsx", SHEET)
    write_session(tmp_path / "weekend", SHEET)
    write_xlsx(tmp_path / "stock.xlsx", {"counts": [["part", "quantity"], ["a", 1]]})
    said = []
    for path in (tmp_path / "weekend.xlsx", tmp_path / "weekend" / "counts.csv", tmp_path / "stock.xlsx"):
        with pytest.raises(BadSheet) as found:
            read(path)
        said.append(found.value.hint)
    assert said[0] == said[1] == "It is the sheet of a session: book it with `weekend book`."
    assert "stock workbook" in said[2]


def test_names_of_other_files(sheet: Path, tmp_path: Path) -> None:
    """Nothing is replaced unasked; other kinds of files are refused."""
    write_counts(tmp_path / "c.csv", STOCK)
    for path in (sheet, tmp_path / "c.csv"):
        with pytest.raises(Refused, match="there already"):
            write_counts(path, STOCK)
        write_counts(path, STOCK, overwrite=True)
    with pytest.raises(Refused, match="no name for this sheet"):
        write_counts(tmp_path / "c.ods", STOCK)
    assert len(csv_rows(tmp_path / "c.csv")) == 3


BOTTLES = replace(STOCK, rows=(replace(COUNTS[1], containers=True), replace(COUNTS[0], lot=0)))


def test_bottles_are_counted_by_full_ones_and_the_open_one(tmp_path: Path) -> None:
    """Both columns stand where something comes in bottles; back comes what that is together, and each of them."""
    (path,) = write_counts(tmp_path / "count.xlsx", BOTTLES)
    assert {"full ones", "open one g"} <= set(headings(path))
    assert not {"full ones", "open one g", "reason"} & set(
        headings(write_counts(tmp_path / "b.xlsx", STOCK)[0])
    )
    fill_page(path, "counts", 3, {"full ones": 2, "open one g": "33.0"})
    (one,) = read(path).rows
    assert (one.counted, one.full, one.inside, one.lot) == (132_000, 2, 20_000, 8)
    assert (one.error, one.where.column) == (39, "open one g")
    fill_page(path, "counts", 3, {"open one g": None})
    (one,) = read(path).rows
    assert (one.counted, one.full, one.inside, one.error) == (112_000, 2, None, 0)


@pytest.mark.parametrize(
    ("said", "column", "why"),
    [
        ({"part": GLUE, "counted": 3, "full ones": 1}, "counted", "not both"),
        ({"part": GLUE, "open one g": 11}, "open one g", "less than the empty bottle"),
        ({"part": GLUE, "open one g": 100}, "open one g", "a full one holds 56"),
        ({"part": EPOXY, "open one g": 100}, "open one g", "give its tare"),
        ({"part": EPOXY, "full ones": 1}, "full ones", "give its net"),
        ({"part": GLUE, "full ones": "2 1/2"}, "full ones", "no whole number"),
    ],
)
def test_bottles_that_cannot_be_counted_so(
    tmp_path: Path, said: dict[str, Any], column: str, why: str
) -> None:
    """Each with its cell and what to do."""
    write_counts(tmp_path / "count.csv", BOTTLES)
    fill_csv(tmp_path / "count.csv", 4, said)
    (place,) = refused(tmp_path / "count.csv")
    assert (place.column, why in place.problem) == (column, True)


def test_only_what_comes_in_bottles_is_asked_for_bottles(tmp_path: Path) -> None:
    """The kit has no cells for full ones and the open one, the glue's wait; weights may be typed with a unit."""
    rows = (COUNTS[0], replace(COUNTS[1], containers=True))
    path = tmp_path / "count.xlsx"
    write_counts(path, replace(STOCK, rows=rows))
    book: Any = load_workbook(path)
    kits, glue = (found for _, _, found in list(columns(book, "counts"))[:2])
    assert not {"full ones", "open one g"} & set(kits)
    tab, at, _ = place(book, "counts", 3)
    asked = [tab.cell(at, glue[name]) for name in ("full ones", "open one g")]
    assert [one.fill.fgColor.rgb[2:] for one in asked] == [GROUND, GROUND]
    (rule,) = (one for one in tab.data_validations.dataValidation if one.type == "custom")
    first = asked[1].coordinate
    assert (str(rule.sqref).split(":")[0], rule.formula1) == (first, f"NOT(AND(ISNUMBER({first}),{first}<0))")


DRAWERS = ("drawer 10", "drawer 9", "", "Drawer 9")
MANY = replace(
    STOCK,
    rows=tuple(
        CountRow(
            f"part {number} of some length", "piece", "dear", 1000, drawer=DRAWERS[number % 4], kind="kit"
        )
        for number in range(150, 0, -1)
    ),
)


def test_from_drawer_to_drawer(tmp_path: Path) -> None:
    """Natural order, however a drawer is spelled; what lies in none comes last; CSV files go the same way."""
    (path,) = write_counts(tmp_path / "count.xlsx", MANY)
    titles = [cell.value for cell in load_workbook(path)["counts"]["B"] if cell.font.b and cell.font.sz == 11]
    assert [one for one in titles if "continued" not in one] == [
        *("drawer 9", "drawer 10", "in no drawer: kits", "anything else")
    ]
    (plain,) = write_counts(tmp_path / "count.csv", MANY)
    drawers = [line[0].casefold() for line in csv_rows(plain)[1:]]
    assert drawers == sorted(drawers, key=lambda one: (not one, len(one)))
    assert [line[1] for line in csv_rows(plain)[1:3]] == ["part 1 of some length", "part 3 of some length"]


def test_pages_of_a_count(tmp_path: Path) -> None:
    """150 parts on four pages that A4 (ISO 216) and Letter have room for, breaks between rows, 9 mm and 10 points."""
    (path,) = write_counts(tmp_path / "count.xlsx", MANY)
    tab: Any = load_workbook(path)["counts"]
    wide = sum(one.width for one in tab.column_dimensions.values() if not one.hidden)
    margins = tab.page_margins
    for width, height in ((210.0, 297.0), (215.9, 279.4)):
        assert wide * 7 / 96 * 25.4 * WIDER <= width - 25.4 * (margins.left + margins.right)
        ends = [one.id for one in tab.row_breaks.brk] + [tab.max_row]
        assert len(ends) == 4
        for first, last in zip([1, *(end + 1 for end in ends)], ends, strict=False):
            high = sum(tab.row_dimensions[at].height for at in range(first, last + 1)) / 72 * 25.4
            assert high <= height - 25.4 * (margins.top + margins.bottom)
            assert tab.cell(first, 1).value == "text"  # a title, never a row without its drawer
            assert any(tab.cell(at, 1).value == "table" for at in range(first, first + 4))
    assert not tab.sheet_properties.pageSetUpPr.fitToPage  # programs forget breaks where a page is fitted
    for line in tab.iter_rows():
        for cell in line:
            assert cell.value is None or cell.font.sz >= SMALL
            assert not cell.fill.fill_type or tab.row_dimensions[cell.row].height >= PEN


def test_a_drawer_is_not_parted_where_it_costs_no_page(tmp_path: Path) -> None:
    """Three drawers of which two have room on a page: the third begins the next one."""
    rows = tuple(
        CountRow(f"part {number}", "piece", drawer=f"drawer {number // 24}", kind="kit")
        for number in range(72)
    )
    (path,) = write_counts(tmp_path / "count.xlsx", replace(STOCK, rows=rows))
    said = [str(cell.value) for cell in load_workbook(path)["counts"]["B"] if cell.value]
    assert not [one for one in said if "continued" in one]
    assert len(load_workbook(path)["counts"].row_breaks.brk) == 1


def test_a_filled_page_of_many_drawers_comes_back(tmp_path: Path) -> None:
    """Tables that go on below the title of another drawer are read with their codes; a tick is as booked."""
    (path,) = write_counts(tmp_path / "count.xlsx", replace(MANY, rows=(*COUNTS, *_lots())))
    book: Any = load_workbook(path)
    tab = book["counts"]
    for at in range(1, tab.max_row + 1):
        for _, heading, found in columns(book, "counts"):
            if at > heading and tab.cell(at, found["part"]).value == GLUE and tab.cell(at, 1).value is None:
                tab.cell(at, found["counted"]).value = (
                    "✓" if tab.cell(at, found["lot"]).value == 3 else "2 bottles"
                )
    _, last, found = list(columns(book, "counts"))[-2]
    tab.cell(last + 2, 2).value, tab.cell(last + 2, found["counted"]).value = "5-minute EPOXY", "30 g left"
    book.save(path)
    assert sorted((one.part, one.lot, one.counted) for one in read(path).rows) == [
        (EPOXY, 0, 30_000),
        *((GLUE, 2, 112_000), (GLUE, 3, 7_000), (GLUE, 8, 112_000)),
    ]


def _lots() -> tuple[CountRow, ...]:
    glue = replace(COUNTS[1], containers=True, kind="supply")
    return replace(glue, drawer="tin", lot=2, name="sealed"), replace(glue, drawer="box", lot=3, booked=7_000)
