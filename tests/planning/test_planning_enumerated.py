"""Levels, cycles, seasons and stretches of weeks against plain enumerations and examples worked out by hand."""

from __future__ import annotations

import random
from datetime import date, timedelta

import numpy as np
import pytest

from inventory.ledger.asked import AskedFor
from inventory.planning.cycles import LINE, LONGEST, Supplied, cycle
from inventory.planning.demand.expected import Expected, Kind, PatternDemand, expected
from inventory.planning.demand.season import indexes
from inventory.planning.futures import courses
from inventory.planning.reorder.levels import order_up_to
from inventory.planning.two_trips import TripSupplier
from inventory.planning.windows import asked_between, lasting

LAST = date(2026, 11, 28)


def cost_a_period(least: int, top: int, pmf: list[float], prices: tuple[float, float, float]) -> float:
    """What a period costs in the long run of looking once a period and filling up to `top` from `least` down.

    By the chain of stock after ordering: its share of time in each state from one linear system, then the mean.
    """
    fixed, holding, penalty = prices
    states = list(range(least + 1, top + 1))
    many = len(states)
    moves = np.zeros((many, many))
    orders = np.zeros(many)
    for row, stock in enumerate(states):
        for asked, chance in enumerate(pmf):
            if stock - asked > least:
                moves[row, states.index(stock - asked)] += chance
            else:
                moves[row, states.index(top)] += chance
                orders[row] += chance
    shares = np.linalg.lstsq(
        np.vstack([moves.T - np.eye(many), np.ones(many)]), np.array([0.0] * many + [1.0]), rcond=None
    )[0]
    lie = [
        sum(
            chance * (holding * max(stock - asked, 0) + penalty * max(asked - stock, 0))
            for asked, chance in enumerate(pmf)
        )
        for stock in states
    ]
    return float(shares @ (np.array(lie) + fixed * orders))


@pytest.mark.cross_check
@pytest.mark.parametrize("seed", range(8))
def test_no_level_and_no_fill_cost_less(seed: int) -> None:
    """Every s and S of a small problem, the demand of a period 0 to 3, delivered at once."""
    draw = random.Random(seed)
    weights = [draw.random() + 0.05 for _ in range(4)]
    pmf = [one / sum(weights) for one in weights]
    prices = draw.choice((0.5, 3.0, 9.0)), 1.0, draw.choice((1.5, 4.0, 9.0))
    best = order_up_to([*pmf, *[0.0] * 30], [*pmf, *[0.0] * 30], prices)
    every = {
        (least, top): cost_a_period(least, top, pmf, prices)
        for least in range(-5, 4)
        for top in range(max(least + 1, 0), 12)
    }
    assert best.cost == pytest.approx(min(every.values()))
    assert every[int(best.reorder_at), int(best.up_to)] == pytest.approx(best.cost)


def test_a_month_index_is_what_it_brought_over_what_its_weeks_would_have() -> None:
    """Two years of one piece a week, nine in December, each year's level taken out, drawn to 1 by twelve pieces."""
    days = [LAST - timedelta(days=7 * back + 3) for back in reversed(range(104))]
    weeks = [9.0 if day.month == 12 else 1.0 for day in days]
    levels = [sum(weeks[:52]) / 52] * 52 + [sum(weeks[52:]) / 52] * 52
    for month, found in enumerate(indexes(weeks, LAST), start=1):
        mine = [at for at, day in enumerate(days) if day.month == month]
        brought, usual = sum(weeks[at] for at in mine), sum(levels[at] for at in mine)
        assert found == pytest.approx((12 + brought) / (12 + usual))


def test_kinds_hardly_ever_asked_for_are_left_out_of_courses() -> None:
    """One in a thousand is drawn, one in two thousand is not; what there is of is as much as before."""
    kinds: dict[Kind, float] = {("a", "b", None): 0.9985, ("c", "b", None): 0.001, ("d", "b", None): 0.0005}
    one = PatternDemand("pen", 400.0, 1e9, {1: 1.0}, kinds, "", 9)
    drawn = courses(Expected((one,), (1.0,) * 12, 52, 1e-9), LAST, 4, 40, seed=1)
    assert [kind for _, kind in drawn.kinds] == [("a", "b", None), ("c", "b", None)]
    assert drawn.pieces.sum() / (4 * 40) == pytest.approx(400, abs=5)
    first = drawn.pieces[0].sum() / drawn.pieces.sum()
    assert first == pytest.approx(0.9985 / 0.9995, abs=5e-4)


def plain_cost(
    weeks: float, multiples: tuple[int, ...], parts: list[Supplied], terms: tuple[float, ...]
) -> float:
    """What a cycle costs a week: goods, postage, lines, and half of what comes lying."""
    postage, free_from, holding = terms
    goods = lying = lines = 0.0
    for one, every in zip(parts, multiples, strict=True):
        units = one.rate * every * weeks
        price = one.price(units)
        goods += one.rate * price
        lying += holding * price * units / 2
        lines += LINE / every
    posted = 0.0 if goods * weeks >= free_from else postage
    return goods + (posted + lines) / weeks + lying


@pytest.mark.cross_check
@pytest.mark.parametrize("seed", range(6))
def test_no_cycle_of_whole_weeks_costs_less(seed: int) -> None:
    """Two parts of one supplier, every number of weeks up to half a year, each part every time or more rarely."""
    draw = random.Random(seed)
    terms = draw.uniform(0.5, 9), draw.uniform(20, 90), draw.uniform(0.002, 0.02)

    def priced(dear: float, start: float, cheap: float) -> Supplied:
        return Supplied(
            draw.uniform(0.2, 4), lambda units: cheap if units >= start else dear, str(start), (start,)
        )

    parts = [
        priced(one := draw.uniform(1, 6), draw.uniform(3, 40), one * draw.uniform(0.7, 1)) for _ in range(2)
    ]
    found = cycle(parts, *terms)
    assert found.cost == pytest.approx(plain_cost(found.weeks, found.multiples, parts, terms))
    every = [plain_cost(float(weeks), (1, 1), parts, terms) for weeks in range(1, int(LONGEST) + 1)]
    assert found.cost <= min(every) + 1e-9


def test_nobody_looks_further_than_half_a_year() -> None:
    """Where a parcel costs much and holding nothing; what keeps a fortnight comes every time."""
    rare = Supplied(0.1, lambda _: 1.0, "a")
    found = cycle([rare], 900.0, None, 1e-6)
    assert (found.weeks, found.multiples) == (26.0, (1,))
    short = cycle([Supplied(0.1, lambda _: 1.0, "a", keeps=2.0)], 900.0, None, 1e-6)
    assert short.multiples == (1,)


def test_units_asked_for_over_some_days() -> None:
    """Half a week is half of what it brings; the last week known goes on to its end, and no further."""
    weeks = np.array([[7.0, 0.0], [14.0, 7.0], [21.0, 70.0]])
    assert list(asked_between(weeks, 0, 7)) == [7.0, 0.0]
    assert list(asked_between(weeks, 3.5, 10.5)) == [3.5 + 7.0, 3.5]
    assert asked_between(weeks, 14, 99) == pytest.approx([21.0, 70.0])


def test_what_lasts_as_long_as_the_latest_parcel_takes() -> None:
    """Four courses, parcels on time and a week late in turn: 1.5 weeks on average, and units by the share wanted."""
    weeks = np.array([[1.0, 2.0, 3.0, 4.0]] * 4)
    assert lasting(weeks, 7.0, (0, 7), 1.0) == (8.0, 1.5)  # of 1, 4, 3 and 8
    assert lasting(weeks, 7.0, (0, 7), 0.75) == (4.0, 1.5)
    assert lasting(weeks, 7.0, (0, 7), 0.5) == (3.0, 1.5)
    assert lasting(weeks, 7.0, (0, 7), 0.0) == (0.0, 1.5)
    assert lasting(weeks, 3.5, (0,), 0.75) == (1.5, 0.5)
    assert lasting(weeks, 700.0, (0,), 1.0)[1] == 3.0


def test_how_much_too_late_parcels_come() -> None:
    """Sent in three days, five on the way, on time or a month late, for what is needed in eight: half of 1 + 1."""
    sender = TripSupplier("a", 0.0, None, 0.0, 5, (0, 28))
    assert sender.too_late(3, 8) == pytest.approx((0 + 2) / 2)
    assert sender.too_late(3, 7) == pytest.approx((1 + 1 / 28 + 1 + 29 / 28) / 2)
    assert sender.too_late(0, 99) == 0


def test_what_a_short_past_makes_likely() -> None:
    """Three orders in three weeks, each figure leaning on the whole shop's as much as on eight orders of its own."""

    def one(pattern: str, plating: str, blank: str, pieces: int, weeks: int) -> AskedFor:
        return AskedFor(LAST - timedelta(days=7 * weeks), pattern, plating, blank, pieces)

    asked = [one("pen", "chrome", "walnut", 1, 0), one("pen", "gold", "walnut", 3, 2)]
    asked.append(one("stopper", "chrome", "oak", 1, 1))
    chrome, gold, oak = ("chrome", "walnut", None), ("gold", "walnut", None), ("chrome", "oak", None)
    found = expected(asked, {"pen": [chrome, gold], "stopper": [oak]}, LAST, 4)
    pen, stopper = found.patterns
    # Chrome twice and gold once, each once more; so with walnut 3 · 3 to 2 · 3.
    assert pen.kinds == pytest.approx({chrome: (1 + 8 * 9 / 15) / 10, gold: (1 + 8 * 6 / 15) / 10})
    assert stopper.kinds == {oak: 1.0}
    of_all = {1: (2 + 4.8) / 11, 2: 2.0 / 11, 3: 1 / 11, 4: 0.8 / 11, 6: 0.4 / 11}
    own = {size: ((size in (1, 3)) + 8 * share) / 10 for size, share in of_all.items()}
    assert pen.sizes == pytest.approx(own)
    mean = sum(size * share for size, share in of_all.items())
    # Half an order a week is believed, over two patterns, for as much as six weeks; three weeks of four pieces seen.
    assert pen.pieces == pytest.approx((6 * mean * 0.25 + 4) / (6 + 3))
    assert pen.shape == pytest.approx(1 / (1 / (2 + 6 * 0.5 / 2) + 0.3))
    assert (found.weeks, found.swing, pen.seen, stopper.seen) == (3, 0.2, 2, 1)
    shares = found.shares()
    assert sum(shares.values()) == pytest.approx(1)
    assert shares["pen", gold] == pytest.approx(pen.pieces * pen.kinds[gold] / (pen.pieces + stopper.pieces))
