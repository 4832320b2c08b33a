"""Supplier lists out: the same totals for every reader, and pages people can use."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from fractions import Fraction
from math import ceil
from pathlib import Path
from typing import Any

import pandas as pd
import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st
from openpyxl import load_workbook
from openpyxl.workbook import Workbook
from searching import examples

from inventory.buying import Basket
from inventory.catalogue import Supplier
from inventory.errors import Refused
from inventory.sheets.formulas import Formulas, decimal_of, put_values
from inventory.sheets.purchasing.list_writing import write_csv_lists, write_lists
from inventory.sheets.purchasing.supplier_tabs import titles

from . import lists_case as case

MARSH_TAB = titles([case.MARSH])[case.MARSH]


def written(path: Path, basket: Basket | None = None, **more: Any) -> Path:
    """The workbook of a list."""
    write_lists(path / "list.xlsx", case.a_shop(), case.a_list(basket, **more))
    return path / "list.xlsx"


def money(value: object, places: int = 2) -> Decimal:
    """A cell's number as the coin it shows."""
    return round(Decimal(repr(float(str(value)))), places)


def totals(path: Path, tab: str) -> Mapping[str, object]:
    """A supplier tab's totals, by their labels, as pandas reads them."""
    frame = pd.read_excel(path, sheet_name=tab)
    return {str(row["price"]): row["cost"] for _, row in frame.iterrows() if isinstance(row["price"], str)}


def check_totals(path: Path, basket: Basket) -> None:
    """The totals pandas reads are the basket's."""
    names = titles(one.name for one in case.known().suppliers.values())
    for bill in basket.bills:
        found = totals(path, names[bill.supplier.name])
        places = {"JPY": 0}.get(bill.supplier.currency, 2)
        scale = 10**places
        assert money(found["goods"], places) == Decimal(bill.goods) / scale
        assert money(found["postage"], places) == Decimal(bill.postage) / scale
        assert money(found["total"], places) == Decimal(bill.goods + bill.postage) / scale
        if bill.supplier.currency != "EUR":
            assert money(found["total, EUR"]) == Decimal(ceil(bill.landed)) / 100
    summary = pd.read_excel(path).set_index("supplier")
    together = summary.loc["together"]
    assert money(together["goods, EUR"]) == Decimal(ceil(basket.goods)) / 100
    assert money(together["postage, EUR"]) == Decimal(ceil(basket.postage)) / 100
    assert money(together["total"]) == Decimal(ceil(basket.total)) / 100
    assert together["lines"] == len(basket.lines)


@pytest.mark.outside
def test_pandas_reads_the_totals(tmp_path: Path) -> None:
    """Source: pandas, which computes nothing: it sees what stands beside the formulas, in every currency."""
    check_totals(written(tmp_path), case.a_basket(case.BOUGHT))


@pytest.mark.soak  # starts a spreadsheet program
@pytest.mark.outside
def test_an_office_program_computes_the_same_totals(tmp_path: Path) -> None:
    """Source: an office program (soffice), given the formulas without results, so that it works them out."""
    path = written(tmp_path)
    load_workbook(path).save(path)  # openpyxl drops the results
    assert str(totals(path, MARSH_TAB)["goods"]) == "nan"
    check_totals(case.office(path), case.a_basket(case.BOUGHT))


@examples(12, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(st.tuples(st.integers(1, 60), st.integers(0, 99_999)), min_size=1, max_size=4),
    st.lists(st.tuples(st.integers(1, 60), st.integers(0, 99_999)), min_size=1, max_size=3),
)
def test_any_list_re_opens_with_its_totals(
    tmp_path: Path, home: list[tuple[int, int]], far: list[tuple[int, int]]
) -> None:
    """Any packs and prices: what pandas reads is what the basket costs."""
    basket = case.a_basket(
        {
            case.MARSH: [(case.KIT, 1000, packs, price) for packs, price in home],
            case.REACH: [(case.PADS, 3000, packs, price) for packs, price in far],
        }
    )
    path = tmp_path / "any.xlsx"
    write_lists(path, case.a_shop(), case.a_list(basket), overwrite=True)
    check_totals(path, basket)


def test_the_formulas_are_real(tmp_path: Path) -> None:
    """Cost, sums, postage from its threshold, minimum order, and a summary that follows its tabs."""
    book = load_workbook(written(tmp_path))
    sheet = book[MARSH_TAB]
    assert sheet["G2"].value == "=E2*F2"
    assert [sheet[f"G{row}"].value for row in (10, 11, 12)] == [
        "=ROUND(SUM(G2:G9),2)",
        "=IF(OR(SUM(E2:E9)=0,G10>=60.00),0,4.90)",
        "=G10+G11",
    ]
    assert sheet["I10"].value == '=IF(AND(G10>0,G10<30.00),"under the minimum order of 30.00 EUR","")'
    assert book["Far Reach"]["G11"].value == 0.92
    assert book["summary"]["C2"].value == f"='{MARSH_TAB}'!G10"
    assert book["summary"]["C3"].value == "='Far Reach'!G8*'Far Reach'!G11"
    assert book["summary"]["B2"].value == f"=COUNTIF('{MARSH_TAB}'!E2:E8,\">0\")"


def test_under_the_minimum_order_the_tab_says_so(tmp_path: Path) -> None:
    """The warning stands beside its formula for readers that do not compute."""
    path = written(tmp_path, case.a_basket({case.MARSH: ((case.KIT, 1000, 1, 430),)}))
    assert "under the minimum order of 30.00 EUR" in pd.read_excel(path, sheet_name=MARSH_TAB)["why"].tolist()


def test_text_stays_text(tmp_path: Path) -> None:
    """A part or a code that begins like a formula is never one."""
    sheet = load_workbook(written(tmp_path))[MARSH_TAB]
    assert (sheet["B4"].value, sheet["B4"].data_type) == (case.ODD, "s")
    assert (sheet["C2"].value, sheet["C2"].data_type) == ("=0-7", "s")


def test_lines_say_all_there_is(tmp_path: Path) -> None:
    """Pack with its unit, whole packs, price, day, reasons, supplier."""
    sheet = load_workbook(written(tmp_path))[MARSH_TAB]
    assert [cell.value for cell in sheet[3]][1:6] == [case.GLUE, "=1-7", "56 ml", 1, 7.05]
    assert sheet["D2"].value == 1
    assert sheet["H2"].value.date() == date(2026, 12, 14)
    assert sheet["I2"].value == "reed is promised"
    assert sheet["J2"].value == case.MARSH
    assert sheet["F2"].number_format.startswith('#,##0.00 "EUR"')
    assert load_workbook(tmp_path / "list.xlsx")[case.ISLAND]["F2"].number_format.startswith('#,##0 "JPY"')


def test_the_pages_are_ready_to_print(tmp_path: Path) -> None:
    """Landscape, as wide as the page, headings again on each, page numbers, frozen, ticked, checked."""
    sheet: Any = load_workbook(written(tmp_path))[MARSH_TAB]
    assert (sheet.page_setup.orientation, sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight) == (
        "landscape",
        1,
        0,
    )
    assert sheet.sheet_properties.pageSetUpPr.fitToPage
    assert sheet.print_title_rows == "$1:$1"
    assert sheet.oddFooter.right.text == "&P / &N"
    assert "Salt/Marsh && Sons" in sheet.oddHeader.left.text
    assert sheet.freeze_panes == "C2"
    assert sheet["A2"].border.left.style == "thin"
    (rule,) = sheet.data_validations.dataValidation
    assert (rule.type, rule.operator, rule.formula1, str(rule.sqref)) == (
        "whole",
        "greaterThanOrEqual",
        "0",
        "E2:E8",
    )


def test_the_summary_tells_what_to_know(tmp_path: Path) -> None:
    """Certainty, other lists, what is missing, near misses, warnings, tools to look at."""
    sheet: Any = load_workbook(written(tmp_path))["summary"]
    told = [str(cell.value) for cell in sheet["A"] if cell.value]
    for sentence in (
        "No list costs less (proven).",
        "What is wanted until Wed 20 Jan 2027, worked out on Wed 25 Nov 2026.",
        f"All from {case.MARSH} would cost 121.70 EUR, the same.",
        "Dunlin kit chrome, 3, wanted by Tue 1 Dec 2026: nobody has it in time; the earliest is Wed 9 Dec 2026, "
        "8 days late (heron is promised).",
        "Far Reach: 12.00 USD short of free postage (22.08 EUR); what you will need soon does not fill that, "
        "and a filler costs more than it saves.",
        "thin CA may not go by air post.",
        "saw: 45 uses of about 50.",
    ):
        assert sentence in told
    assert any("line by line would cost" in text and "2.50 EUR more" in text for text in told)
    assert any(
        "1 more pack of Dunlin kit chrome or =1+1 odd kit reaches the next price break" in text
        for text in told
    )
    assert sheet["A2"].hyperlink.location == f"'{MARSH_TAB}'!A1" or sheet["A2"].hyperlink.target
    assert not sheet._charts


def test_a_gap_is_stated(tmp_path: Path) -> None:
    """Where it is not proven, how much less the best list may cost."""
    basket = case.a_basket(case.BOUGHT)
    unsure = case.a_basket(case.BOUGHT, proven=False, bound=basket.total - 123)
    sheet = load_workbook(written(tmp_path, unsure, per_line=None, one_supplier=None))["summary"]
    told = " ".join(str(cell.value) for cell in sheet["A"])
    assert "may cost up to 1.23 EUR less" in told
    assert "would cost" not in told


@pytest.mark.parametrize(
    ("more", "sentence"), [({}, "Nothing can be ordered."), ({"demands": ()}, "Nothing is wanted.")]
)
def test_an_empty_list(tmp_path: Path, more: dict[str, Any], sentence: str) -> None:
    """Still a workbook: a summary of nothing, and why."""
    path = written(tmp_path, case.a_basket({}), **more)
    assert load_workbook(path).sheetnames == ["summary", "reasons"]
    frame = pd.read_excel(path)
    assert frame.loc[0, "total"] == 0
    assert sentence in frame["supplier"].tolist()


def test_reasons(tmp_path: Path) -> None:
    """Every demand with its amount, its day and why."""
    frame = pd.read_excel(written(tmp_path), sheet_name="reasons")
    assert frame.columns.tolist() == ["part", "wanted", "needed by", "why"]
    assert frame.iloc[0].tolist() == [case.KIT, 8, pd.Timestamp(2026, 12, 14), "reed is promised"]


def test_a_supplier_that_has_not_said_its_terms(tmp_path: Path) -> None:
    """No threshold, no minimum, no lead time: plain postage and no promises."""
    sheet = load_workbook(written(tmp_path))[case.ISLAND]
    assert sheet["G9"].value == "=IF(SUM(E2:E7)=0,0,1250)"
    assert [sheet[f"I{row}"].value for row in (8, 9, 10)] == [None, None, None]


def test_no_file_is_replaced_unasked(tmp_path: Path) -> None:
    """And nothing is left behind."""
    path = written(tmp_path)
    before = path.read_bytes()
    with pytest.raises(Refused, match="there already"):
        written(tmp_path)
    assert path.read_bytes() == before
    assert [one.name for one in tmp_path.iterdir()] == ["list.xlsx"]
    with pytest.raises(Refused, match="no name for a workbook"):
        write_lists(tmp_path / "list.xls", case.a_shop(), case.a_list())


def test_csv_lists(tmp_path: Path) -> None:
    """UTF-8 with its mark, commas and RFC 4180 line ends; pandas adds up the same goods."""
    paths = write_csv_lists(tmp_path / "new" / "lists", case.a_shop(), case.a_list())
    assert [path.stem for path in paths] == [MARSH_TAB, "Far Reach", "Island Post"]
    data = paths[0].read_bytes()
    assert data.startswith(b"\xef\xbb\xbf")
    assert data.count(b"\r\n") == 4
    frame = pd.read_csv(paths[0])
    assert money(float(frame["cost"].sum())) == Decimal("77.13")
    assert frame["pack"].tolist() == ["1", "56 ml", "5"]
    assert set(frame["supplier"]) == {case.MARSH}
    with pytest.raises(Refused, match=r"Far Reach\.csv"):
        write_csv_lists(
            tmp_path / "new" / "lists",
            case.a_shop(),
            case.a_list(case.a_basket({case.REACH: case.BOUGHT[case.REACH]})),
        )
    write_csv_lists(tmp_path / "new" / "lists", case.a_shop(), case.a_list(), overwrite=True)


@pytest.mark.soak  # starts a spreadsheet program
@pytest.mark.outside
def test_an_office_program_reads_the_csv(tmp_path: Path) -> None:
    """Source: an office program (soffice): accents and money survive."""
    (path,) = write_csv_lists(
        tmp_path / "lists", case.a_shop(), case.a_list(case.a_basket({case.MARSH: case.BOUGHT[case.MARSH]}))
    )
    frame = pd.read_excel(case.office(path))
    assert money(float(frame["cost"].sum())) == Decimal("77.13")


def test_a_folder_that_cannot_be_made(tmp_path: Path) -> None:
    """A sentence, where its name is a file's."""
    (tmp_path / "lists").write_text("x")
    with pytest.raises(Refused, match="cannot be made"):
        write_csv_lists(tmp_path / "lists" / "deep", case.a_shop(), case.a_list())


def test_tab_names() -> None:
    """At most 31 characters, none that tabs or files may not have, none twice, none of our own."""
    names = [
        "Summary",
        "a" * 40,
        "a" * 40 + "b",
        "A/B:C",
        "a b c",
        "'",
        "History",
        "con",
        "trailing...",
        "[x]*?\\",
    ]
    found = titles(names)
    assert list(found) == names
    assert found["Summary"] == "Summary 2"
    assert found["'"] == "supplier"
    assert found["trailing..."] == "trailing"
    assert len({title.casefold() for title in found.values()}) == len(names)
    assert max(map(len, found.values())) == 31


@given(st.lists(st.text(min_size=1), max_size=6, unique=True))
def test_tab_names_of_any_suppliers(names: list[str]) -> None:
    """Workbooks take them, whatever the suppliers are called."""
    found = [title.casefold() for title in titles(names).values()]
    assert len(set(found)) == len(found)
    assert all(
        0 < len(title) <= 31 and not re.search(r"[\[\]:*?/\\']", title) for title in titles(names).values()
    )


def test_suppliers_alike_keep_their_own_tabs(tmp_path: Path) -> None:
    """The tab's name does not hang on who else is on the list."""
    twin = Supplier(case.MARSH + " (the other one)", 3)
    write_lists(tmp_path / "list.xlsx", case.a_shop(case.known(twin)), case.a_list())
    assert MARSH_TAB in load_workbook(tmp_path / "list.xlsx").sheetnames


def test_results_are_put_beside_their_formulas(tmp_path: Path) -> None:
    """Numbers and text; a formula nobody knows the result of stays as it is."""
    book, formulas = Workbook(), Formulas()
    sheet: Any = book.active
    formulas.put(sheet["A1"], '="<"&"&"', "<&")
    formulas.put(sheet["A2"], "=1/3", decimal_of(Fraction(1, 3)))
    formulas.put(sheet["A3"], "=2*3", 6)
    sheet["A4"] = "=7"
    formulas.save(book, tmp_path / "f.xlsx")
    read: Any = load_workbook(tmp_path / "f.xlsx", data_only=True).active
    assert [read[f"A{row}"].value for row in (1, 2, 3, 4)] == ["<&", 0.333333333333, 6, None]
    assert [one.name for one in tmp_path.iterdir()] == ["f.xlsx"]


def test_a_workbook_that_is_none_leaves_nothing_behind(tmp_path: Path) -> None:
    """Where the results cannot be put in, the half-made file goes."""
    (tmp_path / "f.xlsx").write_bytes(b"no archive")
    with pytest.raises(zipfile.BadZipFile):
        put_values(tmp_path / "f.xlsx", {})
    assert [one.name for one in tmp_path.iterdir()] == ["f.xlsx"]


@pytest.mark.parametrize("name", ["~Reed", "..Reed", "Reed~", "R_x000D_d"])
def test_a_supplier_named_like_a_file_nobody_reads_has_one_that_is(name: str) -> None:
    """Files that begin with a dot or a tilde are passed over in folders; _x000D_ in a tab's name is a line end."""
    title = titles([name])[name]
    assert title in {"Reed", "R 000D_d"}
