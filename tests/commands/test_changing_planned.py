"""`change` of an order that a session is planned for: it says that the plan no longer fits, or makes it anew."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any

import pytest

from .conftest import Kitdrawer

SATURDAY = "2026-11-28"
pytestmark = pytest.mark.usefixtures("promised")


@pytest.fixture
def promised(kitdrawer: Kitdrawer, store: Path) -> Path:
    """S41 and S42 are promised."""
    for order in ("S41", "S42"):
        assert kitdrawer("promise", order, "--yes").code in (0, 3)
    return store


def planned(kitdrawer: Kitdrawer) -> None:
    assert kitdrawer("plan", "--on", SATURDAY, "--yes").code in (0, 3)


def pieces(kitdrawer: Kitdrawer, folder: Path) -> list[dict[str, str]]:
    """The rows of the open plan's sheet, but for which plan it is of."""
    assert kitdrawer("weekend", "sheet", "--save", str(folder)).code == 0
    with (folder / "pieces.csv").open(encoding="utf-8-sig", newline="") as file:
        return [{key: said for key, said in row.items() if key != "sheet of"} for row in csv.DictReader(file)]


def changed(kitdrawer: Kitdrawer, *words: str) -> Any:
    said = kitdrawer("change", "S42", *words, "--json", "--yes")
    assert said.code in (0, 3), said.err
    return said.json["plan"]


def test_a_plan_that_no_longer_fits_is_named_with_what_to_run(kitdrawer: Kitdrawer) -> None:
    """7 were to begin for 6 good ones; for 4 it is 5."""
    planned(kitdrawer)
    told = " ".join(kitdrawer("change", "S42", "--count", "4", "--yes").out.split())
    assert "no longer fits: 5 to begin, not 7. Plan again: kitdrawer change S42 --again" in told
    assert changed(kitdrawer, "--again") == {
        "session": SATURDAY,
        "fits": False,
        "starts_planned": 7,
        "starts": 5,
        "again": f"{SATURDAY} a",
    }
    assert kitdrawer("verify").code == 0


def test_the_plan_made_anew_is_the_plan_of_the_order_as_it_is_now(
    kitdrawer: Kitdrawer, tmp_path: Path
) -> None:
    """The sheet is the one of a book in which the order was so before it was planned; the older sheet is refused."""
    words = ("--count", "4", "--blank", "olivewood blank")
    assert changed(kitdrawer, *words) is None
    planned(kitdrawer)
    always = pieces(kitdrawer, tmp_path / "always")
    assert [kitdrawer("undo", "--yes").code for _ in range(2)] == [0, 0]
    planned(kitdrawer)
    pieces(kitdrawer, tmp_path / "old")
    assert changed(kitdrawer, *words, "--again")["again"] == f"{SATURDAY} b"  # undone plans keep their names
    assert pieces(kitdrawer, tmp_path / "now") == always
    older = kitdrawer("weekend", "book", str(tmp_path / "old"), "--yes")
    assert "was given up" in older.err
    assert kitdrawer("verify").code == 0
    assert kitdrawer("undo", "--yes").code == 0
    assert [row["order"] for row in pieces(kitdrawer, tmp_path / "back")] == ["S41", "S42"]
    assert kitdrawer("verify").code == 0


def test_a_plan_that_fits_stays(kitdrawer: Kitdrawer) -> None:
    """Another name of the customer changes nothing of it; without any change there is nothing to make anew."""
    planned(kitdrawer)
    assert changed(kitdrawer, "--customer", "the harbour", "--again") == {
        "session": SATURDAY,
        "fits": True,
        "starts_planned": 7,
        "starts": 7,
        "again": None,
    }
    assert "fits “S42” as it is" in kitdrawer("change", "S42", "--again", "--yes").err


def test_what_is_in_no_plan_cannot_be_planned_anew(kitdrawer: Kitdrawer) -> None:
    """It says what to run instead."""
    assert "in no open plan" in kitdrawer("change", "S42", "--count", "4", "--again", "--yes").err
    assert changed(kitdrawer, "--count", "4") is None


def test_an_order_shared_over_evenings_is_planned_anew_as_a_whole(kitdrawer: Kitdrawer) -> None:
    """Two evenings take S42 together: what no longer fits is both of them, and `plan --anew` the remedy."""
    assert kitdrawer("hours", "sat 3, sun 3", "--yes").code == 0
    assert kitdrawer("plan", "S42", "--on", SATURDAY, "--on", "2026-11-29", "--yes").code in (0, 3)
    told = " ".join(kitdrawer("change", "S42", "--count", "3", "--yes").out.split())
    assert (
        "2026-11-28 and 2026-11-29 no longer fit: 4 to begin, not 7. Plan again: kitdrawer plan --again"
        in told
    )
    assert "shared over 2 sessions" in kitdrawer("change", "S42", "--count", "2", "--again", "--yes").err
    assert kitdrawer("verify").code == 0
