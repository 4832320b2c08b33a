"""Sheets that change bills or losses after a session: what was learned is measured by the new sheets, at once."""

from __future__ import annotations

from pathlib import Path

from inventory.store import open_store

from .conftest import SAMPLE, Kitdrawer
from .learned import MEDIUM, rates

TOLD = "Rates and losses are worked out again by these sheets."
AREA = "barrel area"


def changed(folder: Path, sheet: str, old: str, new: str) -> str:
    """The sample's sheet with a text replaced, in a folder of its own."""
    text = (SAMPLE / sheet).read_text(encoding="utf-8")
    assert old in text
    folder.mkdir()
    (folder / sheet).write_text(text.replace(old, new), encoding="utf-8")
    return str(folder)


def test_a_bill_written_anew(kitdrawer: Kitdrawer, booked: Path, tmp_path: Path) -> None:
    """The bills catch up with what is really used: the rate comes nearer to it, and the old factor is gone."""
    assert booked.exists()
    before = rates(kitdrawer)[MEDIUM, AREA]
    double = changed(tmp_path / "bills", "bills.csv", f"{MEDIUM},0.07,{AREA}", f"{MEDIUM},0.14,{AREA}")
    dry = kitdrawer("load", double, "--dry-run")
    assert TOLD in dry.out
    assert rates(kitdrawer)[MEDIUM, AREA] == before
    assert TOLD in kitdrawer("load", double, "--yes").out
    after = rates(kitdrawer)[MEDIUM, AREA]
    assert after["prior"] == 2 * before["prior"]
    assert after["sessions"] == 1
    (use,) = kitdrawer("trace", MEDIUM, "--json").json["uses"]
    truth = use["used"] / use["expected"] * after["prior"]
    assert before["estimate"] < after["estimate"] < truth
    assert after["estimate"] < 2 * before["estimate"]  # what the old factor would make of the new bill
    assert kitdrawer("verify").code == 0


def test_losses_written_anew(kitdrawer: Kitdrawer, booked: Path, tmp_path: Path) -> None:
    """What the sheet says of a material is the new first guess of what is lost of it."""
    assert booked.exists()

    def turn() -> dict[str, float]:
        told = kitdrawer("losses", "olivewood", "--json").json["losses"]
        return next(
            {k: float(one[k]) for k in ("prior", "estimate")} for one in told if one["stage"] == "turn"
        )

    before = turn()
    row = "olivewood,3.2 mm,0.3 %,0.6 %,0.3 %,0.2 %,0.8 %"
    sheet = changed(tmp_path / "materials", "materials.csv", row, row.replace("0.8 %", "8 %"))
    assert TOLD in kitdrawer("load", sheet, "--yes").out
    assert (turn()["prior"], before["prior"]) == (0.08, 0.008)
    assert turn()["estimate"] > before["estimate"]
    assert kitdrawer("verify").code == 0


def test_sheets_that_change_no_figure(kitdrawer: Kitdrawer, booked: Path, tmp_path: Path) -> None:
    """A count, or a bill of supplies nobody weighed, is loaded without a word on rates; the figures stay."""
    before = kitdrawer("rates", "--json").out, kitdrawer("losses", "--json").out
    path = tmp_path / "counts.csv"
    path.write_text("part,quantity\nDunlin kit gunmetal,2\n", encoding="utf-8")
    answer = kitdrawer("load", str(path), "--yes")
    assert (answer.code, TOLD in answer.out) == (0, False)
    assert (kitdrawer("rates", "--json").out, kitdrawer("losses", "--json").out) == before
    with open_store(booked) as found, found.reading() as read:
        assert read.learned().rates
    assert kitdrawer("verify").code == 0
