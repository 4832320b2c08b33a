"""A parcel that is late: what cannot be counted on any more, who says so, and what is bought instead."""

from __future__ import annotations

from pathlib import Path

import pytest

from .buying import SALT, shelf
from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("ordered")
KIT = "Dunlin kit gunmetal"
LATE = "2026-12-09"
"""S42 is promised for the 14th, its kits were expected on the 1st: a week is usual, eight days are not."""


@pytest.fixture
def late(ordered: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The day on which they cannot be counted on any more."""
    assert ordered.exists()
    monkeypatch.setenv("KITDRAWER_TODAY", LATE)


@pytest.fixture
def also_elsewhere(ordered: Path, kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Another supplier has the kits in five days."""
    assert ordered.exists()
    sheet = tmp_path / "offers.csv"
    sheet.write_text(f"supplier,part,pack,price\nOystershell Kits,{KIT},1,4.60\n", encoding="utf-8")
    assert kitdrawer("load", str(sheet), "--yes").code == 0


def line(kitdrawer: Kitdrawer, part: str = KIT) -> list[tuple[str, int]]:
    """From whom how many packs of a part are on the list."""
    lists = kitdrawer("shopping", "--json").json["lists"]
    return [(one["supplier"], row["packs"]) for one in lists for row in one["lines"] if row["part"] == part]


def test_until_it_is_later_than_usual_it_is_waited_for(
    kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two days late: nothing is bought twice, and the promise is said to wait until the usual day."""
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-12-03")
    assert line(kitdrawer) == []
    answer = kitdrawer("orders", "S42")
    assert "due in Tue 8 Dec." in " ".join(answer.out.split())
    assert answer.code == 0


@pytest.mark.usefixtures("late")
def test_orders_says_so(kitdrawer: Kitdrawer) -> None:
    """And ends with 3, on the screen and as JSON."""
    answer = kitdrawer("orders")
    assert answer.code == 3
    assert "parcel 8 days late: order it again" in " ".join(answer.out.split())
    told = kitdrawer("orders", "--json")
    assert told.code == 3
    assert {one["order"]: one["late"] for one in told.json["orders"]}["S42"] is True
    assert kitdrawer("orders", "S41").code == 0
    rows = {one["part"]: one for one in kitdrawer("due-in", "--json").json["due_in"]}
    assert (rows[KIT]["days_late"], rows[KIT]["counted_on"]) == (8, "2026-12-17")


@pytest.mark.usefixtures("also_elsewhere", "late")
def test_shopping_buys_it_anew_and_the_promise_waits_for_that(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """From somebody else, once; what cancelling saves is said; and the late parcel is nobody's when it comes."""
    assert "\nLate " in kitdrawer("shopping", "--save", str(tmp_path / "list.xlsx")).out
    said = " ".join(kitdrawer("shopping", "--why").out.split())
    assert (
        f"{KIT}, 4 for S42: {SALT} is 8 days late, not to be counted on before Thu 17 Dec; bought again."
        in said
    )
    assert "Ask them: cancelling it saves 15.60 EUR." in said
    assert line(kitdrawer) == [("Oystershell Kits", 4)]
    (told,) = [one for one in kitdrawer("shopping", "--json").json["late_parcels"] if one["part"] == KIT]
    assert (told["orders"], told["bought_anew"], str(told["saved_by_cancelling"])) == (["S42"], True, "15.60")
    assert kitdrawer("placed", str(tmp_path / "list.xlsx"), "--yes").code == 0
    assert line(kitdrawer) == []
    assert kitdrawer("orders").code == 0
    assert kitdrawer("verify").code == 0
    free = shelf(kitdrawer, KIT)["free"]
    assert kitdrawer("arrived", KIT, "--supplier", SALT, "--quantity", "4", "--yes").code == 0
    assert shelf(kitdrawer, KIT)["free"] == free + 4
    kitdrawer("arrived", KIT, "--supplier", "Oystershell Kits", "--quantity", "4", "--yes")
    assert shelf(kitdrawer, KIT)["free"] == free + 4


@pytest.mark.usefixtures("late")
def test_where_nobody_else_has_it_the_same_supplier_is_asked_again(kitdrawer: Kitdrawer) -> None:
    """A parcel may be lost: ordered again it would be in time."""
    said = " ".join(kitdrawer("shopping", "--why").out.split())
    assert "bought again from them, as nobody else has it in time" in said
    assert line(kitdrawer) == [(SALT, 4)]
    assert line(kitdrawer, "accelerator") == [(SALT, 1)]


def test_what_would_be_no_sooner_is_not_bought(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> None:
    """The promise is for today, and the parcel is no later than usual: it is said, and waited for."""
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-12-05")
    kitdrawer(
        *("promise", "Stall 1", "--pattern", "Dunlin pen", "--plating", "gunmetal"),
        *("--blank", "walnut blank", "--by", "2026-12-05", "--yes"),
    )
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-12-16")
    answer = kitdrawer("shopping", "--without", SALT)
    assert f"{SALT} is 15 days late, not to be counted on before Thu 31 Dec" in " ".join(answer.out.split())
    assert "ordered again it would be no sooner. Ask them." in " ".join(answer.out.split())
    assert answer.code == 3


@pytest.mark.usefixtures("late")
def test_a_new_wish_does_not_count_on_it(kitdrawer: Kitdrawer) -> None:
    """can-take counts on what is free of a late parcel from the day it may come, not from today."""
    request = ("Turnstone pencil", "--plating", "chrome", "--blank", "olivewood blank", "--json")
    told = kitdrawer("can-take", *request, "--by", "2026-12-11").json
    assert told["verdict"] == "too late"
    later = kitdrawer("can-take", *request, "--by", "2026-12-20").json
    bought = [one for one in later["buy"] if one["part"] == "Turnstone kit chrome"]
    assert [one["arrives"] for one in bought] == ["2026-12-17"]


def test_how_late_they_are_is_learned(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> None:
    """Four parcels came in time: no day late is usual. Of three that is not known yet."""
    for number in range(4):
        words = (
            "arrived",
            "tube 7 x 53",
            "--supplier",
            SALT,
            "--quantity",
            "1",
            "--note",
            f"{number}",
            "--yes",
        )
        assert kitdrawer(*words).code == 0
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-12-03")
    counted = [
        one["counted_on"] for one in kitdrawer("due-in", "--json").json["due_in"] if one["part"] == KIT
    ]
    assert counted == ["2026-12-05"]
    kitdrawer("undo", "--yes")
    counted = [
        one["counted_on"] for one in kitdrawer("due-in", "--json").json["due_in"] if one["part"] == KIT
    ]
    assert counted == ["2026-12-08"]
