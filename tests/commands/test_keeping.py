"""`levels --keeping`: what a drawer costs a year, classes, what slept."""

from __future__ import annotations

from typing import Any

import pytest

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")


def kept(kitdrawer: Kitdrawer, *more: str) -> Any:
    """The answer for programs."""
    answer = kitdrawer("levels", "--keeping", *more, "--json")
    assert answer.code == 0, answer.err
    return answer.json


def of(made: Any, part: str) -> Any:
    """One part of it."""
    return next(one for one in made["parts"] if one["part"] == part)


@pytest.mark.cross_check
def test_sums_are_those_of_the_shelf(kitdrawer: Kitdrawer) -> None:
    """Parts are worth what `worth` says; drawers and parts come to the same sum; a part's year is its three costs.

    Money costs a fifth at 5 %; what goes off and postage stay.
    """
    made = kept(kitdrawer)
    shelf = kitdrawer("worth", "--json").json
    cents = len(made["parts"]) * 0.006
    assert sum(float(one["worth"]) for one in made["parts"]) == pytest.approx(
        float(shelf["total"]), abs=cents
    )
    assert sum(float(one["a_year"]) for one in made["drawers"]) == pytest.approx(
        float(made["a_year"]), abs=0.1
    )
    of_parts = sum(float(one["money"] + one["gone_off"] + one["postage"]) for one in made["parts"])
    assert of_parts == pytest.approx(float(made["a_year"]), abs=3 * cents)
    cheap = {one["part"]: one for one in kept(kitdrawer, "--holding", "5%")["parts"]}
    for one in made["parts"]:
        other = cheap[one["part"]]
        assert float(other["money"]) == pytest.approx(float(one["money"]) / 5, abs=0.011)
        assert (other["gone_off"], other["postage"]) == (one["gone_off"], one["postage"])
    screen = kitdrawer("levels", "--keeping").out
    assert len(screen.splitlines()) <= 24
    assert "Asleep" in screen
    assert kitdrawer("levels", "--keeping", "--holding", "20").code == 1


def test_what_slept_and_what_went_off(kitdrawer: Kitdrawer) -> None:
    """Ten kits of February 2024 sleep until one is taken; out of date glue costs the same before and after it goes."""
    made = kept(kitdrawer)
    assert of(made, "Lapwing kit gunmetal")["asleep_since"] == "2024-02-12"
    assert of(made, "Dunlin kit black titanium")["asleep_since"] is None  # came in September
    gone = of(made, "CA thin")["gone_off"]
    assert float(gone) == pytest.approx(22 * 0.17, abs=0.01)
    assert kitdrawer("took", "CA thin", "--reason", "threw out", "--yes").code == 0
    assert kitdrawer("took", "Lapwing kit gunmetal", "1", "--reason", "gift", "--yes").code == 0
    after = kept(kitdrawer)
    assert of(after, "CA thin")["gone_off"] == gone
    assert of(after, "Lapwing kit gunmetal")["asleep_since"] is None
    assert kitdrawer("undo", "--yes").code == 0
    assert of(kept(kitdrawer), "Lapwing kit gunmetal")["asleep_since"] == "2024-02-12"


def test_what_sleeps_is_the_same_on_every_screen(kitdrawer: Kitdrawer) -> None:
    """`history` and `levels --keeping` name the same parts, days and money, in the same words, whatever woke one."""

    def both() -> dict[str, Any]:
        one, other = kept(kitdrawer), kitdrawer("history", "--json").json
        for name in ("asleep", "asleep_worth"):
            assert one[name] == other[name]
        since = {each["part"]: each["asleep_since"] for each in one["parts"] if each["asleep_since"]}
        assert since == {each["part"]: each["since"] for each in one["asleep"]}
        lines = [
            " ".join(kitdrawer(*words).out.split()).partition("Asleep 6 months")[2].partition(" No price")[0]
            for words in (("levels", "--keeping"), ("history",))
        ]
        said = lines[1].partition(" Every ")[0].partition(" Next")[0]
        assert said
        assert lines[0].startswith(said)
        return since

    before = both()
    assert before["Lapwing kit gunmetal"] == "2024-02-12"
    assert "Drill 7 mm" not in before
    assert kitdrawer("took", "Lapwing kit gunmetal", "1", "--reason", "gift", "--yes").code == 0
    assert before.keys() - both().keys() == {"Lapwing kit gunmetal"}
