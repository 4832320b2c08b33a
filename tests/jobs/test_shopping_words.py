"""The sentences about what a list nearly reaches."""

from __future__ import annotations

from fractions import Fraction

import pytest

from inventory.buying import Choice, Fill, NearMiss, PackOffer, PriceBreak
from inventory.reports.purchasing.shopping_words import nearly, within_budget
from jobs import goods
from jobs.shop import shop

MARSH = "Saltmarsh Turning"


def fill(part: str, pack: int, packs: int, cost: int, needed: bool, *why: str) -> Fill:
    return Fill(PackOffer(part, MARSH, part, pack, (PriceBreak(1, cost),)), packs, cost, needed, why)


GLUE_FILL = fill(goods.GLUE, 56_000, 1, 700, True, "runs out about 2026-12-20", "12 ml free")
TUBE_FILL = fill(goods.TUBE, 1000, 2, 90, False)


@pytest.mark.parametrize(
    ("fills", "extra", "saving", "filler", "said"),
    [
        (
            (GLUE_FILL,), 210, 490, 0,
            "You will need these soon anyway: 1 × thin CA of 56 ml (runs out about 2026-12-20; 12 ml free): "
            "the list then costs 2.10 EUR more, and 4.90 EUR is saved.",
        ),
        (
            (GLUE_FILL, TUBE_FILL), 300, 400, 90,
            "12 ml free). With 2 × tube 27/64 as a filler (0.90 EUR): the list then costs 3.00 EUR more, "
            "and 4.00 EUR is saved.",
        ),
        (
            (TUBE_FILL,), -400, 400, 90,
            "(4.90 EUR); 2 × tube 27/64 as a filler (0.90 EUR): the list then costs 4.00 EUR less, "
            "and 4.00 EUR is saved.",
        ),
    ],
    ids=["needed", "both", "filler"],
)  # fmt: skip
def test_fills(fills: tuple[Fill, ...], extra: int, saving: int, filler: int, said: str) -> None:
    """What, why, what it costs and what it saves."""
    miss = NearMiss(
        MARSH, "postage", (), Fraction(saving), extra=Fraction(extra), short=600, fee=Fraction(490), fill=fills,
        filler=Fraction(filler),
    )  # fmt: skip
    text = nearly(shop(), miss)
    assert text.startswith("Saltmarsh Turning: 6.00 EUR short of free postage (4.90 EUR)")
    assert text.endswith(said)


def test_no_fill_pays() -> None:
    """Then that is said."""
    miss = NearMiss(MARSH, "postage", (), Fraction(0), short=600, fee=Fraction(490), pays=False)
    assert "a filler costs more than it saves" in nearly(shop(), miss)


@pytest.mark.parametrize(
    ("choice", "said"),
    [
        (Choice(1, 2, 30, 80, 1, 30, True), "1 of 2 promised orders whole and 37 % of what else is wanted"),
        (
            Choice(0, 0, 30, 80, 0, 30, True),
            "The budget buys 37 % of what else is wanted, by its urgency; no choice",
        ),
        (Choice(1, 2, 0, 0, 1, 0, True), "The budget buys 1 of 2 promised orders whole; no choice"),
        (Choice(0, 0, 0, 0, 0, 0, True), "The budget buys nothing; no choice"),
        (Choice(1, 2, 30, 80, 2, 50, False), "another choice might reach 2 orders and 62 %."),
        (Choice(0, 0, 30, 80, 0, 50, False), "another choice might reach 62 %."),
    ],
    ids=["both", "no orders", "orders alone", "neither", "unproven", "unproven without orders"],
)
def test_what_a_budget_serves(choice: Choice, said: str) -> None:
    """Whole orders, and how much of the rest; proven, or what might be reached."""
    (sentence,) = within_budget(choice)
    assert said in sentence


def test_without_a_budget_nothing_is_said_of_it() -> None:
    """A list that buys everything has no choice to tell of."""
    assert list(within_budget(None)) == []
