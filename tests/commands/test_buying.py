"""Buying: the list, its workbook, and placing it."""

from __future__ import annotations

import csv
import shutil
import subprocess
from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl
import pandas as pd
import pytest

from .buying import SALT, edited, shelf
from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")

SAMPLE = Path(__file__).resolve().parents[2] / "sample_stock"


def test_the_list_keeps_its_promises_in_json(kitdrawer: Kitdrawer) -> None:
    """Every promised field; sums agree with the lines; every line says why."""
    kitdrawer("promise", "S42", "--yes")
    told = kitdrawer("shopping", "--json").json
    assert told["currency"] == "EUR"
    assert told["until"] == "2027-01-23"  # eight weeks on, as the help says
    assert told["proven"] is True
    assert told["gap"] == 0
    assert told["total"] == told["goods"] + told["postage"]
    for one in told["lists"]:
        assert one["goods"] == sum(line["cost"] for line in one["lines"])
        assert all(line["cost"] == line["packs"] * line["price"] for line in one["lines"])
        assert all(line["why"] for line in one["lines"])
    kit = next(
        line for one in told["lists"] for line in one["lines"] if line["part"] == "Dunlin kit gunmetal"
    )
    assert (kit["packs"], kit["needed_by"]) == (4, "2026-12-14")
    assert told["cheapest_per_line"] >= told["total"]
    assert {"near_misses", "unfilled", "warnings"} <= set(told)


def test_spare_tubes_are_bought_as_tubes(kitdrawer: Kitdrawer) -> None:
    """A short tube is not bought inside another kit."""
    kitdrawer("promise", "S42", "--yes")
    told = kitdrawer("shopping", "--json").json
    lines = [line for one in told["lists"] for line in one["lines"]]
    tubes = sum(line["packs"] * line["pack"] for line in lines if line["part"] == "tube 7 x 53")
    assert tubes >= 9
    assert sum(line["packs"] for line in lines if line["part"] == "Dunlin kit gunmetal") == 4


def test_the_screen_fits_and_leads_with_the_sum(kitdrawer: Kitdrawer) -> None:
    """The answer first, 80 columns, the naive list and the near misses said."""
    kitdrawer("promise", "S42", "--yes")
    out = kitdrawer("shopping").out
    assert out.startswith(
        "Buy 14 lines for 167.63 EUR; Saltmarsh Turning Supplies by Fri 11 Dec 2026.\nS42 waits for it;"
    )
    assert len(out.splitlines()) <= 24
    assert [line for line in out.splitlines() if len(line) > 80] == []
    assert [line for line in out.splitlines() if "S42, due Mon 14 Dec" in line]
    why = kitdrawer("shopping", "--why").out
    assert [line for line in why.splitlines() if len(line) > 80] == []
    assert "line by line would cost" in why
    assert "Nearly:" in why
    assert "S42 is promised for Mon 14 Dec" in " ".join(why.split())
    every = kitdrawer("shopping", "--all").out
    assert [line for line in every.splitlines() if len(line) > 80] == []
    told = kitdrawer("shopping", "--json").json
    assert all(line["supplier_code"] in every for one in told["lists"] for line in one["lines"])


def test_what_nobody_sells_is_said(kitdrawer: Kitdrawer) -> None:
    """S44 wants a kit no supplier has; the list ends with exit code 3."""
    kitdrawer("promise", "S44", "--yes")
    answer = kitdrawer("shopping")
    assert answer.code == 3
    assert "Left off" in answer.out
    assert "nobody offers it" in " ".join(answer.out.split())


def test_without_and_only(kitdrawer: Kitdrawer) -> None:
    """Suppliers can be left out or kept to; both of one contradict."""
    kitdrawer("promise", "S42", "--yes")
    only = kitdrawer("shopping", "--only", SALT, "--json").json
    assert [one["supplier"] for one in only["lists"]] == [SALT]
    without = kitdrawer("shopping", "--without", SALT, "--json").json
    assert SALT not in [one["supplier"] for one in without["lists"]]
    assert kitdrawer("shopping", "--only", SALT, "--without", SALT).code == 1
    assert "Saltmarsh" in kitdrawer("shopping", "--only", "Saltmarsh Turning Supply").err


def test_a_budget_buys_promises_first(kitdrawer: Kitdrawer) -> None:
    """Within 45.00 the promise is served; the rest is named as beyond the budget."""
    kitdrawer("promise", "S42", "--yes")
    told = kitdrawer("shopping", "--budget", "45", "--json").json
    bought = {line["part"] for one in told["lists"] for line in one["lines"]}
    assert told["total"] <= 45
    assert {"Dunlin kit gunmetal", "tube 7 x 53", "accelerator"} <= bought
    assert any(one["why"] == "beyond the budget" for one in told["unfilled"])


def test_a_budget_says_what_it_reaches(kitdrawer: Kitdrawer) -> None:
    """Whole orders and points of trouble, proven; what is left out says what the list would cost with it."""
    for order in ("S42", "S46"):
        kitdrawer("promise", order, "--yes")
    told = kitdrawer("shopping", "--budget", "60", "--json").json
    choice = told["choice"]
    assert (choice["orders"], choice["of_orders"], choice["proven"]) == (2, 2, True)
    assert choice["trouble"] == choice["most_trouble"] < choice["of_trouble"]
    assert told["cheapest_per_line"] is None
    left = [one for one in told["unfilled"] if one["why"] == "beyond the budget"]
    assert left
    assert all(one["total_with_it"] > 60 for one in left)
    out = " ".join(kitdrawer("shopping", "--budget", "60").out.split())
    assert "2 of 2 promised orders whole" in out
    assert "no choice within it serves more" in out
    assert f"with it the list costs {left[0]['total_with_it']} EUR" in out
    little = kitdrawer("shopping", "--budget", "5", "--json").json
    assert little["choice"]["orders"] == 0
    assert "and all else that S42 lacks the list costs" in " ".join(
        kitdrawer("shopping", "--budget", "5").out.split()
    )
    assert kitdrawer("shopping", "--json").json["choice"] is None


def test_free_postage_nearly_reached_is_filled_with_what_is_needed(
    kitdrawer: Kitdrawer, tmp_path: Path
) -> None:
    """On screen, in JSON and in the workbook: by how much, with what, why, and what it saves."""
    words = ["shopping", "--budget", "58", "--save", str(tmp_path / "list.xlsx")]
    assert "makes postage free, saves " in " ".join(kitdrawer(*words).out.split())
    out = " ".join(kitdrawer("shopping", "--budget", "58", "--why").out.split())
    told = kitdrawer("shopping", "--budget", "58", "--json").json
    (miss,) = (one for one in told["near_misses"] if one["kind"] == "postage" and one["supplier"] == SALT)
    goods = next(one["goods"] for one in told["lists"] if one["supplier"] == SALT)
    assert (miss["short"], miss["postage"], miss["pays"]) == (60 - goods, Decimal("5.90"), True)
    assert sum(fill["cost"] for fill in miss["fill"]) >= miss["short"]
    assert all(fill["needed"] and fill["why"] for fill in miss["fill"])
    assert 0 < miss["saving"] <= miss["postage"]
    assert f"{miss['short']} EUR short of free postage (5.90 EUR). You will need these soon anyway" in out
    assert f"the list then costs {miss['extra']} EUR more, and {miss['saving']} EUR is saved" in out
    sentences = pd.read_excel(tmp_path / "list.xlsx", sheet_name="summary")["supplier"].dropna().tolist()
    assert any("short of free postage" in text and "soon anyway" in text for text in sentences)


def test_a_late_promise_is_always_bought(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """S43's kits come 8 days late: on the list, as early as can be, and named as late, without asking."""
    kitdrawer("promise", "S43", "--yes")
    late = kitdrawer("shopping", "--save", str(tmp_path / "late.xlsx"))
    said = " ".join(late.out.split())
    assert late.code == 3
    assert "Too late Sanderling kit rhodium, 3: arrives Wed 23 Dec, 8 days late" in said
    assert "Left off" not in said
    sentences = pd.read_excel(tmp_path / "late.xlsx", sheet_name="summary")["supplier"].dropna().tolist()
    assert any("Sanderling kit rhodium, 3: arrives 2026-12-23, 8 days late" in text for text in sentences)
    told = kitdrawer("shopping", "--json").json
    lines = {line["part"]: line for one in told["lists"] for line in one["lines"]}
    assert lines["Sanderling kit rhodium"]["needed_by"] == "2026-12-15"
    (one,) = (one for one in told["unfilled"] if one["part"] == "Sanderling kit rhodium")
    assert (one["days_late"], one["bought"], one["earliest"]) == (8, True, "2026-12-23")
    assert "--late is not needed" in kitdrawer("shopping", "--late").err
    assert kitdrawer("placed", "--supplier", "Far Reach Fittings", "--yes").code == 0
    assert shelf(kitdrawer, "Sanderling kit rhodium")["due_in"] == 3
    assert shelf(kitdrawer, "Sanderling kit rhodium")["to_buy"] == 0


def test_a_promise_past_its_day_stays_on_the_list(
    kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A year later it still waits: bought from whoever is first, named as late, and `orders` ends with 3."""
    kitdrawer("promise", "S43", "--yes")
    monkeypatch.setenv("KITDRAWER_TODAY", "2027-12-10")
    told = kitdrawer("shopping", "--json").json
    lists = {line["part"]: one for one in told["lists"] for line in one["lines"]}
    assert lists["Sanderling kit rhodium"]["supplier"] == "Far Reach Fittings"
    (one,) = (one for one in told["unfilled"] if one["part"] == "Sanderling kit rhodium")
    assert (one["days_late"], one["bought"], one["earliest"]) == (385, True, "2028-01-04")
    orders = kitdrawer("orders", "S43")
    assert "to buy, overdue" in orders.out
    assert orders.code == 3


def test_a_supplier_has_only_so_many_packs(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """What is left of an offer, on its row of the sheet: the list takes no more there, and the rest elsewhere."""

    def of(supplier: str) -> int:
        lists = kitdrawer("shopping", "--json").json["lists"]
        lines = [line for one in lists if one["supplier"] == supplier for line in one["lines"]]
        return sum(line["packs"] for line in lines if line["part"] == line_of["part"])

    kitdrawer("promise", "S42", "--yes")
    first = max(kitdrawer("shopping", "--json").json["lists"], key=lambda one: len(one["lines"]))
    line_of = max(first["lines"], key=lambda line: line["packs"])
    before = of(first["supplier"])
    rows = list(csv.reader((SAMPLE / "offers.csv").read_text(encoding="utf-8").splitlines()))
    mine = [r for r in rows[1:] if r[:2] == [first["supplier"], line_of["part"]]]
    sheet = tmp_path / "offers.csv"
    with sheet.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([[*rows[0], "at most packs"], *([*row, before - 1] for row in mine)])
    kitdrawer("load", str(sheet), "--yes")
    assert before > 1
    assert of(first["supplier"]) < before


def test_a_currency_without_a_rate_is_left_out_and_said(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Nothing is guessed about another coin."""
    path = str(tmp_path / "other.kitdrawer")
    kitdrawer("begin", "--store", path)
    kitdrawer("load", str(Path(__file__).resolve().parents[2] / "sample_stock"), "--yes", "--store", path)
    assert "no rate for USD" in " ".join(kitdrawer("shopping", "--store", path).out.split())
    told = kitdrawer("shopping", "--rate", "USD=0.9", "--store", path, "--json").json
    assert "Far Reach Fittings" in {one["supplier"] for one in told["lists"]}
    assert kitdrawer("shopping", "--rate", "USD", "--store", path).code == 1


def test_the_workbook_opens_elsewhere_with_the_same_totals(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """pandas, which computes nothing, reads the totals beside the formulas."""
    kitdrawer("promise", "S42", "--yes")
    path = tmp_path / "list.xlsx"
    told = kitdrawer("shopping", "--save", str(path), "--json").json
    tabs = pd.read_excel(path, sheet_name=None)
    assert list(tabs) == ["summary", *(one["supplier"] for one in told["lists"]), "reasons"]
    for one in told["lists"]:
        frame = tabs[one["supplier"]]
        totals = {row["price"]: row["cost"] for _, row in frame.iterrows() if isinstance(row["price"], str)}
        assert Decimal(str(totals["goods"])) == one["goods"]
        assert Decimal(str(totals["total"])) == one["goods"] + one["postage"]
    summary = tabs["summary"].set_index("supplier")
    assert round(Decimal(str(summary.loc["together", "total"])), 2) == told["total"]
    book = openpyxl.load_workbook(path)
    assert book[SALT]["G2"].value == "=E2*F2"
    assert not book["summary"]._charts  # type: ignore[attr-defined]  # openpyxl tells of charts nowhere else
    assert kitdrawer("shopping", "--save", str(path)).code == 1


@pytest.mark.soak  # starts a spreadsheet program
@pytest.mark.outside
def test_an_office_program_computes_the_same_totals(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Source: an office program (soffice), which works the formulas out anew; skipped where there is none."""
    office = shutil.which("soffice")
    if office is None:
        pytest.skip("no office program on this machine")
    kitdrawer("promise", "S42", "--yes")
    path = tmp_path / "list.xlsx"
    told = kitdrawer("shopping", "--save", str(path), "--json").json
    packs = next(one for one in told["lists"] if one["supplier"] == SALT)["lines"][0]["packs"]
    edited(path, {"E2": packs})  # saved by openpyxl without the values we wrote: all of them are computed
    own = f"-env:UserInstallation={(tmp_path / 'office').as_uri()}"
    words = [office, own, "--headless", "--convert-to", "xlsx", "--outdir", str(tmp_path / "out"), str(path)]
    subprocess.run(words, check=True, capture_output=True, timeout=180)
    summary = pd.read_excel(tmp_path / "out" / "list.xlsx").set_index("supplier")
    assert round(Decimal(str(summary.loc["together", "total"])), 2) == told["total"]
    assert kitdrawer("placed", str(tmp_path / "out" / "list.xlsx"), "--yes").code == 0


def test_csv_lists(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """One file a supplier, which `placed` takes too."""
    kitdrawer("promise", "S42", "--yes")
    folder = tmp_path / "lists"
    assert kitdrawer("shopping", "--save", str(folder)).code == 0
    frame = pd.read_csv(folder / f"{SALT}.csv")
    assert "Dunlin kit gunmetal" in set(frame["part"])
    assert kitdrawer("placed", str(folder / f"{SALT}.csv"), "--yes").code == 0
    assert shelf(kitdrawer, "Dunlin kit gunmetal")["due_in"] == 4


def test_an_unedited_copy_orders_the_list(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """What goes out comes back: placing the saved workbook is placing the list."""
    kitdrawer("promise", "S42", "--yes")
    path = tmp_path / "list.xlsx"
    told = kitdrawer("shopping", "--save", str(path), "--json").json
    assert kitdrawer("placed", str(path), "--yes").code == 0
    due = kitdrawer("due-in", "--json").json["due_in"]
    wanted = sorted(
        (line["part"], line["packs"] * line["pack"]) for o in told["lists"] for line in o["lines"]
    )
    assert sorted((row["part"], row["quantity"]) for row in due) == wanted
    assert kitdrawer("placed", str(path), "--yes").code == 1
    assert kitdrawer("verify").code == 0


def test_a_list_is_placed_once_whatever_the_day(
    kitdrawer: Kitdrawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The next day, of one supplier alone, after the list as it is: told. With --again it is ordered once more."""
    kitdrawer("promise", "S42", "--yes")
    path = str(tmp_path / "list.xlsx")
    kitdrawer("shopping", "--save", path)
    assert kitdrawer("placed", path, "--supplier", SALT, "--yes").code == 0
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-11-29")
    due = shelf(kitdrawer, "Dunlin kit gunmetal")["due_in"]
    for words in ((), ("--supplier", SALT)):
        refused = kitdrawer("placed", path, *words, "--yes")
        assert refused.code == 1
        assert f"This list was placed before: {SALT} on 2026-11-28 (entry 3)." in " ".join(
            refused.err.split()
        )
    assert kitdrawer("placed", path, "--supplier", "Oystershell Kits", "--yes").code == 0
    assert shelf(kitdrawer, "Dunlin kit gunmetal")["due_in"] == due
    for times in (2, 3):
        assert kitdrawer("placed", path, "--supplier", SALT, "--again", "--yes").code == 0
        assert shelf(kitdrawer, "Dunlin kit gunmetal")["due_in"] == times * due
    for number in ("3", "5", "6"):
        assert kitdrawer("undo", number, "--yes").code == 0
    assert kitdrawer("placed", path, "--supplier", SALT, "--yes").code == 0
    assert kitdrawer("verify").code == 0


def test_placed_says_its_totals(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Goods and postage by supplier in its coin, all together in the shop's: what the list said."""
    kitdrawer("promise", "S42", "--yes")
    path = str(tmp_path / "list.xlsx")
    told = kitdrawer("shopping", "--save", path, "--json").json
    answer = kitdrawer("placed", path, "--json").json
    assert answer["total"] == told["total"]
    sums = [(one["supplier"], one["currency"], one["goods"], one["postage"]) for one in told["lists"]]
    assert [tuple(one.values()) for one in answer["totals"]] == sums
    said = " ".join(kitdrawer("placed", path, "--yes").out.split())
    assert f"together {told['total']} EUR." in said
    for supplier, coin, goods, postage in sums:
        sent = f"{postage} {coin} postage" if postage else "postage free"
        assert f"{supplier}: {goods} {coin} goods, {sent}, arrives" in said


def test_an_edited_copy_orders_what_it_says(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Packs changed, a line left out by 0, a line added."""
    kitdrawer("promise", "S42", "--yes")
    path = tmp_path / "list.xlsx"
    kitdrawer("shopping", "--only", SALT, "--save", str(path))
    edited(path, {"E2": 5, "E3": 0, "B40": "CA thin", "D40": "50 ml", "E40": 1, "F40": "7.90"})
    book = openpyxl.load_workbook(path)
    first, second = book[SALT]["B2"].value, book[SALT]["B3"].value
    assert kitdrawer("placed", str(path), "--yes").code == 0
    due = {row["part"]: row["quantity"] for row in kitdrawer("due-in", "--json").json["due_in"]}
    assert due[first] == 5
    assert second not in due
    assert due["CA thin"] == 50


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"B2": "Dunlin kit gunmetl"}, "Dunlin kit gunmetal"),
        ({"E2": "many"}, "no count of packs"),
        ({"E2": -1}, "no count of packs"),
        ({"F2": None}, "price of a pack is missing"),
        ({"F2": "cheap"}, "cheap"),
        ({"D2": 0}, "A pack holds something"),
        ({"B2": None}, "Packs without a part"),
    ],
    ids=lambda value: str(value)[:24],
)
def test_foreign_rows_are_refused_with_their_place(
    kitdrawer: Kitdrawer, tmp_path: Path, changes: dict[str, Any], sentence: str
) -> None:
    """Nothing is half-booked."""
    kitdrawer("promise", "S42", "--yes")
    path = tmp_path / "list.xlsx"
    kitdrawer("shopping", "--only", SALT, "--save", str(path))
    edited(path, changes)
    answer = kitdrawer("placed", str(path), "--yes")
    told = " ".join(answer.err.split())
    assert answer.code == 1
    assert sentence in told
    assert "row 2" in told
    assert kitdrawer("due-in", "--json").json["due_in"] == []


def test_sheets_that_are_no_list(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """A sentence for each; nothing is guessed."""
    path = tmp_path / "other.xlsx"
    book = openpyxl.Workbook()
    book.active.append(["a", "b"])  # type: ignore[union-attr]  # a new workbook has a sheet
    book.save(path)
    assert "No supplier's list" in " ".join(kitdrawer("placed", str(path), "--yes").err.split())
    assert "nobody is called that" in " ".join(kitdrawer("arrived", str(path), "--yes").err.split())
    book.active.title = "summary"  # type: ignore[union-attr]  # a new workbook has a sheet
    book.save(path)
    assert "holds no supplier's list" in " ".join(kitdrawer("placed", str(path), "--yes").err.split())
    assert "of nothing that it arrived" in " ".join(kitdrawer("arrived", str(path), "--yes").err.split())


def test_nothing_wanted_nothing_ordered(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """An empty shop wants nothing."""
    path = str(tmp_path / "empty.kitdrawer")
    kitdrawer("begin", "--store", path)
    assert "Nothing is wanted" in kitdrawer("shopping", "--store", path).out
    assert "nothing to order" in kitdrawer("placed", "--yes", "--store", path).err
    assert "Nothing is due in" in kitdrawer("due-in", "--store", path).out
    saved = kitdrawer("due-in", "--save", str(tmp_path / "parcel.xlsx"), "--store", path)
    assert saved.code == 0
    assert "No sheet was written" in saved.out
    assert not (tmp_path / "parcel.xlsx").exists()
