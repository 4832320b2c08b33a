"""`earned`: what was sold for what against all that went into it, by month and by everything else."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pandas as pd
import pytest
from printed import too_low, too_small

import inventory

from .conftest import Answer, Kitdrawer

pytestmark = pytest.mark.usefixtures("booked")
COSTS = ("materials", "supplies", "tools", "spoiled", "other")


def told(kitdrawer: Kitdrawer, *words: str) -> Answer:
    """What the command says as JSON."""
    answer = kitdrawer("earned", *words, "--json")
    assert answer.code == 0, answer.err
    return answer


def test_what_is_left_is_what_was_sold_less_all_it_took(kitdrawer: Kitdrawer) -> None:
    """A pen sold at a market, one given away, a kit broken: pieces, money, and each group's sums."""
    before = told(kitdrawer).json["total"]
    made = kitdrawer(
        "made", "Dunlin pen", "--blank", "walnut blank", "--plating", "chrome", "--count", "3", "--yes"
    )
    assert made.code in (0, 3), made.err  # a tube was lacking
    for words in (
        ("sold", "Dunlin pen chrome walnut", "1", "--price", "38", "--at", "harbour market"),
        ("took", "Dunlin pen chrome walnut", "1", "--reason", "gift"),
        ("took", "Dunlin kit chrome", "1", "--reason", "broke"),
    ):
        answer = kitdrawer(*words, "--yes")
        assert answer.code == 0, answer.err
    now = told(kitdrawer, "--by", "kind").json
    total, kinds = now["total"], {one["group"]: one for one in now["groups"]}
    assert total["sold"] - before["sold"] == 38
    assert (kinds["market"]["pieces"], kinds["gift"]["pieces"], kinds["gift"]["sold"]) == (1, 1, 0)
    assert kinds["gift"]["left"] < 0 < kinds["market"]["left"]
    assert total["left"] == total["sold"] - sum(total[one] for one in COSTS)
    for group in ("pattern", "material", "plating", "session", "month"):
        rows = told(kitdrawer, "--by", group).json["groups"]
        for name in ("pieces", "sold", "left", *COSTS):
            assert sum(one[name] for one in rows) == total[name], (group, name)


def test_a_sale_costs_what_its_lines_cost(kitdrawer: Kitdrawer, booked: Path) -> None:
    """Added up once more by pandas from the lines of the book: what was handed over, and what was spoiled."""
    for words in (("promise", "S45"), ("handed-over", "S45", "--made-now")):
        answer = kitdrawer(*words, "--yes")
        assert answer.code in (0, 3), answer.err
    total = told(kitdrawer).json["total"]
    with inventory.open_book(booked) as book:
        lines = book.frame("movements")
    shelf = lines[(lines["account"] == "shelf") & (lines["quantity"] < 0)]
    went = -shelf[(shelf["kind"] == "hand-over") & (shelf["reason"] == "used")]["cost"].sum()
    assert went == total["materials"] + total["supplies"] + total["of_other_packaging"] - _weighed(shelf)
    assert total["spoiled"] == -shelf[shelf["reason"] == "lost"]["cost"].sum()


def _weighed(shelf: pd.DataFrame) -> Decimal:
    """What sessions took of supplies beside the bills."""
    return Decimal(-shelf[shelf["reason"].isin(["weighed", "used up"])]["cost"].sum())


def test_what_was_taken_back_earned_nothing(kitdrawer: Kitdrawer) -> None:
    """Undone, the figures are as before."""
    before = told(kitdrawer).out
    kitdrawer("made", "Dunlin pen", "--blank", "walnut blank", "--plating", "chrome", "--yes")
    kitdrawer("sold", "Dunlin pen chrome walnut", "1", "--price", "38", "--yes")
    assert told(kitdrawer).out != before
    kitdrawer("undo", "--yes")
    kitdrawer("undo", "--yes")
    assert told(kitdrawer).out == before


def test_a_sale_without_a_price_is_said(kitdrawer: Kitdrawer) -> None:
    """It brought nothing that is known: named, not guessed."""
    kitdrawer("made", "Dunlin pen", "--blank", "walnut blank", "--plating", "chrome", "--yes")
    kitdrawer("sold", "Dunlin pen chrome walnut", "1", "--yes")
    assert told(kitdrawer).json["total"]["unpriced"] == 1
    assert "1 piece without a price" in " ".join(kitdrawer("earned").out.split())


def test_the_screen_answers_first(kitdrawer: Kitdrawer) -> None:
    """What is left in line 1 with its days, a page at most; other days and words refused with what to do."""
    screen = kitdrawer("earned").out.splitlines()
    assert " left of " in screen[0]
    assert len(screen) <= 24
    assert "licensed adviser" in " ".join(" ".join(screen).split())
    assert kitdrawer("earned", "--since", "2025-01-01", "--until", "2025-12-31").out.startswith(
        "Nothing was sold"
    )
    wrong = kitdrawer("earned", "--by", "colour")
    assert (wrong.code, "pattern" in wrong.err) == (1, True)


def test_the_workbook_says_the_same(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Read back by pandas: every way to sort it adds up to what --json says."""
    kitdrawer("made", "Dunlin pen", "--blank", "walnut blank", "--plating", "chrome", "--count", "2", "--yes")
    kitdrawer("sold", "Dunlin pen chrome walnut", "1", "--price", "38", "--yes")
    path = tmp_path / "earned.xlsx"
    total = told(kitdrawer, "--save", str(path)).json["total"]
    assert (too_small(path), too_low(path)) == ([], [])
    frame = pd.read_excel(path, sheet_name=None)
    for name, tab in frame.items():
        rows = tab[tab.iloc[:, 0] == "together"] if name != "each" else tab
        assert rows["sold for"].sum() == pytest.approx(float(total["sold"])), name
        assert rows["left"].sum() == pytest.approx(float(total["left"])), name
        assert rows["pieces"].sum() == total["pieces"], name


def test_a_weekend_typed_later_counts_on_its_own_day(
    kitdrawer: Kitdrawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Sold in November, booked in December: the entry is of November, unless something was booked since."""
    made = ("made", "Avocet pen", "--count", "3", "--blank", "olivewood", "--plating", "gunmetal", "--yes")
    assert kitdrawer(*made).code in (0, 3)
    sheet = tmp_path / "fair.csv"
    sheet.write_text(
        "what,part,how many,day,price\nsold,Avocet pen gunmetal,2,2026-11-29,38\n", encoding="utf-8"
    )
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-12-05")
    before = kitdrawer("worth", "--on", "2026-11-30", "--json").json["total"]
    assert "Sun 29 Nov" in kitdrawer("days", str(sheet), "--yes").out
    told = kitdrawer("earned", "--since", "2026-11-01", "--json").json
    assert (told["booked_later"], [one["pieces"] for one in told["months"]]) == (0, [2])
    assert kitdrawer("worth", "--on", "2026-11-30", "--json").json["total"] < before
    assert kitdrawer("undo", "--yes").code == 0
    assert kitdrawer("worth", "--json").json["total"] == before
    assert kitdrawer("found", "walnut blank", "1", "--yes").code in (0, 3)
    assert kitdrawer("days", str(sheet), "--yes").code in (0, 3)
    told = kitdrawer("earned", "--since", "2026-11-01", "--json").json
    assert (told["booked_later"], told["months"][-1]["month"]) == (2, "2026-12")


def test_what_a_sheet_of_days_sold_counts_when_it_is_booked(
    kitdrawer: Kitdrawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """`earned`, `history` and `worth` put it into the same month, and pieces sold in an earlier one are told."""
    for name in ("Avocet pen", "Dunlin pen"):
        assert kitdrawer(
            "made", name, "--count", "2", "--blank", "olivewood", "--plating", "gunmetal", "--yes"
        ).code in (0, 3)
    sheet = tmp_path / "market.csv"
    sheet.write_text(
        "what,part,how many,day,price\n"
        "sold,Avocet pen gunmetal,2,2026-11-28,38\nsold,Dunlin pen gunmetal,1,2026-12-02,24\n",
        encoding="utf-8",
    )
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-12-05")
    assert kitdrawer("days", str(sheet), "--yes").code in (0, 3)
    told = kitdrawer("earned", "--since", "2026-11-01", "--json").json
    assert told["booked_later"] == 2
    months = {one["month"]: (one["pieces"], one["sold"]) for one in told["months"]}
    assert months["2026-12"] == (3, Decimal(100))
    steps = kitdrawer("history", "--json").json["steps"]
    assert {one["from"]: (one["sold"], one["sold_for"]) for one in steps}["2026-12-01"] == (3, Decimal(100))
    worth = kitdrawer("worth", "--since", "2026-12-01", "--json").json
    december = next(one for one in told["months"] if one["month"] == "2026-12")
    assert worth["sold"] == sum(december[of] for of in ("materials", "supplies", "of_other_packaging")) > 0
    assert "2 pieces were sold in a month before" in " ".join(
        kitdrawer("earned", "--since", "2026-11-01").out.split()
    )
