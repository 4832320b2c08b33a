"""What rivals want of the same stock: against enumeration, and against shops lived through one order at a time."""

from __future__ import annotations

import random

import pytest

from inventory.jobs.ahead.looking import missed
from inventory.planning.rivals import Rivals, wanted_more


def poisson(dice: random.Random, mean: float) -> int:
    """Arrivals of a unit of time, counted by the waits between them."""
    many, time = 0, dice.expovariate(mean) if mean > 0 else 2.0
    while time <= 1:
        many, time = many + 1, time + dice.expovariate(mean)
    return many


@pytest.mark.cross_check
def test_chances_are_those_of_lived_through_weeks() -> None:
    """Two patterns, one with a rate hardly known: 40,000 stretches drawn order by order give the same chances."""
    streams = [Rivals(0.8, 1.5, {1: 0.7, 2: 0.2, 4: 0.1}), Rivals(0.5, 20.0, {1: 1.0})]
    dice, tries, seen = random.Random(5), 40_000, [0] * 6
    for _ in range(tries):
        wanted = 0
        for one in streams:
            rate = one.orders * dice.gammavariate(one.shape, 1 / one.shape)
            sizes = dice.choices(list(one.sizes), list(one.sizes.values()), k=poisson(dice, rate))
            wanted += sum(sizes)
        for pieces in range(6):
            seen[pieces] += wanted > pieces
    for chance, found in zip(wanted_more(streams, 5), seen, strict=True):
        assert abs(chance - found / tries) < 4 * (0.25 / tries) ** 0.5


@pytest.mark.cross_check
def test_who_is_hurried_is_found_by_looking_day_by_day() -> None:
    """Asked for on any day of 39, with these notices, a parcel that comes up to 16 days late, a week of making."""
    notice, late, days = (14, 21, 28, 42), (0, 5, 16), 39
    dice, tries = random.Random(6), 20_000
    found = sum(
        dice.uniform(0, days) + dice.choice(notice) < days + dice.choice(late) + 7 for _ in range(tries)
    )
    assert missed(notice, late, days) == pytest.approx(found / tries, abs=0.02)


def test_nobody_wants_nothing() -> None:
    """No streams, no chance; nobody is hurried where everybody gives months of notice."""
    assert wanted_more([], 2) == (0.0, 0.0, 0.0)
    assert missed((90,), (0,), 30) == 0
    assert missed((1,), (0,), 30) == 1
