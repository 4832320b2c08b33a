"""`goal`: what is saved for, how far it is, and the pieces that would bring the rest."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("booked")
LATHE = ("goal", "new lathe", "900", "--by", "2027-03-31")


def goals(kitdrawer: Kitdrawer) -> list[Any]:
    """All of them, as JSON."""
    answer = kitdrawer("goal", "--json")
    assert answer.code == 0, answer.err
    return answer.json["goals"]  # type: ignore[no-any-return]  # a list


def test_what_is_left_counts_towards_it(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Reached is what `earned` says since then, no more than the earlier goal leaves; `undo` and --off take it back."""
    assert kitdrawer(*LATHE, "--since", "2026-11-01", "--yes").code == 0
    before = goals(kitdrawer)[0]
    kitdrawer("sold", "avocet pen chrome", "1", "--price", "138", "--yes")
    left = kitdrawer("earned", "--since", "2026-11-01", "--json").json["total"]["left"]
    (now,) = goals(kitdrawer)
    assert before["reached"] == 0
    assert now["reached"] == max(left, 0)
    assert now["to_go"] == 900 - now["reached"]
    kitdrawer("goal", "apron", "20", "--by", "2026-12-24", "--since", "2026-11-01", "--yes")
    apron, lathe = goals(kitdrawer)
    assert (apron["goal"], apron["reached"]) == ("apron", 20)
    assert lathe["reached"] == now["reached"] - 20
    assert "apron: reached" in kitdrawer("earned").out
    assert kitdrawer("earned", "--json").json["goals"][1]["to_go"] == lathe["to_go"]
    page = tmp_path / "shop.html"
    assert kitdrawer("page", str(page)).code == 0
    assert "new lathe" in page.read_text(encoding="utf-8")
    wall = tmp_path / "wall.html"
    assert kitdrawer("page", str(wall), "--private").code == 0
    assert "new lathe" not in wall.read_text(encoding="utf-8")
    kitdrawer("undo", "--yes")
    assert [one["goal"] for one in goals(kitdrawer)] == ["new lathe"]
    assert kitdrawer("goal", "new lathe", "--off", "--yes").code == 0
    assert goals(kitdrawer) == []


def test_pieces_bring_the_rest_in_the_hours_there_are(kitdrawer: Kitdrawer) -> None:
    """What an Avocet pen left once, as often as needed; fewer where the hours do not do, and it is said."""
    kitdrawer("sold", "avocet pen chrome", "1", "--price", "60", "--yes")
    kitdrawer(*LATHE, "--yes")
    (free,) = goals(kitdrawer)
    (pens,) = free["pieces"]
    assert pens["pattern"] == "Avocet pen"
    assert (pens["count"] - 1) * pens["leaves"] < free["to_go"] <= pens["count"] * pens["leaves"]
    assert (free["enough"], free["minutes_there"], free["minutes"]) == (True, None, pens["count"] * 30)
    kitdrawer("hours", "sat 0.5", "--yes")
    (tight,) = goals(kitdrawer)
    assert tight["minutes_there"] == 18 * 30  # Saturdays from 28 November to 27 March
    assert [one["count"] for one in tight["pieces"]] == [18]
    assert (tight["enough"], tight["proven"]) == (False, True)
    assert "still lacks" in " ".join(kitdrawer("goal").out.split())


@pytest.mark.parametrize(("day", "told"), [("2027-11-28", ["Avocet pen"]), ("2027-11-29", [])])
def test_what_a_piece_leaves_is_of_the_last_year(
    kitdrawer: Kitdrawer, monkeypatch: pytest.MonkeyPatch, day: str, told: list[str]
) -> None:
    """Sold on 28 November: that day a year later is the last on which it tells anything."""
    kitdrawer("sold", "avocet pen chrome", "1", "--price", "60", "--yes")
    kitdrawer("goal", "new lathe", "900", "--by", "2028-03-31", "--yes")
    monkeypatch.setenv("KITDRAWER_TODAY", day)
    assert [one["pattern"] for one in goals(kitdrawer)[0]["pieces"]] == told


def test_nothing_sold_brings_nothing(kitdrawer: Kitdrawer) -> None:
    """Said, and no pieces guessed."""
    kitdrawer(*LATHE, "--yes")
    assert goals(kitdrawer)[0]["pieces"] == []
    screen = kitdrawer("goal").out
    assert screen.startswith("new lathe: 0.00 of 900.00 EUR, 900.00 to go by Wed 31 Mar 2027.")
    assert len(screen.splitlines()) <= 24


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("goal", "new lathe", "900"), "By when?"),
        (("goal", "new lathe", "much"), "“much”"),
        (("goal", "new lathe", "0", "--by", "2027-03-31"), "above 0"),
        (("goal", "new lathe", "900", "--by", "2026-11-28"), "later day"),
        (("goal", "new lathe", "900", "--by", "2027-03-31", "--since", "2026-11-29"), "has not come yet"),
        (("goal", "bench"), "no goal called"),
        (("goal", "bench", "--off"), "no goal called"),
    ],
    ids=lambda one: " ".join(one[1:]) if isinstance(one, tuple) else "",
)
def test_what_is_no_goal_is_refused(kitdrawer: Kitdrawer, words: tuple[str, ...], says: str) -> None:
    """With what to do."""
    answer = kitdrawer(*words, "--yes")
    assert (answer.code, says in " ".join(answer.err.split())) == (1, True), answer.err
    assert kitdrawer("goal").out.startswith("No goal")


def test_the_sum_keeps_its_coins(kitdrawer: Kitdrawer) -> None:
    """To the cent."""
    kitdrawer("goal", "rent", "12.34", "--by", "2027-03-31", "--yes")
    assert goals(kitdrawer)[0]["amount"] == Decimal("12.34")
