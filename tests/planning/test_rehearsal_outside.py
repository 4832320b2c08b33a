"""Rehearsals held against closed forms and published cases: each mean lies within the rehearsal's own 99 % interval.

Snyder and Shen, *Fundamentals of Supply Chain Theory*, 2nd ed.: what each case costs was read in a public
copy of its examples or worked out by its formulas. A week is a period; a unit a thousand thousandths.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import exp, factorial, sqrt
from statistics import fmean, stdev

import pytest

from inventory.planning.rehearsal.drawing import futures
from inventory.planning.rehearsal.living import Lived, live
from inventory.planning.rehearsal.scene import (
    SCALE,
    BoughtAs,
    BuyingWay,
    MadeOf,
    Recipe,
    Scene,
    Sender,
    Stream,
)

POISSON = 1e7
"""The shape of a rate that is as good as known."""
RUNS, MANY_RUNS = 12, 24
STUDENT = {RUNS: 3.106, MANY_RUNS: 2.807}
"""Of so many runs, the half of a 99 % interval in standard errors: Student's t with one degree less."""


def one_part(rate: float, lead: int, weeks: int, start: int, pack: int = 1) -> Scene:
    """A part that one piece takes one of, at a postage of 1 and no price; a unit of it is worth 1."""
    return Scene(
        weeks,
        [start * 1000],
        [BoughtAs(0, 0, pack * 1000, [(0, 1)], SCALE // 1000)],
        [Sender(1, weeks=[lead])],
        [MadeOf(Recipe([(0, 1000)]))],
        [Stream([rate] * weeks, POISSON, [0], [1.0])],
    )


def rehearsed(
    scene: Scene, level: int, up_to: int, of: Callable[[Lived], float], many: int, runs: int = RUNS
) -> Sequence[float]:
    """What some runs of so many futures each come to."""
    way = BuyingWay("", [level * 1000], [up_to * 1000], [True] * scene.weeks)
    return [of(live(scene, futures(scene, many, seed), [way])[0]) for seed in range(runs)]


def within(found: Sequence[float], said: float) -> bool:
    """Whether a figure lies in the 99 % interval of the mean of some runs."""
    half = STUDENT[len(found)] * stdev(found) / sqrt(len(found))
    assert half < 0.02 * said  # else it would say little
    return abs(fmean(found) - said) <= half


def poisson(mean: float, upto: int) -> list[float]:
    """Probabilities of 0, 1, … events."""
    return [exp(-mean) * mean**k / factorial(k) for k in range(upto + 1)]


def cost(weeks: range, holding: float, penalty: float, fixed: float = 0.0) -> Callable[[Lived], float]:
    """Per period, from some week on; parcels are counted over all of them, as they come from the first week on."""

    def of(one: Lived) -> float:
        many = one.held.shape[1]
        held = float(one.held[weeks.start :].sum()) / len(weeks) / many
        lacks = float(one.lacks[:, weeks.start :].sum()) / 1000 / len(weeks) / many
        sent = float(one.parcels.sum()) / many / one.held.shape[0]
        return float(holding * held + penalty * lacks + fixed * sent)

    return of


@pytest.mark.outside
@pytest.mark.parametrize(("rate", "lead", "stock"), [(2.0, 3, 9), (0.3, 6, 3), (6.0, 1, 8)])
def test_a_base_stock_policy_is_ready_as_often_as_its_closed_form_says(
    rate: float, lead: int, stock: int
) -> None:
    """Nobody waits with P(D ≤ S), D Poisson over the lead time (Hadley and Whitin 1963, §4-13, from memory)."""
    ready = sum(poisson(rate * lead, stock))
    scene = one_part(rate, lead, lead + 40, stock)

    def of(one: Lived) -> float:
        return float(1 - one.waits[:, lead:].mean() / one.held.shape[1])

    assert within(rehearsed(scene, stock - 1, stock, of, 150), ready)


@pytest.mark.outside
def test_a_base_stock_policy_fills_as_much_as_its_closed_form_says() -> None:
    """Share served at once, 1 − E[(D(L) − S)⁺ − (D(L−1) − S)⁺]/λ, which for short weeks tends to P(D(L) < S)."""
    rate, lead, stock = 0.05, 40, 5

    def short(mean: float) -> float:
        return sum(p * max(k - stock, 0) for k, p in enumerate(poisson(mean, 60)))

    scene = one_part(rate, lead, lead + 300, stock)

    def new_short(weeks: int) -> float:
        return (short(rate * weeks) - short(rate * (weeks - 1))) / rate

    # All of it lies there at first: until a lead time has passed, only what was asked for since is missing.
    expected = 1 - (sum(map(new_short, range(1, lead + 1))) + 300 * new_short(lead)) / (lead + 300)

    def of(one: Lived) -> float:
        return float(1 - one.late.sum() / (one.held.shape[1] * rate * scene.weeks))

    assert 1 - new_short(lead) == pytest.approx(sum(poisson(rate * lead, stock - 1)), abs=0.005)
    assert within(rehearsed(scene, stock - 1, stock, of, 100), expected)


@pytest.mark.outside
def test_newsvendor_with_poisson_demand() -> None:
    """Example with h .18, p .70, mean 50: 56 units cost 1.797235211809178 a period."""
    scene = one_part(50.0, 1, 61, 56)
    assert within(rehearsed(scene, 55, 56, cost(range(1, 61), 0.18, 0.70), 80), 1.797235211809178)


@pytest.mark.outside
def test_periodic_review_with_a_fixed_cost() -> None:
    """(s, S) of example 4.7: h 1, p 4, K 5, Poisson 6: s 4, S 10 cost 8.034111561471642 a period."""
    scene = one_part(6.0, 1, 400, 10)
    assert within(rehearsed(scene, 4, 10, cost(range(1, 400), 1.0, 4.0, 5.0), 20), 8.034111561471642)


@pytest.mark.outside
def test_a_fixed_quantity_at_a_reorder_point() -> None:
    """(r, Q) of example 5.8: h 20, p 150, K 100, rate 1.5, lead time 2: r 3, Q 5 cost 107.92358063314975.

    Looked at sixteen times a unit of time; stock begins at each of r + 1 … r + Q, as in the long run it stands at each
    of them equally often, and the first lead time is left out.
    """
    steps, found = 16, [0.0] * RUNS
    for start in range(4, 9):
        scene = one_part(1.5 / steps, 2 * steps, 22 * steps, start, pack=5)
        of = cost(range(2 * steps, 22 * steps), 20.0, 150.0, 100.0 * steps)
        for run, one in enumerate(rehearsed(scene, 3, 4, of, 40)):
            found[run] += one / 5
    assert within(found, 107.92358063314975)
