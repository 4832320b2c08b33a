"""What the screens say in the less usual cases."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from inventory.cli.screens.shares import percent
from inventory.cli.session import say
from inventory.errors import Refused

from .conftest import Kitdrawer


@pytest.mark.parametrize(
    ("share", "shown"),
    [
        (1.0, "100 %"),
        (0.9999, "over 99 %"),
        (0.98, "98 %"),
        (0.3, "30 %"),
        (0.001, "under 1 %"),
        (0.0, "0 %"),
    ],
)
def test_chances_never_promise_more_than_they_know(share: float, shown: str) -> None:
    """100 % only where nothing can fail, 0 % only where nothing can work."""
    assert percent(share) == shown


class Pipe:
    """A standard output nobody can write to."""

    def __init__(self, error: OSError) -> None:
        self.error = error

    def write(self, _: str) -> int:
        raise self.error


def test_an_answer_to_nowhere(monkeypatch: pytest.MonkeyPatch) -> None:
    """A reader who has seen enough is no error of ours; a full disk is a sentence."""
    monkeypatch.setattr(sys, "stdout", Pipe(BrokenPipeError()))
    with pytest.raises(BrokenPipeError):
        say("hello")
    monkeypatch.setattr(sys, "stdout", Pipe(OSError(28, "No space left on device")))
    with pytest.raises(Refused, match="No space left"):
        say(["hello"])


def test_free_later_is_said_beside_free_now(kitdrawer: Kitdrawer, store: Path) -> None:
    """What is due in may be promised from the day it comes."""
    assert store.exists()
    kitdrawer("placed", "--yes")
    text = " ".join(kitdrawer("trace", "Turnstone kit chrome").out.split())
    assert "Free to promise: 0 today, 4 from Tue 1 Dec." in text


def test_a_sheet_of_orders_that_all_go(kitdrawer: Kitdrawer, store: Path) -> None:
    """Nothing short: exit code 0."""
    path = store.parent / "orders.csv"
    head = "order,pattern,blank,count,due,plating\n"
    path.write_text(head + "T1,Godwit seam ripper,walnut blank,1,2026-12-19,chrome\n")
    assert kitdrawer("can-take", "--sheet", str(path)).code == 0


def test_a_pattern_that_needs_nothing_of_note(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """A shop of one kit, one tube, one blank: no losses, no hazards, no tools, and the probability are whole."""
    sheets = {
        "tubes": "part,outside diameter,length,drill\ntube A,7 mm,50 mm,7.1 mm\n",
        "platings": "plating\nplain\n",
        "families": "family,makes\nKnot,pen\n",
        "barrels": "family,barrel,tube,finished a,finished b\nKnot,body,tube A,9 mm,10 mm\n",
        "kits": "part,family,plating,tubes inside\nKnot kit plain,Knot,plain,yes\n",
        "materials": "material,allowance,lost at cut,lost at drill,lost at glue,lost at trim,lost at turn,"
        "lost at finish,lost at assemble\npear,2 mm,0,0,0,0,0,0,0\n",
        "blanks": "part,material,shape,width,length\npear blank,pear,square,20 mm,120 mm\n",
        "patterns": "pattern,family\nKnot pen,Knot\n",
        "bills": "pattern,stage,part,quantity,per\nKnot pen,cut,the blank,1,piece\nKnot pen,glue,the tubes,1,piece\n"
        "Knot pen,assemble,the kit,1,piece\n",
        "counts": "part,quantity,unit cost\nKnot kit plain,3,4.00\npear blank,2,1.50\n",
    }
    for name, text in sheets.items():
        (tmp_path / f"{name}.csv").write_text(text)
    path = str(tmp_path / "small.kitdrawer")
    assert kitdrawer("begin", "--store", path).code == 0
    loaded = kitdrawer("load", str(tmp_path), "--yes", "--store", path)
    assert loaded.code == 0, loaded.err
    words = [
        "can-take",
        "Knot pen",
        "--plating",
        "plain",
        "--blank",
        "pear blank",
        "--by",
        "2099-12-20",
        "--count",
    ]
    few = kitdrawer(*words, "3", "--store", path)
    assert few.code == 0
    assert "Chance   100 % that the stock is enough" in few.out
    many = kitdrawer(*words, "4", "--store", path)
    assert many.out.startswith("NO. Nobody sells ")
    assert "nobody sells it" in many.out
    fit = kitdrawer("fits", "Knot", "--store", path).out
    assert "Too small" not in fit
    assert "Saw kerf 2 mm." in fit
    assert kitdrawer("promise", "Tern", "--pattern", *words[1:], "4", "--yes", "--store", path).code == 3
    assert kitdrawer("shopping", "--store", path).out.startswith("Nothing can be ordered.")
