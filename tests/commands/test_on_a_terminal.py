"""`begin` on a real terminal: each of its offers, typed by nobody else than a pseudo-terminal."""

from __future__ import annotations

import os
import select
import time
from collections.abc import Sequence
from functools import partial
from pathlib import Path

import pytest
from forked import on_a_terminal

from .conftest import SAMPLE, TODAY, Kitdrawer

pytest.importorskip("pty")
PATIENCE = 120.0
"""Seconds without a sign of life after which a test gives up."""
QUIET = 0.05
"""Seconds without a sign of life after which what looks like a question is one."""


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder, and no book anywhere."""
    monkeypatch.setenv("KITDRAWER_STORE", str(tmp_path / "book.kitdrawer"))
    monkeypatch.setenv("KITDRAWER_TODAY", TODAY)
    monkeypatch.setenv("COLUMNS", "80")
    return tmp_path


def typed_at(folder: Path, answers: Sequence[str], *words: str) -> tuple[str, int, int]:
    """What the terminal shows, the exit code, and how many answers were asked for."""
    pid, terminal = on_a_terminal(partial(os.chdir, folder), *words)
    shown, asked, heard = b"", 0, time.monotonic()
    while time.monotonic() - heard < PATIENCE:
        if select.select([terminal], [], [], QUIET)[0]:
            try:
                more = os.read(terminal, 65536)
            except OSError:
                break
            if not more:
                break
            shown, heard = shown + more, time.monotonic()
        elif shown.rstrip(b" ").endswith((b":", b">")):
            if asked == len(answers):
                os.write(terminal, b"\x03")
                continue
            os.write(terminal, answers[asked].encode() + b"\n")
            shown, asked, heard = shown + b"\n", asked + 1, time.monotonic()
    _, status = os.waitpid(pid, 0)
    return " ".join(shown.decode("utf-8", "replace").split()), os.waitstatus_to_exitcode(status), asked


def test_an_empty_book(place: Path, kitdrawer: Kitdrawer) -> None:
    """Enter takes the first offer."""
    shown, code, asked = typed_at(place, [""], "begin")
    assert (code, asked) == (0, 1)
    assert "1 an empty book 2 from a sheet of your own 3 a few questions" in shown
    assert "the sample shop" not in shown  # it does not lie here
    assert kitdrawer("shelf", "--json").json["parts"] == []


def test_eight_answers_to_the_first_can_take(place: Path, kitdrawer: Kitdrawer) -> None:
    """Eight answers and a yes; the command that is named answers from the shelf, and the book proves."""
    eight = ["Dunlin", "chrome", "5", "7 mm", "3.60", "Saltmarsh", "walnut", "6"]
    shown, code, asked = typed_at(place, ["3", *eight, "yes"], "begin")
    assert (code, asked) == (0, 10), shown
    assert "Booked (entry 1)" in shown
    following = shown.partition("Next: kitdrawer ")[2]
    assert following.startswith("can-take")
    wanted = (
        "--plating",
        "chrome",
        "--blank",
        "walnut blank",
        "--count",
        "2",
        "--by",
        "2026-12-20",
        "--json",
    )
    answer = kitdrawer("can-take", "Dunlin pen", *wanted).json
    assert answer["verdict"] == "from the shelf"
    assert kitdrawer("verify").code == 0


def test_a_price_says_the_coin(place: Path, kitdrawer: Kitdrawer) -> None:
    """£3.60 makes a book in pounds, and nobody is asked."""
    eight = ["Dunlin", "chrome", "5", "7 mm", "£3.60", "Saltmarsh", "walnut", "6"]
    shown, code, asked = typed_at(place, ["3", *eight, "yes"], "begin")
    assert (code, asked) == (0, 10), shown
    assert kitdrawer("shelf", "--json").json["currency"] == "GBP"


def test_from_a_sheet_of_ones_own(place: Path, kitdrawer: Kitdrawer) -> None:
    """The file is asked for until there is one; Enter takes each guess; then it is shown and booked."""
    (place / "mine.csv").write_text("What,Colour,How many\nDunlin kit,chrome,a few\nwalnut blank,,7\n")
    shown, code, asked = typed_at(place, ["2", "other.csv", "mine.csv", "", "yes"], "begin")
    assert (code, asked) == (0, 5), shown
    assert "1/1 How many Dunlin chrome?" in shown
    assert {one["part"]: one["on_hand"] for one in kitdrawer("shelf", "--json").json["parts"]} == {
        "Dunlin kit chrome": 3,
        "tube 7 x 53": 0,
        "walnut blank": 7,
    }


def test_the_sample_shop(place: Path, kitdrawer: Kitdrawer) -> None:
    """Offered where it lies; a book and the command that fills it."""
    shown, code, asked = typed_at(SAMPLE.parent, ["4"], "begin")
    assert (code, asked) == (0, 1)
    assert "Next: kitdrawer load sample_stock/" in shown
    assert place.joinpath("book.kitdrawer").exists()
    assert kitdrawer("load", str(SAMPLE), "--dry-run").code == 0
