"""Markets: what was typed and what its past days brought, together; what is prepared counts once."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from inventory.ledger.asked import AskedFor
from inventory.ledger.markets import Market
from inventory.planning.demand.expected import Expected, Kind, PatternDemand, expected
from inventory.planning.demand.markets import MarketDemand, made_in, market_demand
from inventory.planning.futures import courses

TODAY = date(2026, 11, 28)
SOON = TODAY + timedelta(days=21)


def sold(days_ago: int, pieces: int, at: str = "Harbour Market") -> AskedFor:
    """Pieces sold at a market."""
    return AskedFor(TODAY - timedelta(days=days_ago), "pen", "chrome", "oak", pieces, at=at, market=True)


@pytest.mark.outside
def test_typed_and_past_together() -> None:
    """Gamma-Poisson: two days' worth of 20 believed, then 8 and 12: (40 + 20) / 4; a day's sales add up.

    The formula: Johnson, Ott and Dogucu, Bayes Rules!, ch. 5 (from memory).
    """
    past = [sold(90, 3), sold(90, 5), sold(30, 12), sold(30, 7, at="Church fair")]
    (one,) = market_demand([Market("harbour market", SOON, 20)], past, TODAY, 0)
    assert (one.pieces, one.days) == (15, 2)
    (bare,) = market_demand([Market("harbour market", SOON)], past, TODAY, 0)
    assert bare.pieces == 10


def test_what_is_unknown_past_or_prepared() -> None:
    """One of which nothing is known is left out, and one that is over; what is prepared is of the first, then on."""
    markets = [
        Market("Fair", SOON + timedelta(days=7), 10),
        Market("Harbour Market", SOON, 6),
        Market("Yard", SOON),
        Market("Gone", TODAY - timedelta(days=1), 9),
    ]
    done = market_demand(markets, [], TODAY, 8)
    assert [(one.name, one.pieces) for one in done] == [("Harbour Market", 0), ("Fair", 8)]


def test_its_sales_are_no_orders_of_a_week() -> None:
    """A past of market days alone expects no more by the week than none at all; its courses have the day's pieces."""
    from dataclasses import replace

    could = {"pen": [("chrome", "oak", None)]}
    alone, none = expected([sold(30, 40)], could, TODAY, 4), expected([], could, TODAY, 4)
    assert alone.patterns[0].orders == pytest.approx(none.patterns[0].orders)
    assert alone.patterns[0].sizes == none.patterns[0].sizes
    with_it = replace(none, markets=market_demand([Market("Fair", SOON, 30)], [], TODAY, 0))
    assert made_in(SOON, TODAY) == 1
    before, after = (
        courses(one, TODAY, 4, 2000, seed=1).pieces.sum(axis=0).mean(axis=1) for one in (none, with_it)
    )
    assert after[1] - before[1] == pytest.approx(30, rel=0.05)
    assert after[2] == pytest.approx(before[2], abs=0.3)
    far = replace(
        none, markets=market_demand([Market("Fair", TODAY + timedelta(days=400), 30)], [], TODAY, 0)
    )
    assert (courses(far, TODAY, 4, 50, seed=1).pieces == courses(none, TODAY, 4, 50, seed=1).pieces).all()


def test_a_market_sells_of_each_kind_as_the_shop_does() -> None:
    """Three chrome ones to one of gold, of two patterns alike: 400 pieces are 150 and 50 of each, in its week."""
    chrome, gold = ("chrome", "oak", None), ("gold", "oak", None)
    kinds: dict[Kind, float] = {chrome: 0.75, gold: 0.25}
    patterns = tuple(PatternDemand(name, 0.001, 1.0, {1: 1.0}, kinds, "", 0) for name in ("pen", "stopper"))
    some = Expected(patterns, (1.0,) * 12, 0, markets=(MarketDemand("Fair", SOON, 400.0, 0),))
    drawn = courses(some, TODAY, 3, 3000, seed=1)
    means = dict(zip(drawn.kinds, drawn.pieces.mean(axis=2), strict=True))
    for name in ("pen", "stopper"):
        assert means[name, chrome] == pytest.approx([0, 150, 0], rel=0.04, abs=0.01)
        assert means[name, gold] == pytest.approx([0, 50, 0], rel=0.04, abs=0.01)
    # A gamma law of shape 4 has half its mean for a deviation.
    assert drawn.pieces.sum(axis=0)[1].std() == pytest.approx(400 / 4**0.5, rel=0.03)


def test_a_market_made_for_after_the_last_week_is_left_out() -> None:
    """Its pieces are made two weeks before: a market in three weeks is of the second one."""
    kinds: dict[Kind, float] = {("chrome", "oak", None): 1.0}
    some = (PatternDemand("pen", 0.001, 1.0, {1: 1.0}, kinds, "", 0),)
    fair = MarketDemand("Fair", TODAY + timedelta(days=21), 400.0, 0)
    looked = Expected(some, (1.0,) * 12, 0, markets=(fair,))
    assert courses(looked, TODAY, 1, 50, seed=1).pieces.sum() < 10
    assert courses(looked, TODAY, 2, 50, seed=1).pieces[0].mean(axis=1) == pytest.approx([0, 400], abs=150)


def test_a_market_of_today_counts_and_what_is_prepared_counts_once() -> None:
    """Three of the six of today's lie there; the ten of the next are all still to be made."""
    markets = [Market("Fair", SOON, 10), Market("Harbour Market", TODAY, 6)]
    assert [(one.name, one.pieces) for one in market_demand(markets, [], TODAY, 3)] == [
        ("Harbour Market", 3),
        ("Fair", 10),
    ]
    assert [made_in(TODAY + timedelta(days=days), TODAY) for days in (0, 20, 21, 27, 28)] == [0, 0, 1, 1, 2]
