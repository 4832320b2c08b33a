"""Usual values are said to be such wherever they count: a shop whose sheets say little, and one that says all."""

from __future__ import annotations

from pathlib import Path

import pytest
from openpyxl import load_workbook

from .conftest import TODAY, Kitdrawer

SHEETS = {
    "kits": "part,family,plating\nDunlin kit chrome,Dunlin,chrome\n",
    "blanks": "part,material\nwalnut blank,walnut\n",
    "supplies": "part\nCA thin\nCA medium\n",
    "tubes": "part\ntube 8 x 53\n",
    "suppliers": "supplier,lead days\nSaltmarsh,3\n",
    "offers": "supplier,part,pack,price\nSaltmarsh,Dunlin kit chrome,1,4.00\nSaltmarsh,CA thin,50 ml,8.00\n",
    "counts": "part,quantity\nDunlin kit chrome,2\nwalnut blank,9\nCA thin,20 ml\nCA medium,20 ml\ntube 8 x 53,8\n",
}


@pytest.fixture
def newcomer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kitdrawer: Kitdrawer) -> Path:
    """A shop that named its things and counted them, and nothing else; one order promised."""
    monkeypatch.setenv("KITDRAWER_STORE", str(tmp_path / "book.kitdrawer"))
    monkeypatch.setenv("KITDRAWER_TODAY", TODAY)
    monkeypatch.setenv("COLUMNS", "80")
    folder = tmp_path / "sheets"
    folder.mkdir()
    for name, text in SHEETS.items():
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    kitdrawer("begin")
    assert kitdrawer("load", str(folder), "--yes").code == 0
    words = ("--pattern", "Dunlin pen", "--plating", "chrome", "--blank", "walnut blank", "--count", "3")
    assert kitdrawer("promise", "X", *words, "--by", "2026-12-20", "--yes").code in (0, 3)
    return tmp_path


def said(text: str) -> str:
    return " ".join(text.split()).partition("not your own: ")[2]


@pytest.mark.usefixtures("newcomer")
def test_on_every_screen(kitdrawer: Kitdrawer) -> None:
    """`fits`, `trace` of a supply and of a tube, `shopping`, `plan`; a tube named by its drill has its own diameter."""
    fits = kitdrawer("fits", "Dunlin").out
    assert "7.85 mm" in fits  # of a tube called 8: 0.15 mm less
    for words in (
        "finished diameter",
        "length of tube 8 x 53",
        "allowance of walnut",
        "length of walnut blank",
    ):
        assert words in said(fits)
    assert said(kitdrawer("trace", "CA thin").out).startswith("use and shelf life of CA thin. Its entries:")
    tube = said(kitdrawer("trace", "tube 8 x 53").out)
    assert tube.startswith("drill, diameter and length of tube 8 x 53. Its entries:")
    assert "losses of walnut" in said(kitdrawer("shopping").out)
    plan = said(kitdrawer("plan", "--yes").out)
    assert "minutes of Dunlin pen" in plan
    assert "setting up of an evening" in plan


@pytest.mark.usefixtures("newcomer")
def test_for_programs(kitdrawer: Kitdrawer) -> None:
    """The same in JSON."""
    assert {"of": "CA thin", "what": ["use", "shelf life"]} in kitdrawer("trace", "CA thin", "--json").json[
        "usual"
    ]
    assert "tube 8 x 53" in [one["of"] for one in kitdrawer("fits", "Dunlin", "--json").json["usual"]]
    warnings = kitdrawer("shopping", "--json").json["warnings"]
    assert any(one.startswith("Usual, not your own: ") for one in warnings)


def test_on_the_bench(kitdrawer: Kitdrawer, newcomer: Path) -> None:
    """The session's sheet says it before anything is cut."""
    kitdrawer("plan", "--yes")
    path = newcomer / "s.xlsx"
    assert kitdrawer("weekend", "sheet", "--save", str(path)).code == 0
    cells = [str(cell.value) for row in load_workbook(path)["make"].iter_rows() for cell in row if cell.value]
    (told,) = [text for text in cells if "Usual, not your own" in text]
    assert "losses of walnut" in told
    assert "minutes of Dunlin pen" in told


@pytest.mark.usefixtures("store")
def test_who_says_all_is_told_nothing(kitdrawer: Kitdrawer) -> None:
    """The sample's sheets say every figure but what setting up takes."""
    for words in (("fits", "Dunlin"), ("trace", "CA thin"), ("shopping",)):
        assert said(kitdrawer(*words).out) == "", words
