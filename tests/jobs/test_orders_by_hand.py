"""Small steps of taking, changing and handing over orders, each by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from types import SimpleNamespace
from typing import Any, cast

import pytest

from inventory.catalogue import Offer, PriceStep, fold
from inventory.jobs.orders.blank_choice import _late
from inventory.jobs.orders.changing import change
from inventory.jobs.orders.finished import piece_part
from inventory.jobs.orders.handing_over import _settled, with_own_blanks
from inventory.jobs.orders.money.least_list import _landed, _purchases, by_part
from inventory.jobs.orders.needs import requirements
from inventory.jobs.orders.order_check import SURE, _confident, _with_bought, check
from inventory.jobs.orders.order_probability import after_buying, needs_at, order_probability
from inventory.jobs.orders.requests import resolve
from inventory.jobs.orders.sourcing import Purchase, Sourcing, _goods_first
from inventory.ledger import Claim
from inventory.ledger.claims import let_go
from inventory.ledger.documents.drafting import Draft
from jobs import goods
from jobs.shop import TODAY, Stock, order, plenty, request, shop

FAR, NEAR = "Far Shore Fittings", "Saltmarsh Turning"
TUBE = goods.catalogue().part(goods.TUBE)


def bought(supplier: str = NEAR, cost: int | None = 100, days: int = 5, **more: Any) -> Purchase:
    """One pack of a thousand tubes of an order."""
    usual = Purchase(TUBE, 900, supplier, 1, 1000, cost, TODAY + timedelta(days=days), "", cost or 70, "EUR")
    return replace(usual, **more)


def test_of_one_part_the_cheaper_comes_before_the_earlier_and_the_nearer_in_the_alphabet() -> None:
    """What has no known price comes last, whatever it says in its own coin."""
    rows = [bought(), bought(cost=90, days=9), bought(days=4), bought(FAR), bought(cost=None, days=1)]
    assert sorted(rows, key=_goods_first) == [rows[1], rows[2], rows[3], rows[0], rows[4]]


def test_what_is_free_once_the_missing_has_come_is_whole_packs() -> None:
    """12 tubes wanted and 4 there: 8 are missing, of packs of ten 2 are over; what is due in brings no more."""
    there = shop(plenty().with_only(goods.TUBE, 4000))
    report = check(there, request(12))
    plan = replace(report.plan, parts=tuple(one for one in report.plan.parts if one.part == TUBE))
    need = plan.parts[0]
    one = bought(quantity=need.short, packs=1, pack=10_000)
    found = Sourcing((), (one,), (), TODAY)
    assert _with_bought(plan, found) == {fold(goods.TUBE): 4000 + 10_000}
    assert _with_bought(plan, replace(found, buy=())) == {fold(goods.TUBE): need.need}


def test_a_supply_that_is_doubtful_beside_others_is_raised_by_half_its_doubt() -> None:
    """Nothing of glue and finish is there: each alone suffices nine times in ten, so both have to be surer."""
    there = shop(plenty().without(goods.GLUE, goods.FINISH))
    resolved = resolve(there.catalogue, request(6), TODAY)
    first = requirements(there, resolved, *resolved.kits[0], 0.9)
    done = _confident(first, 6, 0.9, {})
    assert order_probability(first, 6, after_buying(first)).probability < 0.9
    assert order_probability(done, 6, after_buying(done)).probability >= 0.9 - 1e-9
    halves = [needs_at(first, 6, 1 - 0.1 / 2**times) for times in range(6)]
    for part in (goods.GLUE, goods.FINISH):
        (need,) = [one for one in done.parts if one.part.name == part]
        assert need.need in [one[fold(part), need.stage] for one in halves]


def test_supplies_that_go_by_rates_are_doubtful_and_what_is_counted_is_not() -> None:
    """Glue, finish and what a session takes once; no tubes, kits or refills. Some tool is in the book."""
    plan = check(shop(), request(2)).plan
    assert set(plan.doubts) == {fold(one) for one in (goods.GLUE, goods.FINISH, goods.EPOXY, goods.STRIP)}
    assert plan.tools_in_book


def test_what_is_finished_costs_no_postage_and_is_sure() -> None:
    """Two pieces of Reed's on the shelf serve an order for two."""
    known = goods.catalogue()
    made = check(shop(), request(2)).resolved
    piece = piece_part(known, made.pattern.name, goods.CHROME_KIT, goods.OLIVE, None, None)
    stock = plenty()
    stock.lot(piece.name, 2000, 900)
    report = check(shop(stock, known.with_parts(piece)), request(2))
    assert (report.verdict, report.starts, report.sourcing.postage, report.sourcing.buy) == (
        "from the shelf",
        0,
        0,
        (),
    )
    assert report.joint == report.joint_after_buying == SURE


@pytest.mark.parametrize(
    ("verdict", "days", "late"),
    [("too late", 3, True), ("too late", None, False), ("after buying", 3, False), ("cannot", None, False)],
)
def test_of_blanks_that_are_too_late_the_earlier_is_taken(verdict: str, days: int | None, late: bool) -> None:
    """In time one is as good as the other."""
    day = None if days is None else TODAY + timedelta(days=days)
    report = replace(check(shop(), request(2)), verdict=cast(Any, verdict), earliest=day)
    assert _late(report) == ((day.toordinal(),) if late and day else (0,))


def test_measured_blanks_that_others_hold_are_not_the_orders_own() -> None:
    """It is made of those set aside for it; where none of them is measured, of any."""
    stock = Stock()
    mine, other = stock.measured("a", "30 mm", "100 mm"), stock.measured("b", "30 mm", "100 mm")
    plain = stock.lot(goods.ANTLER, 4000)
    here, part = shop(stock), goods.catalogue().part(goods.ANTLER)

    def kept(*own: Claim) -> list[int]:
        return [lot.id for lot in with_own_blanks(here, part, own).book.lots_of(part.name)]

    assert kept(Claim("Reed", part.name, "claim", 1000, mine)) == [mine, plain]
    assert kept(Claim("Reed", part.name, "claim", 1000)) == kept() == [mine, other, plain]


@pytest.mark.parametrize(("account", "told"), [("claim", 3000), ("due claim", 0), ("to buy", 0)])
def test_what_an_order_lets_go_of_goes_to_who_waits(account: str, told: int) -> None:
    """Only what lay on the shelf for it is there for others: Tern waits for three tubes."""
    stock = Stock()
    stock.lot(goods.TUBE, 5000)
    coming = stock.coming(goods.TUBE, 5000, TODAY)
    stock.orders = [order("Reed", state="promised"), order("Tern", state="promised")]
    stock.claims.append(
        Claim(
            "Reed", goods.TUBE, cast(Any, account), 5000, purchase=coming if account == "due claim" else None
        )
    )
    stock.claim("Tern", goods.TUBE, 3000, "to buy")
    here = shop(stock)
    draft, ends = Draft(here.book, here.prices), let_go(here.book, "Reed")
    draft.add(ends)
    _settled(draft, here, (), ends)
    assert sum(one.quantity for one in draft.lines if one.account == "claim" and one.order == "Tern") == told


def test_what_is_with_the_customer_already_counts_among_what_is_wanted() -> None:
    """Of six wanted in all two were handed over: four are open."""
    before = order("Reed", 3, handed=2, state="wish")
    done = change(shop(), before, replace(before, count=6))
    assert (done.order.count, done.order.handed) == (4, 2)
    with pytest.raises(Exception, match="is so already"):
        change(shop(), before, replace(before, count=5))


def test_a_list_is_told_line_by_line_and_in_our_coin() -> None:
    """Twelve tubes are wanted: seven single ones, and two packs of five at 30.01 $, of which five are still wanted."""
    suppliers = goods.catalogue().suppliers

    def line(supplier: str, pack: int, packs: int, cost: int) -> Any:
        offer = Offer(supplier, goods.TUBE, pack, (PriceStep(1, 1),), "code")
        lines = (SimpleNamespace(offer=offer, packs=packs, cost=cost),)
        return SimpleNamespace(supplier=suppliers[fold(supplier)], arrives=None, lines=lines)

    basket = SimpleNamespace(bills=(line(NEAR, 1000, 7, 2800), line(FAR, 5000, 2, 3001)))
    found = Sourcing((), (bought(quantity=12_000),), (), TODAY, 490)
    done = tuple(_purchases(shop(), found, cast(Any, basket)))
    assert [(one.quantity, one.packs, one.pack, one.cost, one.own_cost, one.arrives) for one in done] == [
        (7000, 7, 1000, 2800, 2800, TODAY),
        (5000, 2, 5000, 2701, 3001, TODAY),
    ]
    assert _landed(replace(found, buy=done)) == 2800 + 2701 + 490
    assert _landed(replace(found, buy=(bought(cost=None),))) == 490
    (both,) = by_part(done).values()
    assert (both.quantity, both.packs, both.pack, both.cost) == (12_000, 1, 17_000, 5501)
    unknown = by_part([bought(days=9), bought(cost=None)])[fold(goods.TUBE)]
    assert (unknown.cost, unknown.arrives) == (None, TODAY + timedelta(days=9))
