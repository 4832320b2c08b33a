"""`shopping` once there is a history: what cannot wait goes, what can waits and says for which parcel."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from .conftest import Kitdrawer, after

RATE = ("--rate", "USD=0.92")


@pytest.fixture(scope="session")
def once_lived(loaded: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Eight orders of one December, all handed over."""

    def december(call: Kitdrawer, folder: Path) -> None:
        assert folder
        for at in range(8):
            words = ["-m", "Godwit seam ripper", "-p", "chrome", "-b", "iroko blank", "--by", "2027-03-01"]
            assert call("promise", f"P{at}", *words, "--price", "30", "--yes").code in (0, 3)
            assert call("handed-over", f"P{at}", "--yes").code == 0

    return after(loaded, tmp_path_factory.mktemp("lived"), december)


@pytest.fixture
def lived(once_lived: Path, store: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of it, in March."""
    monkeypatch.setenv("KITDRAWER_TODAY", "2027-03-10")
    return Path(shutil.copy(once_lived, store))


def promised(kitdrawer: Kitdrawer, name: str, day: str) -> None:
    """An order for nine pens, more than there are kits."""
    words = ["-m", "Dunlin pen", "-p", "gunmetal", "-b", "walnut blank", "--count", "9", "--by", day]
    assert kitdrawer("promise", name, *words, "--price", "30", "--yes").code in (0, 3)


@pytest.mark.usefixtures("lived")
def test_a_hurried_promise_is_bought_and_one_far_off_waits(kitdrawer: Kitdrawer) -> None:
    """The same order due in a fortnight, and in twenty weeks."""
    promised(kitdrawer, "Z1", "2027-03-24")
    made = kitdrawer("shopping", *RATE, "--json").json
    assert any(line["part"] == "Dunlin kit gunmetal" for one in made["lists"] for line in one["lines"])
    kitdrawer("undo", "--yes")
    promised(kitdrawer, "Z2", "2027-08-01")
    ahead = kitdrawer("shopping", *RATE, "--json").json["ahead"]
    (row,) = [one for one in ahead["waits"] if one["part"] == "Dunlin kit gunmetal"]
    assert row["orders"] == ["Z2"]
    assert ahead["next_trip"] == "2027-03-24"
    assert set(ahead["likely"]) >= {"Oystershell Kits", "Saltmarsh Turning Supplies"}


@pytest.mark.usefixtures("lived")
def test_what_waits_is_said_and_todays_list_has_it(kitdrawer: Kitdrawer) -> None:
    """In 24 lines on the screen, with the reason behind --why; --today-only buys it."""
    promised(kitdrawer, "Z1", "2027-08-01")
    screen = kitdrawer("shopping", *RATE).out
    assert len(screen.splitlines()) <= 24
    said = " ".join(screen.split())
    assert "Waits" in said
    assert "for Z1" in said
    why = " ".join(kitdrawer("shopping", *RATE, "--why").out.split())
    assert "Whom to send to" in why
    assert "an order that comes late costs 5 times what it leaves, a piece is finished 7 days after" in why
    today = kitdrawer("shopping", *RATE, "--today-only", "--json").json
    assert today["ahead"] is None
    lines = [line for one in today["lists"] for line in one["lines"]]
    assert any(line["part"] == "Dunlin kit gunmetal" for line in lines)
    reasons = " ".join(kitdrawer("shopping", *RATE, "--today-only", "--why").out.split())
    assert "(worked out)" in reasons


@pytest.mark.usefixtures("lived")
def test_who_cannot_be_looked_ahead_for_in_time_is_told(
    kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Then the list is today's, by the levels worked out, and says so."""
    promised(kitdrawer, "Z1", "2027-08-01")
    monkeypatch.setattr("inventory.jobs.purchasing.shopping.look", lambda *_: None)
    made = kitdrawer("shopping", *RATE, "--time-limit", "0.5", "--json").json
    assert made["ahead"] is None
    assert any("in 0.5 s, so this is today's list" in one for one in made["warnings"])
    assert any(line["part"] == "Dunlin kit gunmetal" for one in made["lists"] for line in one["lines"])


@pytest.mark.usefixtures("lived")
def test_a_typed_level_is_filled_up_or_waits(kitdrawer: Kitdrawer) -> None:
    """A tool below its level does not pay an overseas parcel alone: it is said to wait for one."""
    made = kitdrawer("shopping", *RATE, "--json").json
    bought = {line["part"] for one in made["lists"] for line in one["lines"]}
    waits = {row["part"] for row in made["ahead"]["waits"]}
    assert {"Redshank kit chrome", "bushings Greenshank"} <= bought | waits
    assert "bushings Greenshank" in waits


@pytest.mark.usefixtures("store")
def test_a_newcomers_list_is_todays(kitdrawer: Kitdrawer) -> None:
    """Without a past nothing is guessed."""
    made = kitdrawer("shopping", *RATE, "--json")
    assert made.json["ahead"] is None
    assert made.out.replace(" ", "") != ""
