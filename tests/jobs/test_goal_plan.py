"""Pieces for a goal: against every set there is, one by one."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.jobs.accounts.goal_plan import fewest_hours
from inventory.reports.accounts.goals import PatternNet

SOLD = st.tuples(st.integers(1, 40), st.integers(1, 90), st.integers(0, 4))
"""What a piece leaves, its minutes, how many are asked for."""


@pytest.mark.cross_check
@examples(25)
@given(
    some=st.lists(SOLD, min_size=1, max_size=3),
    missing=st.integers(1, 150),
    there=st.none() | st.integers(1, 400),
)
def test_no_set_of_pieces_takes_fewer_hours(
    some: list[tuple[int, int, int]], missing: int, there: int | None
) -> None:
    """Where the goal can be reached, in the fewest minutes of all sets; else by the set that leaves most."""
    nets = [PatternNet(f"pen {at}", net, 1, minutes, {}) for at, (net, minutes, _) in enumerate(some)]
    asked = {f"pen {at}": most for at, (*_, most) in enumerate(some)}
    mix = fewest_hours(nets, asked, missing, there)
    sets = [
        (
            sum(n * one.net for n, one in zip(many, nets, strict=True)),
            sum(n * one.minutes for n, one in zip(many, nets, strict=True)),
        )
        for many in product(*(range(most + 1) for *_, most in some))
    ]
    possible = [(gain, minutes) for gain, minutes in sets if there is None or minutes <= there]
    enough = [minutes for gain, minutes in possible if gain >= missing]
    spent = sum(one.minutes * mix.pieces.get(one.pattern, 0) for one in nets)
    left = sum(one.net * mix.pieces.get(one.pattern, 0) for one in nets)
    assert mix.proven
    assert all(mix.pieces.get(name, 0) <= most for name, most in asked.items())
    if enough:
        assert (left >= missing, spent) == (True, min(enough))
    else:
        assert left == max(gain for gain, _ in possible if gain < missing)
        assert there is None or spent <= there


def test_nothing_missing_needs_nothing() -> None:
    """No piece; nor where nothing sold left anything."""
    assert fewest_hours([PatternNet("pen", 5, 1, 30, {})], None, 0, None).pieces == {}
    assert fewest_hours([], None, 50, 60).pieces == {}
