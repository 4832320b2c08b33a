"""The bench sheet in print: two pages on A4 and on Letter, nothing small, room for a pen, and back as it was filled."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.utils import get_column_letter, range_boundaries

from inventory.measures.look import WRITE
from inventory.reports.filled import REASONS, FilledSession
from inventory.reports.session_sheet import SessionSheet
from inventory.sheets.paper import PEN, SMALL, WIDER, lines_of, room
from inventory.sheets.sessions.reading import read_session
from inventory.sheets.sessions.writing import choices_of, write_session

from .lists_case import office
from .on_pages import columns, fill_page, place
from .sessions_case import ANTLER, BOTTLES, EPOXY, GLUE, KIT, OLIVE, PADS, SHEET, STRIPS, known, refused

ASKED = replace(
    SHEET,
    bottles=(replace(BOTTLES[0], several=True), replace(BOTTLES[1], before=True)),
    bench=(("Drills", "drill 7 mm; drill 5/16"), ("Mixes", "5-minute epoxy: 2 pots of 3 ml")),
    by_order=(("wren wedding", "14 × Dunlin kit chrome"),),
    kerf="1.6",
)


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sheet of the session, written once."""
    path = tmp_path_factory.mktemp("written") / "weekend.xlsx"
    assert write_session(path, ASKED, choices_of(known())) == [path]
    return path


@pytest.fixture
def sheet(tmp_path: Path, written: Path) -> Path:
    """A copy of it."""
    path = tmp_path / "weekend.xlsx"
    path.write_bytes(written.read_bytes())
    return path


def read(path: Path) -> FilledSession:
    """What the sheet says."""
    return read_session(path, known())


def pages(path: Path) -> list[Any]:
    """The tabs that are printed."""
    return [tab for tab in load_workbook(path).worksheets if tab.sheet_state == "visible"]


def merged(tab: Any) -> dict[tuple[int, int], int]:
    """The last column of every merge by its first cell."""
    return {(one.min_row, one.min_col): one.max_col for one in tab.merged_cells.ranges}


def millimetres(tab: Any, first: int, last: int) -> float:
    """Width of columns in print: 7 dots a digit of Calibri 11 at 96 dots an inch; hidden ones have none."""
    shown = [tab.column_dimensions[get_column_letter(at)] for at in range(first, last + 1)]
    return float(sum(one.width * 7 / 96 * 25.4 for one in shown if not one.hidden))


def test_two_pages_on_either_paper(written: Path) -> None:
    """Each page's columns and rows have room between the margins of A4 (ISO 216) and of Letter: nothing shrinks."""
    tabs = pages(written)
    assert [tab.title for tab in tabs] == ["make", "weigh and count"]
    for tab in tabs:
        _, _, last, rows = map(int, filter(None, range_boundaries(tab.print_area.split("!")[-1])))
        wide = millimetres(tab, 1, last)
        high = sum(tab.row_dimensions[row].height for row in range(1, rows + 1)) / 72 * 25.4
        margins = tab.page_margins
        for paper in ((297.0, 210.0), (279.4, 215.9)):
            assert wide * WIDER <= paper[0] - 25.4 * (margins.left + margins.right)
            assert high <= paper[1] - 25.4 * (margins.top + margins.bottom)
        assert (tab.page_setup.orientation, tab.page_setup.fitToWidth, tab.page_setup.fitToHeight) == (
            "landscape",
            1,
            1,
        )


def test_nothing_is_small_and_a_pen_has_room(written: Path) -> None:
    """Letters of 10 points and more; whatever is written in is 9 mm high, shaded alike and has a border."""
    shades = set()
    for tab in pages(written):
        for row in tab.iter_rows():
            for cell in row:
                if cell.value is not None:
                    assert cell.font.size >= SMALL
                if cell.fill.fill_type:
                    shades.add(cell.fill.fgColor.rgb[2:])
                    assert tab.row_dimensions[cell.row].height >= PEN
                    assert (cell.border.top.style, cell.border.bottom.style) == ("thin", "thin")
    assert shades == {WRITE}


def test_every_text_has_room_in_its_cell(written: Path) -> None:
    """By the widths of its letters: as many lines as its row is high."""
    for tab in pages(written):
        ends = merged(tab)
        for row in tab.iter_rows(min_col=2):
            for cell in row:
                if not isinstance(cell.value, str) or tab.column_dimensions[cell.column_letter].hidden:
                    continue
                wide = millimetres(tab, cell.column, ends.get((cell.row, cell.column), cell.column))
                lines = lines_of(cell.value, wide, cell.font.size, bold=bool(cell.font.b))
                assert lines * cell.font.size * 1.2 <= tab.row_dimensions[cell.row].height, cell.value


def test_what_the_page_says(written: Path) -> None:
    """Order, customer, day with its weekday, lengths with the kerf, what to lay out; codes and marks are hidden."""
    texts = "\n".join(
        str(cell.value) for tab in pages(written) for row in tab.iter_rows() for cell in row if cell.value
    )
    for said in (
        "Sat 28 Nov 2026",
        "kerf 1.6 mm",
        "1/16 in thicker",
        "drill 7 mm; drill 5/16",
        "14 × Dunlin kit chrome",
    ):
        assert said in texts
    for tab in pages(written):
        for row in tab.iter_rows():
            for cell in row:
                if "session 3 plan 41" in str(cell.value) or cell.value in ("table", "text"):
                    assert tab.column_dimensions[cell.column_letter].hidden
        assert not any(cell.comment for row in tab.iter_rows() for cell in row)


def test_units_stand_beside_the_blanks(written: Path) -> None:
    """Grams beside weights, strips and pieces beside what is counted."""
    book = load_workbook(written)
    for table, key, unit in (
        ("bottles", "after g", "g"),
        ("used", "used", "strips"),
        ("counts", "counted", "pieces"),
    ):
        tab, row, at = place(book, table, 2)
        beside = merged(tab).get((row, at[key]), at[key]) + 1
        assert tab.cell(row, beside).value == unit


def test_lists_and_numbers(written: Path) -> None:
    """Names to choose from where rows are added, reasons beside bottles, nothing negative; wrong sums in amber."""
    book = load_workbook(written)
    make, weigh = book["make"], book["weigh and count"]
    lists = {one.formula1 for one in make.data_validations.dataValidation if one.type == "list"}
    assert lists == {"lists!$A$2:$A$3", "lists!$B$2:$B$3", "lists!$C$2:$C$3"}
    assert book["lists"].sheet_state == "hidden"
    assert f'"{",".join(REASONS)}"' in {one.formula1 for one in weigh.data_validations.dataValidation}
    _, row, at = next(columns(book, "pieces"))
    good = make.cell(row + 1, at["good"]).coordinate
    assert any(good in rule.sqref for rule in make.conditional_formatting)
    assert any(good in rule.sqref and rule.type == "custom" for rule in make.data_validations.dataValidation)


def test_it_comes_back_as_it_went_out(sheet: Path, tmp_path: Path) -> None:
    """Nothing filled in: the plan's rows, and the print of the CSV folder."""
    found = read(sheet)
    assert (found.mark, found.session, found.document) == ("7f3a-91", 3, 41)
    assert [(one.row, one.order, one.pattern, one.plating, one.kit, one.blank) for one in found.pieces] == [
        (one.row, one.order, one.pattern, one.plating, one.kit, one.blank) for one in SHEET.pieces
    ]
    assert all(one.good is None and not one.lost for one in found.pieces)
    assert (found.bottles, found.uses, found.counts, found.notes, found.announced) == ((), (), (), (), ())
    write_session(tmp_path / "csv", ASKED)
    assert found.fingerprint == read(tmp_path / "csv").fingerprint


def fill_by_hand(path: Path) -> Path:
    """Fill it the way hands do."""
    fill_page(
        path,
        "pieces",
        2,
        {"good": "12 of 14", "spoiled at drill": "●○○\n○○○", "spoiled at turn": "1 blew up"},
    )
    fill_page(path, "pieces", 3, {"good": "all"})
    fill_page(
        path,
        "pieces",
        5,
        {"order": "stall", "pattern": "dunlin GLOSS pen", "plating": "chrome", "blank": ANTLER, "good": "II"},
    )
    fill_page(path, "cutting", 2, {"cut": "✓"})
    fill_page(path, "cutting", 4, {"part": ANTLER, "blank": "tip 5", "cut": 1})
    fill_page(path, "bottles", 2, {"full ones": "2 bottles", "after g": "31.25 g"})
    fill_page(path, "bottles", 3, {"before g": 80.5, "after g": "61,3, spilt"})
    fill_page(path, "used", 2, {"used": "8 strips, one torn"})
    fill_page(path, "used", 3, {"used": "|||"})
    fill_page(path, "counts", 2, {"counted": "30"})
    fill_page(path, "counts", 3, {"counted": "1 bottle"})
    return fill_page(path, "notes", 2, {"notes": "accelerator low"})


def check_filled(found: FilledSession) -> None:
    """That all of it came back."""
    first, second, third, added = found.pieces
    assert (first.good, first.lost, first.note) == (12, {"drill": 1, "turn": 1}, "turn: 1 blew up")
    assert (second.good, second.lost, third.good) == (5, {}, None)
    assert (added.row, added.order, added.pattern, added.blank, added.good) == (
        0,
        "",
        "Dunlin gloss pen",
        ANTLER,
        2,
    )
    assert [(one.part, one.lot, one.name, one.cut) for one in found.blanks] == [
        (OLIVE, 0, "", 9),
        (ANTLER, 0, "tip 5", 1),
    ]
    assert [(one.part, one.lot, one.full, one.before, one.gross, one.reason) for one in found.bottles] == [
        (GLUE, 7, 2, None, 31_250, ""),
        (EPOXY, 9, None, 80_500, 61_300, "spilt"),
    ]
    assert [(one.part, one.used, one.reason) for one in found.uses] == [
        (STRIPS, 8000, "one torn"),
        (PADS, 3000, ""),
    ]
    assert [(one.part, one.lot, one.counted) for one in found.counts] == [(KIT, 0, 30_000), (GLUE, 8, 56_000)]
    assert found.notes == ("accelerator low",)


def test_filled_by_hand(sheet: Path) -> None:
    """Every table of both pages, in the forms hands use."""
    check_filled(read(fill_by_hand(sheet)))


@pytest.mark.soak  # starts a spreadsheet program
def test_saved_by_another_program(sheet: Path) -> None:
    """Hidden columns, merged cells and circles survive an office program."""
    check_filled(read(office(fill_by_hand(sheet))))


def test_a_row_put_in_belongs_to_its_table(sheet: Path) -> None:
    """A spreadsheet program moves what stands below."""
    book: Any = load_workbook(sheet)
    tab = book["weigh and count"]
    bottom = tab.max_row
    tab.insert_rows(bottom + 1)
    tab.cell(bottom + 1, 2).value = "swept the floor"
    book.save(sheet)
    assert read(sheet).notes == ("swept the floor",)


def test_a_figure_beside_its_blank_is_asked_about(sheet: Path) -> None:
    """Written over the unit, it would be lost."""
    book: Any = load_workbook(sheet)
    tab, row, at = place(book, "used", 2)
    beside = merged(tab).get((row, at["used"]), at["used"]) + 1
    tab.cell(row, beside).value = "8 strips"
    book.save(sheet)
    (found,) = refused(sheet)
    assert (found.row, found.said) == (row, "8 strips")
    assert "Write it into a shaded one" in found.problem


def test_bad_cells_of_a_page(sheet: Path) -> None:
    """With the page, the row as the program shows it, and the question."""
    book: Any = load_workbook(sheet)
    _, row, _ = place(book, "pieces", 2)
    (found,) = refused(fill_page(sheet, "pieces", 2, {"good": "yes"}))
    assert (found.tab, found.row, found.column) == ("make", row, "good")
    assert "How many came out good? Write the number: 14 if it was all of them." in found.problem


def test_a_session_of_nothing_is_still_a_sheet(tmp_path: Path) -> None:
    """One without plan, to be filled with what was made all the same."""
    empty = SessionSheet("7f3a-91", 4, 42, "", SHEET.on, (), (), (), ())
    write_session(tmp_path / "empty.xlsx", empty)
    fill_page(tmp_path / "empty.xlsx", "pieces", 2, {"pattern": "Redshank stopper", "good": 1})
    found = read(tmp_path / "empty.xlsx")
    assert (found.session, found.document) == (4, 42)
    assert [(one.row, one.pattern, one.good) for one in found.pieces] == [(0, "Redshank stopper", 1)]


def test_a_long_session_goes_on_on_more_pages(tmp_path: Path) -> None:
    """Never made smaller to fit: thirty lines of work take more pages."""
    many = tuple(replace(SHEET.pieces[0], row=row, order=f"order {row}") for row in range(1, 31))
    write_session(tmp_path / "many.xlsx", replace(SHEET, pieces=many))
    (make, weigh) = pages(tmp_path / "many.xlsx")
    assert (make.page_setup.fitToHeight, weigh.page_setup.fitToHeight) == (0, 1)
    assert len(read(tmp_path / "many.xlsx").pieces) == 30
    assert room(landscape=True)[0] >= 248


def test_a_sheet_of_the_former_version_is_still_read(tmp_path: Path) -> None:
    """A tab for each table, as it was written and filled before there were pages."""
    path = tmp_path / "drawer.xlsx"
    path.write_bytes((Path(__file__).parent / "earlier" / "bench.xlsx").read_bytes())
    book: Any = load_workbook(path)
    for tab, row, values in (
        ("pieces", 2, {"good": 12, "lost at turn": "2 blew up"}),
        ("bottles", 2, {"gross g": 31.25}),
    ):
        at = {cell.value: cell.column for cell in book[tab][1]}
        for name, value in values.items():
            book[tab].cell(row, at[name]).value = value
    book.save(path)
    found = read(path)
    assert (found.session, found.pieces[0].good, found.pieces[0].lost) == (3, 12, {"turn": 2})
    assert [(one.part, one.gross) for one in found.bottles] == [(GLUE, 31_250)]
