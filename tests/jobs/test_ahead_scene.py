"""What is put before a rehearsal, figure by figure: the shop as it stands, hours, markets, ways of buying."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from inventory.catalogue import STALL, fold
from inventory.errors import BadInput
from inventory.jobs.ahead import rehearsal, scene
from inventory.jobs.ahead.levels import DemandPast, Levels
from inventory.jobs.ahead.making import _finished
from inventory.jobs.ahead.recipes import kinds_of
from inventory.jobs.ahead.rehearsal import ways_of
from inventory.jobs.orders.finished import piece_part
from inventory.measures import read_length
from inventory.planning.demand.markets import MarketDemand
from inventory.planning.rehearsal.scene import NEVER, UnderWay
from jobs import goods
from jobs.ahead_case import OWN, here, made, weekly
from jobs.shop import TODAY, Stock, exactly, order, plenty, shop


def test_a_scene_begins_as_the_shop_stands() -> None:
    """Prices in cents of ours, a thousandth's worth in millionths of them; weeks of parcels rounded up; orders due in
    the week of their day; nothing is due for the stall."""
    stock = plenty()
    stock.orders = [
        order("Reed", 2, due=TODAY + timedelta(days=13), state="promised"),
        order("Fair", 2, due=TODAY + timedelta(days=13), state="promised", customer=STALL),
        order("Wish", 2, state="wish"),
    ]
    for name in ("Reed", "Fair", "Wish"):
        stock.claim(name, goods.CHROME_KIT, 2000)
        stock.claim(name, goods.CHROME_KIT, 1000, "to buy")
    stock.coming(goods.TUBE, 20_000, TODAY + timedelta(days=8))
    there = exactly(shop(stock))
    staged = scene.staged(there, made(there), (2, 2, 3, 4, 4), 4)
    kit, tube, epoxy = (staged.parts.index(fold(one)) for one in (goods.CHROME_KIT, goods.TUBE, goods.EPOXY))
    made_of, found = staged.scene.kinds[0], staged.scene
    assert (found.start[kit], found.start[tube]) == (40_000, 80_000)
    assert (found.bought[tube].pack, found.bought[tube].steps) == (10_000, [(0, 400), (10, 320)])
    assert found.bought[tube].worth == 32_000
    assert (found.bought[kit].pack, found.bought[kit].steps, found.bought[kit].worth) == (
        *(5000, [(0, 1350)]),
        270_000,
    )
    assert staged.sources[epoxy] is None
    near, far, nobody = found.senders
    assert (near.postage, near.free_from, list(near.weeks)) == (490, 6000, [2])
    assert (far.postage, list(far.weeks)) == (1350, [6])
    assert far.free_from > 10**15
    assert found.bought[epoxy].supplier == found.senders.index(nobody)
    assert [(one.due, list(one.takes)) for one in found.owed] == [(1, [(kit, 3000)]), (10**6, [(kit, 3000)])]
    assert found.coming == [UnderWay(tube, 20_000, 1, found.senders.index(near))]
    assert dict(made_of.good.takes)[kit] == 1000
    assert [share for share, _ in made_of.lost] == pytest.approx([0.02, 0.0294, 0.009506])
    (stream,) = found.streams
    assert stream.notice == (2, 2, 3, 4, 4)
    assert scene.staged(there, made(there), (2, 2, 3, 4), 4).scene.streams[0].notice == (2, 3, 4)
    assert sum(found.swings) == pytest.approx(1000 * len(found.swings), abs=5)
    assert list(found.swings) == sorted(found.swings)
    assert (found.hours, found.hands) == (None, {})


def test_weeks_of_hours_are_those_of_the_usual_week() -> None:
    """Two hours on Tuesdays and five on Saturdays: seven a week, from a Wednesday on too."""
    there = replace(here(), settings={**here().settings, "hours": "tue 2, sat 5"})
    assert scene.staged(there, made(there), (), 3).scene.hours == [420, 420, 420]


def test_ways_of_buying_order_what_somebody_sells() -> None:
    """Typed levels, what is used by the rate for eight weeks; levels worked out; nothing where nobody sells it."""
    known = goods.catalogue().with_parts(replace(goods.catalogue().part(goods.CHROME_KIT), level=7000))
    there = exactly(shop(known=known))
    worked = made(there)
    staged = scene.staged(there, worked, (), 6)
    now, week, month, ahead = ways_of(there, worked, staged)
    kit, glue, epoxy = (staged.parts.index(fold(one)) for one in (goods.CHROME_KIT, goods.GLUE, goods.EPOXY))
    rates = {one.part.name: one for one in worked.parts}
    assert (now.level[kit], now.up_to[kit], now.level[epoxy]) == (6999, 7000, NEVER)
    assert now.up_to[glue] == round(8000 * rates[goods.GLUE].rate)
    assert now.level[glue] == now.up_to[glue] - 1
    assert (ahead.level[kit], ahead.up_to[kit]) == (
        rates[goods.CHROME_KIT].reorder_at - 1,
        rates[goods.CHROME_KIT].up_to,
    )
    assert [list(one.looks) for one in (now, week, month)] == [
        [True, False] * 3,
        [True] * 6,
        [True, False, False, False, True, False],
    ]
    assert list(ahead.looks) == list(now.looks)
    with pytest.raises(Exception, match="1 weeks cannot be rehearsed"):
        rehearsal.rehearse(there, DemandPast(weekly()), rehearsal.Rehearsing(weeks=1))


def test_pieces_that_lie_finished() -> None:
    """Whole ones that are nobody's, of the kind: its own refill and none named are one, a thicker barrel is another."""
    known = goods.catalogue()
    named = ((None, None), (goods.SLIM, None), (None, read_length("2 mm")))
    pieces = [piece_part(known, "Turnstone gloss", goods.CHROME_KIT, goods.OLIVE, *more) for more in named]
    rhodium = piece_part(known, "Turnstone gloss", goods.RHODIUM_KIT, goods.OLIVE, None, None)
    stock = plenty()
    for many, piece in zip((1, 4, 8, 16), (*pieces, rhodium), strict=True):
        stock.lot(piece.name, 1000 * many + 999)
    there = shop(stock, known.with_parts(*pieces, rhodium))
    own, slim, blank = fold(goods.REFILL), fold(goods.SLIM), fold(goods.OLIVE)
    found = {
        kind: _finished(there, "turnstone gloss", kind)
        for kind in (OWN, ("chrome", blank, own), ("chrome", blank, slim), ("rhodium", blank, None))
    }
    assert found == {
        OWN: 1,
        ("chrome", blank, own): 1,
        ("chrome", blank, slim): 4,
        ("rhodium", blank, None): 16,
    }
    assert _finished(there, "turnstone gloss", ("chrome", fold(goods.ANTLER), None)) == 0


def test_kinds_nobody_asked_for_are_of_what_there_is_most_of() -> None:
    """Three kits and three blanks at most, what is not there never; what was asked for stands as it was."""
    stock = Stock()
    for part, many in (
        (goods.CHROME_KIT, 1000),
        (goods.RHODIUM_KIT, 3000),
        (goods.OLIVE, 1),
        (goods.ACRYLIC, 5),
        (goods.ANTLER, 4),
        (goods.THICK, 3),
    ):
        stock.lot(part, many)
    found = kinds_of(shop(stock), ())
    blanks = [fold(one) for one in (goods.ACRYLIC, goods.ANTLER, goods.THICK)]
    assert found == {
        "turnstone gloss": tuple((plating, one, None) for plating in ("rhodium", "chrome") for one in blanks)
    }
    assert kinds_of(shop(stock), weekly(2)) == {"turnstone gloss": (OWN,)}


class Begun(Exception):
    """The rehearsal was begun."""


@pytest.mark.parametrize(
    ("weeks", "futures", "begins"),
    [(2, 2, True), (104, 20_000, True), (1, 2, False), (105, 2, False), (2, 1, False), (2, 20_001, False)],
)
def test_how_much_can_be_rehearsed(
    weeks: int, futures: int, begins: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """From two weeks to two years, in up to 20,000 futures."""

    def begin(*_: object) -> None:
        raise Begun

    monkeypatch.setattr(rehearsal, "levels", begin)
    with pytest.raises(Begun if begins else BadInput):
        rehearsal.rehearse(here(), DemandPast(()), rehearsal.Rehearsing(weeks=weeks, futures=futures))


def at_market(days: int, pieces: float) -> Levels:
    worked = made(here())
    market = MarketDemand("Harbour", TODAY + timedelta(days=days), pieces, 0)
    return replace(worked, expected=replace(worked.expected, markets=(market,)))


def test_a_market_is_a_stream_of_its_week() -> None:
    """In 30 days: made in the third week, half a piece is worth a stream; due by the day before, a week on."""
    kinds = [("turnstone gloss", OWN)]
    (found,) = scene._markets(here(), at_market(30, 0.5), kinds, 3)
    assert (found.expected, found.notice, list(found.shares), found.market) == (
        [0, 0, 0.5],
        (1,),
        [1.0],
        True,
    )
    assert not list(scene._markets(here(), at_market(30, 0.5), kinds, 2))
    assert not list(scene._markets(here(), at_market(30, 0.0), kinds, 3))
    assert not list(scene._markets(here(), at_market(30, 0.5), [("avocet gloss", OWN)], 3))
    (soon,) = scene._markets(here(), at_market(3, 1.0), kinds, 3)
    assert (soon.expected, soon.notice) == ([1.0, 0, 0], (0,))


def test_parts_for_a_market_are_shopped_for_two_weeks_before_they_are_needed() -> None:
    """Six pieces in five weeks, made in the fourth: six kits ordered in the second; in two weeks, at once."""
    there = here()
    for days, week in ((35, 1), (14, 0)):
        worked = at_market(days, 6.0)
        staged = scene.staged(there, worked, (), 6)
        names = [one.name for one in ways_of(there, worked, staged)]
        assert names[-2:] == [rehearsal.BEFORE, rehearsal.WORKED_OUT]
        way = ways_of(there, worked, staged)[-2]
        assert list(way.looks) == [at == week for at in range(6)]
        found = rehearsal._before_markets(staged)
        assert list(found) == [week]
        assert found[week][staged.parts.index(fold(goods.CHROME_KIT))] == 6000
