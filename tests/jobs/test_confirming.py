"""A supplier's confirmed order as lines of ours: packs and prices of its offers; what cannot be one is named."""

from __future__ import annotations

from inventory.jobs.purchasing.confirming import confirmed
from inventory.reports.purchasing.placed import Placed
from jobs import goods
from jobs.shop import shop

SALT = "Saltmarsh Turning"


def test_lines_in_the_packs_and_at_the_prices_of_the_offers() -> None:
    """Ten kits reach the step of ten; 20 tubes are two packs of ten."""
    rows, notes = confirmed(
        shop(), [(goods.CHROME_KIT, "10", SALT), (goods.TUBE.upper(), "20 pieces", SALT.lower())]
    )
    assert notes == ()
    assert rows == (
        Placed(SALT, goods.CHROME_KIT, 1000, 10, 360),
        Placed(SALT, goods.TUBE, 10_000, 2, 400),
    )


def test_what_cannot_be_a_line_is_named() -> None:
    """Half a pack, no offer, nobody who sends it, no such part, no amount: each in a sentence, the rest goes on."""
    said = [
        (goods.TUBE, "15", SALT),
        (goods.STRIP, "3", SALT),
        (goods.OLIVE, "2", ""),
        ("unheard of", "1", SALT),
        (goods.OLIVE, "some", SALT),
        (goods.OLIVE, "4", SALT),
    ]
    rows, notes = confirmed(shop(), said)
    assert rows == (Placed(SALT, goods.OLIVE, 1000, 4, 300),)
    assert [note.split(":")[0] for note in notes] == [
        goods.TUBE,
        goods.STRIP,
        goods.OLIVE,
        "unheard of",
        goods.OLIVE,
    ]
    assert all("not entered as due in" in note for note in notes)
    assert "whole packs of an offer of Saltmarsh Turning" in notes[0]
    assert "known who sends it" in notes[2]
