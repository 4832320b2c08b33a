"""When a lot goes off."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from jobs import goods
from jobs.shop import TODAY, Stock

from inventory.ledger.bottles.shelf_life import gone_off, use_by

MAY = date(2026, 5, 1)


@pytest.mark.parametrize(
    ("written", "received", "opened", "last"),
    [
        (None, None, None, None),
        (MAY, None, None, MAY),
        (None, MAY, None, MAY + timedelta(days=365)),
        (None, MAY, MAY + timedelta(days=10), MAY + timedelta(days=100)),
        (date(2026, 6, 1), MAY, MAY, date(2026, 6, 1)),
        (date(2028, 1, 1), MAY, None, MAY + timedelta(days=365)),
    ],
    ids=["nothing known", "written", "sealed", "opened", "written first", "sealed before written"],
)
def test_the_earliest_of_what_is_known(
    written: date | None, received: date | None, opened: date | None, last: date | None
) -> None:
    """The written day, 365 days sealed and 90 days opened: whichever comes first."""
    stock = Stock()
    stock.lot(goods.GLUE, 1000, use_by=written, received_on=received, opened_on=opened)
    assert use_by(goods.catalogue().part(goods.GLUE), stock.lots[0]) == last


def test_what_keeps_for_ever_has_no_last_day() -> None:
    """A strip with no shelf life, and a blank, only go off where a day is written on them."""
    stock = Stock()
    stock.lot(goods.STRIP, 1000, received_on=MAY, opened_on=MAY)
    stock.lot(goods.ANTLER, 1000, received_on=MAY)
    for lot in stock.lots:
        assert use_by(goods.catalogue().part(lot.part), lot) is None
        assert not gone_off(goods.catalogue().part(lot.part), lot, TODAY)
    assert use_by(goods.catalogue().part(goods.ANTLER), replace(stock.lots[1], use_by=MAY)) == MAY


def test_the_last_day_itself_is_still_good() -> None:
    """A lot goes off the day after its use-by."""
    stock = Stock()
    stock.lot(goods.GLUE, 1000, use_by=MAY)
    part, lot = goods.catalogue().part(goods.GLUE), stock.lots[0]
    assert [gone_off(part, lot, MAY + timedelta(days=days)) for days in (-1, 0, 1)] == [False, False, True]
