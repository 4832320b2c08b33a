"""`made`: one line does what plan, sheet and weekend book do in three, and is one entry."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any

import pytest

from inventory.cli.entering.evening import looked_back
from inventory.cli.session import shop_of
from inventory.jobs.days.evening import MadeTonight, evening, parts_touched
from inventory.store import open_store

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")

PEN = ("made", "Dunlin pen", "--blank", "walnut", "--plating", "chrome")


def shelf(kitdrawer: Kitdrawer) -> dict[str, Any]:
    """What is on hand of every part, pieces among them."""
    return {one["part"]: one["on_hand"] for one in kitdrawer("shelf", "--json").json["parts"]}


def losses(kitdrawer: Kitdrawer) -> Any:
    return kitdrawer("losses", "walnut", "--json").json["losses"]


def test_it_books_what_a_session_of_the_same_pieces_does(
    kitdrawer: Kitdrawer, store: Path, tmp_path: Path
) -> None:
    """Two good and one spoiled at the lathe: the shelf and the losses are those of plan, sheet and booking."""
    before = store.read_bytes()
    stall = ("--stall", "Dunlin pen, chrome, walnut blank, 2")
    assert kitdrawer("plan", "--on", "2026-11-28", *stall, "--yes").code in (0, 3)
    assert kitdrawer("weekend", "sheet", "--save", str(tmp_path / "sheet")).code == 0
    pieces = tmp_path / "sheet" / "pieces.csv"
    with pieces.open(encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    rows[0].update({"good": "2", "spoiled at turn": "1"})
    with pieces.open("w", encoding="utf-8", newline="") as file:
        out = csv.DictWriter(file, list(rows[0]))
        out.writeheader()
        out.writerows(rows)
    assert kitdrawer("weekend", "book", str(tmp_path / "sheet"), "--yes").code == 0
    in_three = shelf(kitdrawer), losses(kitdrawer)
    store.write_bytes(before)
    assert kitdrawer(*PEN, "--count", "2", "--spoiled", "turn=1", "--yes").code in (0, 3)
    assert (shelf(kitdrawer), losses(kitdrawer)) == in_three
    turned = next(one for one in in_three[1] if one["stage"] == "turn")
    assert (turned["reached"], turned["lost"]) == (3, 1)


def test_undo_takes_all_of_it_back(kitdrawer: Kitdrawer) -> None:
    """Parts, piece and what was learned are as before, and the book proves sound after each step."""
    before = shelf(kitdrawer), losses(kitdrawer)
    assert kitdrawer(*PEN, "--spoiled", "turn=1", "--yes").code == 0
    assert kitdrawer("verify").code == 0
    assert (shelf(kitdrawer), losses(kitdrawer)) != before
    assert kitdrawer("undo", "--yes").code == 0
    now = shelf(kitdrawer)
    assert now.pop("Dunlin pen, of Dunlin kit chrome, walnut blank") == 0
    assert {part: many for part, many in now.items() if part in before[0]} == before[0]
    assert losses(kitdrawer) == before[1]
    assert kitdrawer("verify").code == 0


def test_the_same_is_made_again_tomorrow(kitdrawer: Kitdrawer) -> None:
    """Two evenings alike are two entries; the pieces can be sold."""
    assert kitdrawer(*PEN, "--yes").code == 0
    assert kitdrawer(*PEN, "--yes").code == 0
    assert shelf(kitdrawer)["Dunlin pen, of Dunlin kit chrome, walnut blank"] == 2
    assert kitdrawer("sold", "Dunlin chrome", "2", "--price", "30", "--yes").code == 0
    assert [one["what"] for one in kitdrawer("entries", "--json").json["entries"]][1:3] == [
        "Made 1 × Dunlin pen"
    ] * 2


def test_for_an_order_the_piece_waits_for_it(kitdrawer: Kitdrawer) -> None:
    """Its own parts are used; what is finished is set aside; the rest of it still waits."""
    kitdrawer("promise", "S42", "--yes")
    screen = kitdrawer("made", "--order", "S42", "--count", "2", "--yes").out
    assert "from Dunlin kit gunmetal and walnut blank, for S42" in " ".join(screen.split())
    assert "When it is fetched: kitdrawer handed-over S42" in screen
    assert len(screen.splitlines()) <= 24
    (row,) = kitdrawer("orders", "S42", "--json").json["orders"]
    assert "2 of 6 finished" in row["stands"]


def test_only_a_spoiled_one(kitdrawer: Kitdrawer) -> None:
    """An evening on which nothing came out good is booked too, and nothing gets onto the shelf."""
    answer = kitdrawer(*PEN, "--count", "0", "--spoiled", "finish=1", "--yes", "--json")
    assert answer.json["made"] == [
        {"pattern": "Dunlin pen", "order": None, "good": 0, "lost": 1, "cost": answer.json["made"][0]["cost"]}
    ]
    assert "Tried: 1 × Dunlin pen spoiled" in kitdrawer("entries").out
    assert "Dunlin pen, of Dunlin kit chrome, walnut blank" not in shelf(kitdrawer)


def test_what_the_book_holds_too_little_of_is_said(kitdrawer: Kitdrawer) -> None:
    """Five tubes are booked: the sixth and later ones are booked as found, and the exit code says so."""
    answer = kitdrawer(*PEN, "--count", "4", "--yes")
    assert answer.code == 3
    assert "tube 7 x 53: the book held too little; booked as found. Count it." in answer.out


def test_without_yes_nothing_is_booked(kitdrawer: Kitdrawer) -> None:
    """With --json alone it only looks."""
    before = shelf(kitdrawer)
    answer = kitdrawer(*PEN, "--json")
    assert answer.json["entry"] is None
    assert shelf(kitdrawer) == before


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("made", "--yes"), "What was made?"),
        (("made", "Dunlin pen", "--plating", "chrome", "--yes"), "Of which blank?"),
        (
            ("made", "Dunlin pen", "--blank", "burl", "--plating", "chrome", "--yes"),
            "can be “elm burl blank”",
        ),
        (
            ("made", "Dunlin pen", "--blank", "larch", "--plating", "chrome", "--yes"),
            "no blank called “larch”",
        ),
        (("made", "Dunlin pen", "--blank", "walnut", "--yes"), "Which plating?"),
        ((*PEN, "--count", "0", "--yes"), "Nothing was made."),
        ((*PEN, "--spoiled", "paint=1", "--yes"), "has no stage “paint”"),
        ((*PEN, "--spoiled", "turn", "--yes"), "is not a loss"),
        (("made", "Dunlin pn", "--blank", "walnut", "--yes"), "no pattern called “Dunlin pn”"),
        (("made", "--order", "S43", "--yes"), "“S43” is not promised yet."),
        (("made", "Curlew pen", "--order", "S42", "--yes"), "“S42” says what is made for it"),
        (("made", "--order", "S42", "--count", "7", "--yes"), "“S42” is 6 short of all its pieces, not 7."),
        (("made", "--order", "S99", "--yes"), "no order called “S99”"),
    ],
    ids=lambda value: " ".join(value)[:40] if isinstance(value, tuple) else value[:20],
)
def test_what_cannot_be_is_said_in_a_sentence(
    kitdrawer: Kitdrawer, words: tuple[str, ...], says: str
) -> None:
    """Each refusal says what and what to do; nothing is booked."""
    kitdrawer("promise", "S42", "--yes")
    before = shelf(kitdrawer)
    answer = kitdrawer(*words)
    assert answer.code == 1
    assert says in " ".join(answer.err.split())
    assert shelf(kitdrawer) == before


def test_a_finished_order_wants_no_more(kitdrawer: Kitdrawer) -> None:
    """All its pieces are there already."""
    kitdrawer("promise", "S41", "--yes")
    assert kitdrawer("made", "--order", "S41", "--count", "2", "--yes").code in (0, 3)
    answer = kitdrawer("made", "--order", "S41", "--yes")
    assert "“S41” is finished." in answer.err


def test_the_only_blank_with_these_words_is_meant(kitdrawer: Kitdrawer) -> None:
    """A part of a longer name will do where one blank alone has it."""
    answer = kitdrawer("made", "Dunlin pen", "--blank", "thuya", "--plating", "chrome", "--json")
    assert answer.code in (0, 3), answer.err


@pytest.mark.parametrize(
    "said",
    [
        MadeTonight("Dunlin pen", "chrome", "walnut", 30, {"turn": 2, "glue": 1}),
        MadeTonight(order="S42", good=2, spoiled={"assemble": 1}),
        MadeTonight(order="S43"),
    ],
    ids=["for the shelf", "for an order", "of kits with their tubes inside"],
)
def test_what_it_does_not_touch_makes_no_difference(
    kitdrawer: Kitdrawer, store: Path, said: MadeTonight
) -> None:
    """The document is the same whether lots and offers of all parts are read or only of those it asks for."""
    for order in ("S42", "S43"):
        kitdrawer("promise", order, "--yes")
    with open_store(store) as found, found.reading() as read:
        every, few = shop_of(read), shop_of(read, lambda bare: parts_touched(bare, said))
        assert len(few.book.lots) < len(every.book.lots) / 2
        whole, part = (looked_back(read, shop, *evening(shop, said), buying=False) for shop in (every, few))
        assert part.booking.proposal == whole.booking.proposal
        assert part.report == whole.report
