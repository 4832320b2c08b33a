"""Money of orders and work that is left, by hand: what is agreed, paid, owed and still to come."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from inventory.catalogue import STALL
from inventory.errors import BadInput, Refused
from inventory.jobs.orders.money.paying import (
    Account,
    account,
    owed_in_words,
    pay,
    together,
    unpaid,
    with_hand_over,
)
from inventory.jobs.orders.money.quoting import Quote, quote
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.standing.due_soon import Lacking, due_soon
from inventory.ledger.documents.proposal import Payment
from jobs import goods
from jobs.shop import DUE, EUR, TODAY, order, plenty, request, shop

HALF = order("Reed", 3, price=2000, handed=2, state="promised")
"""Five pieces at 20.00, two of them with the customer."""
MORE = "more is for the pieces still to come"


@pytest.mark.parametrize(
    ("paid", "handing", "owed", "still", "said"),
    [
        (
            0,
            0,
            4000,
            10_000,
            f"Still owed: 40.00 EUR (2 × 20.00 EUR, less 0.00 EUR paid). 60.00 EUR {MORE}.",
        ),
        (
            2500,
            1,
            3500,
            7500,
            f"Still owed: 35.00 EUR (3 × 20.00 EUR, less 25.00 EUR paid). 40.00 EUR {MORE}.",
        ),
        (4000, 0, 0, 6000, f"It is paid. 60.00 EUR {MORE}."),
        (10_000, 0, -6000, 0, f"Paid ahead: 60.00 EUR. 60.00 EUR {MORE}."),
        (10_000, 3, 0, 0, "It is paid."),
    ],
)
def test_what_is_owed_for_pieces_a_customer_has(
    paid: int, handing: int, owed: int, still: int, said: str
) -> None:
    """Of five at 20.00 two are there; what goes just now counts too, and the rest is still to come."""
    found = account(HALF, {"reed": paid}, handing)
    assert (found.agreed, found.paid, found.owed, found.open) == (10_000, paid, owed, still)
    assert owed_in_words(found, EUR) == said
    due = (Payment("Reed", owed),) if owed > 0 else ()
    assert with_hand_over(HALF, {"reed": paid}, handing) == due


def test_without_a_price_nothing_is_known_to_be_owed() -> None:
    """Its payments are told all the same; the sum has to be said."""
    bare = order("Reed", 3)
    assert account(bare, {"reed": 700}) == Account(bare, None, 700, None)
    assert owed_in_words(account(bare, {"reed": 700}), EUR) == "No price is agreed; 7.00 EUR paid so far."
    assert owed_in_words(account(bare, {}), EUR) == "No price is agreed."
    for asked in (lambda: with_hand_over(bare, {}, 1), lambda: pay(shop(), bare, {})):
        with pytest.raises(BadInput, match="has no price"):
            asked()


def test_who_owes_comes_first() -> None:
    """Then by day; what is paid to the cent, the stall's and wishes are not waited for."""
    stock = plenty()
    stock.orders = [
        order("Ahead", 1, price=1000, state="promised", due=TODAY),
        order("Late", 1, price=1000, state="handed over", due=DUE),
        order("Even", 1, price=1000, state="handed over", due=TODAY),
        order("Cent", 1, price=1000, state="handed over", due=TODAY),
        order("Bare", 1, state="handed over", due=TODAY),
        order("Settled", 1, state="handed over", due=TODAY),
        order("Open", 1, state="promised", due=TODAY),
        order("Stall", 1, price=1000, state="handed over", customer=STALL),
        order("Wish", 1, price=1000),
    ]
    found = unpaid(shop(stock), {"even": 1000, "cent": 999, "settled": 0})
    assert [one.order.name for one in found] == ["Cent", "Late", "Ahead", "Bare"]
    assert together(found) == (1001, 1000)
    ahead = account(HALF, {"reed": 9000})
    assert together([ahead, *found]) == (1001, 2000)


def test_a_payment_is_what_is_open_or_what_is_said() -> None:
    """Given back no more than was paid, and nothing of nothing."""
    here = shop()
    whole = pay(here, HALF, {"reed": 2500})
    assert (whole.amount, whole.account.open, whole.proposal.title) == (7500, 0, "Paid 75.00 EUR for Reed")
    assert whole.proposal.payments == (Payment("Reed", 7500),)
    back = pay(here, HALF, {"reed": 2500}, 2500, back=True)
    assert (back.amount, back.account.paid) == (-2500, 0)
    assert pay(here, HALF, {"reed": 2500}, back=True).amount == -2500
    assert pay(here, HALF, {}, 1).amount == 1
    gone = replace(HALF, state="released")
    assert pay(here, gone, {"reed": 1}, back=True).proposal.title == "Gave back 0.01 EUR of Reed"
    with pytest.raises(Refused, match="given up"):
        pay(here, gone, {}, 100)
    with pytest.raises(Refused, match="Only 25"):
        pay(here, HALF, {"reed": 2500}, 2501, back=True)
    with pytest.raises(Refused, match="is paid"):
        pay(here, HALF, {"reed": 10_000})
    for wrong in (0, -5):
        with pytest.raises(BadInput, match="no payment"):
            pay(here, HALF, {}, wrong)


def test_a_quote_says_what_is_agreed_else_the_lowest_price() -> None:
    """From the shelf no postage; of what is bought whole packs and their postage; none where it cannot be."""
    there = check(shop(), request(4))
    assert quote(there) == Quote(4, there.price.lowest, 0, 0, agreed=False, proven=True)
    agreed = quote(check(shop(), request(4, price=2500)))
    assert agreed is not None
    assert (agreed.each, agreed.agreed, agreed.together, agreed.with_postage) == (2500, True, 10_000, 10_000)
    bought = quote(check(shop(plenty().without(goods.TUBE)), request(4, price=2500)))
    assert bought == Quote(4, 2500, 490, 400, agreed=True, proven=False)
    assert bought.with_postage == 10_490
    never = check(shop(plenty().with_only(goods.GUN_KIT, 0)), request(4, blank=goods.ANTLER))
    assert never.verdict == "cannot"
    assert quote(never) is None


def test_work_that_is_left_before_each_day() -> None:
    """Pieces at 45 minutes, the starts that are spoiled counted in; orders due no later add up, hours end before."""
    stock = plenty()
    soon, later = TODAY + timedelta(days=7), TODAY + timedelta(days=14)
    stock.orders = [
        order("First", 2, due=soon, state="promised"),
        order("Second", 4, due=later),
        order("Beyond", 4, due=later + timedelta(days=1)),
    ]
    stock.claim("First", goods.TUBE, 3000, "to buy")
    stock.claim("First", goods.SLIM, 1000, "to buy")
    stock.claim("First", goods.REFILL, 2000, "due claim")
    stock.claims[-1] = replace(stock.claims[-1], purchase=stock.coming(goods.REFILL, 2000, TODAY))
    here = shop(stock, settings={"hours": "tue 2", "rate USD": "0.9"})
    first, second = due_soon(here, later)
    assert [(one.order.name, one.to_make, one.minutes) for one in (first, second)] == [
        ("First", 2, 90),
        ("Second", 4, 180),
    ]
    starts = check(shop(), request(4)).starts
    assert (first.needed, second.needed) == (3 * 45, 3 * 45 + starts * 45)
    assert (first.left, second.left) == (120, 240)
    known = here.catalogue
    assert first.lacking == (
        Lacking(known.part(goods.REFILL), 2000, "Saltmarsh Turning", TODAY),
        Lacking(
            known.part(goods.TUBE),
            3000,
            "Saltmarsh Turning",
            TODAY + timedelta(days=5),
            soon - timedelta(days=5),
        ),
        Lacking(known.part(goods.SLIM), 1000),
    )
    assert second.lacking == ()
    assert [one.left for one in due_soon(shop(stock), soon)] == [None]
