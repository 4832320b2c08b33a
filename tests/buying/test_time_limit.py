"""A list that could not be proven in time says so, and by how much it may be off."""

from __future__ import annotations

from fractions import Fraction

import pytest

from inventory.buying import best_basket
from inventory.buying.search import tree

from .basket_cases import FAMILIES, TODAY, family, landed

OPTIMUM = Fraction(9876878, 100)
"""Cents for the family of 50 lines, state 2: proven by scipy.optimize.milp (no gap) and by us unhurried."""


@pytest.mark.parametrize("limit", [0.0, 0.1, 0.3], ids=["at once", "early", "later"])
def test_the_gap_is_honest(limit: float) -> None:
    """The list is complete and exact, its bound is never above the true optimum, and the limit is kept roughly."""
    shop = family(50, 2)
    basket = best_basket(shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY, time_limit=limit)
    assert basket.total == landed(shop, basket.packs())
    assert not basket.proven
    assert basket.gap == basket.total - basket.bound > 0
    assert basket.bound <= OPTIMUM <= basket.total
    assert basket.seconds < limit + 5


@pytest.mark.parametrize(
    ("kind", "lines", "state"),
    [("one group", 10, 375), ("one group", 10, 126), ("one group", 10, 438), ("two groups", 6, 282)],
)
def test_a_list_nearly_proven_is_not_begun_again(
    kind: str, lines: int, state: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A few more leaves prove these in 0.1 to 0.3 s; HiGHS takes 2 to 5 s for each as a whole."""

    def whole(*_: object) -> None:
        raise AssertionError("begun again as a whole")

    monkeypatch.setattr(tree, "settle_whole", whole)
    shop = family(lines, state, kind=FAMILIES[kind])
    basket = best_basket(shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY)
    assert basket.proven
    assert basket.total == landed(shop, basket.packs())
