"""`add`: more on the shelf without a parcel, at what was paid, for what it was paid."""

from __future__ import annotations

from decimal import Decimal

import pytest

from .conftest import Kitdrawer
from .test_by_hand import booked, lots, shelf, words

pytestmark = pytest.mark.usefixtures("store")
KIT, TUBE, GLUE = "Dunlin kit gunmetal", "tube 7 x 53", "CA thin"


@pytest.mark.parametrize(
    ("call", "quantity", "cost"),
    [
        ((KIT, "3", "--paid", "4.10"), 3, "12.30"),
        ((KIT, "3", "--paid", "4.10", "--for", "all"), 3, "4.10"),
        ((TUBE, "20", "--paid", "3.80", "--for", "10"), 20, "7.60"),
        ((TUBE, "7", "--paid", "0.40", "--for", "each"), 7, "2.80"),
        ((GLUE, "2 bottles", "--paid", "8.40", "--for", "bottle"), 100, "16.80"),
        ((GLUE, "30 ml", "--paid", "8.40", "--for", "50 ml"), 30, "5.04"),
    ],
    ids=lambda one: " ".join(one) if isinstance(one, tuple) else str(one),
)
def test_what_was_paid_for_what(
    kitdrawer: Kitdrawer, call: tuple[str, ...], quantity: int, cost: str
) -> None:
    """Three kits at 4.10 are 12.30, for all of them 4.10; a lot of today; undo takes it back to the coin."""
    before = shelf(kitdrawer, call[0]), lots(kitdrawer, call[0])
    made = booked(kitdrawer, "add", *call)
    assert (made["quantity"], made["cost"], made["cost_from"]) == (quantity, Decimal(cost), "said")
    new = lots(kitdrawer, call[0])[-1]
    assert (new["received_on"], new["quantity"], new["cost"]) == ("2026-11-28", quantity, Decimal(cost))
    assert kitdrawer("undo", "--yes").code == 0
    assert (shelf(kitdrawer, call[0]), lots(kitdrawer, call[0])) == before


def test_without_a_price_it_costs_what_the_rest_does(kitdrawer: Kitdrawer) -> None:
    """Three kits are there at 3.90; what is needed for a promise goes to it."""
    kitdrawer("promise", "S42", "--yes")
    made = booked(kitdrawer, "add", KIT, "2")
    assert made["cost"] == Decimal("7.80")
    assert made["for_orders"] == [{"order": "S42", "quantity": 2}]
    assert "2 for “S42”, which waited for it" in words(kitdrawer("add", KIT, "2", "--yes"))


def test_a_new_kit_by_family_and_plating(kitdrawer: Kitdrawer) -> None:
    """It can be looked for by its family at once; after undo there is none of it, and its name is still known."""
    call = (
        "add",
        "Godwit kit copper",
        "2",
        "--family",
        "godwit",
        "--plating",
        "Antique Copper",
        "--paid",
        "5",
    )
    looked = kitdrawer(*call, "--json").json
    assert looked["notes"] == ["“Godwit kit copper” is new."]
    assert kitdrawer("trace", "Godwit kit copper").code == 1
    made = booked(kitdrawer, *call)
    assert (made["on_hand"], made["cost"]) == (2, Decimal("10.00"))
    found = kitdrawer("shelf", "--family", "Godwit", "--json").json["parts"]
    assert [(one["plating"], one["free"]) for one in found if one["part"] == "Godwit kit copper"] == [
        ("antique copper", 2)
    ]
    assert booked(kitdrawer, *call)["notes"] == []  # it is known by now
    assert kitdrawer("undo", "--yes").code == kitdrawer("undo", "--yes").code == 0
    assert shelf(kitdrawer, "Godwit kit copper") == (0, 0, Decimal(0))
    assert kitdrawer("verify").code == 0


def test_an_unlikely_price_is_asked_about(kitdrawer: Kitdrawer) -> None:
    """What a pack of ten cost, said of one: shown as a question, refused with --yes, booked with --sure."""
    call = ("add", "walnut blank", "10", "--paid", "38")
    doubt = "38.00 EUR for one is far from the usual 1.55 EUR to 2.10 EUR."
    assert f"Is the price right? {doubt}" in words(kitdrawer(*call))
    assert kitdrawer(*call, "--json").json["doubtful"] == doubt
    refused = kitdrawer(*call, "--yes")
    assert refused.code == 1
    assert f"{doubt} Nothing was booked. Where it is right, say --sure." in words(refused)
    assert booked(kitdrawer, *call, "--sure")["cost"] == Decimal("380.00")


@pytest.mark.parametrize(
    ("call", "says"),
    [
        ((GLUE, "2 bottles", "--paid", "17"), "For what was 17 paid? Say for what."),
        ((TUBE, "10", "--paid", "3.80"), "For what was 3.80 paid?"),
        ((TUBE, "10", "--paid", "3.80", "--for", "pack"), "comes in packs of 10 or 20: of which?"),
        ((TUBE, "10", "--for", "pack"), "What was paid for “pack”? Write what was paid: the sum."),
        ((KIT, "3", "--paid", "4.10 USD"), "not in EUR"),
        ((KIT, "3", "--family", "Dunlin"), "A new kit needs both its family and its plating."),
        ((KIT, "3", "--family", "Dunlin", "--plating", "chrome"), f"“{KIT}” is known already, and not as"),
        (("gun kit", "3", "--family", "Dunlin", "--plating", "gunmetal"), f"is “{KIT}”. Add to that one:"),
        (("gun kit", "3", "--family", "Dunlin", "--plating", "gold"), "There is no plating called “gold”."),
        (("gun kit", "3"), "There is no part called “gun kit”."),
        (("red deer antler", "1"), "red deer antler is measured piece by piece"),
    ],
)
def test_refused_with_a_sentence(kitdrawer: Kitdrawer, call: tuple[str, ...], says: str) -> None:
    """And nothing is booked."""
    answer = kitdrawer("add", *call, "--yes")
    assert answer.code == 1
    assert says in words(answer)
    assert kitdrawer("entries", "--json").json["entries"][0]["entry"] == 1
