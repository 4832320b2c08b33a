"""`sold`: finished pieces off the shelf, their price kept as an order's, taken back by `undo`."""

from __future__ import annotations

from decimal import Decimal

import pytest

from .conftest import Kitdrawer
from .test_by_hand import booked, shelf, words

PEN = "Avocet pen, of Avocet kit chrome, olivewood blank"
CALL = ("sold", "avocet pen chrome", "1", "--price", "38", "--at", "harbour market")


@pytest.mark.usefixtures("booked")
def test_a_pen_sold_at_the_market(kitdrawer: Kitdrawer) -> None:
    """One is on the shelf: it goes at what it cost to make, its price and place are kept; undo brings it back."""
    there, _, worth = before = shelf(kitdrawer, PEN)
    assert there == 1
    looked = kitdrawer(*CALL, "--json").json
    made = booked(kitdrawer, *CALL)
    assert looked == {**made, "entry": None}
    assert (made["part"], made["quantity"], made["cost"]) == (PEN, -1, worth)
    assert made["notes"][0] == "For 38.00 EUR each."
    assert "tax: a licensed adviser" in made["notes"][1]
    assert shelf(kitdrawer, PEN)[0] == 0
    (order,) = [
        one for one in kitdrawer("orders", "--all", "--json").json["orders"] if one["state"] == "handed over"
    ]
    assert (order["customer"], order["price"], order["count"]) == ("harbour market", Decimal("38.00"), 1)
    entry = kitdrawer("entries", "--json").json["entries"][0]
    assert (entry["what"], entry["orders"]) == (f"Sold 1 × {PEN} at harbour market", [order["order"]])
    assert kitdrawer("undo", "--yes").code == 0
    assert kitdrawer("verify").code == 0
    assert shelf(kitdrawer, PEN) == before
    assert order["order"] not in kitdrawer("orders").out  # no request is left of it
    assert kitdrawer("undo", str(made["entry"] + 1), "--yes").code == 0
    again = kitdrawer("orders", order["order"], "--json").json["orders"][0]
    assert (again["state"], again["price"]) == ("handed over", Decimal("38.00"))
    assert kitdrawer("verify").code == 0


@pytest.mark.usefixtures("booked")
def test_what_was_sold_wore_no_tool_again(kitdrawer: Kitdrawer) -> None:
    """The pen was made in a session, which counts it; the list to buy says of tools what it said before."""
    before = kitdrawer("shopping", "--json").json
    booked(kitdrawer, *CALL)
    after = kitdrawer("shopping", "--json").json
    assert before["lists"] == after["lists"]


@pytest.mark.usefixtures("booked")
def test_what_cannot_be_sold(kitdrawer: Kitdrawer) -> None:
    """More than is free, what is no piece, what nobody knows."""
    for call, says in (
        (("Avocet pen chrome", "2"), f"The book has 1 of {PEN}, not 2."),
        (("Avocet kit chrome", "1"), "“Avocet kit chrome” is no finished piece: kits are parts."),
        (("Curlew pen", "1"), "There is no part called “Curlew pen”."),
        (("Avocet pen", "1", "--price", "much"), "“much”"),
    ):
        answer = kitdrawer("sold", *call, "--yes")
        assert answer.code == 1
        assert says in words(answer)


@pytest.mark.usefixtures("booked")
def test_a_second_sale_of_the_day_is_an_order_of_its_own(kitdrawer: Kitdrawer) -> None:
    """Two pieces, sold one after the other, without a price."""
    booked(kitdrawer, "found", PEN, "1")
    for _ in range(2):
        assert booked(kitdrawer, "sold", PEN)["notes"] == []
    names = [one["orders"] for one in kitdrawer("entries", "--json").json["entries"][:2]]
    assert names == [["sold 2026-11-28 2"], ["sold 2026-11-28 1"]]
