"""What keeping stock costs, what a market is to have, what an order leaves to others: figure by figure, by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from functools import cache
from math import ceil

import numpy as np
import pytest

from inventory.catalogue import fold
from inventory.errors import BadInput
from inventory.jobs.accounts.goal_asked import asked_until
from inventory.jobs.ahead.before import ToHave, before
from inventory.jobs.ahead.keeping import KeptPast, _posted, _weeks, kept
from inventory.jobs.ahead.leaves import _agreed, _busy, _last_ones, _widened, leaves
from inventory.jobs.ahead.levels import DemandPast, Levels, PartLevel
from inventory.jobs.ahead.looking import _shares, _worth, missed
from inventory.jobs.ahead.terms import PartSource
from inventory.jobs.orders.order_check import check
from inventory.ledger.markets import Market
from inventory.ledger.past.asleep import Held
from inventory.planning.demand.markets import MarketDemand
from inventory.planning.rivals import Rivals, wanted_more
from inventory.planning.two_trips import TripOffer
from inventory.reports.leaves import TooFewLeft
from jobs import goods
from jobs.ahead_case import FAR, NEAR, OWN, here, made, weekly
from jobs.shop import TODAY, Stock, exactly, plenty, request, shop

KNOWN = goods.catalogue()
TUBE, REFILL, KIT, EPOXY, GLUE = map(
    fold, (goods.TUBE, goods.REFILL, goods.CHROME_KIT, goods.EPOXY, goods.GLUE)
)


def sold(name: str, rate: float, every: float, price: float, by: object = NEAR) -> PartLevel:
    """So many units a week, bought every so many weeks; a unit costs four times as much where fewer are bought."""
    offer = KNOWN.offers[fold(goods.TUBE)][0]
    source = PartSource(by, offer, lambda units: price if units >= rate * every else 4 * price, ())  # type: ignore[arg-type]  # a supplier
    return PartLevel(KNOWN.part(name), 2000, 6000, rate, 3.0, 0.9, source, every)


@cache
def usual() -> Levels:
    return made(here())


def levelled(*parts: PartLevel) -> Levels:
    return replace(usual(), parts=parts)


def test_postage_is_shared_by_what_is_bought() -> None:
    """13 parcels a year at 4.90 over 52 and 104, 2 at 13.50; none from orders of 60.00 on; unused goods send none."""
    rows = (
        *(
            sold(goods.TUBE, 2, 4, 0.5),
            sold(goods.REFILL, 1, 13, 2.0),
            sold(goods.CHROME_KIT, 1, 26, 3.0, FAR),
        ),
        sold(goods.GLUE, 0, 1, 1.0),
        replace(sold(goods.EPOXY, 1, 1, 1.0), source=None),
    )
    found = _posted(here(), levelled(*rows))
    assert {key: units for key, units in found.items() if units} == pytest.approx(
        {TUBE: 63.7 / 3, REFILL: 63.7 * 2 / 3, KIT: 27.0}
    )
    assert _posted(here(), levelled(sold(goods.TUBE, 3, 4, 5.0))) == {}
    assert _posted(here(), levelled(sold(goods.TUBE, 3, 4, 4.99))) == pytest.approx({TUBE: 63.7})


def test_weeks_go_back_from_today() -> None:
    """Today and six days ago are this week; what is still to come is none."""
    (one,) = weekly(1, 3)
    asked = [replace(one, on=TODAY - timedelta(days=days)) for days in (-1, 0, 6, 7, 21)]
    there = replace(levelled(), takes={("turnstone gloss", OWN): {TUBE: 2.0}})
    assert _weeks(there, asked, TODAY) == {TUBE: [12.0, 6.0, 0.0, 6.0]}
    assert _weeks(there, [], TODAY) == {}


def test_what_keeping_a_part_costs() -> None:
    """A quarter of 30.00 of tubes and 1.50 thrown out; glue out of date with its money; no refill is there."""
    stock = Stock()
    stock.lot(goods.TUBE, 5000, 3000)
    stock.lot(goods.SLIM, 1000, 0)
    stock.lot(goods.GLUE, 9000, 400, use_by=TODAY - timedelta(days=1))
    stock.lot(goods.GLUE, 9000, 300)
    there = replace(
        levelled(sold(goods.TUBE, 2, 4, 0.5), sold(goods.REFILL, 1, 13, 2.0)), uses={TUBE: 2.0}, profit=9.0
    )
    held = Held(goods.TUBE, "tube", "piece", 5000, 3000, TODAY - timedelta(days=300))
    found = kept(shop(stock), there, KeptPast(weekly(), (held,), {TUBE: 150}), 0.25)
    rows = {fold(one.part.name): one for one in found.parts}
    assert list(rows) == [REFILL, TUBE, GLUE]
    tube, glue = rows[TUBE], rows[GLUE]
    assert (tube.use, tube.worth, tube.tied, tube.expired, tube.short) == (52.0, 30.0, 7.5, 1.5, 2.25)
    assert tube.cost == pytest.approx(7.5 + 1.5 + 63.7 / 3)
    assert tube.asleep == found.asleep[0]
    assert (glue.use, glue.worth, glue.tied, glue.expired, glue.short, glue.posted) == (
        0.0,
        7.0,
        1.75,
        4.0,
        0.0,
        0.0,
    )
    assert (rows[REFILL].use, rows[REFILL].worth) == (104.0, 0.0)
    assert rows[REFILL].upto == pytest.approx(2 / 3)


def market(days: int, pieces: float = 6.0) -> Levels:
    """1.4 units a week of tube and epoxy in every course, a market in so many days."""
    rows = (
        sold(goods.TUBE, 2, 4, 0.5),
        replace(sold(goods.EPOXY, 1, 4, 1.0), source=None),
        sold(goods.GLUE, 1, 4, 1.0),
    )
    there = levelled(*rows)
    return replace(
        there,
        expected=replace(
            there.expected, markets=(MarketDemand("Harbour", TODAY + timedelta(days=days), pieces, 0),)
        ),
        asked={key: np.full((26, 20), 1.4) for key in (TUBE, EPOXY, GLUE)},
        takes={("turnstone gloss", OWN): {TUBE: 1.0, EPOXY: 0.002, GLUE: 0.001}},
    )


def test_what_a_market_is_to_have() -> None:
    """In 30 days: 16 until its pieces are made, three weeks of 1.4, up to pieces or half a ml; 12 days to come."""
    there = shop(Stock().with_only(goods.TUBE, 3000))
    found = before(there, market(30), "HARBOUR")
    ready = TODAY + timedelta(days=16)
    assert found.ready == ready
    assert (
        found.parts
        == (
            ToHave(KNOWN.part(goods.EPOXY), 0, 4500, 12, None),
            ToHave(KNOWN.part(goods.TUBE), 3000, 5000, 6000, ready - timedelta(days=12)),
        )[::-1]
    )
    assert [one.short for one in found.parts] == [2000, 4500]
    assert before(there, market(5), "Harbour").ready == TODAY
    assert before(there, market(28 * 7 - 1), "Harbour").parts
    with pytest.raises(BadInput, match="half a year ahead"):
        before(there, market(28 * 7), "Harbour")
    with pytest.raises(BadInput, match="to come"):
        before(there, market(30), "Fair")


def test_how_much_is_late_of_what_is_asked_for_in_a_window() -> None:
    """Asked for on each of seven days of a window of eight: 7 … 1 of it left, 7 to make the piece, days of lateness."""
    assert missed([8], [0], 8.0) == 6 / 7
    assert missed([14, 15], [0], 8.0) == 0.0
    assert missed([14, 15], [0, 2], 8.0) == pytest.approx((2 + 1) / 28)


def test_postage_a_coin_of_goods_carries() -> None:
    """4.90 over four weeks of 1.00 and 2.00 each; 13.50 over 26 of 3.00."""
    rows = (
        sold(goods.TUBE, 2, 4, 0.5),
        sold(goods.REFILL, 1, 13, 2.0),
        sold(goods.CHROME_KIT, 1, 26, 3.0, FAR),
    )
    found = _shares(here(), levelled(*rows))
    assert found == pytest.approx({fold(NEAR.name): 4.9 / 12, fold(FAR.name): 13.5 / 78})


def test_what_is_left_is_worth_less_the_longer_it_lies() -> None:
    """Slices of a price of 2.00 to 3, 6 and 12: postage is 0.3 of it up to 6; a shortage is saved up to 3."""
    later = np.full(8, 3.0)
    rows = _worth(sold(goods.TUBE, 2, 4, 0.5), TripOffer(0, 2.0, 1.0), later, 1.0, 0.3)
    tied = 0.25 / 52 / 2
    assert [units for units, _ in rows] == [3.0, 3.0, 6.0]
    assert [coins for _, coins in rows] == pytest.approx(
        [2 * (1.3 - 1.5 * tied) + 1, 2 * (1.3 - 4.5 * tied), 2 * (1 - 9 * tied)]
    )
    most = _worth(sold(goods.TUBE, 2, 4, 0.5), TripOffer(0, 2.0, 5.0), later, 0.0, 0.9)
    assert [units for units, _ in most] == [3.0, 4.0, 7.0]
    assert most[0][1] == pytest.approx(2 * (1.5 - 1.5 * tied))


def test_how_busy_days_are_and_how_wide_a_law_is() -> None:
    """From 25 November six days of it and eight of December; 1/2 of a shape of 2 and e − 1 of a swing of 1."""
    ahead = replace(usual().expected, months=(1.0,) * 10 + (0.5, 4.0))
    assert _busy(ahead, TODAY, 2.0) == (6 * 0.5 + 8 * 4.0) / 14
    assert _busy(ahead, TODAY, 0.01) == 0.5
    assert _widened(2.0, 1.0) == pytest.approx(1 / (0.5 + 1.718281828))


def test_the_price_that_was_agreed_last() -> None:
    """In this plating, else in any; none where none was agreed."""
    one, other = weekly(2)
    rows = [replace(one, price=3000), replace(other, price=2000, plating="Rhodium"), replace(one, price=None)]
    assert _agreed(rows, "turnstone gloss", "rhodium") == 2000
    assert _agreed(rows, "turnstone gloss", "chrome") == 3000
    assert _agreed(rows, "turnstone gloss", "gunmetal") == 3000
    assert _agreed(rows, "avocet gloss", "chrome") is None


def rivals(price: int | None, **past: object) -> tuple[TooFewLeft, ...]:
    """Four pieces at that price in twenty days, and six kits lie there; the other parts are plenty."""
    stock = plenty().with_only(goods.CHROME_KIT, 6000)
    there = exactly(shop(stock))
    report = check(there, request(4, price=price, due=TODAY + timedelta(days=20)))
    return leaves(there, report, (), lambda: DemandPast(weekly(), **past))  # type: ignore[arg-type]  # fields by name


def test_what_an_order_leaves_to_dearer_ones() -> None:
    """Of six kits four go. 26 days to the next parcel: 14 to the trip, 5 under way, 7 late.

    A dearer order counts where it is due before a piece could be made of that parcel.
    """
    (kit,) = rivals(2999)
    assert (kit.part.name, kit.left, kit.parcel, kit.days) == (
        goods.CHROME_KIT,
        *(2000, TODAY + timedelta(days=26), (14, 5, 7)),
    )
    ahead = usual().expected
    (one,) = ahead.patterns
    each = usual().takes["turnstone gloss", OWN][KIT]
    coming = one.orders * 26 / 7
    assert kit.asked == pytest.approx(coming * each * sum(size * share for size, share in one.sizes.items()))
    late = missed((14, 21, 28, 42), [7], 19)
    chances = wanted_more([Rivals(coming * late, _widened(one.shape, ahead.swing), one.sizes)], 6)
    after, before = int(2 / each), int(6 / each)  # pieces two and six kits are enough for
    assert (kit.chance, kit.without) == pytest.approx((chances[after], chances[before]))
    assert (kit.pattern, kit.price) == ("Turnstone gloss", 3000)
    assert rivals(3000) == ()
    assert rivals(2999, notice=(60, 60, 60, 60)) == ()
    assert rivals(2999, notice=(60, 60, 60)) == (kit,)


def test_an_order_leaves_nothing_short_where_more_comes_in_time() -> None:
    """26 days to a parcel and 7 to make the piece: due in 33 it can wait, in 32 it takes from the shelf."""
    there = exactly(shop(plenty().with_only(goods.CHROME_KIT, 6000)))
    for days, parts in ((33, 0), (32, 5)):
        report = check(there, request(4, due=TODAY + timedelta(days=days)))
        assert len(list(_last_ones(there, report, 14))) == parts


def test_how_many_are_asked_for_until_a_day() -> None:
    """Four a week and a little; begun weeks count, a market by its day with its six; none where too little is known."""
    there, day = here(), timedelta(days=1)

    def asked(days: int, *markets: Market, many: int = 40) -> object:
        return asked_until(there, DemandPast(weekly(many), markets=markets), TODAY + days * day)

    (one,) = usual().expected.patterns
    fair = Market("Harbour", TODAY + 7 * day, 6.0)
    for days, weeks in ((7, 1), (8, 2), (14, 2)):
        assert asked(days) == {"turnstone gloss": ceil(one.pieces * weeks - 1e-9)}
    assert asked(7, fair) == {"turnstone gloss": ceil(one.pieces + 6 - 1e-9)}
    assert asked(6, fair) == asked(6)
    assert asked(7, many=7) is None
