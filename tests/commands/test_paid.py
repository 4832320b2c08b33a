"""Money for orders: owed, paid, given back; the sums are worked by hand from the prices of the sample."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from .conftest import Kitdrawer

pytestmark = pytest.mark.usefixtures("store")
BEFORE_PAYMENTS = Path(__file__).parents[1] / "store" / "earlier" / "v0003.sql"
"""A walked book whose last entry hands S41 over."""


def unpaid(kitdrawer: Kitdrawer) -> dict[str, tuple[Any, Any, Any]]:
    """Agreed, paid and owed by order, as the program says."""
    answer = kitdrawer("orders", "--unpaid", "--json").json
    return {one["order"]: (one["agreed"], one["paid"], one["owed"]) for one in answer["orders"]}


def test_an_order_is_paid_in_parts_and_handed_over_in_parts(kitdrawer: Kitdrawer) -> None:
    """S42 is 6 pens at 24.00: 144.00; 50.00 ahead; 4 handed over, 96.00, so that 46.00 are owed; then all of it."""
    kitdrawer("promise", "S42", "--yes")
    assert unpaid(kitdrawer) == {"S42": (144, 0, 0)}
    assert kitdrawer("paid", "S42", "50", "--yes").code == 0
    assert unpaid(kitdrawer) == {"S42": (144, 50, -50)}
    kitdrawer("handed-over", "S42", "--count", "4", "--yes")
    assert unpaid(kitdrawer) == {"S42": (144, 50, 46)}
    screen = kitdrawer("orders", "--unpaid").out
    assert (
        "Owed 46.00 EUR for what customers have, Sat 28 Nov 2026; 48.00 EUR more for what is promised."
        in " ".join(screen.split())
    )
    said = kitdrawer("paid", "S42", "--yes").out
    assert (
        "Paid 94.00 EUR for S42, Sat 28 Nov 2026. So far 144.00 EUR paid of 144.00 EUR: all of it."
        in " ".join(said.split())
    )
    assert kitdrawer("orders", "--unpaid").out == "Everything is paid, Sat 28 Nov 2026.\n"
    assert kitdrawer("verify").code == 0


def test_undo_takes_a_payment_back(kitdrawer: Kitdrawer) -> None:
    """And the undo of that brings it back; entries name the order."""
    kitdrawer("promise", "S42", "--yes")
    before = unpaid(kitdrawer)
    kitdrawer("paid", "S42", "50", "--yes")
    after = unpaid(kitdrawer)
    kitdrawer("undo", "--yes")
    assert unpaid(kitdrawer) == before
    kitdrawer("undo", "4", "--yes")
    assert unpaid(kitdrawer) == after
    (entry,) = [one for one in kitdrawer("entries", "S42", "--json").json["entries"] if one["kind"] == "paid"]
    assert (entry["orders"], entry["what"]) == (["S42"], "Paid 50.00 EUR for S42")


def test_handed_over_and_paid_are_one_entry(kitdrawer: Kitdrawer) -> None:
    """What was paid ahead is not asked for again; undo takes both back."""
    kitdrawer("promise", "S41", "--yes")
    kitdrawer("paid", "S41", "10", "--yes")
    assert "Paid 54.00 EUR." in kitdrawer("handed-over", "S41", "--paid", "--yes").out
    assert unpaid(kitdrawer) == {}
    kitdrawer("undo", "--yes")
    assert unpaid(kitdrawer) == {"S41": (64, 10, -10)}
    kitdrawer("paid", "S41", "--yes")
    assert "It was paid before." in kitdrawer("handed-over", "S41", "--paid", "--yes").out


def test_without_a_price_the_sum_has_to_be_said(kitdrawer: Kitdrawer) -> None:
    """Handed over without one it is listed until somebody pays anything."""
    wish = ("--pattern", "Dunlin pen", "--plating", "chrome", "--blank", "walnut blank", "--by", "2026-12-20")
    kitdrawer("promise", "gift", *wish, "--yes")
    assert "has no price" in kitdrawer("paid", "gift", "--yes").err
    assert "has no price" in kitdrawer("handed-over", "gift", "--paid", "--yes").err
    assert unpaid(kitdrawer) == {}
    kitdrawer("handed-over", "gift", "--yes")
    assert unpaid(kitdrawer) == {"gift": (None, 0, None)}
    assert "no price" in kitdrawer("orders", "--unpaid").out
    assert "30.00 EUR paid; no price was agreed." in kitdrawer("paid", "gift", "30", "--yes").out
    assert unpaid(kitdrawer) == {}


def test_what_is_sold_at_the_stall_is_paid(kitdrawer: Kitdrawer) -> None:
    """On the spot, with a price or without one."""
    kitdrawer("made", "Dunlin pen", "--blank", "walnut", "--plating", "chrome", "--count", "2", "--yes")
    kitdrawer("sold", "Dunlin chrome", "1", "--price", "38", "--yes")
    kitdrawer("sold", "Dunlin chrome", "1", "--yes")
    assert unpaid(kitdrawer) == {}


def test_more_than_was_agreed(kitdrawer: Kitdrawer) -> None:
    """Is said, and can be given back, but no more than was paid."""
    kitdrawer("promise", "S41", "--yes")
    assert "70.00 EUR paid of 64.00 EUR: 6.00 EUR more than was agreed." in " ".join(
        kitdrawer("paid", "S41", "70", "--yes").out.split()
    )
    assert kitdrawer("paid", "S41", "6", "--back", "--yes").code == 0
    answer = kitdrawer("paid", "S41", "65", "--back", "--yes")
    assert "Only 64.00 EUR was paid" in answer.err
    assert kitdrawer("paid", "S41", "--back", "--yes", "--json").json["amount"] == -64


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("paid", "S99", "--yes"), "no order called “S99”"),
        (("paid", "S42", "much", "--yes"), "much"),
        (("paid", "S42", "0", "--yes"), "is no payment"),
        (("paid", "S42", "--back", "--yes"), "is no payment"),
        (("orders", "S42", "--unpaid"), "--unpaid is for all orders"),
    ],
)
def test_what_cannot_be_is_said(kitdrawer: Kitdrawer, words: tuple[str, ...], says: str) -> None:
    """In a sentence, and nothing is booked."""
    answer = kitdrawer(*words)
    assert answer.code == 1
    assert says in answer.err


def test_paid_and_given_up(kitdrawer: Kitdrawer) -> None:
    """Of an order that was given up money only goes back."""
    kitdrawer("promise", "S41", "--yes")
    kitdrawer("paid", "S41", "--yes")
    assert "“S41” is paid." in kitdrawer("paid", "S41", "--yes").err
    kitdrawer("release", "S41", "--yes")
    assert "was given up" in kitdrawer("paid", "S41", "5", "--yes").err
    assert kitdrawer("paid", "S41", "--back", "--yes").code == 0


def test_many_unpaid_orders_stay_on_one_screen(kitdrawer: Kitdrawer) -> None:
    """The first of them, those who owe at the top; all with --all."""
    wish = ("--pattern", "Dunlin pen", "--plating", "chrome", "--blank", "walnut blank", "--by", "2026-12-20")
    for number in range(18):
        kitdrawer("promise", f"N{number:02}", *wish, "--price", "10", "--yes")
    kitdrawer("handed-over", "N17", "--yes")
    screen = kitdrawer("orders", "--unpaid").out.splitlines()
    assert len(screen) <= 24
    assert screen[5].startswith("N17")
    assert any(line.endswith("more: --all") for line in screen)
    assert len(kitdrawer("orders", "--unpaid", "--all").out.splitlines()) > 20


def test_what_an_older_book_handed_over_is_taken_as_paid(kitdrawer: Kitdrawer, store: Path) -> None:
    """Nobody could say so then: S41's two at 32.00; undoing the hand-over takes that back too. S42 is promised."""
    store.unlink()
    with closing(sqlite3.connect(store)) as connection:
        connection.executescript(BEFORE_PAYMENTS.read_text(encoding="utf-8"))
    assert unpaid(kitdrawer) == {"S42": (144, 0, 0)}
    kitdrawer("undo", "--yes")
    assert unpaid(kitdrawer) == {"S41": (64, 0, 0), "S42": (144, 0, 0)}


def test_handing_over_says_what_is_still_owed(kitdrawer: Kitdrawer) -> None:
    """S42, 6 pens at 24.00, 50.00 ahead: 4 fetched owe 96.00 - 50.00; paid, they are; the last two owe 48.00."""
    kitdrawer("promise", "S42", "--yes")
    kitdrawer("paid", "S42", "50", "--yes")
    went = kitdrawer("handed-over", "S42", "--count", "1", "--made-now", "--yes")
    assert "Paid ahead: 26.00 EUR. 120.00 EUR more is for the pieces still to come." in " ".join(
        went.out.split()
    )
    kitdrawer("undo", "--yes")
    words = ("handed-over", "S42", "--count", "4", "--made-now")
    said = kitdrawer(*words, "--json").json
    assert (said["agreed"], said["paid"], said["owed"]) == (144, 50, 46)
    told = " ".join(kitdrawer(*words, "--yes").out.split())
    assert "Still owed: 46.00 EUR (4 × 24.00 EUR, less 50.00 EUR paid). 48.00 EUR more is for" in told
    kitdrawer("paid", "S42", "46", "--yes")
    went = kitdrawer("handed-over", "S42", "--made-now", "--yes")
    assert "Still owed: 48.00 EUR (6 × 24.00 EUR, less 96.00 EUR paid)." in " ".join(went.out.split())
    assert unpaid(kitdrawer)["S42"] == (144, 96, 48)


def test_handing_over_what_has_no_price_or_is_paid(kitdrawer: Kitdrawer) -> None:
    """It says so, too; with --paid nothing is owed after."""
    words = ("-m", "Avocet pen", "-p", "chrome", "-b", "ash blank", "--by", "2026-12-20")
    kitdrawer("promise", "gift", *words, "--yes")
    said = kitdrawer("handed-over", "gift", "--made-now", "--json").json
    assert "No price is agreed." in said["said"]
    assert said["owed"] is None
    kitdrawer("promise", "S41", "--yes")
    assert kitdrawer("handed-over", "S41", "--made-now", "--paid", "--json").json["owed"] == 0
    kitdrawer("paid", "S41", "--yes")
    assert "It is paid." in kitdrawer("handed-over", "S41", "--made-now", "--json").json["said"]
