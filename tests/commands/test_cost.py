"""`cost`: where each coin of a piece goes, to be made or made; prices; what it costs otherwise; what it sold for."""

from __future__ import annotations

import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pandas as pd
import pytest
from printed import too_low, too_small

import inventory

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")
DUNLIN = ("Dunlin pen", "-p", "gunmetal", "-b", "walnut blank")


def told(kitdrawer: Kitdrawer, *words: str) -> Any:
    """What the command says as JSON."""
    answer = kitdrawer("cost", *words, "--json")
    assert answer.code == 0, answer.err
    return answer.json


def goes_into(cost: Any, *kinds: str) -> Decimal:
    """What goes into things of these kinds; into everything where none is named."""
    return sum((one["cost"] for one in cost["goes_into"] if not kinds or one["kind"] in kinds), Decimal(0))


@pytest.mark.parametrize("pattern", ["Dunlin pen", "Redshank stopper"])
def test_each_coin_goes_somewhere(kitdrawer: Kitdrawer, pattern: str) -> None:
    """Rows add up to the total, for one piece and for many; on the screen to the piece of line 1."""
    for count in ("1", "7"):
        cost = told(kitdrawer, pattern, "--count", count)
        assert goes_into(cost) == cost["total"]
        assert cost["each"] * cost["pieces"] - cost["total"] < Decimal("0.01") * cost["pieces"]
    screen = kitdrawer("cost", pattern, "--all").out
    rows = re.findall(r"([0-9.]+)\s+[0-9]+ %(?:  █+)?$", screen, re.MULTILINE)
    assert sum(map(Decimal, rows)) == Decimal(re.search(r"costs ([0-9.]+) EUR", screen)[1])  # type: ignore[index]  # it says so


def test_what_an_order_costs_is_what_its_check_says(kitdrawer: Kitdrawer) -> None:
    """Materials of S42 by `can-take`, to the coin that a piece is rounded up by; and the work."""
    check = kitdrawer("can-take", "--order", "S42", "--json").json
    cost = told(kitdrawer, "S42")
    materials = goes_into(cost, "materials", "supplies", "packaging", "spoiled")
    assert 0 <= check["cost_per_piece"] * cost["pieces"] - materials < Decimal("0.01") * cost["pieces"]
    assert cost["minutes"] == check["starts"] * 35


def test_made_otherwise_is_what_the_other_costs(kitdrawer: Kitdrawer) -> None:
    """Each difference is that of two costs asked for one by one: plating, thicker, refill, blank."""
    named = ("--or", "chrome", "--or", "1 mm", "--or", "slim twist refill blue", "--or", "olivewood blank")
    base = told(kitdrawer, *DUNLIN, *named)
    told_of = {(one["what"], one["value"]): one["difference"] for one in base["otherwise"]}
    for key, words in (
        (("plating", "chrome"), ("Dunlin pen", "-p", "chrome", "-b", "walnut blank")),
        (("thicker", "1 mm"), (*DUNLIN, "--extra-diameter", "1 mm")),
        (("refill", "slim twist refill blue"), (*DUNLIN, "--refill", "slim twist refill blue")),
        (("blank", "olivewood blank"), ("Dunlin pen", "-p", "gunmetal", "-b", "olivewood blank")),
    ):
        assert told(kitdrawer, *words)["total"] - base["total"] == told_of[key], key
    assert told_of["plating", "rhodium"] > 0  # dearer offers


def test_thicker_than_its_blank_is_of_a_larger_one(kitdrawer: Kitdrawer) -> None:
    """Where the blank is too thin and none of its material is wider, it is said and nothing guessed."""
    cost = told(kitdrawer, *DUNLIN, "--or", "30 mm")
    thick = next(one for one in cost["otherwise"] if one["value"] == "30 mm")
    assert (thick["difference"], bool(thick["because"])) == (None, True)


def test_prices_keep_what_they_say(kitdrawer: Kitdrawer) -> None:
    """By margin, multiple and wage, and what a named price comes to."""
    cost = told(kitdrawer, *DUNLIN, "--margin", "40", "--times", "3", "--wage", "20", "--price", "30")
    by = {one["by"]: one for one in cost["prices"]}
    each = cost["total"] / cost["pieces"]
    work = goes_into(cost, "work") / cost["pieces"]
    hours = Decimal(str(cost["minutes"])) / 60 / cost["pieces"]
    assert by["40 % margin"]["price"] == (each / Decimal("0.6")).quantize(Decimal("0.01"), "ROUND_CEILING")
    assert by["3 × cost"]["price"] == (3 * each).quantize(Decimal("0.01"), "ROUND_CEILING")
    assert abs(by["20.00 EUR an hour"]["price"] - (each - work + 20 * hours)) < Decimal("0.02")
    assert float(by["as named"]["margin"]) == pytest.approx(float((30 - each) / 30), abs=1e-4)
    assert abs(by["as named"]["an_hour"] - (30 - each + work) / hours) < Decimal("0.02")


def test_a_fee_is_paid_by_so_many(kitdrawer: Kitdrawer) -> None:
    """What each contributes is its price less all but the work."""
    cost = told(kitdrawer, *DUNLIN, "--price", "30", "--fee", "45")
    gives = 30 - goes_into(cost, "materials", "supplies", "packaging", "spoiled", "tools") / cost["pieces"]
    many = cost["fee"]["pieces"]
    assert (many - 1) * gives < 45 <= many * gives


def test_what_such_pieces_sold_for(kitdrawer: Kitdrawer) -> None:
    """Each piece counts in the median; the last is the latest."""
    made = ("made", "Dunlin pen", "--blank", "walnut blank", "--plating", "chrome", "--count", "3", "--yes")
    assert kitdrawer(*made).code in (0, 3)
    for many, price in (("1", "38"), ("2", "42")):
        assert kitdrawer("sold", "Dunlin pen chrome walnut", many, "--price", price, "--yes").code == 0
    sold = told(kitdrawer, "Dunlin pen")["sold_before"]
    assert (sold["pieces"], sold["low"], sold["high"], sold["median"], sold["last"]) == (3, 38, 42, 42, 42)
    assert "3 sold for 38.00 to 42.00, median 42.00" in " ".join(kitdrawer("cost", "Dunlin pen").out.split())


def test_pieces_made_cost_what_the_book_says(kitdrawer: Kitdrawer, store: Path) -> None:
    """Two of an evening and one spoiled: rows come to the lot, and to what was lost beside it."""
    words = ("--blank", "walnut blank", "--plating", "chrome", "--count", "2", "--spoiled", "turn=1")
    assert kitdrawer("made", "Dunlin pen", *words, "--yes").code in (0, 3)
    cost = told(kitdrawer, "Dunlin pen chrome walnut")
    with inventory.open_book(store) as book:
        lines = book.frame("movements")
    lines = lines[lines["kind"] == "made"]
    lot, lost = (
        lines[lines["reason"] == "made"]["cost"].sum(),
        -lines[lines["reason"] == "lost"]["cost"].sum(),
    )
    assert goes_into(cost, "materials", "supplies", "packaging") == lot
    assert goes_into(cost, "spoiled") == lost
    assert (cost["made"], cost["pieces"]) == (True, 2)
    assert kitdrawer("handed-over", "S42", "--yes").code == 1  # nothing of it is promised


def test_an_order_that_went_out_cost_what_left_for_it(kitdrawer: Kitdrawer, store: Path) -> None:
    """Made at the hand-over: the lines of its entry."""
    for words in (("promise", "S45"), ("handed-over", "S45", "--made-now")):
        assert kitdrawer(*words, "--yes").code in (0, 3)
    cost = told(kitdrawer, "S45")
    with inventory.open_book(store) as book:
        lines = book.frame("movements")
    went = lines[(lines["kind"] == "hand-over") & (lines["account"] == "shelf") & (lines["reason"] == "used")]
    assert goes_into(cost, "materials", "supplies", "packaging") == -went["cost"].sum()
    assert "S45 cost " in kitdrawer("cost", "S45").out


def test_what_nobody_knows_is_named(kitdrawer: Kitdrawer) -> None:
    """A part whose cost nobody knows goes in: no price, and its name."""
    for words in (("found", "bog oak blank", "2"),):
        kitdrawer(*words, "--yes")
    cost = told(kitdrawer, "Dunlin pen", "-p", "chrome", "-b", "red deer antler")
    known = told(kitdrawer, *DUNLIN)
    assert known["unknown"] == []
    assert bool(cost["unknown"]) == (cost["prices"] == [])


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("Dunlim pen",), "Dunlin pen"),
        (("tube 7 x 53",), "kitdrawer trace"),
        ((*DUNLIN, "--or", "purple"), "2 mm"),
        ((*DUNLIN, "--margin", "100"), "below 100 %"),
        ((*DUNLIN, "--times", "0"), "2.5"),
        (("S99",), "pattern, order or piece"),
    ],
    ids=lambda one: " ".join(one) if isinstance(one, tuple) else "",
)
def test_what_cannot_be_told_is_refused(kitdrawer: Kitdrawer, words: tuple[str, ...], says: str) -> None:
    """With what to do."""
    answer = kitdrawer("cost", *words)
    assert (answer.code, says in " ".join(answer.err.split())) == (1, True), answer.err


def test_the_screen_is_a_page(kitdrawer: Kitdrawer) -> None:
    """The cost in line 1; 24 lines at most, with every fact there is."""
    kitdrawer("made", "Dunlin pen", "--blank", "walnut blank", "--plating", "chrome", "--count", "2", "--yes")
    kitdrawer("sold", "Dunlin pen chrome walnut", "1", "--price", "38", "--yes")
    screen = kitdrawer("cost", *DUNLIN, "--price", "30", "--fee", "45").out.splitlines()
    assert screen[0].startswith("Dunlin pen costs ")
    assert len(screen) <= 24
    assert max(map(len, screen)) <= 80


def test_the_workbook_says_the_same(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Read back by pandas: each coin, and each difference."""
    path = tmp_path / "cost.xlsx"
    cost = told(kitdrawer, *DUNLIN, "--save", str(path))
    tabs = pd.read_excel(path, sheet_name=None)
    assert (too_small(path), too_low(path)) == ([], [])
    rows = tabs["goes into"].dropna(subset=["kind"])
    assert rows["cost"].sum() == pytest.approx(float(cost["total"]))
    assert rows["share"].sum() == pytest.approx(1)
    assert tabs["by kind"]["of all pieces"].sum() == pytest.approx(float(cost["total"]))
    assert tabs["prices"]["price"].dropna().tolist()[:3] == [
        float(one["price"]) for one in cost["prices"][:3]
    ]
    known = sum(float(one["difference"]) for one in cost["otherwise"] if one["difference"] is not None)
    assert tabs["otherwise"]["all more"].sum() == pytest.approx(known)
