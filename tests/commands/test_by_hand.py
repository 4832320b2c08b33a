"""`took`, `found`: what one line typed by hand books, what it says of orders, and that `undo` takes it back."""

from __future__ import annotations

import os
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from inventory.store import open_store

from .conftest import Answer, Kitdrawer

pytestmark = pytest.mark.usefixtures("store")
KIT, TUBE, GLUE, BLANK = "Dunlin kit gunmetal", "tube 7 x 53", "CA thin", "walnut blank"


def words(answer: Answer) -> str:
    """All it said, in one line."""
    return " ".join(f"{answer.out} {answer.err}".split())


def shelf(kitdrawer: Kitdrawer, part: str) -> tuple[Any, Any, Any]:
    """On hand, claimed, worth."""
    told = kitdrawer("trace", part, "--json").json
    return told["on_hand"], told["claimed"], told["worth"]


def lots(kitdrawer: Kitdrawer, part: str) -> list[Any]:
    """The lots that are left."""
    return list(kitdrawer("trace", part, "--json").json["lots"])


def booked(kitdrawer: Kitdrawer, *call: str, code: int = 0) -> Any:
    """The answer to a booking, after which the book is sound."""
    answer = kitdrawer(*call, "--yes", "--json")
    assert answer.code == code, words(answer)
    assert kitdrawer("verify").code == 0
    return answer.json


@pytest.mark.parametrize(
    "call",
    [
        ("took", BLANK, "3", "--reason", "broke"),
        ("took", GLUE, "--reason", "threw out"),
        ("took", GLUE, "1 bottle", "--reason", "gave away"),
        ("took", TUBE, "2", "--reason", "lent", "--to", "the neighbour"),
        ("took", KIT, "3", "--reason", "used up"),
        ("took", "red deer antler", "7", "--reason", "gave away"),
        ("found", KIT, "2"),
        ("found", GLUE, "1 bottle", "--use-by", "2027-03-01"),
        ("found", "red deer antler", "1", "--lot", "antler B"),
    ],
    ids=lambda call: " ".join(call[:3]),
)
@pytest.mark.usefixtures("both_promised")
def test_undo_takes_it_back_to_the_last_coin(kitdrawer: Kitdrawer, call: tuple[str, ...]) -> None:
    """One entry; the shelf, its worth, its lots and what orders wait for are as before once it is undone."""
    before = kitdrawer("shelf", "--json").json, lots(kitdrawer, call[1])
    orders = kitdrawer("orders", "--json").json
    looked = kitdrawer(*call, "--json").json
    made = booked(kitdrawer, *call, code=kitdrawer(*call, "--json").code)
    assert looked == {**made, "entry": None}  # what was shown is what was booked
    assert made["entry"] == 4
    assert kitdrawer("shelf", "--json").json != before[0]
    assert kitdrawer("undo", "--yes").code == 0
    assert (kitdrawer("shelf", "--json").json, lots(kitdrawer, call[1])) == before
    assert kitdrawer("orders", "--json").json == orders
    assert kitdrawer("verify").code == 0


def test_the_oldest_goes_first_at_its_own_cost(kitdrawer: Kitdrawer) -> None:
    """Four blanks of 2025 at 1.60 and nine of 2026 at 1.75: five cost 4 × 1.60 + 1.75."""
    made = booked(kitdrawer, "took", BLANK, "5", "--reason", "gave away")
    assert (made["quantity"], made["cost"], made["on_hand"]) == (-5, Decimal("8.15"), 8)
    assert made["notes"][0] == "From “2025”: 4."
    assert [lot["name"] for lot in lots(kitdrawer, BLANK)] == ["2026"]


def test_what_is_thrown_out_is_what_is_out_of_date(kitdrawer: Kitdrawer) -> None:
    """The opened bottle that is past its day, all of it without a word on how much; the sealed one stays."""
    said = kitdrawer("took", GLUE, "--reason", "threw out", "--yes")
    assert "Threw out 22 ml of CA thin, Sat 28 Nov 2026: 50 ml on hand, all free. Cost 3.74 EUR" in words(
        said
    )
    assert "From “opened 2026-06-02”: 22 ml, out of date." in words(said)
    assert [(lot["name"], lot["quantity"]) for lot in lots(kitdrawer, GLUE)] == [("sealed", 50)]
    again = kitdrawer("took", GLUE, "--reason", "threw out", "--yes")
    assert again.code == 1
    assert "Nothing of CA thin is out of date. How much of CA thin went?" in words(again)


def test_a_bottle_given_away_is_a_full_one(kitdrawer: Kitdrawer) -> None:
    """The opened one stays, although what is used goes out of it first."""
    made = booked(kitdrawer, "took", GLUE, "1 bottle", "--reason", "gift")
    assert made["title"] == "Gave away 50 ml of CA thin"
    assert [(lot["name"], lot["quantity"]) for lot in lots(kitdrawer, GLUE)] == [("opened", 22)]


def test_what_is_set_aside_is_said_and_its_order_is_short(kitdrawer: Kitdrawer) -> None:
    """Three kits are there and set aside for six pens: one broken, and S42 waits for one more (exit code 3)."""
    kitdrawer("promise", "S42", "--yes")
    missing = kitdrawer("trace", KIT, "--json").json["to_buy"]
    call = ("took", KIT, "1", "--reason", "broke")
    asked = kitdrawer(*call)
    assert asked.code == 1
    assert "Short “S42” lacks 1 now, which was set aside for it" in words(asked)
    assert shelf(kitdrawer, KIT)[:2] == (3, 3)
    made = booked(kitdrawer, *call, code=3)
    assert made["short"] == [{"order": "S42", "quantity": 1}]
    assert shelf(kitdrawer, KIT)[:2] == (2, 2)
    wanted = kitdrawer("orders", "S42", "--json").json["orders"][0]["claims"]
    assert {one["from"]: one["quantity"] for one in wanted if one["part"] == KIT} == {
        "the shelf": 2,
        "to buy": missing + 1,
    }
    back = booked(kitdrawer, "found", KIT, "1")
    assert back["for_orders"] == [{"order": "S42", "quantity": 1}]
    assert shelf(kitdrawer, KIT)[:2] == (3, 3)


def test_a_measured_blank_that_is_set_aside(kitdrawer: Kitdrawer) -> None:
    """The very antlers that S41 is to be cut from are broken: it waits for others, none is booked as found."""
    kitdrawer("promise", "S41", "--yes")
    claimed = shelf(kitdrawer, "red deer antler")[1]
    made = booked(kitdrawer, "took", "red deer antler", "7", "--reason", "broke", code=3)
    assert made["short"] == [{"order": "S41", "quantity": claimed}]
    assert shelf(kitdrawer, "red deer antler") == (0, 0, Decimal(0))


def test_a_blank_that_was_chosen_for_an_order(kitdrawer: Kitdrawer) -> None:
    """Antler B gives both rippers of S41: it goes, another is set aside, and that this one may not fit is said."""
    kitdrawer("promise", "S41", "--yes")
    made = booked(kitdrawer, "took", "red deer antler", "1", "--lot", "antler B", "--reason", "broke")
    assert made["notes"][0].startswith(
        "“antler B” was chosen for “S41”: whether another fits was not looked at."
    )
    other = booked(kitdrawer, "took", "red deer antler", "1", "--lot", "antler A", "--reason", "broke")
    assert other["notes"] == ["From “antler A”: 1."]


def test_what_is_lent_is_owed_until_it_is_back(kitdrawer: Kitdrawer) -> None:
    """Listed with what is still owed; a part comes back at what it cost, and undo of the lending is refused then."""
    before = shelf(kitdrawer, BLANK)
    booked(kitdrawer, "took", BLANK, "5", "--reason", "lent", "--to", "the neighbour")
    assert [one["quantity"] for one in kitdrawer("entries", "--lent", "--json").json["lent"]] == [4, 1]
    made = booked(kitdrawer, "found", BLANK, "3", "--back")
    assert (made["cost"], made["notes"]) == (Decimal("4.80"), ["2 still lent."])
    listed = kitdrawer("entries", "--lent").out
    assert "Lent 5 × walnut blank to the neighbour" in listed
    assert f'kitdrawer found "{BLANK}" --back' in listed
    refused = kitdrawer("undo", "2", "--yes")
    assert refused.code == 1
    assert "entry 3, “" in words(refused)
    assert kitdrawer("entries", "--json").json["entries"][1]["stands_on_it"] == [3]
    too_many = kitdrawer("found", BLANK, "3", "--back", "--yes")
    assert "3 × walnut blank cannot come back: only 2 of walnut blank is lent." in words(too_many)
    booked(kitdrawer, "found", BLANK, "--back")
    assert kitdrawer("entries", "--lent").out == "Nothing is lent, Sat 28 Nov 2026.\n"
    assert "none is lent" in words(kitdrawer("found", BLANK, "--back", "--yes"))
    assert shelf(kitdrawer, BLANK) == before
    names = {
        lot["name"]: (lot["quantity"], lot["cost"]) for lot in lots(kitdrawer, BLANK) if lot["quantity"] > 1
    }
    assert names["2026"] == (8, Decimal("14.00"))


def test_lent_and_undone_is_not_lent(kitdrawer: Kitdrawer) -> None:
    """Neither is a return that was taken back; one that would then be of nothing lent cannot be brought back."""
    booked(kitdrawer, "took", BLANK, "2", "--reason", "lent")
    booked(kitdrawer, "found", BLANK, "2", "--back")
    assert kitdrawer("undo", "3", "--yes").code == 0
    assert [one["quantity"] for one in kitdrawer("entries", "--lent", "--json").json["lent"]] == [2]
    assert kitdrawer("undo", "2", "--yes").code == 0
    assert kitdrawer("entries", "--lent", "--json").json == {"lent": []}
    assert kitdrawer("undo", "4", "--yes").code == 1
    assert kitdrawer("verify").code == 0


def test_what_is_found_costs_as_the_rest_of_it(kitdrawer: Kitdrawer) -> None:
    """As the newest lot does; of a part that is all gone by the offer seen last: one kit at 4.10."""
    assert booked(kitdrawer, "found", BLANK, "2")["cost"] == Decimal("3.50")
    named = booked(kitdrawer, "found", BLANK, "1", "--lot", "2025")
    assert (named["cost"], named["cost_from"]) == (Decimal("1.60"), "said")
    booked(kitdrawer, "took", KIT, "3", "--reason", "gave away")
    made = booked(kitdrawer, "found", KIT, "1")
    assert (made["cost"], made["cost_from"]) == (Decimal("4.10"), "by the offer")
    assert "Cost 4.10 EUR by the offer" in words(kitdrawer("found", KIT, "1", "--yes"))


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (("took", BLANK, "99", "--reason", "broke"), "The book has 13 of walnut blank, not 99."),
        (
            ("took", BLANK, "5", "--lot", "2025", "--reason", "broke"),
            "The book has 4 of 2025 of walnut blank, not 5.",
        ),
        (
            ("took", BLANK, "1", "--lot", "1999", "--reason", "broke"),
            "There is no lot of walnut blank called “1999”.",
        ),
        (("took", BLANK, "1", "--reason", "eaten"), "“eaten” is no reason the book knows."),
        (("took", BLANK, "1"), "Why did it go?"),
        (("took", BLANK, "--reason", "lent"), "How much of walnut blank went?"),
        (("took", BLANK, "0", "--reason", "lent"), "“0” of walnut blank is nothing."),
        (("took", BLANK, "1.5", "--reason", "lent"), "come whole"),
        (
            ("took", BLANK, "1", "--reason", "broke", "--to", "Ann"),
            "--to is for what was lent or given away.",
        ),
        (("took", "walnut blnak", "1", "--reason", "broke"), "There is no part called “walnut blnak”."),
        (("found", BLANK), "How much was found?"),
        (("found", BLANK, "1", "--back", "--lot", "2025"), "What was lent comes back as it went."),
        (("found", BLANK, "1", "--lot", "2025", "--use-by", "2027-01-01"), "A lot has its own day."),
        (("found", "red deer antler", "1"), "red deer antler is measured piece by piece"),
    ],
)
def test_refused_with_a_sentence(kitdrawer: Kitdrawer, call: tuple[str, ...], says: str) -> None:
    """And nothing is booked."""
    answer = kitdrawer(*call, "--yes")
    assert answer.code == 1
    assert says in words(answer)
    assert kitdrawer("entries", "--json").json["entries"][0]["entry"] == 1


def test_used_up_by_hand_is_use_and_a_gift_is_none(kitdrawer: Kitdrawer) -> None:
    """The list to buy reckons by what is used up in a time: what broke or was used up counts, gifts do not."""
    booked(kitdrawer, "took", BLANK, "2", "--reason", "used up")
    booked(kitdrawer, "took", BLANK, "1", "--reason", "broke")
    booked(kitdrawer, "took", BLANK, "4", "--reason", "gave away")
    with open_store(os.environ["KITDRAWER_STORE"]) as book, book.reading() as read:
        assert read.used_since(date(2026, 1, 1)) == {BLANK: 3000}
