"""How many pieces are asked for in all: every number of orders, and every size of each."""

from __future__ import annotations

from itertools import product
from math import prod

import pytest

from inventory.planning.predictive import compound, enough
from inventory.planning.rivals import Rivals, wanted_more


def chance_of_orders(many: int, mean: float, shape: float) -> float:
    """Negative binomial: Γ(r + n) / (Γ(r) n!) (r / (r + μ))^r (μ / (r + μ))^n."""
    rising = prod((shape + k) / (k + 1) for k in range(many))
    return float(rising * (shape / (shape + mean)) ** shape * (mean / (shape + mean)) ** many)


def by_enumeration(mean: float, shape: float, sizes: dict[int, float], upto: int) -> list[float]:
    """Probabilities of 0 … `upto` pieces; every order is of one at least."""
    done = [0.0] * (upto + 1)
    for many in range(upto + 1):
        for each in product(sizes, repeat=many):
            if sum(each) <= upto:
                done[sum(each)] += chance_of_orders(many, mean, shape) * prod(sizes[size] for size in each)
    return done


@pytest.mark.cross_check
@pytest.mark.parametrize(("mean", "shape"), [(0.8, 0.4), (2.5, 1.0), (1.3, 7.0)])
@pytest.mark.parametrize("sizes", [{1: 0.5, 2: 0.3, 4: 0.2}, {3: 1.0}])
def test_the_recursion_adds_up_what_enumeration_does(
    mean: float, shape: float, sizes: dict[int, float]
) -> None:
    """Up to seven pieces and no further (Panjer 1981, from memory)."""
    law = compound(mean, shape, [sizes.get(size, 0.0) for size in range(1, max(sizes) + 1)], 7)
    assert law == pytest.approx(by_enumeration(mean, shape, sizes, 7))


@pytest.mark.cross_check
def test_two_streams_want_what_both_want_together() -> None:
    """More than 0 … 5 pieces of every pair of what each wants."""
    streams = [Rivals(0.8, 1.5, {1: 0.7, 4: 0.3}), Rivals(0.5, 20.0, {2: 1.0})]
    one, other = (by_enumeration(each.orders, each.shape, dict(each.sizes), 5) for each in streams)
    for pieces, found in enumerate(wanted_more(streams, 5)):
        at_most = sum(
            a * b for (n, a), (m, b) in product(enumerate(one), enumerate(other)) if n + m <= pieces
        )
        assert found == pytest.approx(1 - at_most)
    assert len(wanted_more(streams, 5)) == 6


def test_a_number_that_just_suffices() -> None:
    """Half and three tenths are eight tenths, though no exact floats; what nothing suffices for takes the last one."""
    law = (0.5, 0.3, 0.15, 0.04)
    assert [enough(law, chance) for chance in (0.5, 0.8, 0.81, 0.95, 0.999)] == [0, 1, 2, 2, 3]
