"""Figures of single steps, worked out by hand: prices, what is kept, what goes where."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from inventory.catalogue import Offer, PriceStep, Supply, fold
from inventory.jobs.ahead import levels as ahead_levels
from inventory.jobs.ahead import looking
from inventory.jobs.hours.piece_time import PieceTime
from inventory.jobs.naming.merging import merge
from inventory.jobs.orders.money.pricing import finished_price
from inventory.jobs.orders.order_check import SURE, check
from jobs import goods
from jobs.shop import TODAY, Stock, plenty, request, shop


@pytest.mark.parametrize(("margin", "lowest"), [("0", 2500), ("0.2", 3125), ("0.3", 3572)])
def test_the_lowest_price_leaves_the_margin_over(margin: str, lowest: int) -> None:
    """20.00 of materials and 20 minutes at 15.00 an hour are 25.00: divided by what is left of a price, rounded up."""
    stock = Stock()
    stock.lot(goods.CHROME_KIT, 2000, 4000)
    here = replace(shop(stock), settings={"labour rate": "15", "margin": margin})
    kit = here.catalogue.part(goods.CHROME_KIT)
    made = finished_price(here, [(kit, 1)], PieceTime(20, (), (), False, False))
    assert (made.materials, made.labour, made.lowest) == (2000, 500, lowest)


def test_what_is_finished_cannot_run_short() -> None:
    """A chance of one, and nothing it may be off by."""
    assert (SURE.probability, SURE.error, SURE.weakest) == (1.0, 0.0, None)


def test_a_sealed_bottle_is_bought_for_four_fifths_of_its_life() -> None:
    """Ten weeks in days: eight weeks; what does not go off has no end."""
    known = goods.catalogue()
    glue = known.part(goods.GLUE)
    assert isinstance(glue.detail, Supply)
    keeps = known.with_parts(replace(glue, detail=replace(glue.detail, keeps_sealed=70)))
    assert ahead_levels._keeps(shop(plenty(), keeps), fold(goods.GLUE)) == pytest.approx(8.0)
    assert ahead_levels._keeps(shop(), fold(goods.CHROME_KIT)) is None


def test_of_a_suppliers_offers_the_one_that_covers_a_cycle_for_least_is_looked_at() -> None:
    """12 wanted: two packs of ten are 8.00, one of 25 is 7.50; 8 wanted: one of ten is 4.00."""
    (seller, *_) = goods.SUPPLIERS
    offers = (
        Offer(seller.name, goods.TUBE, 10_000, (PriceStep(1, 400),)),
        Offer(seller.name, goods.TUBE, 25_000, (PriceStep(1, 750),)),
    )
    here = replace(shop(), offers={fold(goods.TUBE): offers})
    for lot, pack in ((12.0, 25.0), (8.0, 10.0)):
        (found,) = looking._sources(here, fold(goods.TUBE), [seller], lot)
        assert found.pack == pack


def test_what_was_to_be_counted_of_one_is_of_the_other_once_they_are_one() -> None:
    """A doubt goes over with what it is about; where there was none there is none."""
    for doubtful in ((goods.RHODIUM_KIT,), ()):
        stock = plenty()
        stock.to_count = doubtful
        old = goods.catalogue().part(goods.RHODIUM_KIT)
        new = replace(old, name="Turnstone kit rhodium two")
        made = merge(shop(stock, goods.catalogue().with_parts(new)), old, new, ()).proposal
        assert (made.counted, made.to_count) == (doubtful, ((new.name,) if doubtful else ()))


@pytest.mark.parametrize(("days", "late"), [(0, False), (-1, True)])
def test_what_arrives_on_the_day_itself_is_not_called_too_late(days: int, late: bool) -> None:
    """Parts that come on the due day are there on it; a day later they are not."""
    stock = plenty().without(goods.TUBE)
    first = check(shop(stock), request(2))
    (buying,) = first.sourcing.buy
    due = buying.arrives + timedelta(days=days)
    report = check(shop(stock), replace(request(2), due=due))
    assert due > TODAY
    assert any("(too late)" in line for line in report.why) is late
