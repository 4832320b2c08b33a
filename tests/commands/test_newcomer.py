"""The way of a newcomer: twelve cells to the first true answer, and whose figures it rests on."""

from __future__ import annotations

from pathlib import Path

import pytest

from .conftest import TODAY, Kitdrawer

LEAST = {
    "kits": "part,family,plating\nDunlin kit chrome,Dunlin,chrome\n",
    "tubes": "part\n7 mm tube\n",
    "blanks": "part,material\nwalnut blank,walnut\n",
    "counts": "part,quantity\nDunlin kit chrome,5\n7 mm tube,10\nwalnut blank,4\n",
}
WANTED = ("can-take", "Dunlin pen", "--plating", "chrome", "--blank", "walnut blank", "--by", "2026-12-20")


@pytest.fixture
def least(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kitdrawer: Kitdrawer) -> Path:
    """A book of one kit, one tube, one blank, and the folder of its sheets."""
    monkeypatch.setenv("KITDRAWER_STORE", str(tmp_path / "book.kitdrawer"))
    monkeypatch.setenv("KITDRAWER_TODAY", TODAY)
    monkeypatch.setenv("COLUMNS", "80")
    folder = tmp_path / "sheets"
    folder.mkdir()
    for tab, text in LEAST.items():
        (folder / f"{tab}.csv").write_text(text)
    assert kitdrawer("begin").code == 0
    assert kitdrawer("load", str(folder), "--yes").code == 0
    return folder


@pytest.mark.usefixtures("least")
def test_twelve_cells_to_the_first_answer(kitdrawer: Kitdrawer) -> None:
    """Three pens need more blanks than one each where the saw and the allowance say so; here one blank is one pen."""
    answer = kitdrawer(*WANTED, "--count", "2", "--json").json
    assert answer["verdict"] == "from the shelf"
    assert {one["part"]: one["need"] for one in answer["parts"]} == {
        "walnut blank": 2,
        "7 mm tube": 4,
        "Dunlin kit chrome": 2,
    }
    # 127 mm less two tubes of 53 mm, two allowances of 3.2 mm and two cuts of 2 mm
    assert [float(cut["offcut_mm"]) for cut in answer["blanks"]] == [10.6]
    assert kitdrawer(*WANTED, "--count", "6").code == 3
    assert kitdrawer("verify").code == 0


@pytest.mark.usefixtures("least")
def test_whose_figures_they_are_is_said(kitdrawer: Kitdrawer) -> None:
    """One short line on the screen, a key in JSON, in `can-take` and `plan`; none where the sheet says it all."""
    shown = " ".join(kitdrawer(*WANTED, "--count", "2").out.split())
    assert (
        "Usual not your own: allowance and losses of walnut; width and length of walnut blank; minutes of"
        " Dunlin pen; tube and finished diameters of Dunlin; drill, diameter and length of 7 mm tube"
    ) in shown
    told = kitdrawer(*WANTED, "--count", "2", "--json").json["usual"]
    assert told[0] == {"of": "walnut", "what": ["allowance", "losses"]}
    stall = ("--on", "2026-11-28", "--stall", "Dunlin pen, chrome, walnut blank, 2")
    plan = kitdrawer("plan", *stall, "--json").json
    assert plan["usual"] == [*told, {"of": "an evening", "what": ["setting up"]}]
    assert "not your own: allowance" in kitdrawer("plan", *stall).out


def test_ones_own_word_replaces_what_is_usual(kitdrawer: Kitdrawer, least: Path) -> None:
    """A row of one's own for the material: it counts, and nothing usual of walnut is told any more."""
    stages = ("cut", "drill", "glue", "trim", "turn", "finish", "assemble")
    head = ",".join(("material", "allowance", *(f"lost at {stage}" for stage in stages)))
    (least / "materials.csv").write_text(f"{head}\nwalnut,10 mm,0,0,0,0,0,0,0\n")
    assert kitdrawer("load", str(least / "materials.csv"), "--yes").code == 0
    answer = kitdrawer(*WANTED, "--count", "2", "--json").json
    assert "walnut" not in {one["of"] for one in answer["usual"]}
    assert answer["starts_chance"] == 1
    assert answer["verdict"] == "cannot"  # 2 × (53 + 10) + 2 mm are more than a blank of 127 mm


@pytest.mark.usefixtures("least")
def test_what_is_learned_is_ones_own(kitdrawer: Kitdrawer) -> None:
    """A session's losses take the place of the usual ones as of any prior."""
    stall = ("plan", "--on", TODAY, "--stall", "Dunlin pen, chrome, walnut blank, 2", "--yes")
    assert kitdrawer(*stall).code == 0
    before = kitdrawer("losses", "walnut", "--json").json["losses"]
    assert float({one["stage"]: one["prior"] for one in before}["turn"]) == pytest.approx(0.008)


def test_undo_leaves_nothing_crooked(kitdrawer: Kitdrawer, least: Path) -> None:
    """The movements go back, what was implied stays known like all names, and the book proves."""
    assert kitdrawer("undo", "--yes").code == 0
    assert kitdrawer("verify").code == 0
    assert kitdrawer(*WANTED, "--count", "1").code == 3
    assert kitdrawer("load", str(least), "--anew", "--yes").code == 0
    assert kitdrawer(*WANTED, "--count", "1").code == 0
