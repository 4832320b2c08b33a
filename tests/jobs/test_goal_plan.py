"""Pieces for a goal: against every set there is, one by one."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import fold
from inventory.jobs.accounts.goal_plan import fewest_hours, goal_plan, pattern_nets
from inventory.jobs.hours.time_left import promised_work
from inventory.reports.accounts.earned import By, Earned, EarnedPart, EarnedSums
from inventory.reports.accounts.goals import Goal, GoalStand, PatternNet
from jobs.shop import TODAY, order, shop

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


def test_what_nobody_asks_for_is_not_made() -> None:
    """Of two pens one is asked for twice; the other stands in no list."""
    nets = [PatternNet(name, 5, 1, 30, {}) for name in ("Pen", "Mug")]
    assert fewest_hours(nets, {"pen": 2}, 50, None).pieces == {"Pen": 2}
    assert fewest_hours(nets, {}, 50, None).pieces == {}


def sold(pattern: str, pieces: int, brought: int, kind: str = "order", unpriced: int = 0) -> EarnedPart:
    groups: dict[By, str] = {"pattern": pattern, "kind": kind}
    return EarnedPart(TODAY, groups, EarnedSums(pieces, brought, unpriced=unpriced))


def test_what_a_piece_of_each_pattern_left() -> None:
    """Four pieces sold, 9 of spoiled ones by four: 2.25 each. Gifts and what has no known price tell nothing."""
    rows = (
        sold("Turnstone gloss", 2, 1801),
        sold("Turnstone gloss", 1, 900),
        sold("Godwit plain", 1, 500),
        sold("Turnstone gloss", 5, 0, "gift"),
        sold("Godwit plain", 5, 0, unpriced=5),
        EarnedPart(TODAY, {"pattern": "-", "kind": "-"}, EarnedSums(spoiled=9)),
    )
    found = pattern_nets(shop(), Earned(TODAY, TODAY, rows, ()))
    assert [(one.pattern, one.net, one.sold) for one in found] == [
        ("Turnstone gloss", 898, 3),
        ("Godwit plain", 497, 1),
    ]
    assert found[0].minutes == 45
    assert pattern_nets(shop(), Earned(TODAY, TODAY, (sold("Godwit plain", 1, 0),), ())) == ()


def test_a_goal_counts_what_is_promised_until_its_day() -> None:
    """20.00 to go: 2 of Reed's leave 8.00 each; what is due later, of no known pattern, or made, leaves none."""
    day = TODAY + timedelta(days=13)
    orders = (
        order("Reed", 2, due=day, state="promised"),
        order("Later", 2, due=day + timedelta(days=1), state="promised"),
        order("Other", 2, due=day, pattern="Avocet gloss", state="promised"),
        order("Wish", 2, due=day, state="wish"),
    )
    book = replace(shop().book, orders={fold(one.name): one for one in orders})
    there = shop(book, settings={"hours": "tue 2, sat 5"})
    nets = [PatternNet("Turnstone gloss", 800, 3, 45, {})]
    stand = GoalStand(Goal("lathe", 3000, day, TODAY), 1000)
    plan = goal_plan(there, stand, nets, None)
    assert (plan.promised, plan.orders, plan.there) == (
        1600,
        1,
        840 - sum(work.minutes for work in promised_work(there) if work.name != "Later"),
    )
    assert [(one.of.pattern, one.count, one.most) for one in plan.pieces] == [("Turnstone gloss", 1, None)]
    assert plan.enough
    none = goal_plan(there, stand, nets, {})
    assert (none.pieces, none.enough) == ((), False)
    assert goal_plan(there, replace(stand, reached=1400), nets, {}).enough
    assert goal_plan(shop(book), stand, nets, None).there is None
    (one,) = goal_plan(there, stand, nets, {"turnstone gloss": 3}).pieces
    assert one.most == 3
