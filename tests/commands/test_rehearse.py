"""`rehearse`: ways of buying side by side, the same for the same seed, on a screen, as JSON and as a workbook."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from printed import too_low, too_small

from inventory.jobs.ahead import rehearsal

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("booked")
FEW = ("rehearse", "--weeks", "10", "--futures", "200")


def test_ways_side_by_side(kitdrawer: Kitdrawer) -> None:
    """As now first; what a seed says it says again, another seed something else; chances are of weeks to come."""
    told = kitdrawer(*FEW, "--json").json
    assert kitdrawer(*FEW, "--json").json == told
    assert kitdrawer(*FEW, "--seed", "2", "--json").json != told
    names = [one["policy"] for one in told["policies"]]
    assert names == ["as now", "every week", "every four weeks", "levels worked out"]
    for one in told["policies"]:
        for spread in (one["late_orders"], one["cost"], one["money_in_stock"]):
            assert spread["low"] <= spread["mean"] <= spread["high"]
    assert told["policies"][0]["saves"] == {"mean": 0, "low": 0, "high": 0}
    weekly, monthly = told["policies"][1], told["policies"][2]
    assert weekly["late_orders"]["mean"] < monthly["late_orders"]["mean"]
    assert weekly["parcels"] > monthly["parcels"]
    weeks = {date.fromisoformat(one["week"]) for one in told["parts"]}
    assert min(weeks) >= date(2026, 12, 4)
    assert max(weeks) <= date(2027, 2, 5)
    assert all(0 < one["chance_out"] <= 1 for one in told["parts"])
    assert told["sleeps"][0]["worth"] >= told["sleeps"][-1]["worth"] > 0


def test_a_promise_is_an_order_more_that_may_be_late(kitdrawer: Kitdrawer) -> None:
    """What is promised counts among the orders of every future; what is promised too soon is late in each."""
    before = kitdrawer(*FEW, "--json").json
    kitdrawer("promise", "S41", "--yes")
    after = kitdrawer(*FEW, "--json").json
    assert after["asked"] > before["asked"]
    words = ["--pattern", "Dunlin pen", "--plating", "gunmetal", "--blank", "walnut blank", "--count", "40"]
    assert kitdrawer("promise", "Fair", *words, "--by", "2026-11-30", "--yes").code in (0, 3)
    much = kitdrawer(*FEW, "--json").json["policies"]
    assert much[0]["late_orders"]["low"] >= 1
    assert all(one["late_orders"]["mean"] > 1 for one in much)


def test_a_screen_and_a_workbook(
    kitdrawer: Kitdrawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The answer in line 1, a page at most; the workbook holds the same figures and charts of its own."""
    file, once = tmp_path / "ahead.xlsx", list[Any]()

    def lived(*asked: Any, really: Any = rehearsal.rehearse) -> Any:
        """What was rehearsed the first time: a seed says the same again (above), and all that is shown is of one."""
        if not once:
            once.append(really(*asked))
        return once[0]

    monkeypatch.setattr(rehearsal, "rehearse", lived)
    answer = kitdrawer(*FEW)
    assert "of" in answer.out.splitlines()[0]
    assert "orders are late by Fri 5 Feb 2027." in answer.out.splitlines()[0]
    assert len(answer.out.splitlines()) <= 24
    assert len(kitdrawer(*FEW, "--all").out.splitlines()) > len(answer.out.splitlines())
    assert "Saved:" in kitdrawer(*FEW, "--save", str(file)).out
    book = load_workbook(file)
    assert book.sheetnames == ["ways", "stock", "runs out", "parts", "sleeps"]
    assert book["ways"]["A2"].value == "as now"
    told = kitdrawer(*FEW, "--json").json["policies"][0]
    assert book["ways"]["E2"].value == pytest.approx(float(told["cost"]["mean"]), abs=0.006)
    with file.open("rb") as raw:
        assert raw.read().count(b"charts/chart") >= 4
    assert (too_small(file), too_low(file)) == ([], [])
    assert kitdrawer(*FEW, "--save", str(file)).code == 1
    assert kitdrawer(*FEW, "--save", str(file), "--overwrite").code == 0
    assert kitdrawer(*FEW, "--save", str(tmp_path / "ahead.csv")).code == 1


@pytest.mark.parametrize("words", [("--weeks", "1"), ("--weeks", "500"), ("--futures", "1")])
def test_numbers_that_make_no_sense(kitdrawer: Kitdrawer, words: tuple[str, str]) -> None:
    """Refused, with what can be asked for."""
    answer = kitdrawer("rehearse", *words)
    assert answer.code == 1
    assert "Give 2 to" in answer.err


def test_hours_make_orders_late(kitdrawer: Kitdrawer) -> None:
    """With an hour a week most of what is asked for is late; the screen says that hours count."""
    free = kitdrawer(*FEW, "--json").json["policies"][0]["late_orders"]["mean"]
    assert kitdrawer("hours", "sat 1", "--yes").code == 0
    assert kitdrawer(*FEW, "--json").json["policies"][0]["late_orders"]["mean"] > 1.5 * float(free)
    assert "your hours" in " ".join(kitdrawer(*FEW).out.split())


def test_what_is_on_its_way_and_what_is_finished_count(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """A list that is placed comes and is not bought again; a piece that lies finished is made no more."""
    kitdrawer("promise", "S42", "--yes")
    before = kitdrawer(*FEW, "--json").json
    file = tmp_path / "list.xlsx"
    kitdrawer("shopping", "--save", str(file))
    assert kitdrawer("placed", str(file), "--yes").code == 0
    told = kitdrawer(*FEW, "--json").json
    assert float(told["policies"][2]["parcels"]) < float(before["policies"][2]["parcels"]) - 0.5
    made = ("made", "Dunlin pen", "--plating", "chrome", "--blank", "walnut blank", "--count", "3", "--yes")
    assert kitdrawer(*made).code in (0, 3)
    after = kitdrawer(*FEW, "--json").json
    assert after["policies"][0]["cost"] != told["policies"][0]["cost"]
