"""Labels that another is as good as, and ways that are on no list below the target: against every pair, every list."""

from __future__ import annotations

from itertools import product
from math import inf

import numpy as np
import pytest

from inventory.buying.knapsack import packs_of
from inventory.buying.search.asked import Asked, best_of, reduced
from inventory.buying.search.choices import PartCovers
from inventory.buying.search.leaf import ONE

Row = tuple[float, tuple[float, ...]]
"""A label: its cost, and what it holds of each condition."""


def as_good(one: Row, other: Row, asked: Asked) -> bool:
    """No dearer, and of every condition as much as counts; just as much where there is an end to it."""
    pairs = zip(one[1], other[1], asked.due, asked.most, strict=True)
    return one[0] <= other[0] and all(
        a == b if most < inf else min(a, due) >= min(b, due) for a, b, due, most in pairs
    )


@pytest.mark.cross_check
@pytest.mark.parametrize("seed", range(25))
def test_of_labels_just_those_are_left_that_no_cheaper_one_is_as_good_as(seed: int) -> None:
    """One of those that are alike; what is left out has one as good among the rest; with fewer rivals more are left."""
    dice = np.random.default_rng(seed)
    many = int(dice.integers(1, 25))
    asked = Asked(np.array([3.0, 2.0]), np.array([inf, inf if seed % 2 else 4.0]), np.zeros(2))
    cost, held = dice.integers(0, 6, many).astype(float), dice.integers(0, 5, (many, 2)).astype(float)
    rows: list[Row] = [(float(a), tuple(map(float, b))) for a, b in zip(cost, held, strict=True)]
    kept = best_of(cost, held, asked, many)
    left = [row for row, keep in zip(rows, kept, strict=True) if keep]
    for row, keep in zip(rows, kept, strict=True):
        assert keep or any(as_good(other, row, asked) for other in left)
    assert len(set(left)) == len(left)
    assert not any(as_good(one, other, asked) for one in left for other in left if one[0] < other[0])
    few = best_of(cost, held, asked, 1)
    assert (few | kept == few).all()
    assert best_of(cost, held, asked, 0).all()


def drawn(dice: np.random.Generator) -> tuple[list[PartCovers], Asked, int]:
    """Two or three parts with up to five ways each, two conditions, the second sometimes with an end; postage."""
    parts = []
    for _ in range(int(dice.integers(2, 4))):
        many = int(dice.integers(1, 6))
        plans = [(0, n, ()) for n in range(many)]
        amounts = dice.integers(0, 4, (many, 2)).astype(float)
        parts.append(PartCovers(dice.integers(1, 12, many).astype(float), amounts, list(plans)))
    most = inf if dice.random() < 0.5 else 6.0
    asked = Asked(
        dice.integers(0, 6, 2).astype(float), np.array([inf, most]), np.array([ONE // 2, ONE]) * 1.0
    )
    return parts, asked, int(dice.integers(0, 5))


def lists(
    parts: list[PartCovers], due: list[float], most: list[float], fees: int
) -> list[tuple[float, tuple[tuple[int, int], ...]]]:
    """What every list that keeps the conditions costs, and the packs it is made of."""
    found = []
    for ways in product(*(range(len(one.plans)) for one in parts)):
        held = sum(one.amounts[way] for one, way in zip(parts, ways, strict=True))
        if all(held >= due) and all(held <= most):
            packs = tuple(next(packs_of(one.plans[way])) for one, way in zip(parts, ways, strict=True))
            found.append(
                (float(sum(one.cost[way] for one, way in zip(parts, ways, strict=True))) + fees, packs)
            )
    return found


@pytest.mark.cross_check
@pytest.mark.parametrize("above", [0, 1, 4])
def test_no_list_below_the_target_is_lost_by_leaving_out_ways(above: int) -> None:
    """The cheapest is kept where it costs an atom less than the target; of those that cost more ways are left out."""
    lost = gone = 0
    for seed in range(120):
        parts, asked, fees = drawn(np.random.default_rng(seed))
        due, most = list(asked.due), list(asked.most)
        every = lists(parts, due, most, fees)
        best = min(every, default=(30.0, ()))[0]
        before = sum(len(one.plans) for one in parts)
        found = reduced(parts, asked, fees, int(best) + above)
        if found is None:
            lost += 1
            assert above == 0 or not every
            continue
        ways, rest = found
        gone += before - sum(len(one.plans) for one in ways)
        after = lists(ways, list(rest.due), list(rest.most), fees)
        kept = [packs for price, packs in every if price == best]
        assert not above or not every or any(packs in kept for price, packs in after if price == best)
    assert gone > 100
    assert lost > (15 if above == 0 else 5)
