"""Levels against every one of a small problem, and which of several equally cheap ones is told."""

from __future__ import annotations

import random
from statistics import NormalDist

import pytest

from inventory.planning.reorder.levels import (
    Level,
    enough_whole,
    order_up_to,
    reorder_point,
    reorder_point_cost,
    reorder_whole,
)

ONE_A_PERIOD = [0.0, 1.0]


def one_a_period(fixed: float, holding: float, penalty: float, known: int = 9) -> Level:
    """s and S where just one is asked for a period (Snyder and Shen 4.4). known: up to what stock."""
    return order_up_to(ONE_A_PERIOD, [*ONE_A_PERIOD, *[0.0] * (known - 1)], (fixed, holding, penalty))


def test_of_levels_that_cost_the_same_the_one_that_lets_nobody_wait_and_fills_least_is_told() -> None:
    """n at a time of which b are waited for cost (K + h Σ_{i<n−b} i + p Σ_{i≤b} i) / n a period, by counting them."""
    assert one_a_period(1, 1, 9) == Level(0, 1, 1.0)  # as much as two every other period, (1 + 1) / 2
    assert one_a_period(1.25, 1, 9) == Level(0, 2, (1.25 + 1) / 2)
    assert one_a_period(5, 1, 9) == Level(0, 3, (5.0 + 1 + 2) / 3)
    assert one_a_period(4, 100, 4) == Level(0, 1, 4.0)  # as much as one that always waits, (4 + 4) / 2
    assert one_a_period(2, 1, 1.5) == Level(0, 2, 1.5)  # as much as with one that waits, (2 + 1 + 1.5) / 3
    assert one_a_period(7, 1, 4) == Level(0, 4, (7.0 + 1 + 2 + 3) / 4)


@pytest.mark.cross_check
@pytest.mark.parametrize(("fixed", "penalty"), [(100, 1), (40, 0.5), (100, 0.1), (30, 6)])
def test_where_waiting_costs_little_many_wait(fixed: float, penalty: float) -> None:
    """Every n and b: however few stocks are told of, all that wait are reckoned with."""
    every = {
        (-b, n - b): (fixed + sum(range(n - b)) + penalty * sum(range(b + 1))) / n
        for n in range(1, 120)
        for b in range(n)
    }
    found = one_a_period(fixed, 1, penalty, known=14)
    assert found.cost == pytest.approx(min(every.values()))
    assert every[int(found.reorder_at), int(found.up_to)] == pytest.approx(found.cost)


def test_no_more_is_filled_up_to_than_is_told_of() -> None:
    """Three would be best, as above; one is all that is known of."""
    assert one_a_period(5, 1, 9, known=1) == Level(0, 1, 5.0)


@pytest.mark.cross_check
@pytest.mark.parametrize("seed", range(12))
def test_no_whole_level_and_quantity_cost_less(seed: int) -> None:
    """Every r from −20 to 7 and Q to 39: (K d + Σ G(y)) / Q (Snyder and Shen 5.5), G by going through demands."""
    draw = random.Random(seed)
    weights = [draw.random() for _ in range(5)]
    law = [one / sum(weights) for one in weights]
    rate, prices = draw.uniform(0.5, 3), (draw.uniform(0.1, 6), draw.uniform(0.3, 2), draw.uniform(0.3, 6))
    fixed, holding, penalty = prices

    def lies(stock: int) -> float:
        return sum(
            chance * (holding * max(stock - asked, 0) + penalty * max(asked - stock, 0))
            for asked, chance in enumerate(law)
        )

    lying = {stock: lies(stock) for stock in range(-20, 48)}
    every = {
        (at, at + many): (fixed * rate + sum(lying[y] for y in range(at + 1, at + many + 1))) / many
        for at in range(-20, 8)
        for many in range(1, 40)
    }
    found = reorder_whole([*law, *[0.0] * 40], rate, prices)
    assert found.cost == pytest.approx(min(every.values()))
    assert every[int(found.reorder_at), int(found.up_to)] == pytest.approx(found.cost)


def test_of_two_quantities_that_cost_the_same_the_smaller_is_told() -> None:
    """Three asked for over the lead time, one short or one over costs 1: a second one brings the mean of 1 no lower."""
    assert reorder_whole([0, 0, 0, 1.0, *[0.0] * 9], 1.0, (1.0, 1.0, 1.0)) == Level(2, 3, 1.0)


def test_a_stock_that_is_just_sure_enough_suffices() -> None:
    """Half of it, where one over costs what one short does."""
    assert enough_whole([0.5, 0.5], 1.0, 1.0) == Level(0, 0, 0.5)
    assert enough_whole([0.5, 0.5], 1.0, 1.1).up_to == 1


@pytest.mark.cross_check
@pytest.mark.parametrize("penalty", [0.01, 0.5, 2.0, 200.0])
@pytest.mark.parametrize("spread", [0.5, 100.0])
def test_one_over_costs_as_much_as_one_short(penalty: float, spread: float) -> None:
    """G(r) = G(r + Q), where the cost is least (Snyder and Shen 5.2): G' adds up to 0 between, by small steps."""
    law, quantity = NormalDist(1000.0, spread), 30.0
    found = reorder_point(quantity, law.mean, spread, 1.0, penalty)
    steps = [found + quantity * (at + 0.5) / 2000 for at in range(2000)]
    slopes = [(1.0 + penalty) * law.cdf(y) - penalty for y in steps]
    assert sum(slopes) / 2000 == pytest.approx(0, abs=1e-6 * (1 + penalty))
    prices = (5.0, 1.0, penalty)
    best, below, above = (
        reorder_point_cost(Level(r, r + quantity, 0), 10.0, law.mean, spread, prices)
        for r in (found, found - spread / 10, found + spread / 10)
    )
    assert best < below
    assert best < above
