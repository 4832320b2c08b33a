"""`orders --within`: what is due so soon, what it lacks, from whom, by when, and the work that is left."""

from __future__ import annotations

import csv
from decimal import Decimal
from math import ceil
from pathlib import Path

import pytest
from openpyxl import load_workbook

from .buying import SALT
from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")


def test_what_each_lacks_from_whom_and_by_when(kitdrawer: Kitdrawer) -> None:
    """S42 is due on 14 December and lacks kits that come three days after they are ordered: by the eleventh."""
    for order in ("S41", "S42"):
        kitdrawer("promise", order, "--yes")
    answer = kitdrawer("orders", "--within", "16d", "--json").json
    assert answer["until"].startswith("2026-12-14")
    first, second = answer["orders"]
    assert (first["order"], first["to_make"], first["minutes"], first["lacking"]) == ("S41", 2, 50, [])
    assert (second["to_make"], second["minutes"]) == (6, 210)  # 35 minutes a pen, by the patterns tab
    kits = next(one for one in second["lacking"] if one["part"] == "Dunlin kit gunmetal")
    wanted = {claim["part"]: claim["quantity"] for claim in second["claims"] if claim["from"] == "to buy"}
    assert {one["part"]: one["quantity"] for one in second["lacking"]} == wanted
    assert (kits["supplier"], kits["here_on"], kits["order_by"]) == (SALT, "2026-12-01", "2026-12-11")
    said = kitdrawer("orders", "--within", "16 days").out
    assert said.startswith(
        "2 orders are due by Mon 14 Dec 2026, 4 h 20 min of work left. 1 lacks something.\n"
    )
    assert "Saltmarsh Turning Supplies, order by Fri 11 Dec" in " ".join(said.split())
    assert max(map(len, said.splitlines())) <= 80


def test_what_is_ordered_is_due_in_and_no_longer_to_order(kitdrawer: Kitdrawer) -> None:
    """Once it is placed the parcel's day stands there."""
    kitdrawer("promise", "S42", "--yes")
    kitdrawer("placed", "--supplier", SALT, "--yes")
    (one,) = [
        one for one in kitdrawer("orders", "--within", "3w", "--json").json["orders"] if one["order"] == "S42"
    ]
    assert {(lack["supplier"], lack["order_by"]) for lack in one["lacking"]} == {(SALT, None)}
    assert "due in Tue 1 Dec from Saltmarsh" in " ".join(kitdrawer("orders", "--within", "3w").out.split())


def test_hours_left_against_hours_needed(kitdrawer: Kitdrawer) -> None:
    """Two Tuesdays of two hours before the 14th; three ripper starts of 25 and seven pens of 35 are 320 minutes."""
    for order in ("S41", "S42"):
        kitdrawer("promise", order, "--yes")
    found = kitdrawer("orders", "--within", "16d", "--json").json["orders"]
    assert [one["minutes_there_by_then"] for one in found] == [None, None]
    kitdrawer("hours", "tue 2", "--yes")
    found = kitdrawer("orders", "--within", "16d", "--json").json["orders"]
    assert [(one["minutes_needed_by_then"], one["minutes_there_by_then"]) for one in found] == [
        (3 * 25, 240),
        (3 * 25 + 7 * 35, 240),
    ]
    said = " ".join(kitdrawer("orders", "--within", "16d").out.split())
    assert "Until then 4 h, needed for all due by then 1 h 15 min." in said
    assert "needed for all due by then 5 h 20 min, 1 h 20 min TOO FEW." in said


def test_a_sheet_of_it(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """A row for each part that is lacking, one for an order that lacks none; a workbook and a CSV say the same."""
    for order in ("S41", "S42"):
        kitdrawer("promise", order, "--yes")
    book, plain = tmp_path / "due.xlsx", tmp_path / "due.csv"
    told = kitdrawer("orders", "--within", "16d", "--save", str(book), "--json").json["orders"]
    kitdrawer("orders", "--within", "16d", "--save", str(plain))
    sheet = load_workbook(book)["due soon"]
    heads, *rows = [[cell.value for cell in row] for row in sheet.iter_rows()]
    lacking = [one["lacking"] for one in told]
    assert len(rows) == sum(max(len(several), 1) for several in lacking)
    at = {head: heads.index(head) for head in ("order", "short", "quantity", "from", "order by", "minutes")}
    assert {(row[at["order"]], row[at["short"]]) for row in rows} == {
        ("S41", None),
        *(("S42", lack["part"]) for lack in lacking[1]),
    }
    kits = next(row for row in rows if row[at["short"]] == "Dunlin kit gunmetal")
    wanted = next(lack for lack in lacking[1] if lack["part"] == "Dunlin kit gunmetal")
    assert (kits[at["quantity"]], kits[at["from"]], str(kits[at["order by"]])[:10]) == (
        float(wanted["quantity"]),
        SALT,
        "2026-12-11",
    )
    glue = next(row for row in rows if row[at["short"]] == "accelerator")
    exact = next(lack for lack in lacking[1] if lack["part"] == "accelerator")
    assert glue[at["quantity"]] == f"{ceil(exact['quantity'])} ml"  # as a hand can measure it
    with plain.open(encoding="utf-8-sig", newline="") as file:
        lines = list(csv.reader(file))
    assert [head for head in lines[0] if head != "unit"] == heads  # a program wants number and unit apart
    assert [line[at["short"]] for line in lines[1:]] == [row[at["short"]] or "" for row in rows]
    again = kitdrawer("orders", "--within", "16d", "--save", str(book))
    assert (again.code, "is there already" in " ".join(again.err.split())) == (1, True)
    assert kitdrawer("orders", "--within", "16d", "--save", str(book), "--overwrite").code == 0
    assert "--save goes with --within" in kitdrawer("orders", "--save", str(book)).err
    assert "is no name for a workbook" in kitdrawer("orders", "--within", "1d", "--save", "due.pdf").err


def test_a_wish_whose_parts_come_too_late(kitdrawer: Kitdrawer) -> None:
    """S43 is only asked for: its kits take 25 days, so that it says so, with the earliest day."""
    said = " ".join(kitdrawer("orders", "--within", "3w").out.split())
    assert "S43 Tue 15 Dec 5 2 h 30 min enquiry, too late" in said
    assert "4 × Sanderling kit rhodium: Far Reach Fittings, too late, here Wed 23 Dec at the earliest" in said


def test_what_nobody_sells(kitdrawer: Kitdrawer) -> None:
    """S44 wants a plating that is gone."""
    found = kitdrawer("orders", "--within", "60", "--json").json["orders"]
    lack = next(
        one for order in found if order["order"] == "S44" for one in order["lacking"] if not one["supplier"]
    )
    assert (lack["part"], lack["here_on"]) == ("Whimbrel kit antique copper", None)
    assert lack["quantity"] >= Decimal(1)
    assert "Whimbrel kit antique copper: nobody sells it" in " ".join(
        kitdrawer("orders", "--within", "60").out.split()
    )


@pytest.mark.usefixtures("booked")
def test_finished_pieces_are_not_to_make(kitdrawer: Kitdrawer) -> None:
    """An order that is served by the pen on the shelf has no work left."""
    words = ("--pattern", "Avocet pen", "--plating", "chrome", "--blank", "olivewood blank", "--count", "1")
    assert kitdrawer("promise", "A1", *words, "--by", "2026-12-01", "--yes").code == 0
    (one,) = kitdrawer("orders", "--within", "7d", "--json").json["orders"]
    assert (one["order"], one["to_make"], one["minutes"], one["lacking"]) == ("A1", 0, 0, [])
    said = kitdrawer("orders", "--within", "1w").out
    assert "1 order is due by Sat 5 Dec 2026, 0 min of work left. Nothing is lacking." in said
    assert "A1 Tue 1 Dec finished: hand it over" in " ".join(said.split())


def test_what_is_past_its_day_is_due_soon(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> None:
    """Overdue orders are among what is due soon; nothing at all says so."""
    kitdrawer("promise", "S41", "--yes")
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-12-13")
    assert "S41 Sat 12 Dec OVERDUE 2 50 min" in " ".join(kitdrawer("orders", "--within", "0").out.split())
    assert kitdrawer("release", "S41", "--yes").code == 0
    assert kitdrawer("orders", "--within", "0").out == "Nothing is due by Sun 13 Dec 2026.\n"


@pytest.mark.parametrize(
    ("words", "says"),
    [(("x",), "“x” is no number of days."), (("7d", "S42"), "--within is for all open orders.")],
)
def test_refused_with_a_sentence(kitdrawer: Kitdrawer, words: tuple[str, ...], says: str) -> None:
    """Neither a guess nor a traceback."""
    answer = kitdrawer("orders", "--within", *words)
    assert answer.code == 1
    assert says in answer.err
