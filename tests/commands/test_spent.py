"""`spent`: money for no part, typed, on a sheet or as the commission of a sale; what is left is less by it."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

import inventory

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("booked")


def earned(kitdrawer: Kitdrawer, *words: str) -> Any:
    """What is left, as JSON."""
    answer = kitdrawer("earned", *words, "--json")
    assert answer.code == 0, answer.err
    return answer.json


def test_each_is_taken_off_once_where_it_belongs(kitdrawer: Kitdrawer, booked: Path, tmp_path: Path) -> None:
    """Its month, its market, the pattern of its order; a share of a sale; all sorts come to the same, and `undo`."""
    before = earned(kitdrawer)["total"]
    sheet = tmp_path / "days.csv"
    sheet.write_text(
        "what,part,day,paid,at\nspent,fuel,2026-10-20,12.30,Harbour Market\nspent,packaging,,7,\n"
    )
    for words in (
        ("spent", "stall fee", "45", "--at", "harbour market", "--on", "2026-10-03"),
        (
            "sold",
            "avocet pen chrome",
            "1",
            "--price",
            "38.50",
            "--at",
            "harbour market",
            "--commission",
            "15 %",
        ),
        ("spent", "postage", "4.50", "--order", "S42"),
        ("days", str(sheet)),
    ):
        answer = kitdrawer(*words, "--yes")
        assert answer.code == 0, answer.err
    total = earned(kitdrawer)["total"]
    fees: dict[str, Any] = {
        "stall fee": 45,
        "fuel": Decimal("12.30"),
        "packaging": 7,
        "commission": Decimal("5.78"),
        "postage": Decimal("4.50"),
    }
    assert total["spent_on"] == fees  # 15 % of 38.50 is 5.775, half to even
    assert total["spent"] == sum(fees.values())
    rest = ("materials", "supplies", "tools", "spoiled", "other", "spent")
    assert total["left"] == total["sold"] - sum(total[one] for one in rest)
    sorts = {
        by: {one["group"]: one for one in earned(kitdrawer, "--by", by)["groups"]}
        for by in ("month", "pattern", "material", "plating", "kind", "place", "session")
    }
    for by, groups in sorts.items():
        assert sum(one["spent"] for one in groups.values()) == total["spent"], by
        assert sum(one["left"] for one in groups.values()) == total["left"], by
    assert sorts["month"]["2026-10"]["spent"] == Decimal("57.30")
    assert sorts["place"]["harbour market"]["spent"] == Decimal("63.08")
    assert sorts["place"]["harbour market"]["sold"] == Decimal("38.50")
    assert sorts["pattern"]["Dunlin pen"]["spent"] == Decimal("4.50")
    assert sorts["kind"]["order"]["spent"] == Decimal("4.50")
    assert kitdrawer("verify").code == 0
    with inventory.open_book(booked) as book:
        assert book.frame("entries")["kind"].tolist().count("spent") == 2
    for _ in range(4):
        kitdrawer("undo", "--yes")
    after = earned(kitdrawer)["total"]
    assert after == before


def test_an_order_knows_what_was_spent_for_it(kitdrawer: Kitdrawer) -> None:
    """`entries` of the order names it."""
    kitdrawer("spent", "postage", "4.50", "--order", "S42", "--yes")
    assert "postage" in kitdrawer("entries", "S42").out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("spent", "stall fee", "0"), "above 0"),
        (("spent", " ", "5"), "name"),
        (("spent", "stall fee", "5", "--on", "2026-12-01"), "still to come"),
        (("spent", "postage", "5", "--order", "S99"), "S99"),
        (("sold", "avocet pen chrome", "--commission", "15 %"), "--price"),
        (("sold", "avocet pen chrome", "--price", "5", "--commission", "6"), "more than was paid"),
        (("sold", "avocet pen chrome", "--price", "5", "--commission", "100 %"), "below 100 %"),
    ],
    ids=lambda one: one[-1] if isinstance(one, tuple) else "",
)
def test_what_cannot_be_spent_is_refused(kitdrawer: Kitdrawer, words: tuple[str, ...], says: str) -> None:
    """With what to do, and nothing is booked."""
    answer = kitdrawer(*words, "--yes")
    assert answer.code != 0
    assert says in " ".join(answer.err.split()), answer.err
    assert earned(kitdrawer)["total"]["spent"] == 0


def test_a_sheet_line_says_how_much(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """A line without a sum is refused by its cell."""
    sheet = tmp_path / "days.csv"
    sheet.write_text("what,part,paid\nspent,fuel,\n")
    answer = kitdrawer("days", str(sheet), "--yes")
    assert (answer.code, "How much?" in answer.err) == (1, True), answer.err


def test_the_workbook_takes_it_off_too(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Read back by pandas."""
    kitdrawer("spent", "stall fee", "45", "--at", "harbour market", "--yes")
    path = tmp_path / "earned.xlsx"
    total = earned(kitdrawer, "--save", str(path))["total"]
    for name, tab in pd.read_excel(path, sheet_name=None).items():
        rows = tab[tab.iloc[:, 0] == "together"] if name != "each" else tab
        assert rows["spent"].sum() == pytest.approx(45), name
        assert rows["left"].sum() == pytest.approx(float(total["left"])), name
