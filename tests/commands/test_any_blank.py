"""An order of one of several blanks, or of any: judged, set aside, changed, made, taken back; from a sheet too."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any

import pytest

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")

WISH = ("-p", "chrome", "--by", "2026-12-20", "--count", "2")
WOODS = "walnut or olivewood"


def promised(kitdrawer: Kitdrawer, blank: str = WOODS) -> Any:
    """T7, two pens of that; what is said."""
    said = kitdrawer("promise", "T7", "-m", "Dunlin pen", *WISH, "--blank", blank, "--yes", "--json")
    assert said.code in (0, 3), said.err
    return said.json


def standing(kitdrawer: Kitdrawer, order: str = "T7") -> Any:
    return kitdrawer("orders", order, "--json").json["orders"][0]


def held(kitdrawer: Kitdrawer, order: str = "T7") -> set[str]:
    """The blanks set aside for it."""
    return {one["part"] for one in standing(kitdrawer, order)["claims"] if "blank" in one["part"]}


def test_one_is_chosen_said_and_set_aside(kitdrawer: Kitdrawer) -> None:
    """Of walnut and olivewood walnut costs less; the wish is kept, and undo takes the promise back."""
    asked = kitdrawer("can-take", "Dunlin pen", *WISH, "--blank", WOODS)
    assert "walnut blank, of 5 that would do: the cheapest that fits" in " ".join(asked.out.split())
    said = promised(kitdrawer)
    assert (said["blank"], said["blank_wish"]) == ("walnut blank", WOODS)
    assert {"walnut blank", "olivewood blank"} < set(said["blanks_that_would_do"])
    assert held(kitdrawer) == {"walnut blank"}
    assert f"({WOODS} would do)" in " ".join(kitdrawer("orders", "T7").out.split())
    assert kitdrawer("verify").code == 0
    assert kitdrawer("undo", "--yes").code == 0
    assert (standing(kitdrawer)["state"], held(kitdrawer)) == ("wish", set())


def test_an_open_wish_takes_what_costs_least(kitdrawer: Kitdrawer) -> None:
    """Each blank asked for alone: none that is all on the shelf has cheaper materials than the one that is taken."""
    said = kitdrawer("can-take", "Dunlin pen", *WISH, "--blank", "any wood", "--json").json
    alone = {
        blank: kitdrawer("can-take", "Dunlin pen", *WISH, "--blank", blank, "--json").json
        for blank in said["blanks_that_would_do"]
    }
    there = {name: one["cost_per_piece"] for name, one in alone.items() if one["verdict"] == "from the shelf"}
    assert len(alone) > 15
    assert len(there) > 3
    assert there[said["blank"]] == min(there.values())
    assert said["why"][:-1] == alone[said["blank"]]["why"]


def orders_sheet(folder: Path, blank: str) -> Path:
    """An orders sheet with one row."""
    path = folder / "orders.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        out = csv.writer(file)
        out.writerow(["order", "pattern", "blank", "count", "due", "plating"])
        out.writerow(["T8", "Dunlin pen", blank, "2", "2026-12-20", "chrome"])
    return path


def test_in_the_orders_sheet(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """The cell takes the same words; once promised the same sheet still says what was agreed, another does not."""
    sheet = orders_sheet(tmp_path, "Olivewood blank or walnut blank")
    judged = kitdrawer("can-take", "--sheet", str(sheet), "--json").json["orders"][0]
    assert (judged["blank"], judged["verdict"]) == ("walnut blank", "from the shelf")
    assert kitdrawer("load", str(sheet), "--yes").code == 0
    assert standing(kitdrawer, "T8")["blank_wish"] == "olivewood blank or walnut blank"
    assert kitdrawer("promise", "T8", "--yes").code == 0
    assert held(kitdrawer, "T8") == {"walnut blank"}
    assert kitdrawer("load", str(sheet), "--anew", "--yes").code == 0
    assert held(kitdrawer, "T8") == {"walnut blank"}
    other = kitdrawer("load", str(orders_sheet(tmp_path, "any wood")), "--yes")
    assert "already promised and reads differently" in " ".join(other.err.split())
    assert [kitdrawer("undo", "--yes").code for _ in range(2)] == [0, 0]
    assert kitdrawer("verify").code == 0


def test_a_word_nobody_knows_is_named_with_its_cell(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Tab, row, column and the word; nothing is loaded."""
    said = kitdrawer("load", str(orders_sheet(tmp_path, "walnut or plumwood")), "--yes", "--json")
    (place,) = said.json["error"]["where"]
    assert (place["tab"], place["row"], place["column"], place["said"]) == ("orders", 2, "blank", "plumwood")
    assert kitdrawer("orders", "T8").code == 1


def test_a_change_judges_the_whole_wish_again(kitdrawer: Kitdrawer) -> None:
    """Other woods that would do: the cheapest of those. One wood alone ends the wish. Undo restores both."""
    promised(kitdrawer, "walnut blank or olivewood blank")
    picture = standing(kitdrawer)
    said = kitdrawer("change", "T7", "--blank", "ash or olivewood blank", "--yes", "--json").json
    assert (said["blank"], said["blank_wish"]) == ("ash blank", "ash or olivewood blank")
    assert held(kitdrawer) == {"ash blank"}
    assert kitdrawer("change", "T7", "--blank", "olivewood blank", "--yes").code in (0, 3)
    assert (held(kitdrawer), standing(kitdrawer)["blank_wish"]) == ({"olivewood blank"}, None)
    assert kitdrawer("verify").code == 0
    assert [kitdrawer("undo", "--yes").code for _ in range(2)] == [0, 0]
    assert standing(kitdrawer) == picture


def test_made_of_another_that_would_do(kitdrawer: Kitdrawer) -> None:
    """The order moves to it with what is left; one that would not do is refused, and so is a second kind."""
    promised(kitdrawer)
    before = standing(kitdrawer)
    assert "not of ash blank" in kitdrawer("made", "--order", "T7", "--blank", "ash", "--yes").err
    made = kitdrawer("made", "--order", "T7", "--blank", "olivewood blank", "--yes")
    assert "olivewood blank, not walnut blank" in " ".join(made.out.split())
    assert standing(kitdrawer)["blank"] == "olivewood blank"
    assert held(kitdrawer) == {"olivewood blank", "Dunlin pen, of Dunlin kit chrome, olivewood blank"}
    again = kitdrawer("made", "--order", "T7", "--blank", "walnut blank", "--yes")
    assert "made of olivewood blank already" in " ".join(again.err.split())
    assert kitdrawer("change", "T7", "--count", "3", "--yes", "--json").json["blank"] == "olivewood blank"
    assert kitdrawer("verify").code == 0
    assert [kitdrawer("undo", "--yes").code for _ in range(2)] == [0, 0]
    assert standing(kitdrawer) == before


@pytest.mark.parametrize(("written", "code"), [("olivewood blank", 0), ("ash blank", 1)])
def test_the_weekend_sheet_takes_another_that_would_do(
    kitdrawer: Kitdrawer, tmp_path: Path, written: str, code: int
) -> None:
    """What the maker wrote over the chosen blank is booked, or refused with its cell."""
    promised(kitdrawer)
    assert kitdrawer("plan", "T7", "--on", "2026-11-28", "--yes").code in (0, 3)
    assert kitdrawer("weekend", "sheet", "--save", str(tmp_path / "sheet")).code == 0
    pieces = tmp_path / "sheet" / "pieces.csv"
    with pieces.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    assert rows[0]["blank"] == "walnut blank"
    rows[0].update({"good": "2", "blank": written})
    with pieces.open("w", encoding="utf-8", newline="") as file:
        out = csv.DictWriter(file, list(rows[0]))
        out.writeheader()
        out.writerows(rows)
    there = {one["part"]: one["on_hand"] for one in kitdrawer("shelf", "--json").json["parts"]}
    said = kitdrawer("weekend", "book", str(tmp_path / "sheet"), "--yes", "--json")
    assert said.code == code, said.out
    now = {one["part"]: one["on_hand"] for one in kitdrawer("shelf", "--json").json["parts"]}
    if code:
        (place,) = said.json["error"]["where"]
        assert (place["column"], place["said"]) == ("blank", "ash blank")
        assert now == there
    else:
        assert there["olivewood blank"] - now["olivewood blank"] == 2
        assert now["walnut blank"] == there["walnut blank"]
        assert kitdrawer("handed-over", "T7", "--yes").code == 0
        assert kitdrawer("verify").code == 0


def test_an_old_name_in_a_wish_still_means_its_blank(kitdrawer: Kitdrawer) -> None:
    """A blank that was renamed or merged since is meant as before."""
    promised(kitdrawer, "ash blank or walnut blank")
    assert kitdrawer("release", "T7", "--yes").code == 0
    assert kitdrawer("rename", "ash blank", "ash square", "--yes").code == 0
    assert kitdrawer("promise", "T7", "--yes", "--json").json["blanks_that_would_do"] == [
        "ash square",
        "walnut blank",
    ]
