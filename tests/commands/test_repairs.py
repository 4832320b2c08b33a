"""What comes back for a repair, and what is taken out of a kit: both go by FIFO, and undo gives all of it back."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from .conftest import Kitdrawer

KIT = "Dunlin kit chrome"
pytestmark = pytest.mark.usefixtures("store")


def there(kitdrawer: Kitdrawer) -> dict[str, Decimal]:
    """What is on hand, by part."""
    return {one["part"]: one["on_hand"] for one in kitdrawer("shelf", "--json").json["parts"]}


def cost(kitdrawer: Kitdrawer, part: str) -> Decimal:
    """What a part's lots cost together."""
    found: Decimal = sum((one["cost"] for one in kitdrawer("trace", part, "--json").json["lots"]), Decimal(0))
    return found


@pytest.fixture
def fetched(kitdrawer: Kitdrawer) -> str:
    """An order of pens that was handed over."""
    assert kitdrawer("promise", "S42", "--yes").code == 3
    assert kitdrawer("handed-over", "S42", "--made-now", "--yes").code in (0, 3)
    return "S42"


def test_one_refill_is_what_a_repair_takes(kitdrawer: Kitdrawer, fetched: str) -> None:
    """The order's own refill, at what it cost, for that order; it counts as use, and undo puts it back."""
    before = there(kitdrawer)
    said = kitdrawer("came-back", fetched, "--yes", "--json")
    assert said.code == 0, said.err
    (drawn,) = said.json["drawn"]
    assert (drawn["part"], drawn["quantity"]) == ("slim twist refill blue", 1)
    assert drawn["cost"] > 0
    after = there(kitdrawer)
    assert {part: before[part] - many for part, many in after.items() if many != before[part]} == {
        "slim twist refill blue": 1
    }
    story: Any = kitdrawer("trace", "slim twist refill blue", "--json").json["lines"][-1]
    assert (story["order"], story["reason"]) == ("S42", "repair")
    assert kitdrawer("entries", "S42", "--json").json["entries"][0]["what"].startswith("Came back, S42")
    assert kitdrawer("undo", "--yes").code == 0
    assert there(kitdrawer) == before
    assert kitdrawer("verify").code == 0


def test_a_repair_says_what_it_takes(kitdrawer: Kitdrawer, fetched: str) -> None:
    """Several parts, each in its own unit, the same one twice added up."""
    before = there(kitdrawer)
    parts = ("--part", "CA thin=0.2 ml", "--part", "felt sleeve=1", "--part", "felt sleeve")
    said = kitdrawer("came-back", fetched, *parts, "--yes")
    assert said.code == 0, said.err
    after = there(kitdrawer)
    assert before["CA thin"] - after["CA thin"] == Decimal("0.2")
    assert before["felt sleeve"] - after["felt sleeve"] == Decimal(2)
    assert kitdrawer("verify").code == 0


@pytest.mark.usefixtures("booked")
def test_what_was_sold_comes_back_too(kitdrawer: Kitdrawer) -> None:
    """A sale is an order that was handed over."""
    assert kitdrawer("sold", "avocet pen chrome", "1", "--price", "38", "--yes").code == 0
    assert kitdrawer("came-back", "sold 2026-11-28 1", "--yes").code == 0
    assert kitdrawer("undo", "3", "--yes").code == 1
    assert kitdrawer("verify").code == 0


def test_what_is_set_aside_may_go_into_a_repair(kitdrawer: Kitdrawer, fetched: str) -> None:
    """The order that loses it waits for it again, and is named."""
    assert kitdrawer("promise", "S45", "--yes").code in (0, 3)
    claimed = next(
        one
        for one in kitdrawer("shelf", "--json").json["parts"]
        if one["claimed"] == one["on_hand"] > 0 and one["unit"] == "piece"
    )
    said = kitdrawer("came-back", fetched, "--part", f"{claimed['part']}=1", "--yes", "--json")
    assert (said.code, said.json["short"][0]["part"]) == (3, claimed["part"])
    assert kitdrawer("verify").code == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("S41",), "is with a customer: it is an enquiry"),
        (("S40x",), "There is no order called"),
    ],
)
def test_what_never_went_out(kitdrawer: Kitdrawer, words: tuple[str, ...], said: str) -> None:
    """Nothing comes back of it."""
    answer = kitdrawer("came-back", *words, "--part", "felt sleeve", "--yes")
    assert (answer.code, said in " ".join(answer.err.split())) == (1, True), answer.err


def test_what_is_not_there(kitdrawer: Kitdrawer, fetched: str) -> None:
    """More than the book has, an amount left out, a part nobody knows."""
    for part, said in (
        ("felt sleeve=5000", "The book has"),
        ("felt sleeve=", "How much of felt sleeve?"),
        ("felt sock=1", "There is no part called"),
    ):
        answer = kitdrawer("came-back", fetched, "--part", part, "--yes")
        assert (answer.code, said in " ".join(answer.err.split())) == (1, True), answer.err


def test_a_piece_without_a_refill(kitdrawer: Kitdrawer) -> None:
    """What the repair of a seam ripper takes has to be said."""
    assert kitdrawer("promise", "S41", "--yes").code == 0
    assert kitdrawer("handed-over", "S41", "--made-now", "--yes").code == 0
    assert "has no refill" in kitdrawer("came-back", "S41", "--yes").err
    assert kitdrawer("came-back", "S41", "--part", "felt sleeve", "--yes").code == 0


def test_a_clip_taken_out_of_kits(kitdrawer: Kitdrawer) -> None:
    """Two kits are whole no longer: what is left of them is a part of its own at their cost; undo makes them whole."""
    before, worth = there(kitdrawer), cost(kitdrawer, KIT)
    said = kitdrawer("took", "clip", "2", "--from", KIT, "--yes", "--json")
    assert said.code == 0, said.err
    left = f"{KIT} without its clip"
    after = there(kitdrawer)
    assert before[KIT] - after[KIT] == after[left] == Decimal(2)
    assert cost(kitdrawer, KIT) + cost(kitdrawer, left) == worth
    assert said.json["cost"] == cost(kitdrawer, left)
    again = kitdrawer("took", "nib", "1", "--from", left, "--yes")
    assert again.code == 0, again.err
    assert there(kitdrawer)[f"{left} and its nib"] == 1
    assert kitdrawer("took", "clip", "1", "--from", KIT, "--reason", "broke", "--yes").code == 0
    assert there(kitdrawer)[left] == 2
    for _ in range(3):
        assert kitdrawer("undo", "--yes").code == 0
    assert {part: many for part, many in there(kitdrawer).items() if many} == {
        part: many for part, many in before.items() if many
    }
    assert kitdrawer("verify").code == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("clip", "--from", "walnut blank"), "nothing can be taken out of it"),
        (("clip", "99", "--from", KIT), "The book has 9 of Dunlin kit chrome"),
        (("clip", "1.5", "--from", KIT), "whole"),
        (("clip", "--from", KIT, "--reason", "lent"), "is not lent"),
        (("clip", "--from", "no such kit"), "There is no part called"),
    ],
)
def test_what_cannot_be_taken_out(kitdrawer: Kitdrawer, words: tuple[str, ...], said: str) -> None:
    """One sentence, and nothing booked."""
    answer = kitdrawer("took", *words, "--yes")
    assert (answer.code, said in " ".join(answer.err.split())) == (1, True), answer.err
