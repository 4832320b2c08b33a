"""`market`: days of markets, what they are expected to sell, and what that asks of the shelf."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("booked")
HARBOUR = ("market", "harbour market")
REHEARSE = ("rehearse", "--weeks", "12", "--futures", "200", "--json")


def test_markets_are_named_changed_and_taken_back(kitdrawer: Kitdrawer) -> None:
    """One is listed from its day's figure on; said again it has another; --off and undo take it away."""
    assert "0 markets to come, Sat 28 Nov 2026." in kitdrawer("market").out
    assert kitdrawer(*HARBOUR, "2026-12-19", "--expected", "20", "--yes").code == 0
    assert kitdrawer(*HARBOUR, "2026-12-19", "--expected", "24", "--yes").code == 0
    assert kitdrawer("market", "Church fair", "2026-12-05", "--expected", "6", "--yes").code == 0
    assert kitdrawer("market", "--json").json["markets"] == [
        {"market": "Church fair", "on": "2026-12-05", "expected": 6, "past_days": 0},
        {"market": "harbour market", "on": "2026-12-19", "expected": 24, "past_days": 0},
    ]
    assert "harbour market" in kitdrawer("market").out
    assert kitdrawer(*HARBOUR, "2026-12-19", "--off", "--yes").code == 0
    assert len(kitdrawer("market", "--json").json["markets"]) == 1
    assert kitdrawer("undo", "--yes").code == 0
    assert len(kitdrawer("market", "--json").json["markets"]) == 2


def test_what_is_no_market_is_refused(kitdrawer: Kitdrawer) -> None:
    """No day, no such market, less than nothing."""
    assert "A market is on a day." in kitdrawer(*HARBOUR).err
    assert "There is no harbour market on 2026-12-19." in kitdrawer(*HARBOUR, "2026-12-19", "--off").err
    assert "cannot be expected" in kitdrawer(*HARBOUR, "2026-12-19", "--expected", "-1").err
    assert "needs a name" in kitdrawer("market", " ", "2026-12-19").err


def test_a_market_asks_for_parts_before_it(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Levels rise where it is near; a rehearsal has its sales and a way of shopping before it."""
    before = {one["part"]: one["level"] for one in kitdrawer("levels", "--json").json["parts"]}
    kitdrawer(*HARBOUR, "2026-12-19", "--expected", "20", "--yes")
    after = {one["part"]: one["level"] for one in kitdrawer("levels", "--json").json["parts"]}
    assert all(after[part] >= before[part] for part in before if part.startswith("tube"))
    assert sum(map(float, after.values())) > sum(map(float, before.values()))
    told = kitdrawer(*REHEARSE).json["policies"]
    assert [one["policy"] for one in told][-2:] == ["before each market", "levels worked out"]
    assert all(0 <= one["missed_sales"]["mean"] < 25 for one in told)
    assert told[0]["missed_sales"]["mean"] > 0
    screen = kitdrawer(*REHEARSE[:-1]).out
    assert re.search(r"harbour market Sat 19 Dec 2026: (19|20|21) pieces", " ".join(screen.split()))
    assert len(screen.splitlines()) <= 24
    assert kitdrawer(*REHEARSE, "--save", str(tmp_path / "ahead.xlsx")).code == 0


def test_pieces_expected_at_a_market_are_looked_ahead_to(kitdrawer: Kitdrawer) -> None:
    """A new shop's list is today's, until so many pieces are said; a market past or without a figure is none."""
    kitdrawer(*HARBOUR, "2026-12-19", "--yes")
    kitdrawer("market", "Church fair", "2026-11-21", "--expected", "30", "--yes")
    assert "Waits" not in kitdrawer("shopping").out
    kitdrawer(*HARBOUR, "2026-12-19", "--expected", "8", "--yes")
    assert "Waits" in kitdrawer("shopping").out
    assert "Waits" not in kitdrawer("shopping", "--today-only").out


def test_what_to_have_before_a_market(kitdrawer: Kitdrawer) -> None:
    """A piece takes one kit, so all kits are the pieces, but for what cannot be made; a larger market asks for more."""
    kitdrawer(*HARBOUR, "2026-12-26", "--expected", "20", "--yes")
    kits = {
        one["part"]
        for one in kitdrawer("shelf", "--kind", "kits", "--all", "--json").json["parts"]
        if one["kind"] == "kit"
    }
    words = ("levels", "--before", "Harbour Market")
    made = kitdrawer(*words, "--json").json
    assert (made["on"], made["ready_by"]) == ("2026-12-26", "2026-12-12")
    for_it = sum(float(one["for_it"]) for one in made["parts"] if one["part"] in kits)
    assert 17 <= for_it <= 23
    assert all(one["short"] == max(one["to_have"] - one["free"], 0) for one in made["parts"])
    salt = next(one for one in made["parts"] if one["part"] == "tube 7 x 53")
    assert "2026-12-01" < salt["order_by"] <= "2026-12-09"  # three days on the way
    kitdrawer(*HARBOUR, "2026-12-26", "--expected", "60", "--yes")
    more = {one["part"]: one["to_have"] for one in kitdrawer(*words, "--json").json["parts"]}
    assert all(more[one["part"]] >= one["to_have"] for one in made["parts"])
    screen = kitdrawer(*words).out
    assert "missing for harbour market, Sat 26 Dec 2026." in screen
    assert len(screen.splitlines()) <= 24
    assert "No market" in kitdrawer("levels", "--before", "no such fair").err


def test_markets_come_by_a_sheet_too(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """The tab says what the command does; loaded again with another figure only that changes; undo takes it back."""
    kitdrawer("market", "Church fair", "2026-12-05", "--expected", "6", "--yes")
    kitdrawer(*HARBOUR, "2026-12-19", "--expected", "20", "--yes")
    typed = kitdrawer("market", "--json").json["markets"]
    kitdrawer("undo", "--yes")
    sheet = tmp_path / "markets.csv"
    sheet.write_text("market,day,expected\nharbour market,19 December 2026,20\nspring fair,2027-04-03,\n")
    answer = kitdrawer("load", str(sheet), "--yes", "--json")
    assert answer.code == 0, answer.err
    assert answer.json["rows"] == {"markets": 2}
    assert kitdrawer("market", "--json").json["markets"] == typed
    sheet.write_text("market,day,expected\nHarbour Market,2026-12-19,24\n")
    again = kitdrawer("load", str(sheet), "--yes", "--json").json
    assert [(one["tab"], one["what"]) for one in again["changes"]] == [
        ("markets", "changed"),
        ("markets", "gone"),
    ]
    assert [one["expected"] for one in kitdrawer("market", "--json").json["markets"]] == [6, 24]
    assert kitdrawer("undo", "--yes").code == 0
    assert kitdrawer("market", "--json").json["markets"] == typed
    assert kitdrawer("verify").code == 0
    twice = "market,day,expected\nfair,2027-05-01,3\nFair,2027-05-01,4\nfair,soon,3\nfair,2027-05-02,-1\n"
    sheet.write_text(twice)
    refused = kitdrawer("load", str(sheet), "--yes")
    assert refused.code == 1
    assert all(f"row {row}" in refused.err for row in (3, 4, 5))
