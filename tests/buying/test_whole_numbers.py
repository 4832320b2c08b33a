"""HiGHS is not believed where a list that is known refutes it, nor values that break a row in whole numbers."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
import scipy.optimize
from scipy.optimize import LinearConstraint
from searching import every

from inventory.buying import best_basket
from inventory.buying.bounds.leaf_bound import Bounds
from inventory.buying.bounds.multipliers import tighten
from inventory.buying.search.core import Settled, settle_core
from inventory.buying.search.leaf import leaf_of
from inventory.buying.search.whole import settle_whole
from inventory.buying.search.whole_numbers import Model

from . import truth
from .basket_cases import FAMILIES, TODAY
from .nasty_lists import nasty
from .test_rates import everything, levels_of
from .truth import Truth, picks

REFUTED = 7687
"""Of this list HiGHS with presolve called optimal 11,134.62 while 11,133.45 keeps every term (the order of rows
decides whether it does)."""

honest = scipy.optimize.milp


def dearer(costs: Any, **words: Any) -> Any:
    """With presolve, the best of the answers that cost more than the optimum, as the optimum."""
    found = honest(costs, **words)
    if found.x is None or not words["options"]["presolve"]:
        return found
    more = LinearConstraint([costs], [found.fun + 1], [float("inf")])
    return honest(costs, **{**words, "constraints": [words["constraints"], more]})


def nothing(costs: Any, **words: Any) -> Any:
    """With presolve, that nothing is possible."""
    found = honest(costs, **words)
    if words["options"]["presolve"]:
        found.update(x=None, status=2, mip_dual_bound=None)
    return found


def broken(costs: Any, **words: Any) -> Any:
    """With presolve, the optimum with one pack less than somebody needs."""
    found = honest(costs, **words)
    if found.x is not None and words["options"]["presolve"]:
        found.x[max(range(len(costs)), key=lambda at: float(costs[at] * found.x[at]))] -= 1
    return found


def always(lie: Callable[..., Any]) -> Callable[..., Any]:
    """The same lie, whatever way HiGHS is asked."""

    def told(costs: Any, **words: Any) -> Any:
        return lie(costs, **{**words, "options": {**words["options"], "presolve": True}})

    return told


def some() -> list[Truth]:
    """Small lists of every kind."""
    found = [truth.of(nasty(state)) for state in (701, 704)]
    kept = [one for one in found if one is not None and one.best]
    return kept + [truth.of_family(name, 6, 0, 4) for name in FAMILIES]


def ways(one: Truth) -> list[Callable[[], Settled]]:
    """The list as a whole, and the core of the leaf its cheapest list lies in; that is the list known."""
    problem, at, price = one.problem, levels_of(one), truth.atoms(one)
    bounds = Bounds(problem)
    leaf = leaf_of(problem, [mode for mode, _ in picks(problem, one.best)], at, at)
    tighten(bounds, leaf, one.price)
    return [
        lambda: settle_whole(problem, everything(problem, []), price, 30.0, 10**5),
        lambda: settle_core(bounds, leaf, price + 1, 30.0),
    ]


@pytest.mark.cross_check
@pytest.mark.parametrize("part", every(2, range(2)))
@pytest.mark.parametrize("lie", [dearer, nothing, broken])
def test_what_a_known_list_refutes_is_asked_again(
    lie: Callable[..., Any], part: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Source of the cheapest lists: HiGHS on a model written apart."""
    seen = some()[part::2]
    monkeypatch.setattr(scipy.optimize, "milp", lie)
    for one in seen:
        for way in ways(one):
            found = way()
            assert found.bought is not None
            assert one.problem.price(found.bought) == truth.atoms(one)
            assert found.certain


def test_a_core_that_breaks_a_row_is_asked_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """A core is asked without presolve first."""

    def told(costs: Any, **words: Any) -> Any:
        return honest(costs, **words) if words["options"]["presolve"] else always(broken)(costs, **words)

    seen = some()
    monkeypatch.setattr(scipy.optimize, "milp", told)
    for one in seen:
        found = ways(one)[1]()
        assert found.bought is not None
        assert one.problem.price(found.bought) == truth.atoms(one)
        assert found.certain


def test_what_breaks_a_row_both_ways_proves_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither packs nor a bound are taken from it."""
    seen = some()
    monkeypatch.setattr(scipy.optimize, "milp", always(broken))
    for one in seen:
        for way in ways(one):
            found = way()
            assert found.bought is None
            assert not found.certain
            assert found.bound <= truth.atoms(one)


def test_a_bound_above_what_is_known_is_not_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    """Unfinished, with a bound that a known list refutes."""

    def boast(costs: Any, **words: Any) -> Any:
        found = honest(costs, **words)
        found.update(x=None, status=1, mip_dual_bound=42.0)
        return found

    monkeypatch.setattr(scipy.optimize, "milp", boast)
    model = Model()
    at = model.variable(7, 5)
    model.row({at: 2}, 5)
    found = model.solve(10.0, 100, known=21)
    assert found.values is None
    assert not found.certain
    assert found.bound <= 21


@pytest.mark.outside
def test_the_refuted_list(monkeypatch: pytest.MonkeyPatch) -> None:
    """The list itself, HiGHS honest or denying it: 11,133.45, as a list that keeps every term costs."""
    shop = nasty(REFUTED)
    for milp in (honest, nothing, broken):
        monkeypatch.setattr(scipy.optimize, "milp", milp)
        basket = best_basket(shop.wants, shop.offers, shop.suppliers, shop.rates, TODAY)
        assert float(basket.total) == 11133.45
        assert basket.proven
