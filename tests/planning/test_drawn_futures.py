"""Who asks for what in drawn futures, against what the streams of a scene say of it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest

from inventory.planning.rehearsal.drawing import Futures, futures
from inventory.planning.rehearsal.scene import MadeOf, Recipe, Scene, Sender, Stream

SURE = 1e7
"""The shape of a rate that is as good as known."""


def drawn(
    stream: Stream, weeks: int, many: int, kinds: Sequence[MadeOf] = (), swings: Sequence[int] = (1000,)
) -> Futures:
    """Futures of one stream."""
    made = kinds or [MadeOf(Recipe([])), MadeOf(Recipe([]))]
    return futures(Scene(weeks, [], [], [Sender(0)], made, [stream], swings=swings), many, seed=3)


def test_a_time_lasts_eight_weeks_for_all_orders_and_for_no_market() -> None:
    """Dead times and times of twice the custom: eight weeks all of one kind, then others; at markets it is as usual."""
    for market in (False, True):
        found = drawn(Stream([40.0] * 10, SURE, [0], [1.0], market=market), 10, 200, swings=(0, 2000))
        orders = np.zeros((10, 200), dtype=int)
        np.add.at(orders, (found.week, found.future), 1)
        busy = orders > 0
        if market:
            assert busy.all()
            assert abs(orders.mean() - 40) < 1
        else:
            assert (busy[:8] == busy[0]).all()
            assert (busy[8:] == busy[8]).all()
            assert 0.4 < busy[0].mean() < 0.6
            assert 0.4 < (busy[8] == busy[0]).mean() < 0.6
            assert abs(orders[busy].mean() - 80) < 2


def test_a_draw_at_a_step_is_of_the_next_case(monkeypatch: pytest.MonkeyPatch) -> None:
    """Draws from half of the scale on are of the second of two cases as likely: size, notice, stage of loss, row."""
    monkeypatch.setattr(
        "inventory.planning.rehearsal.drawing.draws",
        lambda _seed, _stream, many: np.full(many, 2**31, dtype=np.uint32),
    )
    lost = [(0.2, Recipe([], 7)), (0.2, Recipe([], 8))]
    kinds = [MadeOf(Recipe([])), MadeOf(Recipe([]), lost)]
    stream = Stream([1.0], SURE, [0, 1], [0.5, 0.5], (1, 4), (0.5, 0.5), (0, 3))
    found = drawn(stream, 1, 1, kinds)
    # The median of a Poisson number of 1 is 1; that of failures before four good ones of 0.6 each is 2.
    assert (found.row.tolist(), found.pieces.tolist(), found.due.tolist()) == ([1], [4], [3])
    assert found.table.minutes[found.lost[2]].tolist() == [8, 8]


def test_what_is_not_said_of_a_stream_or_a_sender() -> None:
    """Orders of one piece, due in the week they come, of no market; a parcel takes a week, work no time."""
    found = drawn(Stream([3.0] * 4, SURE, [0], [1.0]), 4, 50)
    assert set(found.pieces.tolist()) == {1}
    assert (found.due == found.week).all()
    assert not found.market.any()
    assert set(found.posted.ravel().tolist()) == {1}
    assert not found.table.minutes.any()
    assert not found.lost[0].size
    assert abs(len(found.week) / 200 - 3) < 0.5
