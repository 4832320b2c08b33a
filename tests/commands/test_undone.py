"""What is undone is in no reading of the past."""

from __future__ import annotations

from typing import Any

import pytest

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")
TRACED = "Godwit kit chrome"


def told(kitdrawer: Kitdrawer) -> list[Any]:
    """What the looking commands say of the past."""
    looks = (("shopping",), ("orders",), ("shelf",))
    traced = kitdrawer("trace", TRACED, "--json").json
    said = [kitdrawer(*words, "--json").json for words in looks]
    said[0].pop("seconds")
    return [*said, traced["lines"], traced["on_hand"]]


def test_a_hand_over_taken_back_was_no_use(kitdrawer: Kitdrawer) -> None:
    """Handed over and undone: no use rate, no wear, no line, as if it had never been; brought back it is all there."""
    for name in ("S41", "S42"):
        kitdrawer("promise", name, "--yes")
    before = told(kitdrawer)
    kitdrawer("handed-over", "S41", "--yes")
    with_it = told(kitdrawer)
    assert kitdrawer("undo", "--yes").code == 0
    assert told(kitdrawer) == before != with_it
    assert "you use" not in kitdrawer("shopping", "--why").out
    assert kitdrawer("undo", "5", "--yes").code == 0
    assert told(kitdrawer) == with_it


def test_trace_says_what_it_leaves_out(kitdrawer: Kitdrawer) -> None:
    """Lines taken back are counted, and shown when asked for."""
    kitdrawer("promise", "S41", "--yes")
    kitdrawer("undo", "--yes")
    short, full = kitdrawer("trace", TRACED), kitdrawer("trace", TRACED, "--all")
    assert "Left out: 2 lines that were taken back (--all shows them)." in short.out
    assert "S41" not in short.out
    assert "Undo of 2: Promise S41" in full.out
    assert "Left out" not in full.out
