"""`change`: an order wanted otherwise is judged again, and its set-asides move in one entry that undo takes back."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

import pytest

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")


def claims(kitdrawer: Kitdrawer, order: str = "S42") -> dict[tuple[str, str], Decimal]:
    """What is set aside for an order, due for it or to buy."""
    said = kitdrawer("orders", order, "--json").json["orders"][0]
    found: dict[tuple[str, str], Decimal] = {}
    for one in said["claims"]:
        key = one["part"], one["from"]
        found[key] = found.get(key, Decimal(0)) + one["quantity"]
    return found


def picture(kitdrawer: Kitdrawer) -> tuple[Any, ...]:
    """The shelf and all orders."""
    return kitdrawer("shelf", "--json").out, kitdrawer("orders", "--all", "--json").out


def changed(kitdrawer: Kitdrawer, *words: str, code: int = 0) -> Mapping[str, Any]:
    """Change S42; what is said."""
    answer = kitdrawer("change", "S42", *words, "--yes", "--json")
    assert answer.code == code, answer.err
    said: Mapping[str, Any] = answer.json
    return said


def test_fewer_later_and_in_another_wood(kitdrawer: Kitdrawer) -> None:
    """4 of olivewood for 6 of walnut, a week later: what it needs is what a new order would; undo gives all back."""
    assert kitdrawer("promise", "S42", "--yes").code == 3
    before = picture(kitdrawer)
    words = ("--count", "4", "--by", "2026-12-21", "--blank", "olivewood blank")
    asked = kitdrawer(
        "can-take", "Dunlin pen", "--plating", "gunmetal", "--or-plating", "black titanium", *words, "--json"
    )
    said = changed(kitdrawer, *words, code=3)
    assert said["changed"] == [
        "count 6 → 4",
        "blank walnut blank → olivewood blank",
        "due 2026-12-14 → 2026-12-21",
    ]
    assert {"part": "walnut blank", "quantity": Decimal(7)} in said["freed"]
    assert all(one["quantity"] > 0 for one in said["freed"])
    assert said["starts"] == asked.json["starts"]
    held = claims(kitdrawer)
    assert not [part for part, _ in held if part == "walnut blank"]
    assert sum(many for (part, _), many in held.items() if part == "olivewood blank") == said["starts"]
    assert kitdrawer("verify").code == 0
    assert kitdrawer("entries", "S42", "--json").json["entries"][1]["stands_on_it"] == [3]
    assert kitdrawer("undo", "2", "--yes").code == 1
    assert kitdrawer("undo", "--yes").code == 0
    assert picture(kitdrawer) == before
    assert kitdrawer("verify").code == 0


@pytest.mark.cross_check
def test_a_change_there_and_back_holds_what_a_promise_would(kitdrawer: Kitdrawer) -> None:
    """Changed away and changed back, it has the claims it was first given."""
    assert kitdrawer("promise", "S42", "--yes").code == 3
    before = claims(kitdrawer)
    changed(kitdrawer, "--count", "3", code=3)
    assert claims(kitdrawer) != before
    changed(kitdrawer, "--count", "6", code=3)
    assert claims(kitdrawer) == before


def test_what_is_over_goes_to_those_who_wait(kitdrawer: Kitdrawer) -> None:
    """A strip that S42 no longer needs goes to S41, which waited for it, in the same entry."""
    assert kitdrawer("promise", "S42", "--yes").code == 3
    assert kitdrawer("promise", "S41", "--yes").code == 3
    waiting = {part for part, where in claims(kitdrawer, "S41") if where == "to buy"}
    said = changed(kitdrawer, "--count", "1")
    got = {one["part"] for one in said["handed_on"] if one["order"] == "S41"}
    assert got
    assert got <= waiting


def test_of_what_is_handed_over_in_part_the_rest_changes(kitdrawer: Kitdrawer) -> None:
    """2 of 6 are with the customer: 4 wanted in all leaves 2 open; fewer are refused; then it is fetched in full."""
    assert kitdrawer("promise", "S42", "--yes").code == 3
    assert kitdrawer("handed-over", "S42", "--count", "2", "--made-now", "--yes").code in (0, 3)
    changed(kitdrawer, "--count", "4", code=3)
    one = kitdrawer("orders", "S42", "--json").json["orders"][0]
    assert (one["count"], one["handed_over"]) == (4, 2)
    refused = kitdrawer("change", "S42", "--count", "2", "--yes")
    assert (
        refused.code,
        "2 pieces of “S42” are with the customer already" in " ".join(refused.err.split()),
    ) == (1, True)
    assert kitdrawer("handed-over", "S42", "--made-now", "--yes").code == 0
    assert kitdrawer("change", "S42", "--count", "9", "--yes").code == 1
    for _ in range(4):
        assert kitdrawer("undo", "--yes").code == 0
    assert kitdrawer("verify").code == 0


def test_a_wish_changes_too(kitdrawer: Kitdrawer) -> None:
    """What is only noted is noted otherwise, and nothing is set aside; names are taken however they are written."""
    before = picture(kitdrawer)
    said = changed(kitdrawer, "--plating", "CHROME", "--price", "26", "--customer", "the harbour master")
    assert "plating" in " ".join(said["changed"])
    one = kitdrawer("orders", "S42", "--json").json["orders"][0]
    assert (one["platings"], one["customer"], one["state"]) == (["chrome"], "the harbour master", "wish")
    assert kitdrawer("undo", "--yes").code == 0
    assert picture(kitdrawer) == before


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "is so already"),
        (("--count", "6"), "is so already"),
        (("--by", "2026-11-01"), "is past"),
        (("--blank", "CA thin"), "There is no blank called"),
        (("--plating", "cromium"), "no plating called"),
        (("--count", "20000"), "cannot be taken"),
    ],
)
def test_what_is_refused(kitdrawer: Kitdrawer, words: tuple[str, ...], said: str) -> None:
    """One sentence, and nothing booked."""
    answer = kitdrawer("change", "S42", *words, "--yes")
    assert (answer.code, said in " ".join(answer.err.split())) == (1, True), answer.err
    assert len(kitdrawer("entries", "--json").json["entries"]) == 1


def test_no_pattern_that_is_retired(kitdrawer: Kitdrawer) -> None:
    """An order cannot be changed into what is no longer made; one of it that was promised may still change."""
    assert kitdrawer("promise", "S42", "--yes").code == 3
    assert kitdrawer("retire", "Avocet pen", "Dunlin pen", "--yes").code == 0
    other = kitdrawer("change", "S42", "--pattern", "Avocet pen", "--plating", "gunmetal", "--yes")
    assert "no longer made" in " ".join(other.err.split())
    assert "from the shelf" in changed(kitdrawer, "--count", "2")["verdict"]


def test_the_screen(kitdrawer: Kitdrawer) -> None:
    """What changes, the answer, what is missing and what is free again, in no more lines than a screen has."""
    assert kitdrawer("promise", "S42", "--yes").code == 3
    answer = kitdrawer("change", "S42", "--count", "4", "--yes")
    assert answer.out.startswith("YES, after buying. All parts here Tue 1 Dec; due Mon 14 Dec 2026.\nS42")
    assert "Change   count 6 → 4." in answer.out
    assert "no longer needed for it" in " ".join(answer.out.split())
    assert len(answer.out.splitlines()) <= 24
    assert all(len(line) <= 80 for line in answer.out.splitlines())
    late = kitdrawer("change", "S42", "--by", "2026-11-28").out
    assert late.startswith("TOO LATE")
