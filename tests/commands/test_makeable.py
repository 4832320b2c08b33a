"""`makeable`: the set is one the shelf gives, an order's parts stay, and one more part adds what is said."""

from __future__ import annotations

from typing import Any

import pytest

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")


def told(kitdrawer: Kitdrawer, *words: str) -> Any:
    """What it says as JSON."""
    answer = kitdrawer("makeable", *words, "--json")
    assert answer.code == 0, answer.err
    return answer.json


def test_each_piece_of_the_set_can_be_taken_from_the_shelf(kitdrawer: Kitdrawer) -> None:
    """`can-take`, which knows nothing of it, has every kind's parts; kits never more than are free."""
    made = told(kitdrawer)
    assert made["proven"]
    assert made["total"] == sum(one["count"] for one in made["pieces"])
    kits = {one["part"]: one["free"] for one in kitdrawer("shelf", "--kind", "kits", "--json").json["parts"]}
    for one in made["pieces"]:
        assert one["count"] <= kits[one["kit"]]
        words = ("--plating", one["plating"], "--blank", one["blank"], "--count", "1", "--by", "2026-12-20")
        parts = kitdrawer("can-take", one["pattern"], *words, "--json").json["parts"]
        short = [p["part"] for p in parts if p["need"] > 1 and p["stage"] == "assemble" and p["short"]]
        assert short == [], one


def test_what_is_set_aside_is_left_alone(kitdrawer: Kitdrawer) -> None:
    """A promise takes its kits and tubes out of the set."""
    before = told(kitdrawer)
    assert kitdrawer("promise", "S41", "--yes").code in (0, 3)
    after = told(kitdrawer)
    assert after["total"] <= before["total"]
    used = sum(one["count"] for one in after["pieces"] if one["kit"] == "Godwit kit chrome")
    free = kitdrawer("shelf", "--text", "Godwit kit chrome", "--json").json["parts"][0]["free"]
    assert used <= free


def test_one_more_adds_what_is_said(kitdrawer: Kitdrawer) -> None:
    """The part is found in a drawer: the set grows by just that."""
    made = told(kitdrawer)
    assert all(one["adds"] > 0 for one in made["one_more"])
    more = next(one for one in made["one_more"] if one["part"] == "tube 7 x 53")
    kitdrawer("found", "tube 7 x 53", "1", "--yes")
    assert told(kitdrawer)["total"] == made["total"] + more["adds"]


def test_hours_bound_it(kitdrawer: Kitdrawer) -> None:
    """No more minutes than there are; no hours are refused."""
    made = told(kitdrawer, "--hours", "2")
    assert 0 < made["minutes"] <= 120
    assert made["total"] < told(kitdrawer)["total"]
    for wrong in ("0", "-1", "many"):
        answer = kitdrawer("makeable", "--hours", wrong)
        assert (answer.code, "such as 6" in answer.err) == (1, True)


def test_what_earns_most_says_what_has_no_price(kitdrawer: Kitdrawer) -> None:
    """Only pieces that were sold or agreed on are reckoned; nothing agreed, nothing earned."""
    assert told(kitdrawer, "--earns")["pieces"] == []
    assert kitdrawer("promise", "S41", "--yes").code in (0, 3)
    made = told(kitdrawer, "--earns")
    assert {one["pattern"] for one in made["pieces"]} <= {"Godwit seam ripper"}
    assert "Dunlin pen" in made["no_price"]
    screen = kitdrawer("makeable", "--earns").out
    assert "nobody said what such a piece sells for" in " ".join(screen.split())


def test_the_screen_is_a_page(kitdrawer: Kitdrawer) -> None:
    """How many in line 1, what lacks a tool, what one more would add, the next command."""
    screen = kitdrawer("makeable").out
    assert screen.splitlines()[0].endswith("can be made: Sat 28 Nov 2026.")
    assert len(screen.splitlines()) <= 24
    assert "One more" in screen
    assert "Avocet pen (drill 27/64)" in screen
    assert "kitdrawer plan --stall" in screen
