"""What is proposed in place of an order that cannot be taken is itself answered with yes."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given
from hypothesis import strategies as st
from searching import examples

from inventory.cli.commands.orders import can_take

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")
YES = ("from the shelf", "after buying")
MADE = {
    "Dunlin pen": ("chrome", "gunmetal", "24k gold", "rhodium", "black titanium"),
    "Sanderling pen": ("rhodium", "chrome"),
    "Whimbrel pen": ("antique copper", "chrome", "gunmetal"),
    "Curlew capped pen": ("black titanium", "chrome", "gold titanium"),
    "Godwit seam ripper": ("chrome", "24k gold"),
}
"""Patterns of the sample and platings their kits come in."""
BLANKS = (
    "walnut blank",
    "iroko blank",
    "olivewood blank",
    "stabilised maple red",
    "bog oak blank",
    "red deer antler",
)


@st.composite
def wanted(draw: st.DrawFn) -> dict[str, str]:
    """What somebody might ask for, often more or sooner than can be."""
    pattern = draw(st.sampled_from(sorted(MADE)))
    return {
        "pattern": pattern,
        "plating": draw(st.sampled_from(MADE[pattern])),
        "blank": draw(st.sampled_from(BLANKS)),
        "pieces": str(draw(st.integers(1, 30))),
        "by": draw(
            st.dates(min_value=date.fromisoformat("2026-11-28"), max_value=date.fromisoformat("2026-12-31"))
        ).isoformat(),
    }


def words(asked: dict[str, str]) -> list[str]:
    """The same as a command line."""
    options = [
        "--plating",
        asked["plating"],
        "--blank",
        asked["blank"],
        "--count",
        asked["pieces"],
        "--by",
        asked["by"],
    ]
    return ["can-take", asked["pattern"], *options, "--json"]


@given(wanted())
@examples(20, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_what_is_proposed_is_answered_with_yes(kitdrawer: Kitdrawer, asked: dict[str, str]) -> None:
    """Each proposal asked as a question of its own; nothing is proposed where the answer is yes; of pieces the most."""
    answer = kitdrawer(*words(asked)).json
    assume("error" not in answer)  # a blank that does not fit, a day that is no day
    if answer["verdict"] in YES:
        assert answer["instead"] == []
    for one in answer["instead"]:
        other = kitdrawer(*words({**asked, one["what"]: one["value"]})).json
        assert (other["verdict"], other["verdict"] in YES) == (one["verdict"], True)
    fewer = [int(one["value"]) for one in answer["instead"] if one["what"] == "pieces"]
    for many in fewer:
        more = kitdrawer(*words({**asked, "pieces": str(many + 1)})).json
        assert more["verdict"] not in YES


def test_another_plating_and_fewer_pieces(kitdrawer: Kitdrawer) -> None:
    """Nobody sells the copper kit and one is there: one piece can be made of it, and all three in chrome."""
    screen = " ".join(kitdrawer("can-take", "--order", "S44").out.split())
    assert "Instead chrome: YES, after buying; 1 piece: YES, after buying" in screen
    assert "Where that will do: kitdrawer change S44 --plating chrome" in screen
    assert kitdrawer("change", "S44", "--plating", "chrome", "--yes").code in (0, 3)
    assert kitdrawer("can-take", "--order", "S44", "--json").json["verdict"] in YES


def test_another_blank(kitdrawer: Kitdrawer) -> None:
    """Horn for four rippers cannot come by tomorrow: walnut is there, and of horn there is enough for two."""
    words = ["can-take", "Godwit seam ripper", "--plating", "chrome", "--blank", "horn", "--count", "4"]
    answer = kitdrawer(*words, "--by", "2026-11-29", "--json").json
    assert answer["verdict"] == "too late"
    proposed = {one["what"]: (one["value"], one["verdict"]) for one in answer["instead"]}
    assert proposed == {"blank": ("walnut blank", "from the shelf"), "pieces": ("2", "from the shelf")}
    screen = " ".join(kitdrawer(*words, "--by", "2026-11-29").out.split())
    assert "Instead walnut blank: YES, from the shelf; 2 pieces: YES, from the shelf" in screen


def test_a_promise_that_cannot_be_kept_says_so_too(kitdrawer: Kitdrawer) -> None:
    """What would do instead stands before the question, as `can-take` has it."""
    screen = " ".join(kitdrawer("promise", "S44", "--yes").out.split())
    assert "Instead chrome: YES, after buying; 1 piece: YES, after buying" in screen


def test_nothing_is_looked_for_where_nobody_sells_a_tool(
    kitdrawer: Kitdrawer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A drill the book knows nothing of lacks for every plating, blank and count of the pattern."""
    barrels = tmp_path / "barrels.csv"
    barrels.write_text(
        'family,barrel,tube,drill,"finished diameter, end A","finished diameter, end B",length\n'
        "Sanderling,barrel,tube 10.2 x 55.8,10.3 mm,11.6 mm,12.7 mm,\n"
    )
    assert kitdrawer("load", str(barrels), "--yes").code == 0

    def never(*_: object) -> None:
        pytest.fail("an alternative was looked for")

    monkeypatch.setattr(can_take, "alternatives", never)
    answer = kitdrawer("can-take", "--order", "S43", "--json").json
    assert (answer["verdict"], answer["instead"]) == ("cannot", [])
    assert "Instead" not in kitdrawer("can-take", "--order", "S43").out
