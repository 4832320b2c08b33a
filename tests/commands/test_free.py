"""Free means one thing: on hand, not out of date, not set aside; the same number wherever it is shown."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")
DUNLIN = ("Dunlin pen", "--plating", "gunmetal", "--blank", "walnut blank", "--by", "2029-12-20")


def free_of(kitdrawer: Kitdrawer) -> dict[str, Decimal]:
    """What the shelf calls free."""
    return {row["part"]: row["free"] for row in kitdrawer("shelf", "--json").json["parts"]}


@pytest.mark.parametrize(
    "day", ["2026-11-28", "2029-01-01"], ids=["today", "when every bottle is out of date"]
)
def test_the_same_number_everywhere(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch, day: str) -> None:
    """Shelf, trace, fits and can-take agree on every part of an order, some of it claimed and some gone off."""
    kitdrawer("promise", "S42", "--yes")
    monkeypatch.setenv("KITDRAWER_TODAY", day)
    free = free_of(kitdrawer)
    answer = kitdrawer("can-take", *DUNLIN, "--json").json
    assert {row["part"]: row["free"] for row in answer["parts"]} == {
        row["part"]: free[row["part"]] for row in answer["parts"]
    }
    for row in answer["parts"][::6]:
        traced = kitdrawer("trace", row["part"], "--json").json
        assert traced["free"] == traced["free_by_day"][0]["free"] == free[row["part"]]
    fits = kitdrawer("fits", "Dunlin", "--json").json
    assert {row["part"]: row["free"] for row in fits["kits"]} == {
        row["part"]: free[row["part"]] for row in fits["kits"]
    }
    assert [row["tubes_free"] for row in fits["barrels"]] == [free[row["tube"]] for row in fits["barrels"]]


def test_what_is_out_of_date_is_not_free(kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch) -> None:
    """A bottle past its day is on hand, is said to be out of date, and is free for nobody."""
    monkeypatch.setenv("KITDRAWER_TODAY", "2029-01-01")
    row = next(one for one in kitdrawer("shelf", "--json").json["parts"] if one["part"] == "CA thin")
    assert row["on_hand"] == row["out_of_date"] > 0
    assert row["free"] == 0
    out = " ".join(kitdrawer("shelf", "--all").out.split())
    assert "CA thin, " in out.partition("Out of date: ")[2]


def test_finished_pieces_too(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Of two finished pens one is asked for: two are free."""
    assert kitdrawer("plan", "--stall", "Dunlin pen, gunmetal, walnut blank, 2", "--yes").code in (0, 3)
    sheet = tmp_path / "pieces.csv"
    sheet.write_text("row,good\n1,2\n", encoding="utf-8")
    assert kitdrawer("weekend", "book", str(sheet), "--yes").code in (0, 3)
    (piece,) = kitdrawer("can-take", *DUNLIN, "--json").json["parts"]
    assert (piece["need"], piece["free"], piece["short"]) == (1, 2, 0)
    assert free_of(kitdrawer)[piece["part"]] == 2


def test_what_is_out_of_date_is_nobodys(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Nothing good is there, so the pen waits for glue; counting the bottles that went off hands none of it out."""

    def counted(*rows: str) -> list[Decimal]:
        sheet = tmp_path / "counts.csv"
        heads = "part,quantity,lot,received on,opened on,use by"
        sheet.write_text("\n".join((heads, *rows)), encoding="utf-8")
        assert kitdrawer("load", str(sheet), "--yes").code == 0
        row = next(one for one in kitdrawer("shelf", "--json").json["parts"] if one["part"] == "CA thin")
        return [row["claimed"], row["to_buy"]]

    old = "CA thin,{},opened,2026-01-16,2026-06-02,2026-08-31"
    assert counted(old.format(22), "CA thin,0,sealed,2026-10-09,,2027-08-05") == [Decimal(0)] * 2
    assert kitdrawer("promise", "S45", "--yes").code == 3
    claimed, to_buy = counted(old.format(20), "CA thin,9,older,2025-12-01,2026-06-02,2026-08-31")
    assert claimed == 0 < to_buy
    assert counted("CA thin,2,fresh,2026-11-16,,2027-08-31") == [Decimal(2), to_buy - 2]
