"""`levels`: what is worked out of the book, with its assumptions said."""

from __future__ import annotations

import pytest

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("booked")


def test_levels_follow_what_was_asked_for(kitdrawer: Kitdrawer) -> None:
    """A promise more of a pen asks for more of its parts; a shop without a past says what it assumes."""
    before = {one["part"]: one for one in kitdrawer("levels", "--json").json["parts"]}
    assert kitdrawer("promise", "S42", "--yes").code in (0, 3)
    after = {one["part"]: one for one in kitdrawer("levels", "--json").json["parts"]}
    kit = "Dunlin kit gunmetal"
    assert after[kit]["level"] > before.get(kit, {"level": 0})["level"]
    assert after[kit]["up_to"] > after[kit]["level"]
    assert after["tube 7 x 53"]["typed"] == 20
    answer = kitdrawer("levels")
    assert "below the level worked out, Sat 28 Nov 2026." in answer.out
    assert len(answer.out.splitlines()) <= 24
    assert "and " not in kitdrawer("levels", "--all").out.split("From")[0]


def test_a_cap_on_money_and_one_part(kitdrawer: Kitdrawer) -> None:
    """Less money in stock, lower levels; a cap that is none is refused; an unknown part too."""
    free = {one["part"]: one["up_to"] for one in kitdrawer("levels", "--json").json["parts"]}
    capped = {
        one["part"]: one["up_to"] for one in kitdrawer("levels", "--money", "60", "--json").json["parts"]
    }
    assert sum(map(float, capped.values())) < sum(map(float, free.values()))
    said = " ".join(kitdrawer("levels", "--money", "1").out.split())
    assert "more than was asked for" in said
    assert "more than was asked for" not in " ".join(kitdrawer("levels").out.split())
    (only,) = kitdrawer("levels", "CA thin", "--json").json["parts"]
    assert only["part"] == "CA thin"
    assert kitdrawer("levels", "--money", "0").code == 1
    assert kitdrawer("levels", "no such thing").code == 1


def test_what_was_undone_was_not_asked_for(kitdrawer: Kitdrawer) -> None:
    """A promise taken back leaves the levels as they were."""
    before = kitdrawer("levels", "--json").out
    kitdrawer("promise", "S41", "--yes")
    assert kitdrawer("levels", "--json").out != before
    kitdrawer("undo", "--yes")
    assert kitdrawer("levels", "--json").out == before
