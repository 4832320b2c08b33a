"""The template: everything is there, explains itself, and comes back as it was filled in."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.utils import get_column_letter

from inventory.catalogue import Catalogue
from inventory.errors import Refused
from inventory.measures.look import LOOKED_AT
from inventory.sheets import TABS, write_template
from inventory.sheets.paper import DIGIT_MM, room
from inventory.sheets.stock.columns import ACCEPTED, StockColumn
from inventory.sheets.stock.template import FEW, FIRST

from .shop import Rows, problems, read, shop, write_xlsx

COLUMNS = [
    pytest.param(tab.name, column, id=f"{tab.name}-{column.heading}")
    for tab in TABS.values()
    for column in tab.columns
]


@pytest.fixture(scope="module")
def once_written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A template that knows nothing."""
    path = tmp_path_factory.mktemp("template") / "stock.xlsx"
    write_template(path, Catalogue())
    return path


@pytest.fixture
def template(once_written: Path, tmp_path: Path) -> Path:
    """A copy of it for one test."""
    return Path(shutil.copy(once_written, tmp_path))


def _fill(path: Path, tabs: dict[str, Rows]) -> None:
    workbook = load_workbook(path)
    for tab, (headings, *rows) in tabs.items():
        sheet = workbook[tab]
        places = {str(sheet.cell(1, number).value): number for number in range(1, sheet.max_column + 1)}
        for number, row in enumerate(rows, start=4):
            for heading, value in zip(headings, row, strict=True):
                sheet.cell(number, places[str(heading)]).value = value  # type: ignore[assignment] # whatever a person types
    workbook.save(path)


def test_a_filled_template_reads_as_the_same_rows(tmp_path: Path, template: Path) -> None:
    """Typed into the template, the shop is the shop."""
    _fill(template, shop())
    filled, plain = read(template), read(write_xlsx(tmp_path / "plain.xlsx", shop()))
    assert (filled.catalogue, filled.counts, filled.orders) == (plain.catalogue, plain.counts, plain.orders)
    assert filled.fingerprint == plain.fingerprint
    assert filled.notes == ()


def test_an_empty_template_brings_nothing(template: Path) -> None:
    """No rows, no problems, no notes; the tab of lists is passed over."""
    intake = read(template)
    assert {rows for _, rows in intake.rows} == {0}
    assert intake.notes == ()


def test_help_and_example_are_passed_over(template: Path) -> None:
    """Wherever they stand, a copy of them too; an example somebody wrote over is a row."""
    workbook = load_workbook(template)
    sheet = workbook["platings"]
    for column in (1, 2):
        sheet.cell(9, column).value = sheet.cell(3, column).value
    sheet["A3"] = "chrome"
    sheet["B3"] = None
    workbook.save(template)
    assert [one.name for one in read(template).catalogue.platings.values()] == ["chrome"]


def test_it_is_meant_to_be_used(template: Path) -> None:
    """Frozen headings, repeated in print, help below them and an example; the five tabs that suffice stand first."""
    workbook = load_workbook(template)
    assert workbook.sheetnames[:6] == ["start", "kits", "tubes", "blanks", "supplies", "counts"]
    assert sorted(workbook.sheetnames) == sorted(["start", *TABS, "lists"])
    assert workbook["lists"].sheet_state == "hidden"
    assert workbook.properties.creator == "kitdrawer"
    assert "These five tabs suffice: kits, tubes, blanks, supplies and counts." in str(
        workbook["start"]["B1"].value
    )
    for tab in TABS.values():
        sheet = workbook[tab.name]
        assert (sheet.freeze_panes, sheet.print_title_rows, sheet.page_setup.orientation) == (
            "A2",
            "$1:$1",
            "landscape",
        )
        assert sheet.page_setup.fitToHeight == 0
        assert sheet.sheet_properties.pageSetUpPr is not None
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        for number, column in enumerate(tab.columns, start=1):
            cell = sheet.cell(1, number)
            assert cell.comment is None
            assert column.means in str(sheet.cell(2, number).value)
            if column.notation != "text":  # of which anything is accepted
                assert column.accepted[1:] in str(sheet.cell(2, number).value)
            assert str(sheet.cell(3, number).value).endswith(column.example)
            wide = sheet.column_dimensions[get_column_letter(number)].width
            assert wide > max(map(len, column.heading.split()))  # words stay whole, one below the other


@pytest.mark.parametrize(
    ("tab", "heading"), [("tubes", "drill"), ("counts", "quantity"), ("kits", "part"), ("tools", "size")]
)
def test_fractions_do_not_become_days(template: Path, tab: str, heading: str) -> None:
    """Columns that may hold 27/64 are text columns."""
    sheet = load_workbook(template)[tab]
    letter = next(cell.column_letter for cell in sheet[1] if cell.value == heading)
    assert sheet.column_dimensions[letter].number_format == "@"


def _rules(path: Path, tab: str) -> dict[str, tuple[str, bool]]:
    rules = load_workbook(path)[tab].data_validations.dataValidation
    return {str(rule.sqref).split(":")[0]: (rule.formula1, bool(rule.showErrorMessage)) for rule in rules}


def test_lists_to_choose_from(tmp_path: Path, template: Path) -> None:
    """Closed lists bind; known names and own words are only suggested."""
    assert _rules(template, "blanks") == {
        "B4": ("materials!$A$4:$A$2000", False),
        "C4": ('"square,round,natural"', True),
    }
    assert _rules(template, "bills")["B4"][1]
    assert not _rules(template, "supplies")["B4"][1]
    known = read(write_xlsx(tmp_path / "shop.xlsx", shop())).catalogue
    write_template(template, known, overwrite=True)
    workbook = load_workbook(template)
    formula, strict = _rules(template, "kits")["C4"]
    assert not strict
    listed = [row[0].value for row in workbook["lists"][formula.split("!")[1].replace("$", "")]]
    assert listed == ["chrome", "gunmetal", "rhodium"]


def test_names_that_look_like_formulas_stay_names(tmp_path: Path) -> None:
    """In the lists too."""
    known = read(
        write_xlsx(tmp_path / "p.xlsx", {"platings": [["plating"], ["-dull-"], ["@home"]]})
    ).catalogue
    write_template(tmp_path / "t.xlsx", known)
    sheet = load_workbook(tmp_path / "t.xlsx")["lists"]
    texts = [cell for row in sheet.iter_rows() for cell in row if cell.value in ("-dull-", "@home")]
    assert {(cell.data_type, cell.quotePrefix) for cell in texts} == {("s", True)}


def test_it_never_writes_over_a_file_unasked(template: Path) -> None:
    """The file there stays as it is."""
    before = template.read_bytes()
    with pytest.raises(Refused, match="is there already") as caught:
        write_template(template, Catalogue())
    assert "Give another name" in caught.value.hint
    assert template.read_bytes() == before


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("stock.csv", "no name for a workbook"),
        ("nowhere/stock.xlsx", "cannot be written"),
        ("dir.xlsx", "a folder"),
    ],
)
def test_places_it_cannot_go(tmp_path: Path, name: str, words: str) -> None:
    """Another ending, a folder that is not there, a folder of that name."""
    (tmp_path / "dir.xlsx").mkdir()
    with pytest.raises(Refused, match=words):
        write_template(tmp_path / name, Catalogue())
    assert [path.name for path in tmp_path.iterdir()] == ["dir.xlsx"]


@pytest.mark.parametrize(("tab", "column"), COLUMNS)
def test_every_example_is_accepted(tmp_path: Path, tab: str, column: StockColumn) -> None:
    """The example beside a column can be typed into it: whatever is refused is not how it is written."""
    headings: list[object] = [column.heading]
    found = problems(write_xlsx(tmp_path / "e.xlsx", {tab: [[*headings], [column.example]]}))
    sound = ("is missing from", "There is no", "cell is empty", "Did you mean")
    assert all(any(words in place.problem for words in sound) for place in found)
    from inventory.sheets.stock.cells import reader

    assert reader(column)(column.example) is not None
    assert column.means.endswith((".", "`."))
    assert column.choices or ACCEPTED[column.notation] == column.accepted


def test_each_tab_is_one_page_with_rows_to_write_in(template: Path) -> None:
    """On A4 and on Letter, at full size; the five tabs that suffice have a page full of rows, the others a few."""
    wide, high = room(landscape=True)
    book = load_workbook(template)
    for tab in TABS.values():
        sheet = book[tab.name]
        mm = sum(sheet.column_dimensions[get_column_letter(at + 1)].width for at in range(len(tab.columns)))
        assert mm * DIGIT_MM <= wide, tab.name
        shaded = [row for row in range(1, 60) if sheet.cell(row, 1).fill.fill_type]
        assert shaded == list(range(4, 4 + len(shaded)))
        assert (len(shaded) == FEW) == (tab.name not in FIRST), tab.name
        points = sum(float(sheet.row_dimensions[row].height or 15) for row in range(1, shaded[-1] + 1))
        assert points <= high / 25.4 * 72, tab.name
        assert sheet["A3"].font.color.rgb.endswith(LOOKED_AT)
