"""A part's code in place of its name: on the shelf, taken, counted, after renaming and merging."""

from __future__ import annotations

from pathlib import Path

import pytest

from .buying import shelf
from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")


def code(kitdrawer: Kitdrawer, part: str) -> str:
    """What stands on its label."""
    return str(shelf(kitdrawer, part)["code"])


def test_commands_take_a_code_for_the_name(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """`shelf`, `took`, `count book`: the same part, the same amount."""
    mine = code(kitdrawer, "walnut blank")
    (row,) = kitdrawer("shelf", mine.upper(), "--json").json["parts"]
    assert row["part"] == "walnut blank"
    assert kitdrawer("took", mine, "1", "--reason", "broke", "--yes").code == 0
    assert shelf(kitdrawer, "walnut blank")["on_hand"] == row["on_hand"] - 1
    sheet = tmp_path / "count.csv"
    sheet.write_text(f"part,counted,second count\n{mine},5,5\n", encoding="utf-8")
    assert kitdrawer("count", "book", str(sheet), "--yes").code == 0
    assert shelf(kitdrawer, "walnut blank")["on_hand"] == 5


def test_a_code_stays_the_parts_own(kitdrawer: Kitdrawer) -> None:
    """Renamed it is the same; merged into another it leads to that one, whose own code stays."""
    mine, other = code(kitdrawer, "dry strip P320"), code(kitdrawer, "dry strip P240")
    assert kitdrawer("rename", "dry strip P320", "fine strip", "--yes").code == 0
    assert code(kitdrawer, "fine strip") == mine
    assert kitdrawer("merge", "fine strip", "into", "dry strip P240", "--yes").code == 0
    for said in (mine, other):
        assert kitdrawer("shelf", said, "--json").json["parts"][0]["part"] == "dry strip P240"
    assert code(kitdrawer, "dry strip P240") == other


def test_a_misread_code_is_told_as_one(kitdrawer: Kitdrawer) -> None:
    """Not taken for a name, and nothing is booked."""
    mine = code(kitdrawer, "walnut blank")
    wrong = f"{mine[:-1]}{(int(mine[-1]) + 1) % 10}"
    told = kitdrawer("took", wrong, "1", "--reason", "broke", "--yes")
    assert told.code == 1
    assert "last digit does not fit" in told.err
    assert "There is no part called" in kitdrawer("shelf", "p42").err
