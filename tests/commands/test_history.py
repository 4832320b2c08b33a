"""`history`: a past told again in plain loops over the book's own lines, on the screen, in JSON and as a workbook."""

from __future__ import annotations

import csv
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pandas as pd
import pytest
from printed import too_low, too_small

import inventory
from inventory.ledger.past.asleep import Held, asleep, money_asleep
from inventory.measures.dates import months_before

from .buying import SALT
from .conftest import SAMPLE, Kitdrawer

pytestmark = pytest.mark.usefixtures("past")
FEBRUARY, LATER = date(2027, 2, 10), date(2027, 9, 1)
STILL = ("merged", "opened", "moved", "cost said", "postage")


@pytest.fixture
def past(booked: Path, kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The booked weekend, then a parcel, purchases by hand, an order handed over late and a sale in February."""
    for words in (
        ("promise", "S42"),
        ("placed", "--supplier", SALT),
        ("arrived", "--supplier", SALT, "--complete", "--postage", "5.90"),
        ("add", "tube 7 x 53", "4", "--paid", "0.40", "--for", "each", "--sure"),
        ("handed-over", "S42", "--made-now"),
        ("sold", "Avocet pen chrome", "1", "--price", "38"),
    ):
        if words[0] == "arrived":
            monkeypatch.setenv("KITDRAWER_TODAY", FEBRUARY.isoformat())
        answer = kitdrawer(*words, "--yes")
        assert answer.code in (0, 3), answer.err
    return booked


def plain(on: date) -> dict[str, Any]:
    """The same figures out of frames of the book, line by line."""
    with inventory.open_book(today=on) as book:
        lines, pieces = book.frame("movements"), book.frame("pieces")
        units = dict(zip(book.frame("parts")["part"], book.frame("parts")["kind"], strict=True))
    with (SAMPLE / "counts.csv").open(encoding="utf-8") as sheet:
        said = [(one["part"], one["received on"]) for one in csv.DictReader(sheet) if one["received on"]]
    came = {part: date.fromisoformat(day) for part, day in sorted(said)}  # the last of its rows
    spent: dict[str, Decimal] = {"goods": Decimal(0), "postage": Decimal(0)}
    sleeps: dict[str, date] = {}
    there: dict[str, list[Decimal]] = {}
    rows: list[Any] = lines[lines["account"] == "shelf"].to_dict("records")
    for one in rows:
        if one["reason"] in ("arrived", "added", "postage"):
            spent["postage" if one["reason"] == "postage" else "goods"] += one["cost"]
        if one["quantity"] and one["reason"] not in STILL:
            day = came.get(one["part"], one["on"]) if one["kind"] == "load" else one["on"]
            sleeps[one["part"]] = max(day, sleeps.get(one["part"], day))
        held = there.setdefault(one["part"], [Decimal(0), Decimal(0)])
        held[0], held[1] = held[0] + one["quantity"], held[1] + one["cost"]
    return {
        "made": int(pieces["good"].sum()) + 6,  # those of S42 were made as they were handed over
        "spoiled": int(pieces["lost"].sum()),
        "spent": spent["goods"] + spent["postage"],
        "postage": spent["postage"],
        "asleep": {
            part: (day, there[part][1])
            for part, day in sleeps.items()
            if there[part][0] and units[part] != "tool" and day <= months_before(on, 6)
        },
    }


@pytest.mark.cross_check
def test_each_figure_is_what_the_lines_add_up_to(kitdrawer: Kitdrawer) -> None:
    """Made, spoiled, spent, postage: in all and by month, pattern, material and supplier."""
    told, mine = kitdrawer("history", "--json").json, plain(FEBRUARY)
    for name in ("made", "spoiled", "spent", "postage"):
        assert told["total"][name] == mine[name], name
        assert sum(one[name] for one in told["steps"]) == mine[name], name
    assert [one["from"] for one in told["steps"]] == [
        f"{y}-{m:02}-01" for y, m in ((2026, 11), (2026, 12), (2027, 1), (2027, 2))
    ]
    assert sum(one["made"] for one in told["patterns"]) == mine["made"]
    assert sum(one["spoiled"] for one in told["spoiled"]) == mine["spoiled"] > 0
    assert sum(one["goods"] + one["postage"] for one in told["suppliers"]) == mine["spent"]
    salt, hand = ({one["supplier"]: one for one in told["suppliers"]}[name] for name in (SALT, None))
    assert (salt["postage"], salt["parcels"], hand["goods"], hand["parcels"]) == (
        Decimal("5.90"),
        1,
        Decimal("1.60"),
        0,
    )
    assert told["total"]["sold_for"] == Decimal("38") + 6 * Decimal("24")
    (late,) = told["orders"]["late"]
    assert (late["order"], late["days"]) == ("S42", (FEBRUARY - date(2026, 12, 14)).days)


@pytest.mark.cross_check
def test_what_neither_came_nor_went_sleeps(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> None:
    """By the last line of each part that moved anything: six months, twelve; what moved since is awake."""
    for on in (LATER, date(2028, 1, 5)):
        monkeypatch.setenv("KITDRAWER_TODAY", on.isoformat())
        told, mine = kitdrawer("history", "--json").json, plain(on)["asleep"]
        assert {one["part"]: (one["since"], one["worth"]) for one in told["asleep"]} == {
            part: (day.isoformat(), cost) for part, (day, cost) in mine.items()
        }
        year = months_before(on, 12).isoformat()
        assert all(one["months"] == (12 if one["since"] <= year else 6) for one in told["asleep"])
        assert told["asleep_worth"]["6"] == sum(cost for _, cost in mine.values())
    kitdrawer("took", "walnut blank", "1", "--reason", "broke", "--yes")
    assert "walnut blank" in mine
    assert "walnut blank" not in {one["part"] for one in kitdrawer("history", "--json").json["asleep"]}
    kitdrawer("undo", "--yes")
    assert "walnut blank" in {one["part"] for one in kitdrawer("history", "--json").json["asleep"]}


@pytest.mark.cross_check
def test_the_last_day_counts_not_the_last_line(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> None:
    """A day that is typed after a later one is not the last; by plain loops as well."""
    for on in (LATER, FEBRUARY, FEBRUARY):
        monkeypatch.setenv("KITDRAWER_TODAY", on.isoformat())
        for part in ("walnut blank", "tube 7 x 53") if on == LATER else ("walnut blank",):
            assert kitdrawer("took", part, "1", "--reason", "broke", "--yes").code == 0
    for on in (LATER, date(2028, 3, 1)):
        monkeypatch.setenv("KITDRAWER_TODAY", on.isoformat())
        told = {one["part"]: one["since"] for one in kitdrawer("history", "--json").json["asleep"]}
        mine = {part: day.isoformat() for part, (day, _) in plain(on)["asleep"].items()}
        assert told == mine
        asleep_since = LATER.isoformat() if on > LATER else None
        assert {told.get("walnut blank"), told.get("tube 7 x 53")} == {asleep_since}


def test_the_screen_answers_in_line_one_and_fits(kitdrawer: Kitdrawer) -> None:
    """At most 24 lines; --all has every row."""
    told = kitdrawer("history").out
    assert told.startswith("7 made, 1 spoiled; 7 sold for 182.00, ")
    assert len(told.splitlines()) <= 24
    assert "S42 58 days" in told
    assert "postage" in told
    everything = kitdrawer("history", "--all").out
    for one in kitdrawer("history", "--json").json["prices"]:
        assert one["part"] in everything
    assert "6 made, 0 spoiled" in kitdrawer("history", "--since", "2027-02-01").out.splitlines()[0]
    refused = kitdrawer("history", "--since", "2027-03-01")
    assert (refused.code, "leave --since out" in refused.err) == (1, True)


def test_the_workbook_says_the_same(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Read again by pandas: sums, suppliers, looks at supplies, prices."""
    path = tmp_path / "history.xlsx"
    told = kitdrawer("history", "--save", str(path), "--json").json
    frames = pd.read_excel(path, sheet_name=None)
    together = frames["over time"].set_index("month").loc["together"]
    for heading, name in (
        ("made", "made"),
        ("sold for, EUR", "sold_for"),
        ("spent, EUR", "spent"),
        ("postage in it, EUR", "postage"),
    ):
        assert together[heading] == pytest.approx(float(told["total"][name])), heading
    spent = frames["suppliers"].set_index("supplier")
    for one in told["suppliers"]:
        assert spent.loc[one["supplier"] or "by hand", "goods, EUR"] == pytest.approx(float(one["goods"]))
    assert len(frames["use"]) == sum(len(one["looks"]) for one in told["uses"]) > 0
    assert len(frames["prices"]) == len(told["prices"])
    assert (too_small(path), too_low(path)) == ([], [])
    assert kitdrawer("history", "--save", str(path)).code == 1  # never written over unasked


def test_a_long_past_is_told_by_year(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> None:
    """Beyond three years, with the same sums; a year without anything has its row."""
    before = kitdrawer("history", "--json").json["total"]
    monkeypatch.setenv("KITDRAWER_TODAY", "2030-03-01")
    told = kitdrawer("history", "--json").json
    assert (told["by"], len(told["steps"]), told["total"]) == ("year", 5, before)


@pytest.mark.parametrize(
    ("last", "months"),
    [(date(2026, 8, 31), 0), (date(2026, 2, 28), 6), (date(2026, 3, 1), 0), (date(2025, 8, 31), 12)],
)
def test_months_are_those_of_the_calendar(last: date, months: int) -> None:
    """Half a year before the end of August is the end of February; a tool never sleeps."""
    held = [Held("wax", "supply", "g", 5000, 700, last), Held("drill O", "tool", "piece", 1000, 900, last)]
    found = asleep(held, date(2026, 8, 31))
    assert [(one.part, one.months) for one in found] == ([("wax", months)] if months else [])
    assert money_asleep(found)[6] == ((1, 700) if months else (0, 0))
