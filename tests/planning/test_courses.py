"""Courses of the coming weeks: the same for a seed everywhere, and of the law they are said to follow."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import numpy as np
import pytest

from inventory.planning.demand.expected import Expected, Kind, PatternDemand
from inventory.planning.demand.markets import MarketDemand
from inventory.planning.futures import courses

TODAY = date(2026, 11, 28)
KINDS: Mapping[Kind, float] = {("chrome", "oak", None): 0.75, ("gold", "oak", None): 0.25}
SIZES = {1: 0.5, 3: 0.5}
LEVEL = (1.0,) * 12

KEPT = [
    [382, 378, 1179, 386, 395, 154, 161, 167, 156, 156],
    [96, 118, 376, 121, 143, 94, 53, 74, 43, 69],
    [69, 92, 214, 62, 72, 22, 28, 25, 33, 28],
    [17, 22, 43, 17, 12, 13, 11, 6, 13, 5],
]


def pattern(name: str, orders: float, shape: float) -> PatternDemand:
    """Pieces of two kinds, one or three at a time."""
    return PatternDemand(name, orders, shape, SIZES, KINDS, "", 0)


def test_a_seed_gives_the_same_courses_everywhere() -> None:
    """numpy's `RandomState` is fixed for good: pieces by week of two patterns and a market, as they came first."""
    months = tuple(1 + month / 10 for month in range(12))
    markets = (MarketDemand("Fair", date(2026, 12, 26), 30.0, 0),)
    some = Expected((pattern("pen", 3.0, 2.0), pattern("stopper", 0.5, 4.0)), months, 52, 0.3, markets)
    drawn = courses(some, TODAY, 10, 40, seed=7)
    assert [name for name, _ in drawn.kinds] == ["pen", "pen", "stopper", "stopper"]
    assert drawn.pieces.sum(axis=2).tolist() == KEPT


@pytest.mark.cross_check
def test_good_and_bad_times_are_all_patterns_and_cancel_out() -> None:
    """Lognormal of mean 1 and variance e^σ² − 1, eight weeks long, and others after them; rates here are sure."""
    swing, many = 0.6, 6000
    some = Expected((pattern("pen", 500.0, 1e9), pattern("stopper", 500.0, 1e9)), LEVEL, 52, swing)
    drawn = courses(some, TODAY, 9, many, seed=2).pieces
    pen, stopper = drawn[0], drawn[2]
    assert drawn.sum() / 9 / many == pytest.approx(1000 * 2, rel=0.03)
    factor = (pen[0] / pen[0].mean()).var()
    assert factor == pytest.approx(np.exp(swing**2) - 1, rel=0.1)
    for one, other, alike in ((pen[0], stopper[0], 1), (pen[0], pen[7], 1), (pen[0], pen[8], 0)):
        assert np.corrcoef(one, other)[0, 1] == pytest.approx(alike, abs=0.05)


@pytest.mark.cross_check
def test_a_rate_is_as_unsure_as_its_gamma_law() -> None:
    """Pieces of a week: mean μ E[s], variance μ E[s²] + (μ E[s])² / r, as of any compound negative binomial number."""
    some = Expected((pattern("pen", 8.0, 2.5),), LEVEL, 52, 0.0)
    pieces = courses(some, TODAY, 1, 20_000, seed=3).pieces.sum(axis=(0, 1))
    assert pieces.mean() == pytest.approx(8 * 2, rel=0.02)
    assert pieces.var() == pytest.approx(8 * (0.5 + 4.5) + 16**2 / 2.5, rel=0.05)


def test_where_nothing_is_expected_there_is_nothing() -> None:
    """No row for a pattern nobody orders, none at all without patterns; a market sells what the shop sells, nothing."""
    fair = MarketDemand("Fair", TODAY, 30.0, 0)
    for patterns in ((), (pattern("pen", 0.0, 1.0),)):
        drawn = courses(Expected(patterns, LEVEL, 0, markets=(fair,)), TODAY, 4, 3, seed=1)
        assert (drawn.kinds, drawn.pieces.shape) == ((), (0, 4, 3))


def test_many_kinds_hardly_ever_asked_for_are_of_the_one_that_is() -> None:
    """Five hundred of less than a thousandth each, 45 % in all: orders and markets are all of the one left."""
    kinds: dict[Kind, float] = {("chrome", "oak", None): 0.55}
    kinds |= {(f"plating {at}", "oak", None): 0.0009 for at in range(500)}
    fair = MarketDemand("Fair", TODAY, 400.0, 0)
    some = Expected((PatternDemand("pen", 100.0, 1e9, {1: 1.0}, kinds, "", 0),), LEVEL, 52, 0.0, (fair,))
    drawn = courses(some, TODAY, 2, 2000, seed=4)
    assert [kind for _, kind in drawn.kinds] == [("chrome", "oak", None)]
    assert drawn.pieces[0].mean(axis=1) == pytest.approx([500, 100], rel=0.03)
