"""What is told of many futures, from figures that are counted by hand."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest

from inventory.planning.rehearsal.living import Lived
from inventory.planning.rehearsal.telling import Spread, cost, difference, spread


def test_nine_in_ten_lie_between_the_fifth_and_the_ninety_fifth_of_a_hundred() -> None:
    """Of ten, between the first and the last; figures are divided by their unit."""
    hundred = np.arange(100, 0, -1)
    assert spread(hundred) == Spread(50.5, 5, 95)
    assert spread(hundred, 10) == Spread(5.05, 0.5, 9.5)
    assert spread(np.arange(1, 11)) == Spread(5.5, 1, 10)


def test_two_ways_differ_by_their_futures_one_by_one() -> None:
    """Apart by 1, 3, 5 and 7: on average 4, deviation √(20 / 3), half an interval 1.96 of it over √4."""
    one, other = np.array([11, 23, 35, 47]), np.array([10, 20, 30, 40])
    half = 1.959964 * (20 / 3) ** 0.5 / 2
    found = difference(one, other)
    assert (found.mean, found.low, found.high) == pytest.approx((4, 4 - half, 4 + half))
    assert difference(one, other, 2).high == pytest.approx((4 + half) / 2)
    assert difference(np.array([7]), np.array([3])) == Spread(4, 4, 4)
    two = difference(np.array([7, 9]), np.array([3, 3]))
    assert two.high - two.mean == pytest.approx(1.959964)


def lived(**figures: Sequence[int]) -> Lived:
    """One way of buying, in two futures."""
    names = ("late", "missed", "goods", "postage", "parcels", "begun", "left")
    columns = {name: np.array(figures.get(name, [0, 0]), dtype=np.int64) for name in names}
    held = np.array([[100, 0], [50, 3]], dtype=np.int64)
    none = np.zeros((0, 2), dtype=np.int64)
    return Lived("", **columns, held=held, waits=none, lacks=none)


def test_a_way_costs_what_is_spent_and_used_up_and_what_holding_costs() -> None:
    """Goods 500, postage 40, 300 there at first and 250 at last, 150 held over two weeks at a hundredth each."""
    one = lived(goods=[500, 0], postage=[40, 0], begun=[300, 7], left=[250, 0])
    assert cost(one, 0.01).tolist() == [500 + 40 + 300 - 250 + 2, 7]
