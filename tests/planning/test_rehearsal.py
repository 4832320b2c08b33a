"""Rehearsals: whole-number chance that is the same everywhere, and futures lived as a plain loop lives them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from inventory.planning.rehearsal.dice import counts, draws
from inventory.planning.rehearsal.drawing import futures
from inventory.planning.rehearsal.living import live, used_up
from inventory.planning.rehearsal.scene import SCALE, BoughtAs, BuyingWay, Scene, Sender

from .plain_rehearsal import live_plainly
from .rehearsal_case import made_up, ways

KEPT = [2879656440, 4140415376, 476804233, 3746571515]

KEPT_SUMS = [
    [3092, 1457, 66688182, 4928076, 12228, 15490325],
    [5255, 1612, 58928345, 1407126, 5286, 8040081],
    [5073, 1611, 56383450, 6431433, 14193, 3438138],
]


def test_draws_are_the_same_everywhere() -> None:
    """Raw numbers of PCG64, kept here as they came on the first system; another stream is another one."""
    assert draws(1, (2, 3), 4).tolist() == KEPT
    assert draws(1, (2, 3), 3).tolist() == KEPT[:3]
    assert draws(1, (2, 4), 4).tolist() != KEPT


def test_a_rehearsal_is_the_same_everywhere() -> None:
    """All that became of a made-up scene, as it came on the first system; blocks of other sizes change nothing."""
    scene = made_up(30, 9, 20, seed=3, orders=2.0)
    every = live(scene, futures(scene, 300, seed=4), ways(scene))
    found = [
        [int(getattr(one, name).sum()) for name in ("late", "missed", "goods", "postage", "parcels", "left")]
        for one in every
    ]
    assert found == KEPT_SUMS


@pytest.mark.parametrize("cells", [64, 1000])
def test_blocks_of_any_size(cells: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """How many futures are held at once changes nothing."""
    scene = made_up(30, 9, 20, seed=3, orders=2.0)
    drawn = futures(scene, 100, seed=4)
    before, used = live(scene, drawn, ways(scene)), used_up(scene, drawn, 0.95)
    monkeypatch.setattr("inventory.planning.rehearsal.living.CELLS", cells)
    for one, other in zip(before, live(scene, drawn, ways(scene)), strict=True):
        for name in (
            "late",
            "missed",
            "goods",
            "postage",
            "parcels",
            "begun",
            "left",
            "held",
            "waits",
            "lacks",
        ):
            assert (getattr(one, name) == getattr(other, name)).all()
    assert used == used_up(scene, drawn, 0.95)


def test_a_scene_in_which_nothing_is_asked_for() -> None:
    """A shelf alone: nobody waits, nothing is bought, nothing is used."""
    scene = Scene(4, [5000], [BoughtAs(0, 0, 1000, [(0, 100)], 10)], [Sender(0)], [], [])
    drawn = futures(scene, 20, seed=1)
    (one,) = live(scene, drawn, [BuyingWay("", [-1], [0], [True] * 4)])
    assert not one.late.any()
    assert not one.goods.any()
    assert used_up(scene, drawn, 0.9) == [0]


def test_finished_pieces_serve_first() -> None:
    """Of every kind the first pieces asked for come off the shelf: as many fewer are made as lie there, or all."""
    scene = made_up(12, 7, 12, seed=12, orders=2.5)
    none = replace(scene, kinds=[replace(kind, finished=0) for kind in scene.kinds])
    some, without = futures(scene, 50, seed=5), futures(none, 50, seed=5)
    for row, kind in enumerate(scene.kinds):
        for future in range(50):
            made, asked = (
                int(one.pieces[(one.row == row) & (one.future == future)].sum()) for one in (some, without)
            )
            assert made == max(asked - kind.finished, 0)


def test_worth_beyond_what_floats_hold_is_exact() -> None:
    """A shelf worth more than 2⁵³ millionths is counted to the last one."""
    # The second is odd and just above 2⁵³: the float next to it is a whole number of minor units more.
    for worth, start in ((2**40 + 1, 2**20 + 1), (9_100_000_000 * SCALE - 1, 1)):
        scene = Scene(2, [start], [BoughtAs(0, 0, 1000, [(0, 100)], worth)], [Sender(0)], [], [])
        (one,) = live(scene, futures(scene, 3, seed=1), [BuyingWay("", [-1], [0], [True] * 2)])
        assert set(one.begun.tolist()) == {worth * start // SCALE}


@pytest.mark.cross_check
def test_counts_follow_their_law() -> None:
    """Negative binomial numbers drawn from every 16th part of the scale are its quantiles."""
    size, odds = 2.5, 0.4
    drawn = (np.arange(16, dtype=np.uint64) << 28).astype(np.uint32)
    found = counts(drawn, np.full(16, size), np.full(16, odds))
    law, p = [], (1 - odds) ** size
    for k in range(40):
        law.append(p)
        p *= (size + k) / (k + 1) * odds
    sums = np.cumsum(law)
    assert found.tolist() == [int(np.searchsorted(sums, at / 16, side="right")) for at in range(16)]


def test_a_draw_at_a_step_counts_one_more() -> None:
    """Failures before the first of two as likely: none below half of the scale, one up to three quarters, then two."""
    at = np.array([2**31 - 1, 2**31, 3 * 2**30 - 1, 3 * 2**30], dtype=np.uint32)
    assert counts(at, np.ones(4), np.full(4, 0.5)).tolist() == [0, 1, 1, 2]


def test_the_largest_draw_ends_where_the_law_does(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of a rate that is as good as known sums stay a hair below the whole; of one without an end counting stops."""
    largest = np.array([2**32 - 1], dtype=np.uint32)
    rates = np.array([2e-7, 1e-6])
    assert max(counts(largest.repeat(2), np.array([1e7, 1e7]), rates)) < 500
    monkeypatch.setattr("inventory.planning.rehearsal.dice.MOST", 50)
    assert counts(largest, np.ones(1), np.array([1 - 1e-9])).tolist() == [50]


@pytest.mark.cross_check
@pytest.mark.parametrize("parts", [2, 12, 40])
def test_futures_are_lived_as_a_plain_loop_lives_them(parts: int) -> None:
    """Every sum and every wait is the same, future by future, in blocks of any size."""
    scene = made_up(parts, 7, 12, seed=parts, orders=2.5)
    for hours in (scene.hours, None):
        here = replace(scene, hours=hours)
        drawn = futures(here, 30, seed=5)
        every = ways(here)
        for way, lived in zip(every, live(here, drawn, every), strict=True):
            waits, lacks = np.zeros_like(lived.waits), np.zeros_like(lived.lacks)
            for future in range(drawn.many):
                told, held, lacked = live_plainly(here, drawn, way, future)
                assert {name: int(getattr(lived, name)[future]) for name in told} == told
                assert lived.held[:, future].tolist() == held
                waits += np.array(lacked) > 0
                lacks += np.array(lacked)
            assert (waits == lived.waits).all()
            assert (lacks == lived.lacks).all()
        assert lived.parcels.sum() > 0
