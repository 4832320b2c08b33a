"""Markets: what was typed and what its past days brought, together; what is prepared counts once."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from inventory.ledger.asked import AskedFor
from inventory.ledger.markets import Market
from inventory.planning.demand.expected import expected
from inventory.planning.demand.markets import made_in, market_demand
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
