"""`retire`: what is no longer had is not bought, offered or listed; undo brings it back."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from .conftest import Kitdrawer

SALT = "Saltmarsh Turning Supplies"
pytestmark = pytest.mark.usefixtures("store")


def shelf(kitdrawer: Kitdrawer) -> dict[str, Any]:
    """What is listed, by part."""
    return {one["part"]: one for one in kitdrawer("shelf", "--json").json["parts"]}


def to_buy(kitdrawer: Kitdrawer) -> Any:
    """The shopping list, but for how long it took."""
    return {**kitdrawer("shopping", "--json").json, "seconds": 0}


def retired(kitdrawer: Kitdrawer, *names: str, code: int = 0) -> Any:
    """Retire them; what is said."""
    answer = kitdrawer("retire", *names, "--yes", "--json")
    assert answer.code == code, answer.err
    return answer.json


def test_a_part_is_neither_bought_nor_listed(kitdrawer: Kitdrawer) -> None:
    """The kit nobody has is off the shelf and the shopping list; one that is there stays, without its level."""
    before, list_before = shelf(kitdrawer), to_buy(kitdrawer)
    bought = {line["part"] for one in kitdrawer("shopping", "--json").json["lists"] for line in one["lines"]}
    gone, there = "Turnstone kit chrome", "Redshank kit chrome"
    assert {gone, there} <= bought
    said = retired(kitdrawer, gone, there)
    assert said["things"] == [{"what": "part", "name": gone}, {"what": "part", "name": there}]
    assert any("Still there" in note and there in note for note in said["notes"])
    now = shelf(kitdrawer)
    assert before.keys() - now.keys() == {gone}
    assert (before[there]["low"], now[there]["low"]) == (True, False)
    wanted = kitdrawer("shopping", "--json").json
    assert not {gone, there} & {line["part"] for one in wanted["lists"] for line in one["lines"]}
    assert not {gone, there} & {one["part"] for one in wanted["unfilled"]}
    assert kitdrawer("trace", gone).code == 0
    assert kitdrawer("undo", "--yes").code == 0
    assert (shelf(kitdrawer), to_buy(kitdrawer)) == (before, list_before)
    assert kitdrawer("verify").code == 0


def test_a_supplier_gone_sells_nothing(kitdrawer: Kitdrawer) -> None:
    """The list goes to the others; what was ordered may still arrive; --back takes the supplier up again."""
    before = to_buy(kitdrawer)
    assert SALT in {one["supplier"] for one in before["lists"]}
    retired(kitdrawer, SALT)
    assert SALT not in {one["supplier"] for one in kitdrawer("shopping", "--json").json["lists"]}
    assert kitdrawer("retire", SALT, "--back", "--yes").code == 0
    assert to_buy(kitdrawer) == before
    assert kitdrawer("undo", "--yes").code == kitdrawer("undo", "--yes").code == 0
    assert to_buy(kitdrawer) == before


@pytest.mark.usefixtures("ordered")
def test_what_was_ordered_may_still_arrive(kitdrawer: Kitdrawer) -> None:
    """A supplier that closes sends its last parcel, and it is said."""
    assert any("may still arrive" in note for note in retired(kitdrawer, SALT)["notes"])
    assert kitdrawer("arrived", "--supplier", SALT, "--complete", "--yes").code == 0
    part = retired(kitdrawer, "Dunlin kit gunmetal")
    assert any("Still there" in note for note in part["notes"])


@pytest.mark.usefixtures("ordered")
def test_a_part_on_its_way_is_told(kitdrawer: Kitdrawer) -> None:
    """It comes, and is used up."""
    due = kitdrawer("due-in", "--json").json["due_in"][0]["part"]
    assert any(f"Due in from {SALT}" in note for note in retired(kitdrawer, due)["notes"])


def test_a_plating_gone(kitdrawer: Kitdrawer) -> None:
    """Its kits that are there may be taken; more of them nobody sells, and the promised order that waits is named."""
    assert kitdrawer("promise", "S42", "--yes").code == 3
    said = retired(kitdrawer, "gunmetal", code=3)
    lacking = [one for one in said["short"] if one["part"] == "Dunlin kit gunmetal"]
    assert [one["order"] for one in lacking] == ["S42"]
    assert lacking[0]["quantity"] > Decimal(0)
    screen = kitdrawer("retire", "chrome").out
    assert "Still there, and to be used up" in " ".join(screen.split())
    words = (
        "can-take",
        "Dunlin pen",
        "--blank",
        "walnut blank",
        "--plating",
        "gunmetal",
        "--by",
        "2026-12-20",
    )
    assert kitdrawer(*words, "--count", "20", "--json").json["verdict"] == "cannot"
    assert kitdrawer("orders", "S42").code == 0
    assert "gunmetal" not in kitdrawer("can-take", *words[1:4], *words[6:]).err


def test_a_pattern_that_is_no_longer_made(kitdrawer: Kitdrawer) -> None:
    """No new order of it is taken, nor made for the stall; what was promised before goes on."""
    assert kitdrawer("promise", "S41", "--yes").code == 0
    retired(kitdrawer, "Godwit seam ripper", "Dunlin pen")
    for words in (
        ("can-take", "--order", "S42"),
        ("promise", "S42", "--yes"),
        ("plan", "--stall", "Dunlin pen, chrome, walnut blank, 2", "--yes"),
    ):
        refused = kitdrawer(*words)
        assert (refused.code, "is no longer made" in " ".join(refused.err.split())) == (1, True), words
    assert kitdrawer("can-take", "--order", "S41").code in (0, 3)
    assert kitdrawer("plan", "S41", "--yes").code in (0, 3)
    assert kitdrawer("handed-over", "S41", "--made-now", "--yes").code == 0


def test_what_vanished_from_a_sheet_is_offered_to_it(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """A supplier gone from the sheet: the command to retire it is there to paste; once retired it rests."""
    sheet = tmp_path / "suppliers.csv"
    sheet.write_text("supplier,lead days\nHarbour Kits,3\nOld Quay Timber,5\n")
    assert kitdrawer("load", str(sheet), "--yes").code == 0
    sheet.write_text("supplier,lead days\nHarbour Kits,4\n")
    said = " ".join(kitdrawer("load", str(sheet), "--yes").out.split())
    assert 'No longer had? kitdrawer retire "Old Quay Timber"' in said
    retired(kitdrawer, "Old Quay Timber", "Harbour Kits")
    sheet.write_text("supplier,lead days\nHarbour Kits,6\n")
    again = " ".join(kitdrawer("load", str(sheet), "--yes").out.split())
    assert "No longer had" not in again
    assert "Retired, and stays so: Harbour Kits" in again


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("no such thing",), "or supplier called “no such thing”"),
        (("Far Reach Fittings", "--back"), "The supplier “Far Reach Fittings” is not retired"),
        (("S42",), "or supplier called “S42”"),
        (("Dunlin", "--what", "order"), "“order” is no kind of thing"),
    ],
)
def test_what_is_refused(kitdrawer: Kitdrawer, words: tuple[str, ...], said: str) -> None:
    """One sentence, and nothing booked."""
    answer = kitdrawer("retire", *words, "--yes")
    assert (answer.code, said in " ".join(answer.err.split())) == (1, True), answer.err
    retired(kitdrawer, "chrome")
    assert "retired already" in kitdrawer("retire", "chrome", "--yes").err
