"""Buying on: due in, arrived, until it is on the shelf."""

from __future__ import annotations

import re
import shutil
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

import inventory

from .buying import SALT, edited, shelf
from .conftest import SAMPLE, Kitdrawer

pytestmark = pytest.mark.usefixtures("store")


@pytest.mark.usefixtures("ordered")
def test_what_is_ordered_is_not_ordered_again(kitdrawer: Kitdrawer) -> None:
    """Due-in counts as there; promises claim it before it comes."""
    told = kitdrawer("shopping", "--json").json
    assert SALT not in {one["supplier"] for one in told["lists"]}
    assert "due in Tue 1 Dec" in kitdrawer("orders").out
    kit = shelf(kitdrawer, "Dunlin kit gunmetal")
    assert (kit["due_in"], kit["to_buy"], kit["claimed"]) == (4, 0, 3)


@pytest.mark.usefixtures("ordered")
def test_a_delivery_makes_the_order_takeable(kitdrawer: Kitdrawer) -> None:
    """On the shelf, claimed for whom it waited, and the order stands."""
    answer = kitdrawer("arrived", "--supplier", SALT, "--complete", "--postage", "5.90", "--yes")
    assert re.search(r"Dunlin kit gunmetal +\+4 .* S42 4\n", answer.out)
    assert kitdrawer("can-take", "--order", "S42").code == 0
    assert "all set aside" in kitdrawer("orders").out
    assert kitdrawer("verify").code == 0
    again = kitdrawer("arrived", "--supplier", SALT, "--complete", "--yes")
    assert "Nothing is due in" in again.err


@pytest.mark.usefixtures("ordered")
def test_postage_is_spread_to_the_last_cent(kitdrawer: Kitdrawer) -> None:
    """The lots together cost the goods and the postage, exactly."""
    due = kitdrawer("due-in", "--json").json["due_in"]
    before = {row["part"]: kitdrawer("trace", row["part"], "--json").json["worth"] for row in due}
    kitdrawer("arrived", "--supplier", SALT, "--complete", "--postage", "5.90", "--yes")
    after = {part: kitdrawer("trace", part, "--json").json["worth"] for part in before}
    goods = sum(row["cost"] for row in due)
    assert sum(after.values()) - sum(before.values()) == goods + Decimal("5.90")


@pytest.mark.usefixtures("ordered")
def test_postage_is_told_apart_from_goods(kitdrawer: Kitdrawer) -> None:
    """A line of its own of each lot, of no quantity; worth counts it as bought, undo takes it back."""
    before = kitdrawer("worth", "--json").json["bought"]
    kitdrawer("arrived", "--supplier", SALT, "--complete", "--postage", "5.90", "--yes")
    with inventory.open_book(today=date(2026, 11, 28)) as book:
        lines = book.frame("movements")
    ours = lines[lines["reason"] == "postage"]
    assert sum(ours["cost"]) == Decimal("5.90")
    assert set(ours["quantity"]) == {0}
    goods = sum(lines[(lines["reason"] == "arrived") & (lines["account"] == "shelf")]["cost"])
    assert kitdrawer("worth", "--json").json["bought"] - before == goods + Decimal("5.90")
    assert kitdrawer("undo", "--yes").code == 0
    assert kitdrawer("worth", "--json").json["bought"] == before


def test_bottles_that_arrive_are_what_they_hold(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """The net of the supply is known to the command, and to a delivery sheet's `arrived` and `pack`."""
    words = ("arrived", "CA medium", "--supplier", SALT, "--unasked", "--yes")
    assert kitdrawer(*words, "--quantity", "2 bottles", "--price", "9.00", "--pack", "1 bottle").code == 0
    assert shelf(kitdrawer, "CA medium")["on_hand"] == 81 + 100
    sheet = tmp_path / "parcel.csv"
    sheet.write_text(f"supplier,part,arrived,pack\n{SALT},CA medium,3 bottles,1 bottle\n", encoding="utf-8")
    assert kitdrawer("arrived", str(sheet), "--unasked", "--yes").code == 0
    assert shelf(kitdrawer, "CA medium")["on_hand"] == 81 + 250
    refused = kitdrawer("arrived", "dry strip P120", "--supplier", SALT, "--quantity", "1 pack", "--unasked")
    assert (refused.code, "how much" in refused.err) == (1, True)


@pytest.mark.usefixtures("ordered")
def test_part_of_it_comes_and_the_rest_later(kitdrawer: Kitdrawer) -> None:
    """A partial delivery leaves the rest due; the claims follow."""
    first = kitdrawer("arrived", "Dunlin kit gunmetal", "--supplier", SALT, "--quantity", "3", "--yes")
    assert "1 still to come" in first.out
    kit = shelf(kitdrawer, "Dunlin kit gunmetal")
    assert (kit["on_hand"], kit["claimed"], kit["due_in"]) == (6, 6, 1)
    assert (
        kitdrawer("arrived", "Dunlin kit gunmetal", "--supplier", SALT, "--quantity", "1", "--yes").code == 0
    )
    assert shelf(kitdrawer, "Dunlin kit gunmetal")["claimed"] == 7
    assert kitdrawer("verify").code == 0


@pytest.mark.usefixtures("ordered")
def test_damaged_and_cancelled(kitdrawer: Kitdrawer) -> None:
    """What is damaged is not on the shelf; what will not come is to buy again."""
    answer = kitdrawer(
        "arrived", "Dunlin kit gunmetal", "--supplier", SALT, "--quantity", "1", "--damaged", "1",
        "--cancel-rest", "--yes",
    )  # fmt: skip
    assert "the rest will not come" in answer.out
    kit = shelf(kitdrawer, "Dunlin kit gunmetal")
    assert (kit["on_hand"], kit["claimed"], kit["due_in"], kit["to_buy"]) == (4, 4, 0, 3)
    assert kitdrawer("verify").code == 0


@pytest.mark.usefixtures("ordered")
def test_more_than_ordered_another_price_another_part(kitdrawer: Kitdrawer) -> None:
    """Over-delivery, a price seen, and a substitute are booked and said."""
    more = kitdrawer(
        "arrived", "Dunlin kit gunmetal", "--supplier", SALT, "--quantity", "5", "--price", "3.95", "--yes"
    )
    assert "1 more than ordered" in more.out
    assert "the price was 3.90 EUR and is 3.95 EUR a pack" in " ".join(more.out.split())
    assert kitdrawer("trace", "Dunlin kit gunmetal", "--json").json["lots"][-1]["cost"] == Decimal("19.75")
    other = kitdrawer(
        "arrived", "Turnstone kit gunmetal", "--supplier", SALT, "--quantity", "4",
        "--instead-of", "Turnstone kit chrome", "--settles", "--yes",
    )  # fmt: skip
    assert "in place of Turnstone kit chrome and settles 4 of it" in " ".join(other.out.split())
    assert shelf(kitdrawer, "Turnstone kit chrome")["due_in"] == 0
    assert kitdrawer("verify").code == 0


WRONG = (
    "arrived",
    "Dunlin kit chrome",
    "--supplier",
    SALT,
    "--quantity",
    "1",
    "--instead-of",
    "Dunlin kit gunmetal",
)


@pytest.mark.usefixtures("ordered")
def test_a_wrong_part_settles_the_line_or_leaves_it_due(
    kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Asked for; a script says which. What is left of the line is said, and what S42 waits for follows."""
    refused = kitdrawer(*WRONG, "--yes")
    assert refused.code == 1
    assert "does it settle the order, or is that still to come?" in " ".join(refused.err.split())
    still = " ".join(kitdrawer(*WRONG, "--still-due", "--yes").out.split())
    assert "Dunlin kit chrome came in place of Dunlin kit gunmetal and settles none of it." in still
    assert "Dunlin kit gunmetal: 4 still to come." in still
    kit = shelf(kitdrawer, "Dunlin kit gunmetal")
    assert (kit["due_in"], kit["to_buy"]) == (4, 0)
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    asked: list[str] = []

    def yes(question: str, **_: object) -> bool:
        asked.append(question)
        return True

    monkeypatch.setattr("typer.confirm", yes)
    said = " ".join(kitdrawer(*WRONG, "--note", "2").out.split())
    assert asked[0] == "Does it settle what was ordered (else Dunlin kit gunmetal is still to come)?"
    assert "and settles 1 of it." in said
    assert "Dunlin kit gunmetal: 3 still to come." in said
    kit = shelf(kitdrawer, "Dunlin kit gunmetal")
    assert (kit["due_in"], kit["to_buy"]) == (3, 1)
    assert "Name the part that was ordered" in kitdrawer(*WRONG[:-2], "--settles", "--yes").err
    assert kitdrawer("verify").code == 0


@pytest.mark.usefixtures("ordered")
def test_what_another_row_brings_is_not_called_still_to_come(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """One wrong kit and the three right ones in one parcel: nothing of it is due, and nothing is said to be."""
    sheet = tmp_path / "parcel.csv"
    rows = (
        "supplier,part,arrived,instead of,settles it",
        f"{SALT},Dunlin kit chrome,1,Dunlin kit gunmetal,yes",
        f"{SALT},Dunlin kit gunmetal,3,,",
    )
    sheet.write_text("\n".join(rows) + "\n", encoding="utf-8")
    answer = kitdrawer("arrived", str(sheet), "--yes")
    assert answer.code == 0
    assert "still to come" not in answer.out
    assert shelf(kitdrawer, "Dunlin kit gunmetal")["due_in"] == 0
    assert "settles what" in " ".join(kitdrawer("arrived", str(_odd(sheet, "yes")), "--yes").err.split())
    assert "settle the order" in " ".join(kitdrawer("arrived", str(_odd(sheet, "")), "--yes").err.split())


def _odd(sheet: Path, word: str) -> Path:
    """A sheet that says it settles nothing, or not whether it settles anything."""
    instead = "" if word else "Turnstone kit chrome"
    sheet.write_text(
        f"supplier,part,arrived,instead of,settles it\n{SALT},Dunlin kit chrome,1,{instead},{word}\n",
        encoding="utf-8",
    )
    return sheet


@pytest.mark.usefixtures("ordered")
def test_never_ordered_parts_are_asked_about(kitdrawer: Kitdrawer) -> None:
    """Refused unless said; without a supplier or a part it is a question."""
    words = ["arrived", "walnut blank", "--supplier", SALT, "--quantity", "2", "--yes"]
    assert "not due in" in kitdrawer(*words).err
    assert kitdrawer(*words, "--unasked").code == 0
    assert "Who sent it?" in kitdrawer("arrived", "walnut blank", "--quantity", "2").err
    assert "What came?" in kitdrawer("arrived", "--supplier", SALT).err
    assert "nothing came" in kitdrawer("arrived", "walnut blank", "--supplier", SALT).err


@pytest.mark.usefixtures("ordered")
def test_the_same_delivery_note_twice(kitdrawer: Kitdrawer) -> None:
    """A note's number is booked once."""
    words = [
        "arrived",
        "Dunlin kit gunmetal",
        "--supplier",
        SALT,
        "--quantity",
        "1",
        "--note",
        "4711",
        "--yes",
    ]
    assert kitdrawer(*words).code == 0
    answer = kitdrawer(*words)
    assert answer.code == 1
    assert "already booked" in answer.err


@pytest.mark.usefixtures("ordered")
def test_a_filled_delivery_sheet(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Out to be filled, back to be booked, undone again."""
    path = tmp_path / "parcel.xlsx"
    assert kitdrawer("due-in", "--save", str(path)).code == 0
    assert "of nothing that it arrived" in " ".join(kitdrawer("arrived", str(path), "--yes").err.split())
    edited(path, {"D2": 2, "E2": 1, "I2": "yes", "K2": "box 3"})
    edited(path, {"B2": "LS-9", "C2": "2026-11-28", "D2": "5.90"}, "delivery")
    answer = kitdrawer("arrived", str(path), "--yes")
    assert answer.code == 0
    assert "LS-9" in answer.out
    kit = shelf(kitdrawer, "Dunlin kit gunmetal")
    assert (kit["on_hand"], kit["due_in"]) == (5, 0)
    assert kitdrawer("undo", "--yes").code == 0
    assert shelf(kitdrawer, "Dunlin kit gunmetal")["due_in"] == 4
    assert kitdrawer("verify").code == 0


BADLY_FILLED: dict[str, dict[str, Any]] = {
    "some": {"D2": "some"},
    "-1": {"D2": -1},
    "Dunlin kit": {"D2": 1, "B2": "x", "A2": "Dunlin kt"},
    "Name the part": {"D2": 1, "A2": None},
    "neither yes nor no": {"D2": 1, "I2": "maybe"},
    "February": {"D2": 1, "J2": "30 February 2027"},
    "gratis": {"D2": 1, "G2": "gratis"},
}
"""What is said, and what was written."""


@pytest.mark.usefixtures("ordered")
def test_a_badly_filled_delivery_sheet(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Every bad cell with its place; nothing is booked."""
    path = tmp_path / "parcel.xlsx"
    kitdrawer("due-in", "--save", str(path))
    for sentence, changes in BADLY_FILLED.items():
        changed = tmp_path / "changed.xlsx"
        shutil.copy(path, changed)
        edited(changed, changes)
        answer = kitdrawer("arrived", str(changed), "--yes")
        assert answer.code == 1, sentence
        assert sentence in " ".join(answer.err.split())
    assert shelf(kitdrawer, "Dunlin kit gunmetal")["on_hand"] == 3


@pytest.mark.usefixtures("ordered")
def test_late_deliveries_are_pointed_out(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> None:
    """A back-order nobody remembers is ordered twice; so it is said."""
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-12-05")
    assert "4 days late" in kitdrawer("due-in", "--supplier", SALT).out
    assert kitdrawer("due-in", "--json").json["due_in"][0]["days_late"] == 4


@pytest.mark.usefixtures("ordered")
def test_asked_and_declined(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> None:
    """A no books nothing."""
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("typer.confirm", lambda *_, **__: False)
    assert "Nothing was booked" in kitdrawer("placed").out
    assert "Nothing was booked" in kitdrawer("arrived", "--supplier", SALT, "--complete").out
    assert shelf(kitdrawer, "Dunlin kit gunmetal")["due_in"] == 4


def test_use_rates_tools_and_use_by_reach_the_list(
    kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is used every week runs out; what goes off is replaced; a missing tool of a promise is bought."""
    kitdrawer("promise", "S41", "--yes")
    kitdrawer("handed-over", "S41", "--yes")
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-12-01")
    told = kitdrawer("shopping", "--until", "2030-12-01", "--json").json
    why = {line["part"]: " ".join(line["why"]) for one in told["lists"] for line in one["lines"]}
    assert "you use 2 ml a month" in why["epoxy 5-minute"]
    assert any("out of date after" in reason for reason in why.values())


@pytest.mark.usefixtures("ordered")
def test_nothing_arrives_tomorrow(kitdrawer: Kitdrawer) -> None:
    """A day to come is refused in a sentence, and nothing is booked."""
    answer = kitdrawer("arrived", "--supplier", SALT, "--complete", "--on", "2026-11-29", "--yes")
    assert answer.code == 1
    assert "2026-11-29 is still to come; today is 2026-11-28" in " ".join(answer.err.split())
    assert shelf(kitdrawer, "Dunlin kit gunmetal")["due_in"] == 4
    assert kitdrawer("arrived", "--supplier", SALT, "--complete", "--on", "2026-11-27", "--yes").code == 0


@pytest.mark.usefixtures("ordered")
def test_a_folder_of_csv_files_goes_out_and_comes_back(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """`due-in --save` a folder, fill a file, `arrived` the folder or the file alone."""
    folder = tmp_path / "parcel"
    assert kitdrawer("due-in", "--save", str(folder)).code == 0
    path = folder / f"{SALT}.csv"
    table = pd.read_csv(path, dtype=str)
    table.loc[table["part"] == "Dunlin kit gunmetal", "arrived"] = "2"
    table.to_csv(path, index=False)
    assert kitdrawer("arrived", str(folder), "--postage", "5.90", "--note", "LS-9", "--yes").code == 0
    assert shelf(kitdrawer, "Dunlin kit gunmetal")["due_in"] == 2
    assert "already booked" in kitdrawer("arrived", str(path), "--note", "LS-9", "--yes").err
    table.loc[table["part"] == "Dunlin kit gunmetal", "arrived"] = "2"
    table.to_csv(path, index=False)
    assert kitdrawer("arrived", str(path), "--note", "LS-10", "--yes").code == 0
    assert shelf(kitdrawer, "Dunlin kit gunmetal")["due_in"] == 0
    assert kitdrawer("verify").code == 0


BESIDE_A_SHEET = (
    (["--quantity", "2"], "What came of each part stands on the sheet"),
    (["--complete"], "What came of each part stands on the sheet"),
    (["--note", "1"], "are those of one"),
    (["--supplier", "Driftwood and Horn"], "says nothing of Driftwood and Horn"),
    (["--supplier", SALT, "--postage", "3"], "The sheet says it already: --postage"),
    (["--supplier", SALT, "--on", "2026-11-29"], "still to come"),
)


def test_options_beside_a_sheet(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Options say what the sheet leaves open, of one parcel; nothing is overruled silently."""
    kitdrawer("promise", "S42", "--yes")
    kitdrawer("placed", "--yes")
    path = tmp_path / "parcel.xlsx"
    kitdrawer("due-in", "--save", str(path))
    edited(path, {"D2": 1})
    edited(path, {"D2": 1}, "Oystershell Kits")
    rows = pd.read_excel(path, sheet_name="delivery")["supplier"].tolist()
    edited(path, {f"D{rows.index(SALT) + 2}": 5.9}, "delivery")
    for words, sentence in BESIDE_A_SHEET:
        answer = kitdrawer("arrived", str(path), *words, "--yes")
        assert answer.code == 1, words
        assert sentence in " ".join(answer.err.split())
    assert shelf(kitdrawer, "Dunlin kit gunmetal")["on_hand"] == 3
    assert kitdrawer("arrived", str(path), "--supplier", SALT, "--note", "LS-9", "--yes").code == 0


def test_due_in_takes_a_rate(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Agreed prices stand in the supplier's coin; where its rate is not known that is said, with the way out."""
    store = str(tmp_path / "other.kitdrawer")
    kitdrawer("begin", "--store", store)
    kitdrawer("load", str(SAMPLE), "--yes", "--store", store)
    rate = ["--rate", "USD=0.92", "--store", store]
    far = ["--supplier", "Far Reach Fittings"]
    assert kitdrawer("placed", *far, *rate, "--yes").code == 0
    told = kitdrawer("due-in", *far, "--save", str(tmp_path / "a.xlsx"), "--store", store).out
    assert "no rate for USD is known. Say --rate USD=0.92." in " ".join(told.split())
    assert kitdrawer("due-in", *far, "--save", str(tmp_path / "b.xlsx"), *rate).out.count("no rate for") == 0
    prices = [
        pd.read_excel(tmp_path / name, sheet_name="Far Reach Fittings")["agreed price"].dropna().tolist()
        for name in ("a.xlsx", "b.xlsx")
    ]
    assert (prices[0], prices[1][0]) == ([], 6.9)
    assert kitdrawer("due-in", "--rate", "USD", "--store", store).code == 1
