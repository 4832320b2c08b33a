"""`worth`: what the shelf cost at a day, by lot, with what is not in it; and the workbook of the year's end."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import openpyxl
import pandas as pd
import pytest
from printed import too_low, too_small

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("booked")
STEPS = (
    ("bought", 1),
    ("found", 1),
    ("made", 1),
    ("used", -1),
    ("lost", -1),
    ("sold", -1),
    ("given", -1),
    ("lent", -1),
    ("corrected", 1),
)


def test_what_is_there_is_what_was_there_and_what_moved(kitdrawer: Kitdrawer) -> None:
    """Given, lent, broken and found: each in its own sum, and all together the shelf, as the shelf's lots have it."""
    before = kitdrawer("worth", "--json").json
    for words in (
        ("took", "Dunlin kit chrome", "1", "--reason", "gift"),
        ("took", "tube 7 x 53", "2", "--reason", "lent", "--to", "the neighbour"),
        ("took", "Dunlin kit chrome", "1", "--reason", "broke"),
        ("found", "Dunlin kit chrome", "1"),
        ("add", "Dunlin kit chrome", "2", "--paid", "4.10"),
    ):
        assert kitdrawer(*words, "--yes").code == 0
    told = kitdrawer("worth", "--json").json
    assert told["bought"] - before["bought"] == Decimal("8.20")
    for kind in ("given", "lent", "lost", "found"):
        assert told[kind] > before[kind], kind
    assert (
        told["opening"] + sum(sign * told[kind] for kind, sign in STEPS) == told["closing"] == told["total"]
    )
    assert sum(one["worth"] for one in told["parts"]) == told["total"]
    assert [one["part"] for one in told["lent_out"]] == ["tube 7 x 53"]


@pytest.mark.outside
def test_a_published_year_end_comes_out(
    kitdrawer: Kitdrawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """First in, first out: 8 at 300 there; 10 at 300, 12 sold; 10 at 315, 8 sold; 8 at 320: 5,080 are left.

    2,400 before and 8,710 bought less 6,030 (*Accounting Principles: A Business Perspective*, exhibit 48, read).
    """
    (tmp_path / "supplies.csv").write_text("part,type,unit\nshop window,sundry,piece\n")
    (tmp_path / "counts.csv").write_text("part,quantity,unit cost\nshop window,8,300\n")
    for sheet in ("supplies", "counts"):
        assert kitdrawer("load", str(tmp_path / f"{sheet}.csv"), "--yes", "--sure").code == 0
    there = kitdrawer("worth", "--json").json["total"]
    monkeypatch.setenv("KITDRAWER_TODAY", "2026-11-29")
    rows = (
        ("add", 10, "", 300),
        ("took", 12, "used up", ""),
        ("add", 10, "", 315),
        ("took", 8, "used up", ""),
    )
    lines = [
        f"{what},shop window,{many},{why},{paid}" for what, many, why, paid in (*rows, ("add", 8, "", 320))
    ]
    days = tmp_path / "days.csv"
    days.write_text("\n".join(["what,part,how many,why,paid", *lines]))
    answer = kitdrawer("days", str(days), "--yes", "--sure")
    assert answer.code == 0, answer.err
    told = kitdrawer("worth", "--since", "2026-11-29", "--json").json
    (part,) = (one for one in told["parts"] if one["part"] == "shop window")
    assert (part["on_hand"], part["worth"]) == (16, 5_080)
    assert [lot["worth"] for lot in part["lots"]] == [8 * 315, 8 * 320]
    assert (told["opening"], told["bought"], told["used"]) == (there, 8_710, 6_030)
    assert told["closing"] == there - 2_400 + 5_080


def test_what_was_taken_back_was_never_there(kitdrawer: Kitdrawer) -> None:
    """Undone, the figures of every day are as before."""
    before = kitdrawer("worth", "--json").out
    kitdrawer("took", "Dunlin kit chrome", "1", "--reason", "gift", "--yes")
    assert kitdrawer("worth", "--json").out != before
    kitdrawer("undo", "--yes")
    assert kitdrawer("worth", "--json").out == before


def test_the_day_before_anything_was_there(kitdrawer: Kitdrawer) -> None:
    """A day before the book's first; days that are none are refused with what to do."""
    assert kitdrawer("worth", "--on", "2026-11-01", "--json").json["total"] == 0
    late = kitdrawer("worth", "--on", "2027-01-01")
    assert late.code == 1
    assert "has not come yet" in late.err
    wrong = kitdrawer("worth", "--on", "2026-11-01", "--since", "2026-11-02")
    assert "leave --since out" in wrong.err


def test_a_cost_nobody_knows_is_named_and_counts_as_nothing(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Counted without a price and offered by nobody: unknown, in words and in the list."""
    sheet = tmp_path / "supplies.csv"
    sheet.write_text("part,type,unit\nshellac flakes,finish,g\n", encoding="utf-8")
    kitdrawer("load", str(sheet), "--yes")
    kitdrawer("found", "shellac flakes", "50 g", "--yes")
    told = kitdrawer("worth", "--json").json
    assert told["unknown"] == ["shellac flakes"]
    (lot,) = next(one["lots"] for one in told["parts"] if one["part"] == "shellac flakes")
    assert lot["worth"] is None
    assert "nobody knows what shellac flakes cost" in " ".join(kitdrawer("worth").out.split())


def test_the_screen_says_the_sum_first(kitdrawer: Kitdrawer) -> None:
    """The sum and its day in line 1, a page at most, every part behind --all."""
    screen = kitdrawer("worth").out.splitlines()
    assert screen[0].startswith("The shelf is worth ")
    assert screen[0].endswith("at the end of Sat 28 Nov 2026.")
    assert len(screen) <= 24
    assert "licensed adviser" in " ".join(screen)
    assert "olivewood blank" in kitdrawer("worth", "--all").out


def test_the_workbook_adds_up_to_the_same(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Read back by pandas: lots, the way of each part and its formulas' results are those of --json."""
    kitdrawer("took", "Dunlin kit chrome", "1", "--reason", "gift", "--yes")
    path = tmp_path / "worth.xlsx"
    told = kitdrawer("worth", "--save", str(path), "--json").json
    frame = pd.read_excel(path, sheet_name=None)
    lots, way = frame["worth by lot"], frame["what moved"]
    together = lots[lots["part"] == "together"]["worth"].item()
    assert together == pytest.approx(float(told["total"]))
    held = lots[lots["on hand"].notna()]
    assert len(held) == sum(len(one["lots"]) for one in told["parts"])
    assert held["worth"].sum() == pytest.approx(float(told["total"]))
    last = way[way["part"] == "together"].iloc[0]
    for name in ("before", *(kind for kind, _ in STEPS), "now"):
        key = {"before": "opening", "now": "closing"}.get(name, name)
        assert last[name] == pytest.approx(float(told[key])), name
    formula = openpyxl.load_workbook(path)["what moved"]["M2"].value
    assert formula == "=C2+D2+E2+F2-G2-H2-I2-J2-K2+L2"
    assert (too_small(path), too_low(path)) == ([], [])
    assert kitdrawer("worth", "--save", str(path)).code == 1  # never written over unasked
    assert kitdrawer("worth", "--save", str(path), "--overwrite").code == 0
