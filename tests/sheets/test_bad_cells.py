"""Every bad cell is named with its file, tab, row, column, what it said and what is accepted."""

from __future__ import annotations

from datetime import date, time
from pathlib import Path

import pytest

from inventory.errors import BadSheet
from inventory.sheets.stock import tables

from .shop import problems, read, shop, with_cell, with_row, write_csvs, write_xlsx

# tab, row, column, what is put there, words of the sentence
CELLS = [
    ("tubes", 2, "outside diameter", "a bit", "not a length"),
    ("tubes", 2, "outside diameter", "0.27", "could be 0.27 mm or 0.27 in"),
    ("tubes", 2, "outside diameter", "0", "zero"),
    ("tubes", 2, "outside diameter", "-7 mm", "negative"),
    ("tubes", 2, "outside diameter", "6.85 m", "too much for a outside diameter"),
    ("tubes", 2, "drill", "#93", "no number drill"),
    ("tubes", 2, "drill", "6.85 mm", "would not go in"),
    ("tubes", 2, "drill", "6 mm", "would not go in"),
    ("tubes", 2, "reorder level", "many", "not an amount"),
    ("barrels", 2, "tube", None, "write “none” and give its length"),
    ("barrels", 2, "tube", "tube 7 x 35", "Did you mean “tube 7 x 53”"),
    ("barrels", 2, "tube", "thin CA", "it has to be one of the tubes"),
    ("barrels", 2, "drill", "6.5 mm", "would not go in"),
    ("barrels", 2, "finished diameter, end A", "7 mm", "nothing would be left"),
    ("barrels", 2, "finished diameter, end B", "6 mm", "nothing would be left"),
    ("barrels", 2, "length", "53 mm", "leave the cell empty"),
    ("barrels", 4, "length", None, "needs its length"),
    ("barrels", 4, "finished diameter, end B", "5/16", "nothing would be left"),
    ("barrels", 2, "family", "Dunlen", "Did you mean “Dunlin”"),
    ("barrels", 3, "barrel", "Upper", "given twice"),
    ("kits", 2, "family", "Dunlim", "Did you mean “Dunlin”"),
    ("kits", 2, "plating", "crome", "Did you mean “chrome”"),
    ("kits", 2, "tubes included", "perhaps", "neither yes nor no"),
    ("kits", 3, "part", "dunlin  KIT chrome", "kits, row 2"),
    ("kits", 2, "part", "tube 7 x 53", "tubes, row 2"),
    ("blanks", 2, "material", "olive", "Did you mean “olive wood”"),
    ("blanks", 2, "shape", "triangular", "one of square, round, natural"),
    ("blanks", 2, "width", "19 m", "longer than 10 m"),
    ("materials", 2, "spoiled at drill", "100 %", "below 100 %"),
    ("materials", 2, "spoiled at drill", 2, "if 2 % is meant"),
    ("materials", 2, "spoiled at drill", -0.1, "negative"),
    ("supplies", 3, "unit", None, "empty"),
    ("platings", 2, "substitutes", "rodium", "Did you mean “rhodium”"),
    ("platings", 2, "substitutes", "Chrome", "stand in for itself"),
    ("families", 2, "refill", "slim refil", "Did you mean “slim refill”"),
    ("families", 2, "refill", "7 mm pilot", "one of the supplies"),
    ("families", 2, "bushings", "Dunlin bushing", "Did you mean “Dunlin bushings”"),
    ("families", 2, "trimmer pilot", "7 mm pilot; 9 mm pilot", "no tool called “9 mm pilot”"),
    ("families", 2, "trimmer pilot", "thin CA", "one of the tools"),
    ("supplies", 2, "unit", "splash", "not a unit known"),
    ("supplies", 2, "net", "2 bottles", "how much a bottle holds"),
    ("supplies", 2, "net", 0, "cannot be zero"),
    ("supplies", 2, "shelf life sealed", "long", "not a number"),
    ("supplies", 2, "shelf life sealed", 0, "not a number of days"),
    ("supplies", 2, "shelf life opened", "1/2 day", "not a number of days"),
    ("supplies", 2, "working time", "1/2 min", "not a number of minutes"),
    ("supplies", 2, "working time", 0, "not a number of minutes"),
    ("supplies", 2, "working time", "5 hours", "not a number"),
    ("supplies", 2, "density", 0, "no density"),
    ("supplies", 2, "density", "heavy", "not a number"),
    ("supplies", 2, "type", "adhesve", "Did you mean “adhesive”"),
    ("tools", 4, "size", None, "needs its size"),
    ("tools", 4, "size", "big", "not a length"),
    ("tools", 5, "size", "thin", "not a length"),
    ("tools", 2, "inspect after, in uses", 0, "out of reach"),
    ("tools", 2, "inspect after, in uses", 1.5, "not a whole number"),
    ("suppliers", 2, "lead days", -1, "out of reach"),
    ("suppliers", 2, "lead days", 9999, "out of reach"),
    ("suppliers", 2, "currency", "XYZ", "no currency in use"),
    ("suppliers", 2, "postage", "4.905", "finer than the smallest coin"),
    ("suppliers", 2, "postage", "$4.90", "not in EUR"),
    ("suppliers", 3, "postage", "12.50", "finer than the smallest coin of JPY"),
    ("suppliers", 2, "email", "by post", "not an address"),
    ("suppliers", 3, "supplier", "saltmarsh turning", "given twice"),
    ("offers", 2, "supplier", "Saltmarsh Turner", "Did you mean “Saltmarsh Turning”"),
    ("offers", 2, "part", "Dunlin chrome kit", "There is no part called"),
    ("offers", 2, "pack", 0, "cannot be zero"),
    ("offers", 2, "pack", 2.5, "Kits come whole"),
    ("offers", 2, "price", 0, "cannot be zero"),
    ("offers", 2, "price", -3, "negative"),
    ("offers", 3, "from packs", 0, "out of reach"),
    ("offers", 3, "from packs", None, "given twice"),
    ("offers", 3, "price group", "wide", "into the group “slim”"),
    ("offers", 2, "seen on", date(2027, 1, 1), "still to come"),
    ("offers", 2, "at most packs", "few", "not a number"),
    ("offers", 2, "at most packs", -1, "out of reach"),
    ("offers", 3, "at most packs", 30, "40 of this offer are left"),
    ("patterns", 2, "family", "Dunlyn", "Did you mean “Dunlin”"),
    ("patterns", 3, "pattern", "DUNLIN slim", "given twice"),
    ("patterns", 2, "minutes", 0, "out of reach"),
    ("bills", 2, "stage", "carve", "one of cut, drill, glue, trim, turn, finish, assemble, pack"),
    ("bills", 2, "per", "pen", "one of piece, barrel"),
    ("bills", 2, "quantity", 0, "cannot be zero"),
    ("bills", 4, "quantity", "1 m", "cannot be turned into ml"),
    ("bills", 2, "pattern", "Dunlin slym", "Did you mean “Dunlin slim”"),
    ("bills", 2, "part", "the clip", "The roles are the kit, the tubes, the blank, the refill"),
    ("bills", 4, "part", "thick CA", "Did you mean “thin CA”"),
    ("bills", 5, "part", "Redshank plain", "only a pattern of the same family"),
    ("bills", 10, "part", "the tubes", "No barrel of Redshank has a tube"),
    ("bills", 10, "part", "the refill", "has no refill"),
    ("bills", 10, "per", "tube glue volume", "no glue around one"),
    ("counts", 2, "part", "Dunlin kit crome", "Did you mean “Dunlin kit chrome”"),
    ("counts", 2, "quantity", 2.5, "Kits come whole"),
    ("counts", 3, "quantity", "1/2", "Tubes come whole"),
    ("counts", 6, "quantity", 0.5, "Blanks come whole"),
    ("counts", 2, "quantity", -1, "negative"),
    ("counts", 2, "quantity", "3 bottles", "how much a bottle holds"),
    ("counts", 2, "quantity", 1e12, "more than anyone keeps"),
    ("counts", 2, "quantity", "twelve", "begin with a number"),
    ("counts", 2, "quantity", None, "empty"),
    ("counts", 2, "unit cost", "cheap", "not a sum of money"),
    ("counts", 4, "received on", date(2026, 12, 24), "still to come"),
    ("counts", 4, "opened on", date(2026, 12, 24), "still to come"),
    ("counts", 4, "opened on", date(2026, 3, 1), "is before “received on”"),
    ("counts", 4, "use by", date(2026, 1, 1), "is before “received on”"),
    ("counts", 4, "use by", "2027-02-29", "There is no 29 February 2027"),
    ("counts", 4, "use by", "31.11.2026", "no 31 November"),
    ("counts", 4, "use by", "03/04/2027", "could be"),
    ("counts", 4, "use by", 46351, "day number"),
    ("counts", 5, "quantity", 2, "own row with the quantity 1"),
    ("counts", 5, "smallest diameter", None, "needs its smallest diameter too"),
    ("counts", 5, "length", None, "needs its length too"),
    ("counts", 5, "length", "110 m", "longer than 10 m"),
    ("counts", 3, "smallest diameter", "7 mm", "only blanks are measured"),
    ("counts", 3, "length", "7 mm", "only blanks are measured"),
    ("orders", 2, "pattern", "Dunlin slimm", "Did you mean “Dunlin slim”"),
    ("orders", 2, "blank", "olive blanc", "Did you mean “olive blank”"),
    ("orders", 2, "blank", "thin CA", "one of the blanks"),
    ("orders", 2, "count", 0, "out of reach"),
    ("orders", 2, "count", 1.5, "not a whole number"),
    ("orders", 2, "count", "four", "not a number"),
    ("orders", 2, "due", date(2026, 11, 24), "has passed; today is 2026-11-25"),
    ("orders", 2, "platings", "chrome; gold", "no plating called “gold”"),
    ("orders", 2, "platings", "chrome, gold", "no plating called “gold”"),
    ("orders", 2, "platings", "chrome/chrome", "listed twice"),
    ("orders", 2, "platings", None, "Which plating? The kits of Dunlin come in chrome, rhodium"),
    ("orders", 2, "plating", "silver", "no plating called “silver”"),
    ("orders", 2, "refill", "tube 7 x 53", "one of the supplies"),
    ("orders", 2, "extra diameter", "1 m", "too much"),
    ("orders", 2, "price", "48.005", "finer than the smallest coin"),
    ("orders", 3, "order", "Harbour", "given twice"),
    ("bills", 2, "part", None, "empty"),
    ("orders", 2, "pattern", None, "empty"),
    ("families", 2, "bushings", "a set, another", "no tool called “a set, another”"),
    ("counts", 2, "lot", "x" * 2001, "2001 characters"),
    ("kits", 2, "part", "K" * 121, "121 characters"),
    ("kits", 2, "part", "Dunlin\x07kit", "cannot be shown"),
]


@pytest.mark.parametrize(("tab", "row", "column", "value", "words"), CELLS, ids=lambda value: str(value)[:40])
def test_a_bad_cell_in_csv_is_named(
    tmp_path: Path, tab: str, row: int, column: str, value: object, words: str
) -> None:
    """In CSV: the file, tab, row, column and what is accepted are told."""
    folder = write_csvs(tmp_path / "shop", with_cell(tab, row, column, value))
    found = [one for one in problems(folder) if (one.tab, one.row, one.column) == (tab, row, column)]
    assert found, problems(folder)
    assert {one.file for one in found} == {f"shop/{tab}.csv"}
    assert any(words in one.problem for one in found), found


@pytest.mark.parametrize(
    ("tab", "row", "column", "value", "words"), CELLS[::4], ids=lambda value: str(value)[:40]
)
def test_a_bad_cell_in_a_workbook_is_named(
    tmp_path: Path, tab: str, row: int, column: str, value: object, words: str
) -> None:
    """In a workbook: the same, whether the cell holds text, a number or a date."""
    if isinstance(value, str) and "\x07" in value:
        pytest.skip("XML cannot hold this character")
    path = write_xlsx(tmp_path / "shop.xlsx", with_cell(tab, row, column, value))
    found = [one for one in problems(path) if (one.tab, one.row, one.column) == (tab, row, column)]
    assert {one.file for one in found} == {"shop.xlsx"}, problems(path)
    assert any(words in one.problem for one in found), found


WORKBOOK_CELLS = [
    ("tubes", 2, "drill", date(2026, 3, 16), "turned this into a date or time, 2026-03-16"),
    ("counts", 3, "quantity", date(2026, 1, 2), "Format the column as text"),
    ("counts", 3, "quantity", time(7, 0), "date or time"),
    ("counts", 3, "quantity", True, "holds TRUE"),
    ("suppliers", 2, "lead days", 10.0**20, "out of reach"),
    ("counts", 4, "use by", time(7, 0), "not a date"),
    ("counts", 3, "quantity", "#REF!", "shows the error #REF!"),
    ("counts", 2, "part", "#N/A", "shows the error #N/A"),
]


@pytest.mark.parametrize(
    ("tab", "row", "column", "value", "words"), WORKBOOK_CELLS, ids=lambda v: str(v)[:30]
)
def test_what_only_a_workbook_can_hold(
    tmp_path: Path, tab: str, row: int, column: str, value: object, words: str
) -> None:
    """Dates made of fractions, truth values and error values are told from what was meant."""
    found = problems(write_xlsx(tmp_path / "shop.xlsx", with_cell(tab, row, column, value)))
    assert [(place.row, place.column) for place in found] == [(row, column)]
    assert words in found[0].problem


def test_one_mistake_is_one_problem(tmp_path: Path) -> None:
    """A tube that cannot be read does not make its barrels unknown, nor their family barren."""
    for column, value in (("length", "?"), ("drill", "#99"), ("outside diameter", "?")):
        found = problems(write_xlsx(tmp_path / "shop.xlsx", with_cell("tubes", 2, column, value)))
        assert [(place.tab, place.row, place.column) for place in found] == [("tubes", 2, column)]


def test_a_family_that_loses_its_refill_is_told_where_the_bill_asks_for_it(tmp_path: Path) -> None:
    """`the refill` stands in a bill, and the family names none."""
    found = problems(write_xlsx(tmp_path / "shop.xlsx", with_cell("families", 2, "refill", None)))
    assert [(place.tab, place.row, place.column) for place in found] == [("bills", 7, "part")]
    assert "has no refill" in found[0].problem


@pytest.mark.parametrize(("tab", "column"), [("bills", "pattern"), ("barrels", "family")])
def test_a_misspelt_owner_is_not_told_twice(tmp_path: Path, tab: str, column: str) -> None:
    """A row that went astray does not make the pattern or family it was meant for look bare."""
    tabs = with_cell(
        tab, 4 if tab == "barrels" else 2, column, "Redshenk" if tab == "barrels" else "Dunlin slym"
    )
    found = problems(write_xlsx(tmp_path / "shop.xlsx", tabs))
    assert [(place.tab, place.column) for place in found] == [(tab, column)]


def test_a_bad_bill_line_does_not_make_a_role_missing(tmp_path: Path) -> None:
    """The line for `the kit` is there, only its quantity is wrong: that alone is told."""
    found = problems(write_xlsx(tmp_path / "shop.xlsx", with_cell("bills", 11, "quantity", "one")))
    assert [(place.tab, place.column) for place in found] == [("bills", "quantity")]


def test_an_order_of_a_pattern_that_cannot_be_read_is_not_blamed(tmp_path: Path) -> None:
    """Which platings its family has is not known yet."""
    tabs = with_cell("patterns", 4, "minutes", "soon")
    found = problems(write_xlsx(tmp_path / "shop.xlsx", tabs))
    assert [(place.tab, place.column) for place in found] == [("patterns", "minutes")]


def test_everything_wrong_is_told_at_once(tmp_path: Path) -> None:
    """Problems of several tabs and kinds come together, with a count, and nothing is handed on."""
    tabs = shop()
    tabs["tubes"][1][1] = "wide"
    tabs["counts"][1][1] = -4
    tabs["kits"][2][2] = "brass"
    tabs["orders"][1][3] = 0
    with pytest.raises(
        BadSheet, match=r"^4 things in 4 tabs cannot be taken, so nothing was loaded"
    ) as caught:
        read(write_xlsx(tmp_path / "shop.xlsx", tabs))
    assert [(place.tab, place.row, place.column, place.said) for place in caught.value.where] == [
        ("tubes", 2, "outside diameter", "wide"),
        ("kits", 3, "plating", "brass"),
        ("counts", 2, "quantity", "-4"),
        ("orders", 2, "count", "0"),
    ]


ROWS = [
    ("bills", ("Dunlin finish", "finish", "Dunlin slim", 1, "piece"), "takes itself in"),
    ("bills", ("Dunlin finish", "finish", "Dunlin finish", 1, "piece"), "Dunlin finish → Dunlin finish"),
    ("bills", ("Dunlin slim", "glue", "THE tubes", 1, "piece"), "given twice"),
    ("families", ("Godwit", "seam ripper"), ""),
    ("patterns", ("Godwit plain", "Godwit"), "no family called “Godwit”"),
]


@pytest.mark.parametrize(("tab", "cells", "words"), ROWS, ids=lambda value: str(value)[:40])
def test_a_row_too_many(tmp_path: Path, tab: str, cells: tuple[object, ...], words: str) -> None:
    """A row that is well in itself may still disagree with the others; a family nobody uses may stay bare."""
    found = problems(write_xlsx(tmp_path / "shop.xlsx", with_row(tab, *cells)))
    assert ([place.row for place in found] == [len(shop()[tab]) + 1]) is bool(words), found
    assert all(words in place.problem for place in found)


def test_a_family_without_barrels_cannot_be_made_from(tmp_path: Path) -> None:
    """A pattern of a family without barrels is refused at the pattern."""
    tabs = with_row("families", "Godwit", "seam ripper")
    tabs["patterns"].append(["Godwit plain", "Godwit", None, None])
    found = problems(write_xlsx(tmp_path / "shop.xlsx", tabs))
    assert [(place.tab, place.row, place.column) for place in found] == [("patterns", 5, "family")]
    assert "has no barrels" in found[0].problem


@pytest.mark.parametrize("role", ["the kit", "the blank"])
def test_a_missing_role_is_named(tmp_path: Path, role: str) -> None:
    """A bill without a line for the kit or the blank is refused, naming the missing role."""
    tabs = shop()
    tabs["bills"] = [row for row in tabs["bills"] if row[2] != role or row[0] != "Dunlin slim"]
    found = problems(write_xlsx(tmp_path / "shop.xlsx", tabs))
    assert [(place.tab, place.row, place.said) for place in found] == [("patterns", 2, "Dunlin slim")]
    assert f"missing role is “{role}”" in found[0].problem


def test_fifty_unknown_parts_are_told_with_their_nearest(tmp_path: Path) -> None:
    """The same unknown name is sought once, however often it stands there."""
    tabs = shop(counts=[["part", "quantity"], *[["Dunlin kit crome", 1]] * 500])
    found = problems(write_csvs(tmp_path / "shop", tabs))
    assert len(found) == 500
    assert len({place.problem for place in found}) == 1


def test_a_sheet_bad_as_a_whole_is_not_told_to_its_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After so many bad cells reading ends, and says so at its row; what was found is told."""
    monkeypatch.setattr(tables, "MOST_PROBLEMS", 3)
    rows: list[list[object]] = [["chrome"]] * 5
    found = problems(write_csvs(tmp_path / "many", {"platings": [["plating"], *rows]}))
    assert [place.row for place in found] == [3, 4, 5, 6]
    assert "reading ended" in found[-1].problem
