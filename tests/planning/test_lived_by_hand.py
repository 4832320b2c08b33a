"""One future, written down order by order, and what becomes of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np
import pytest

from inventory.planning.rehearsal.drawing import Futures, futures
from inventory.planning.rehearsal.living import Lived, live, used_up
from inventory.planning.rehearsal.scene import (
    NEVER,
    BoughtAs,
    BuyingWay,
    MadeOf,
    Owed,
    Recipe,
    Scene,
    Sender,
    UnderWay,
    table_of,
)

from .rehearsal_case import made_up, ways

HOUR = 60


class Order(NamedTuple):
    """Pieces asked for in a week, and the week at whose end they are due."""

    week: int
    due: int
    market: bool = False
    pieces: int = 1
    future: int = 0


def written(scene: Scene, orders: Sequence[Order] = (), many: int = 1, hands: Sequence[int] = ()) -> Futures:
    """Futures in which just these orders come, and every parcel comes after the first of its sender's weeks."""
    rows = [(one.future, one.week, 0, one.pieces, one.due, int(one.market)) for one in orders]
    future, week, row, pieces, due, market = np.array(rows, dtype=np.int64).reshape(len(rows), 6).T
    none = np.zeros(0, dtype=np.int64)
    posted = [[[one.weeks[0]] * many] * (scene.weeks + 1) for one in scene.senders]
    return Futures(
        many,
        table_of(scene.kinds),
        *(future, week, row, pieces, due, market.astype(bool)),
        (none, none, none),
        np.array(posted, dtype=np.int32),
        {0: np.array(hands)} if hands else {},
    )


def lived(scene: Scene, orders: Sequence[Order] = (), way: BuyingWay | None = None) -> Lived:
    """What becomes of one of them, where nothing is bought if no way of buying is given."""
    parts = len(scene.start)
    never = BuyingWay("", [NEVER] * parts, [0] * parts, [True] * scene.weeks)
    (one,) = live(scene, written(scene, orders), [way or never])
    return one


def scene(start: int, weeks: int = 3, owed: Sequence[Owed] = (), hours: Sequence[int] | None = None) -> Scene:
    """A part, of which a piece takes one, an hour's work each."""
    bought = [BoughtAs(0, 0, 1000, [(0, 100)], 100_000)]
    kinds = [MadeOf(Recipe([(0, 1000)], HOUR))]
    return Scene(weeks, [start], bought, [Sender(50)], kinds, [], owed, hours=hours)


@pytest.mark.parametrize(("minutes", "late"), [(160, 0), (161, 1)])
def test_a_promise_is_kept_in_just_the_hours_there_are(minutes: int, late: int) -> None:
    """Due at the end of the second week; 160 minutes until then, and more after it."""
    there = scene(0, owed=[Owed(1, [], minutes)], hours=[100, 60, 500])
    assert lived(there).late.tolist() == [late]


def test_promises_share_the_hours_by_when_they_are_due() -> None:
    """The first to be due is made first, whoever was promised first: 100 minutes, then 61 of 60."""
    owed = [Owed(1, [], 61), Owed(0, [], 100)]
    assert lived(scene(0, owed=owed, hours=[100, 60, 500])).late.tolist() == [1]
    assert lived(scene(0, owed=owed, hours=[100, 61, 500])).late.tolist() == [0]


@pytest.mark.parametrize(("start", "late"), [(3000, 0), (2999, 1), (999, 2)])
def test_promises_take_their_parts_by_when_they_are_due(start: int, late: int) -> None:
    """One for the first, two more for the second."""
    owed = [Owed(1, [(0, 2000)]), Owed(0, [(0, 1000)])]
    assert lived(scene(start, owed=owed)).late.tolist() == [late]


def test_an_order_is_made_in_just_the_hours_until_it_is_due() -> None:
    """Two hours' work asked for in the first week, due in the second: 60 + 60 minutes are enough, 60 + 59 are not."""
    two = [Order(0, 1), Order(0, 1)]
    assert lived(scene(9000, hours=[60, 60, 0]), two).late.tolist() == [0]
    assert lived(scene(9000, hours=[60, 59, 600]), two).late.tolist() == [2]  # nobody knows which was first
    # Hours that were idle before are lost: an hour's work is left over, for which the third week has 60 minutes, or 59.
    for third, late in ((60, 1), (59, 2)):
        there = scene(9000, hours=[600, 60, third])
        assert lived(there, [Order(1, 1), Order(1, 2)]).late.tolist() == [late]


def test_what_is_made_within_its_week_never_waits() -> None:
    """An hour's work in a week that has one; where a promise takes that hour, it waits for the next."""
    assert lived(scene(9000, hours=[60, 0, 0]), [Order(0, 0)]).late.tolist() == [0]
    owed = [Owed(2, [], HOUR)]
    assert lived(scene(9000, owed=owed, hours=[60, 60, 0]), [Order(0, 0)]).late.tolist() == [1]
    assert lived(scene(9000, owed=owed, hours=[60, 60, 0]), [Order(0, 1)]).late.tolist() == [0]


def test_an_order_due_in_the_last_week_counts_and_one_due_after_it_does_not() -> None:
    """Three weeks: of what is due in the fourth nobody knows yet whether it is late."""
    assert lived(scene(0), [Order(0, 2)]).late.tolist() == [1]
    assert lived(scene(0), [Order(0, 3)]).late.tolist() == [0]
    assert lived(scene(9000, hours=[0, 0, 0]), [Order(0, 3)]).late.tolist() == [0]
    assert lived(scene(0, owed=[Owed(2, [(0, 1)])])).late.tolist() == [1]
    assert lived(scene(0, owed=[Owed(3, [(0, 1)])])).late.tolist() == [0]


def test_just_enough_is_enough_and_a_thousandth_less_waits() -> None:
    """A piece takes a thousand thousandths."""
    for start, waits in ((1000, 0), (999, 1)):
        one = lived(scene(start), [Order(1, 2)])
        assert (one.late.tolist(), one.waits.tolist()) == ([waits], [[0, waits, waits]])
        assert one.lacks.tolist() == [[0, waits, waits]]


def test_postage_is_free_from_just_its_sum() -> None:
    """Two packs at 100 are bought when one piece is asked for: free from 200, posted from 201."""
    for free, postage in ((200, 0), (201, 50)):
        bought = [BoughtAs(0, 0, 1000, [(0, 100), (3, 10)], 100_000)]
        there = Scene(
            3,
            [1000],
            bought,
            [Sender(50, free)],
            [MadeOf(Recipe([(0, 1000)]))],
            [],
            owed=[Owed(0, [(0, 1000)])],
        )
        one = lived(there, (), BuyingWay("", [0], [2000], [True] * 3))
        assert (one.goods.tolist(), one.postage.tolist(), one.parcels.tolist()) == ([200], [postage], [1])


def test_a_level_is_reached_at_just_its_figure() -> None:
    """With one piece left a level of 999 orders nothing; one of 1000 orders two, or three at their price."""
    bought = [BoughtAs(0, 0, 1000, [(0, 100), (3, 10)], 100_000)]
    there = Scene(3, [1000], bought, [Sender(50)], [MadeOf(Recipe([(0, 1000)]))], [])
    assert lived(there, (), BuyingWay("", [999], [4000], [True] * 3)).goods.tolist() == [0]
    assert lived(there, (), BuyingWay("", [1000], [4000], [True] * 3)).goods.tolist() == [30]
    assert lived(there, (), BuyingWay("", [1000], [3000], [True] * 3)).goods.tolist() == [200]


def test_what_waits_may_still_come_by_the_week_it_is_due() -> None:
    """A parcel of just one piece's worth in the second week; a thousandth less, or due in the first, and it is late."""
    for quantity, due, late in ((1000, 1, 0), (999, 1, 1), (1000, 0, 1)):
        there = replace(scene(0), coming=[UnderWay(0, quantity, 1, 0)])
        assert lived(there, [Order(0, due)]).late.tolist() == [late]


def test_a_market_misses_pieces_and_no_order() -> None:
    """Three sold of which none are there: three missed; an order of three is late once, one of finished ones never."""
    sold, ordered = (lived(scene(0), [Order(0, 1, market, 3)]) for market in (True, False))
    assert (sold.missed.tolist(), sold.late.tolist()) == ([3], [0])
    assert (ordered.missed.tolist(), ordered.late.tolist()) == ([0], [1])
    finished = scene(0, hours=[0, 0, 0])
    assert lived(finished, [Order(0, 1), Order(0, 1, pieces=0)]).late.tolist() == [1]


def test_goods_of_the_least_coin_are_posted() -> None:
    """One pack at 1."""
    there = replace(scene(0), bought=[BoughtAs(0, 0, 1000, [(0, 1)])])
    one = lived(there, (), BuyingWay("", [0], [1000], [True] * 3))
    assert (one.goods.tolist(), one.postage.tolist()) == ([1], [50])


def test_what_suffices_in_so_many_futures_up_to_the_last_week() -> None:
    """One, two, … ten pieces are asked for in the last week of ten futures: nine suffice in nine of them."""
    there = scene(0)
    drawn = written(there, [Order(2, 2, pieces=1 + at, future=at) for at in range(10)], many=10)
    assert [used_up(there, drawn, chance) for chance in (0.1, 0.9, 0.91, 1.0)] == [
        [1000],
        [9000],
        [10000],
        [10000],
    ]


@pytest.mark.parametrize(("hand", "used"), [(1499, 1), (1500, 2), (500, 1), (499, 0)])
def test_what_hands_take_is_rounded_to_whole_thousandths(hand: int, used: int) -> None:
    """A thousandth taken by a hand that takes so many thousandths of what is written; a half is one more."""
    there = replace(scene(0), kinds=[MadeOf(Recipe([(0, 1)]))])
    assert used_up(there, written(there, [Order(0, 0)], hands=[hand]), 1.0) == [used]


def test_what_no_worth_and_no_minutes_are_said_of() -> None:
    """A shelf of two thousand units is worth nothing; a promise takes no time of weeks that have none."""
    bought = [BoughtAs(0, 0, 1000, [(0, 1)])]
    one = lived(replace(scene(2_000_000, owed=[Owed(2, [])], hours=[0, 0, 0]), bought=bought))
    assert (one.begun.tolist(), one.late.tolist()) == ([0], [0])


def test_sixteen_futures_at_a_time_are_lived_as_all_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Fifty of a small shop, in four blocks, with what is lost in each."""
    small = made_up(4, 7, 8, seed=3, orders=3.0)
    drawn = futures(small, 50, seed=4)
    assert {at // 16 for at in drawn.lost[0].tolist()} >= {0, 1, 2}
    found = []
    for cells in (2**18, 1):
        monkeypatch.setattr("inventory.planning.rehearsal.living.CELLS", cells)
        one = live(small, drawn, ways(small))[0]
        figures = (one.late, one.goods, one.postage, one.begun, one.left, one.held, one.lacks)
        found.append([figure.tolist() for figure in figures] + [used_up(small, drawn, 0.9)])
    assert found[0] == found[1]
