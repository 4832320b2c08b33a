"""Cycles worked out by hand: steps reached together, things that spoil, and at what price lines are taken."""

from __future__ import annotations

import pytest

from inventory.planning.cycles import LINE, LONGEST, Supplied, cycle


def test_a_step_is_reached_by_all_of_a_price_group_together() -> None:
    """One and one a week, half the price from five on: two and a half weeks, as another group's do not count."""
    parts = [Supplied(1.0, lambda units: 4.0 if units < 5 else 2.0, "kits", (5.0,)) for _ in range(2)]
    other = Supplied(7.0, lambda _: 0.2, "glue")
    found = cycle([*parts, other], 0.0, None, 0.1)
    assert (found.weeks, found.multiples) == (2.5, (1, 1, 1))
    assert found.cost == pytest.approx(2 * 2 + 1.4 + 3 * LINE / 2.5 + 0.1 * (2 * 5 + 1.4 * 2.5) / 2)


def test_of_what_spoils_no_more_lies_than_it_keeps() -> None:
    """Half a year between parcels: of a part that keeps two weeks two weeks' worth lies, half of it on average."""
    found = cycle([Supplied(0.5, lambda _: 4.0, "glue", keeps=2.0)], 900.0, None, 0.01)
    assert (found.weeks, found.multiples) == (LONGEST, (1,))
    assert found.cost == pytest.approx(0.5 * 4 + (900 + LINE) / LONGEST + 0.01 * 4 * (0.5 * 2) / 2, abs=1e-9)
    # Two weeks' worth of it reach a step at 1, and none at more.
    just = Supplied(0.5, lambda units: 3.0 if units >= 1 else 4.0, "glue", (1.0,), 2.0)
    never = Supplied(0.5, lambda units: 3.0 if units >= 1.001 else 4.0, "glue", (1.001,), 2.0)
    for part, price in ((just, 3.0), (never, 4.0)):
        cost = cycle([part], 900.0, None, 1e-9).cost
        assert cost == pytest.approx(0.5 * price + (900 + LINE) / LONGEST, abs=1e-6)


def test_what_keeps_for_three_parcels_comes_with_every_third_at_most() -> None:
    """Cheap to hold, it would come every eighth time: what keeps 14 of the 4-week cycle's weeks comes every third."""
    dear = Supplied(10.0, lambda _: 4.0, "kits")
    cheap = Supplied(0.01, lambda _: 4.0, "glue")
    weeks = cycle([dear, cheap], 6.0, None, 0.02).weeks
    assert cycle([dear, cheap], 6.0, None, 0.02).multiples[1] > 4
    spoils = Supplied(0.01, lambda _: 4.0, "glue", keeps=3.5 * weeks)
    assert cycle([dear, spoils], 6.0, None, 0.02).multiples == (1, 3)


def test_how_often_a_line_comes_goes_by_the_full_price() -> None:
    """m (m − 1) ≤ 2 k / (i c d T²) < m (m + 1) with c before any step: of a step at a fifth of a unit, too."""
    dear = Supplied(10.0, lambda _: 4.0, "kits")
    stepped = Supplied(0.01, lambda units: 40.0 if units < 0.2 else 1.0, "gold", (0.2,))
    found = cycle([dear, stepped], 6.0, None, 0.02)
    ratio = 2 * LINE / (0.02 * 40.0 * 0.01 * found.weeks**2)
    (m,) = (m for m in range(1, 99) if m * (m - 1) <= ratio < m * (m + 1))
    assert found.multiples == (1, m)
    assert m * 0.01 * found.weeks < 0.2  # so that it is bought at the full price


def test_between_whole_weeks_it_is_the_square_root_or_just_free() -> None:
    """√(2 (K + k) / (i c d)) at the full price, a step at a fifth of a unit or none; free from 42 at four a week."""
    rare = Supplied(0.01, lambda units: 40.0 if units < 0.2 else 39.0, "gold", (0.2,))
    assert cycle([rare], 0.5, None, 0.1).weeks == pytest.approx((2 * (0.5 + LINE) / (0.1 * 40 * 0.01)) ** 0.5)
    assert cycle([Supplied(1.0, lambda _: 4.0, "kits")], 6.0, 42.0, 0.005).weeks == 10.5
