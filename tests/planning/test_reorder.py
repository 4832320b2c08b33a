"""Levels and cycles against the worked examples of a textbook and against enumerations."""

from __future__ import annotations

from itertools import product
from math import exp
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.planning.cycles import Supplied, cycle
from inventory.planning.reorder.dated import order_days
from inventory.planning.reorder.joint import joint_replenishment, multiples_at
from inventory.planning.reorder.levels import (
    Level,
    enough_normal,
    enough_whole,
    order_up_to,
    reorder_point,
    reorder_point_cost,
    reorder_whole,
)
from inventory.planning.reorder.loss import standard_loss


def poisson(mean: float, many: int) -> list[float]:
    """Probabilities of 0, 1, ... many − 1."""
    done = [exp(-mean)]
    for k in range(1, many):
        done.append(done[-1] * mean / k)
    return done


@pytest.mark.outside
def test_what_suffices() -> None:
    """Snyder & Shen, examples 4.3 and 4.4 and the same with Poisson demand (read in a public copy of the data)."""
    once = enough_normal(50, 8, 0.18, 0.70)
    assert (once.up_to, once.cost) == pytest.approx((56.60395592743389, 1.9976051931766445), rel=1e-9)
    lead = enough_normal(250, 8 * 5**0.5, 0.18, 0.70)  # lead time 4 and one period of review
    assert (lead.up_to, lead.cost) == pytest.approx((264.76689437415484, 4.466781004149578), rel=1e-9)
    whole = enough_whole(poisson(50, 160), 0.18, 0.70)
    assert (whole.up_to, whole.cost) == pytest.approx((56, 1.797235211809178), rel=1e-9)


@pytest.mark.outside
def test_a_level_and_a_quantity() -> None:
    """Snyder & Shen, examples 5.1 and 5.8 and the best level for a quantity of 300 (recomputed from the data)."""
    mean, sd, prices = 1300 / 12, 150 / 12**0.5, (8, 0.225, 7.5)
    assert reorder_point_cost(Level(126.8, 126.8 + 328.5, 0), 1300, mean, sd, prices) == pytest.approx(
        78.07116250928294, rel=1e-9
    )
    assert reorder_point(300, mean, sd, 0.225, 7.5) == pytest.approx(129.4272799263067, rel=1e-8)
    exact = reorder_whole(poisson(3, 80), 1.5, (100, 20, 150))
    assert (exact.reorder_at, exact.up_to - exact.reorder_at) == (3, 5)
    assert exact.cost == pytest.approx(107.92358063314975, rel=1e-9)


@pytest.mark.outside
def test_looked_at_once_a_period() -> None:
    """Snyder & Shen, example 4.7 (recomputed): holding 1, penalty 4, fixed 5, Poisson demand of 6."""
    best = order_up_to(poisson(6, 60), poisson(6, 60), (5, 1, 4))
    assert (best.reorder_at, best.up_to) == (4, 10)
    assert best.cost == pytest.approx(8.034111561471642, rel=1e-9)


@pytest.mark.outside
def test_dated_wants_and_losses() -> None:
    """Snyder & Shen, example 3.9; the normal loss at 0, 1 and 2 from printed tables (recomputed)."""
    assert order_days(500, 2, (90, 120, 80, 70)) == ((0, 2), 1380)
    assert [round(standard_loss(z), 10) for z in (0, 1, 2)] == [0.3989422804, 0.0833154706, 0.0084907026]


@pytest.mark.outside
def test_several_parts_in_a_parcel() -> None:
    """Silver 1976, its five items: the true optimum, which the usual heuristic (218.6863) misses."""
    best = joint_replenishment(
        10, (1.87, 5.27, 7.94, 8.19, 8.87), [0.2 * d for d in (1736, 656, 558, 170, 142)]
    )
    assert best.multiples == (1, 1, 2, 3, 3)
    assert best.cost == pytest.approx(218.2516, abs=5e-5)


@pytest.mark.cross_check
@given(
    st.floats(0.1, 20),
    st.lists(st.tuples(st.floats(0, 10), st.floats(0.1, 100)), min_size=1, max_size=3),
)
def test_no_multiples_cost_less(parcel: float, parts: list[tuple[float, float]]) -> None:
    """Every set of multiples up to twelve, each at its own best time."""
    lines, held = zip(*parts, strict=True)
    best = joint_replenishment(parcel, lines, held)
    for multiples in product(range(1, 13), repeat=len(parts)):
        fixed = parcel + sum(s / m for s, m in zip(lines, multiples, strict=True))
        carried = sum(h * m for h, m in zip(held, multiples, strict=True))
        assert best.cost <= (2 * fixed * carried) ** 0.5 * (1 + 1e-9)


def test_of_ways_that_cost_the_same_the_one_that_takes_parts_together_is_told() -> None:
    """√(2 (S + Σ s / m) Σ h m): (0.5 + 0.5 + 0.5) · (4 + 1) is (0.5 + 0.5 + 0.25) · (4 + 2)."""
    assert joint_replenishment(0.5, (0.5, 0.5), (4.0, 1.0)).multiples == (1, 1)
    assert joint_replenishment(0.5, (0.5, 0.6), (4.0, 1.0)).multiples == (1, 2)


@pytest.mark.cross_check
@given(st.floats(0.2, 9), st.floats(0, 9), st.floats(0.1, 9))
def test_a_part_is_taken_as_often_as_costs_least(time: float, line: float, held: float) -> None:
    """Every multiple up to 99: s / (m T) + h d m T / 2."""
    (found,) = multiples_at(time, [line], [held])
    costs = {m: line / m / time + held * m * time / 2 for m in range(1, 100)}
    assert costs[found] == pytest.approx(min(costs.values()))


def test_the_multiple_at_which_two_cost_the_same() -> None:
    """2 s / (h d T²) of 0, 2 and 6 are 0 · 1, 1 · 2 and 2 · 3: the larger one is told."""
    assert multiples_at(2.0, [0.0, 4.0, 12.0, 11.9], [1.0] * 4) == (1, 2, 3, 2)


def test_parts_change_in_the_order_of_their_times() -> None:
    """Four parts of which the first is taken every eleventh time, as no list of multiples up to 15 costs less."""
    lines, held = (13, 6, 1, 4), (1, 22, 19, 9)
    best = joint_replenishment(2, lines, held)
    assert best.multiples == (11, 2, 1, 2)
    for multiples in product(range(1, 16), range(1, 5), range(1, 5), range(1, 5)):
        fixed = 2 + sum(s / m for s, m in zip(lines, multiples, strict=True))
        carried = sum(h * m for h, m in zip(held, multiples, strict=True))
        assert best.cost <= (2 * fixed * carried) ** 0.5 * (1 + 1e-9)


@pytest.mark.cross_check
def test_hundreds_of_parts_in_a_parcel() -> None:
    """Of 600 parts no time between parcels, each part at its own best multiple of it, costs less."""
    dice = Random(4)
    lines = [dice.uniform(0.05, 2) for _ in range(600)]
    held = [dice.lognormvariate(-3, 1.5) for _ in range(600)]
    best = joint_replenishment(7, lines, held)
    for at in range(50):
        time = best.every * 2 ** ((at - 25) / 5)
        multiples = multiples_at(time, lines, held)
        each = (s / m / time + h * m * time / 2 for s, h, m in zip(lines, held, multiples, strict=True))
        assert best.cost <= (7 / time + sum(each)) * (1 + 1e-9)


def test_free_postage_and_price_steps_are_reached_where_they_pay() -> None:
    """Four coins a week: free from 40 the cycle is ten weeks; where holding is dear it is shorter and pays postage."""
    part = Supplied(1.0, lambda many: 4.0 if many < 30 else 3.9, "kits", (30.0,))
    assert cycle([part], 6.0, 40.0, 0.005).weeks == pytest.approx(10)
    assert cycle([part], 6.0, 40.0, 0.5).weeks < 4
    dearer = Supplied(2.0, lambda many: 4.0 if many < 30 else 2.0, "kits", (30.0,))
    assert cycle([dearer], 0.0, None, 0.005).weeks >= 15  # thirty of them, at half the price
    spoils = Supplied(1.0, lambda _: 4.0, "glue", (), keeps=5.0)
    assert cycle([spoils], 60.0, None, 0.001).weeks * cycle([spoils], 60.0, None, 0.001).multiples[0] >= 5


@pytest.mark.cross_check
def test_what_a_cycle_costs_is_the_plain_square_root() -> None:
    """One part at one price: d c + √(2 (K + k) i c d), k = 0.20 the work of a line; if dear to hold, weekly."""
    part = Supplied(1.0, lambda _: 4.0, "kits")
    assert cycle([part], 6.0, None, 0.05).cost == pytest.approx(4 + (2 * 6.2 * 0.05 * 4) ** 0.5)
    weekly = cycle([part], 0.0, None, 1.0)
    assert (weekly.weeks, weekly.cost) == pytest.approx((1, 4 + 0.2 + 4 / 2))


def test_where_no_stock_is_sure_enough_the_most_that_is_told_of_is_taken() -> None:
    """Probabilities that end before the ratio is reached."""
    assert enough_whole([0.5, 0.3], 1, 99).up_to == 1
