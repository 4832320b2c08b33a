"""Looking: shelf, fits, trace, orders, columns."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from .conftest import Answer, Kitdrawer

pytestmark = pytest.mark.usefixtures("store")

WIDE = 80


def names(answer: Answer) -> list[str]:
    return [row["part"] for row in answer.json["parts"]]


def test_shelf_keeps_its_promises_in_json(kitdrawer: Kitdrawer) -> None:
    """Every promised field is there, numbers exact."""
    answer = kitdrawer("shelf", "--json")
    row = next(one for one in answer.json["parts"] if one["part"] == "Dunlin kit gunmetal")
    assert answer.json["currency"] == "EUR"
    assert {
        key: row[key] for key in ("kind", "unit", "on_hand", "claimed", "free", "due_in", "family", "plating")
    } == {
        "kind": "kit",
        "unit": "piece",
        "on_hand": 3,
        "claimed": 0,
        "free": 3,
        "due_in": 0,
        "family": "Dunlin",
        "plating": "gunmetal",
    }


def test_amounts_in_json_are_exact(kitdrawer: Kitdrawer) -> None:
    """A set of pads used to a third is 1.4 sets, not a float near it."""
    rows = {row["part"]: row for row in kitdrawer("shelf", "--json").json["parts"]}
    assert rows["polishing pads, fine set"]["on_hand"] == Decimal("1.4")


@pytest.mark.parametrize(
    ("words", "there", "gone"),
    [
        (["--family", "curlew"], "bushings Curlew cap", "Dunlin kit chrome"),
        (["--plating", "gunmetal"], "Dunlin kit gunmetal", "Dunlin kit chrome"),
        (["--tube", "tube 7 x 53"], "Dunlin kit chrome", "Curlew kit chrome"),
        (["--tube", "10.15 mm"], "tube 10.15 x 53", "tube 7 x 53"),
        (["--drill", "10.5 mm"], "drill 10.5 mm", "drill 7 mm"),
        (["--material", "walnut"], "walnut blank", "ash blank"),
        (["--kind", "tools"], "drill 7 mm", "walnut blank"),
        (["--kind", "adhesive"], "CA thin", "friction polish"),
        (["--low"], "accelerator", "walnut blank"),
        (["--text", "kit gun"], "Dunlin kit gunmetal", "CA thin"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_shelf_filters(kitdrawer: Kitdrawer, words: list[str], there: str, gone: str) -> None:
    """Each filter keeps what it asks for and leaves out the rest."""
    found = names(kitdrawer("shelf", *words, "--json"))
    assert there in found
    assert gone not in found


@pytest.mark.parametrize(
    ("words", "near"),
    [
        (["--family", "Curlw"], "Curlew"),
        (["--plating", "gunmetl"], "gunmetal"),
        (["--material", "walnutt"], "walnut"),
        (["--kind", "adhesve"], "adhesive"),
        (["--tube", "tube 7 by 53"], "tube 7 x 53"),
    ],
    ids=lambda value: value[0] if isinstance(value, list) else "",
)
def test_a_mistyped_filter_offers_the_nearest(kitdrawer: Kitdrawer, words: list[str], near: str) -> None:
    """Nothing is guessed silently; the nearest name is offered."""
    answer = kitdrawer("shelf", *words)
    assert answer.code == 1
    assert near in answer.err


def test_shelf_answers_in_its_first_line_and_on_one_page(kitdrawer: Kitdrawer) -> None:
    """As many parts, low and out of date as the JSON counts; the rows of what is low; the rest by kind."""
    rows = kitdrawer("shelf", "--json").json["parts"]
    low = [row["part"] for row in rows if row["low"]]
    lines = kitdrawer("shelf").out.splitlines()
    off = sum(row["out_of_date"] > 0 for row in rows)
    assert (
        lines[0] == f"{len(rows)} parts. {len(low)} below reorder level, {off} out of date, nothing due in."
    )
    assert len(lines) <= 24
    assert [name for name in low if not any(line.startswith(name) for line in lines)] == []
    assert not any(line.startswith("walnut blank") for line in lines)
    assert lines[-1] == "What to buy: kitdrawer shopping"


def test_what_is_promised_and_missing_comes_first(kitdrawer: Kitdrawer) -> None:
    """Its rows are never folded, and say how much is set aside and to be bought; folded ones are counted."""
    kitdrawer("promise", "S42", "--yes")
    lines = kitdrawer("shelf").out.splitlines()
    rows = [row for row in kitdrawer("shelf", "--json").json["parts"] if row["to_buy"]]
    head = next(at for at, line in enumerate(lines) if line.startswith("To buy, below reorder level"))
    first = lines[head + 2 : head + 2 + len(rows)]
    assert {row["part"] for row in rows} == {line.split("  ")[0] for line in first}
    assert len(lines) <= 24
    assert f"{len(rows)} to buy" in lines[0]


def test_a_drawer_is_shown_in_full_and_in_natural_order(kitdrawer: Kitdrawer) -> None:
    """7 before 10.15 before 10.2, as people sort sizes; a filter and --all have every part."""
    tubes = kitdrawer("shelf", "--kind", "tubes").out
    sizes = [line.split()[1] for line in tubes.splitlines() if line.startswith("tube ")][:8]
    assert sizes == ["7", "7", "9.3", "10.15", "10.2", "10.3", "12.25", "12.8"]
    names = {row["part"] for row in kitdrawer("shelf", "--json").json["parts"]}
    told = kitdrawer("shelf", "--all").out
    assert [name for name in names if name not in told] == []
    assert "1.4 sets" in told


def test_nothing_like_that(kitdrawer: Kitdrawer) -> None:
    """An empty answer says so."""
    assert "Nothing on the shelf" in kitdrawer("shelf", "--text", "zzz").out


@pytest.mark.parametrize(
    "words",
    [
        ["shelf"],
        ["shelf", "--all"],
        ["orders"],
        ["orders", "S42"],
        ["fits", "Curlew"],
        ["fits", "Godwit"],
        ["trace", "Dunlin kit gunmetal"],
        ["can-take", "--order", "S42"],
        ["can-take", "--order", "S44"],
        ["columns"],
        ["columns", "counts"],
    ],
    ids=" ".join,
)
def test_screens_fit_80_columns_and_need_no_colour(kitdrawer: Kitdrawer, words: list[str]) -> None:
    """No line is wider than a plain terminal, and no escape sequence is in it."""
    answer = kitdrawer(*words)
    assert [line for line in answer.out.splitlines() if len(line) > WIDE] == []
    assert "\x1b" not in answer.out


def test_fits_names_what_is_missing_and_the_near_twin(kitdrawer: Kitdrawer) -> None:
    """The missing drill is said, and that its near twin is not the same hole."""
    families = {row["family"] for row in kitdrawer("shelf", "--kind", "kits", "--json").json["parts"]}
    told = {name: kitdrawer("fits", name).out for name in families}
    assert any("Missing  drill 27/64; near twin here: drill 10.5 mm" in text for text in told.values())
    assert told["Greenshank"].startswith("Greenshank, pen: MISSING bushings Greenshank; 6 kits free, ")


def test_fits_is_one_page_and_the_rest_is_behind_all(kitdrawer: Kitdrawer) -> None:
    """At most 24 lines for every family; --all has each blank that gives a piece, and each reason against one."""
    for name in {row["family"] for row in kitdrawer("shelf", "--kind", "kits", "--json").json["parts"]}:
        assert len(kitdrawer("fits", name).out.splitlines()) <= 24
        blanks = kitdrawer("fits", name, "--json").json["blanks"]
        told = " ".join(kitdrawer("fits", name, "--all").out.split())
        assert [one["part"] for one in blanks if one["pieces"] and one["part"] not in told] == []
        assert [why for one in blanks for why in one["left_out"] if why not in told] == []


def test_fits_json(kitdrawer: Kitdrawer) -> None:
    """Both barrels of a capped pen, each with its own drill, and the blanks with the pieces they give."""
    answer = kitdrawer("fits", "Curlew", "--json").json
    assert [(b["barrel"], b["drill"]) for b in answer["barrels"]] == [("cap", "12.5 mm"), ("body", "10.5 mm")]
    assert {"part", "usable", "pieces_each", "pieces", "left_out"} <= set(answer["blanks"][0])


def test_a_stopper_needs_no_tube(kitdrawer: Kitdrawer) -> None:
    """A family without tube fits without one."""
    rows = kitdrawer("shelf", "--kind", "kits", "--json").json["parts"]
    families = dict.fromkeys(row["family"] for row in rows)
    assert any(kitdrawer("fits", one, "--json").json["barrels"][0]["tube"] is None for one in families)


def test_trace_adds_up_to_the_shelf(kitdrawer: Kitdrawer) -> None:
    """The last line's running totals are what the shelf shows."""
    kitdrawer("promise", "S42", "--yes")
    answer = kitdrawer("trace", "Dunlin kit gunmetal", "--json").json
    last = answer["lines"][-1]
    assert (last["on_hand"], last["claimed"]) == (answer["on_hand"], answer["claimed"]) == (3, 3)
    assert last["worth"] == answer["worth"] == sum(lot["cost"] for lot in answer["lots"])
    assert len(kitdrawer("trace", "Dunlin kit gunmetal", "--last", "1", "--json").json["lines"]) == 1
    assert "set aside for S42" in kitdrawer("trace", "dunlin kit GUNMETAL").out


def test_a_long_trace_shows_its_latest_lines(kitdrawer: Kitdrawer) -> None:
    """Nine times found: the last eight lines stand, the others are counted; --all and --last say how many to show."""
    for _ in range(9):
        assert kitdrawer("found", "drill O", "1", "--yes").code == 0
    steps = kitdrawer("trace", "drill O", "--json").json["lines"]

    def drawn(*words: str) -> int:
        return sum("Sat 28 Nov" in line for line in kitdrawer("trace", "drill O", *words).out.splitlines())

    assert f"{len(steps) - 8} earlier lines: --all" in kitdrawer("trace", "drill O").out
    assert drawn("--all") - drawn() >= len(steps) - 8
    assert "earlier" not in kitdrawer("trace", "drill O", "--last", "9").out


def test_trace_of_something_never_booked(kitdrawer: Kitdrawer) -> None:
    """A part without history has none to tell."""
    rows = kitdrawer("shelf", "--json").json["parts"]
    empty = next(row["part"] for row in rows if row["on_hand"] == 0)
    assert "Nothing was ever booked" in kitdrawer("trace", empty).out


def test_orders_json_tells_how_each_stands(kitdrawer: Kitdrawer) -> None:
    """Wishes carry the verdict, promises what is claimed from where."""
    kitdrawer("promise", "S42", "--yes")
    rows = {row["order"]: row for row in kitdrawer("orders", "--json").json["orders"]}
    assert rows["S44"]["stands"] == "cannot"
    assert rows["S42"]["state"] == "promised"
    assert {claim["from"] for claim in rows["S42"]["claims"]} == {"the shelf", "to buy"}
    assert kitdrawer("orders", "nobody").code == 1


def test_columns_tells_one_tab(kitdrawer: Kitdrawer) -> None:
    """A mistyped tab offers the nearest."""
    assert "smallest diameter" in kitdrawer("columns", "counts").out
    assert "counts" in kitdrawer("columns", "count").err


def test_columns_saves_a_workbook_that_loads(kitdrawer: Kitdrawer, tmp_path: Path) -> None:
    """Of the empty workbook nothing is wrong but that nothing is filled in; it is not written over unasked."""
    path = tmp_path / "shop.xlsx"
    assert kitdrawer("columns", "--save", str(path)).code == 0
    assert kitdrawer("columns", "--save", str(path)).code == 1
    assert kitdrawer("columns", "--save", str(path), "--overwrite").code == 0
    assert kitdrawer("load", str(path), "--dry-run").err.startswith("Nothing is filled in shop.xlsx")


def test_a_drill_nothing_takes_names_the_nearest(kitdrawer: Kitdrawer) -> None:
    """Nobody has a 12 mm drill: those on hand that come nearest are named, on screen and in JSON."""
    out = " ".join(kitdrawer("shelf", "--drill", "12").out.split())
    assert "Nothing on the shelf is like that. The nearest drills here: drill 12.5 mm (12.5 mm)" in out
    told = kitdrawer("shelf", "--drill", "12", "--json").json
    assert (told["parts"], told["nearest_drills"][0]) == ([], "drill 12.5 mm")
    assert "nearest" not in kitdrawer("shelf", "--drill", "12.5").out


@pytest.mark.parametrize("word", ["finished", "finished pieces", "pieces", "piece"])
def test_finished_pieces_are_a_kind(kitdrawer: Kitdrawer, word: str) -> None:
    """By every word that the shelf itself has for them."""
    made = ("made", "Dunlin pen", "--blank", "walnut blank", "--plating", "chrome", "--yes")
    assert kitdrawer(*made).code in (0, 3)
    (row,) = kitdrawer("shelf", "--kind", word, "--json").json["parts"]
    assert (row["kind"], row["on_hand"]) == ("piece", 1)
