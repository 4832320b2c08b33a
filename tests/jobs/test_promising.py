"""Promising, releasing: what an order needs is set aside, and nobody's is promised twice."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from inventory.catalogue import Order, fold
from inventory.errors import Refused
from inventory.jobs.orders.order_check import OrderReport, check
from inventory.jobs.orders.promising import promise, release
from inventory.jobs.orders.requests import request_of
from inventory.jobs.orders.reserving import set_aside, without_claims
from inventory.ledger import Proposal
from inventory.ledger.claims import claims_of
from inventory.ledger.shop import Shop
from jobs import goods
from jobs.booking import booked
from jobs.shop import DUE, TODAY, Stock, order, plenty, shop


def promised(here: Shop, one: Order) -> tuple[OrderReport, Proposal, Shop]:
    """The answer, the document and the shop once it is booked."""
    report = check(here, request_of(one))
    proposal = promise(here, one, report)
    return report, proposal, booked(here, proposal)


def accounts(here: Shop, one: str, part: str) -> dict[str, int]:
    """What an order holds of a part by account."""
    sums: dict[str, int] = {}
    for claim in claims_of(here.book, one):
        if claim.part == part:
            sums[claim.account] = sums.get(claim.account, 0) + claim.quantity
    return sums


def test_claims_are_the_needs() -> None:
    """Every part but the tools is set aside, stages added up; the order is promised and noted."""
    one = order("Reed")
    report, proposal, later = promised(shop(), one)
    needs: dict[str, int] = {}
    for need in report.plan.parts:
        if not need.tool:
            needs[need.part.name] = needs.get(need.part.name, 0) + need.need
    got = {claim.part: claim.quantity for claim in claims_of(later.book, "Reed")}
    assert got == needs
    assert not {goods.DRILL, goods.BUSHINGS} & set(got)
    assert later.book.orders["reed"] == replace(one, state="promised")
    assert (proposal.kind, proposal.title, proposal.orders) == ("promise", "Promise Reed", (one,))


def test_an_order_the_book_knows_is_not_noted_again() -> None:
    """A loaded request is only promised; one that differs from the book is noted as it is now."""
    stock = plenty()
    stock.orders.append(order("Reed"))
    here = shop(stock)
    assert promised(here, order("Reed"))[1].orders == ()
    changed = order("Reed", 5, state="released")
    assert promised(here, changed)[1].orders == (replace(changed, state="wish"),)


def test_the_shelf_first_then_what_is_due_in_then_to_buy() -> None:
    """Two kits on the shelf, one due in in time; late, undated and others' due-in is not promised."""
    stock = plenty().with_only(goods.CHROME_KIT, 2000)
    stock.coming(goods.CHROME_KIT, 1000, DUE + timedelta(days=1))
    stock.coming(goods.CHROME_KIT, 1000, None)
    stock.coming(goods.TUBE, 9000, TODAY)
    in_time = stock.coming(goods.CHROME_KIT, 2000, DUE)
    first = stock.coming(goods.CHROME_KIT, 1000, TODAY)
    stock.claim("Other", goods.CHROME_KIT, 1500, "due claim")
    stock.claims[0] = replace(stock.claims[0], purchase=in_time)
    report, proposal, later = promised(shop(stock), order("Reed", 4))
    need = next(one.need for one in report.plan.parts if one.part.name == goods.CHROME_KIT)
    assert accounts(later, "Reed", goods.CHROME_KIT) == {
        "claim": 2000,
        "due claim": 1500,
        "to buy": need - 3500,
    }
    due = [(line.purchase, line.quantity) for line in proposal.lines if line.account == "due claim"]
    assert due == [(first, 1000), (in_time, 500)]


def test_measured_blanks_are_set_aside_by_name() -> None:
    """The two antlers that fit are claimed as the very lots; what is missing is to buy."""
    stock = plenty()
    good = {stock.measured("a", "20 mm", "70 mm"), stock.measured("b", "20 mm", "75 mm")}
    stock.measured("thin", "10 mm", "70 mm")
    _, _, later = promised(shop(stock), order("Reed", 3, blank=goods.ANTLER))
    held = [claim for claim in claims_of(later.book, "Reed") if claim.part == goods.ANTLER]
    assert {claim.lot for claim in held if claim.account == "claim"} == good
    assert accounts(later, "Reed", goods.ANTLER) == {"claim": 2000, "to buy": 1000}


def test_an_antler_more_than_needed_stays_free() -> None:
    """Where three fit and one is enough, only that one is set aside."""
    stock = plenty()
    for name in "abc":
        stock.measured(name, "20 mm", "70 mm")
    _, _, later = promised(shop(stock), order("Reed", 1, blank=goods.ANTLER))
    assert accounts(later, "Reed", goods.ANTLER) == {"claim": 1000}
    assert later.book.balance(goods.ANTLER).unclaimed == 2000


def test_plain_and_measured_blanks_together() -> None:
    """Measured ones by their lot, plain ones by number."""
    stock = plenty()
    one = stock.measured("a", "20 mm", "70 mm")
    stock.lot(goods.ANTLER, 5000)
    _, _, later = promised(shop(stock), order("Reed", 3, blank=goods.ANTLER))
    held = {
        claim.lot: claim.quantity for claim in claims_of(later.book, "Reed") if claim.part == goods.ANTLER
    }
    assert held == {one: 1000, None: 2000}


def test_the_last_kit_is_promised_once() -> None:
    """Two orders, one kit: the second one's is to buy, and nothing is claimed twice."""
    stock = plenty().with_only(goods.CHROME_KIT, 1000)
    for name in "ab":
        stock.measured(name, "20 mm", "70 mm")
    _, _, first = promised(shop(stock), order("Reed", 1, blank=goods.ANTLER))
    assert accounts(first, "Reed", goods.CHROME_KIT) == {"claim": 1000}
    report, _, second = promised(first, order("Sedge", 1, blank=goods.ANTLER))
    assert report.verdict == "after buying"
    assert accounts(second, "Sedge", goods.CHROME_KIT) == {"to buy": 1000}
    assert second.book.balance(goods.CHROME_KIT).claimed == 1000


@pytest.mark.parametrize(
    ("state", "hint"), [("promised", "`orders`"), ("handed over", "another name")], ids=["promised", "gone"]
)
def test_an_order_is_not_taken_twice(state: str, hint: str) -> None:
    """Promised or handed over: refused, with what to do."""
    stock = plenty()
    stock.orders.append(order("Reed", state=state))
    here = shop(stock)
    with pytest.raises(Refused, match=f"already {state}") as caught:
        promise(here, order("REED"), check(here, request_of(order("Reed"))))
    assert hint in caught.value.hint


def test_a_released_order_may_be_promised_again() -> None:
    """What was given up can be taken again."""
    stock = plenty()
    stock.orders.append(order("Reed", state="released"))
    assert promised(shop(stock), order("Reed"))[2].book.orders["reed"].state == "promised"


def test_releasing_hands_parts_to_who_waits() -> None:
    """Sedge waits for a kit; when Reed is released it is Sedge's, and Reed holds nothing any more."""
    stock = plenty().with_only(goods.CHROME_KIT, 1000)
    for name in "ab":
        stock.measured(name, "20 mm", "70 mm")
    _, _, here = promised(shop(stock), order("Reed", 1, blank=goods.ANTLER))
    _, _, here = promised(here, order("Sedge", 1, blank=goods.ANTLER))
    proposal = release(here, here.book.orders["reed"])
    later = booked(here, proposal)
    assert claims_of(later.book, "Reed") == ()
    assert accounts(later, "Sedge", goods.CHROME_KIT) == {"claim": 1000}
    assert later.book.orders["reed"].state == "released"


@pytest.mark.parametrize(
    ("state", "said"),
    [("wish", "it is an enquiry"), ("released", "it is released"), ("handed over", "it is handed over")],
)
def test_only_promises_are_released(state: str, said: str) -> None:
    """An order that is not promised holds nothing to give up."""
    with pytest.raises(Refused, match=said):
        release(shop(), order("Reed", state=state))


def test_without_its_claims_the_shop_is_as_before() -> None:
    """An order looked at anew sees its own parts as free: balances, lots and due-in are those before it."""
    stock = plenty().with_only(goods.CHROME_KIT, 2000)
    stock.measured("a", "20 mm", "70 mm")
    stock.coming(goods.CHROME_KIT, 1000, TODAY)
    before = shop(stock)
    _, _, later = promised(before, order("Reed", 4, blank=goods.ANTLER))
    again = without_claims(later, "reed")
    assert {key: b for key, b in again.book.balances.items() if b.on_hand or b.due_in} == before.book.balances
    assert again.book.lots == before.book.lots
    assert again.book.due == before.book.due
    assert again.book.claims == ()
    assert check(again, request_of(order("Reed", 4))) == check(before, request_of(order("Reed", 4)))


def test_what_one_wish_takes_the_next_does_not_see() -> None:
    """Two requests looked at one after another: the second sees only what the first leaves, measured blanks too."""
    stock = plenty()
    first = stock.measured("a", "20 mm", "70 mm")
    stock.measured("b", "30 mm", "70 mm")
    here = shop(stock)
    one = order("Reed", 1, blank=goods.ANTLER)
    report = check(here, request_of(one))
    left = set_aside(here, report)
    assert {lot.id for lot in left.book.lots[fold(goods.ANTLER)] if lot.claimed} == {first}
    assert [cut.name for cut in check(left, request_of(one)).plan.blanks.cuts] == ["b"]
    gone = set_aside(left, check(left, request_of(one)))
    assert check(gone, request_of(one)).verdict == "cannot"
    for part in (goods.CHROME_KIT, goods.TUBE):
        need = next(one.need for one in report.plan.parts if one.part.name == part)
        assert left.book.balance(part).unclaimed == here.book.balance(part).unclaimed - need


def test_setting_aside_is_what_promising_claims_of_the_shelf() -> None:
    """The shelf left over is the same, whether an order is looked at or promised."""
    here = shop(plenty().with_only(goods.CHROME_KIT, 2000))
    one = order("Reed", 4)
    report, _, later = promised(here, one)
    aside = set_aside(here, report)
    for part in {need.part.name for need in report.plan.parts}:
        assert aside.book.balance(part).claimed == later.book.balance(part).claimed


def test_an_empty_shop_promises_everything_to_buy() -> None:
    """Nothing there: all of it is to buy, and nothing else is claimed."""
    _, _, later = promised(shop(Stock()), order("Reed", 2))
    assert {claim.account for claim in claims_of(later.book, "Reed")} == {"to buy"}
    assert accounts(later, "Reed", goods.OLIVE)["to buy"] >= 1000
