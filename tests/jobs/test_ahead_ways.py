"""What a look ahead and a rehearsal make of their figures: markets, seasons, what waits, what fills parcels, what
sleeps. Worked out by hand from the shop of `goods`; the programme of two trips is told what to answer."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from inventory.catalogue import Part, Piece, fold
from inventory.jobs.ahead import looking
from inventory.jobs.ahead.levels import DemandPast, Levels
from inventory.jobs.ahead.looking import Decided, look
from inventory.jobs.ahead.making import making_of
from inventory.jobs.ahead.recipes import kinds_of
from inventory.jobs.ahead.rehearsal import Rehearsing, rehearse, ways_of
from inventory.jobs.ahead.scene import staged
from inventory.jobs.purchasing.demand import LOW, PROMISED
from inventory.ledger.markets import Market
from inventory.ledger.shop import Shop
from inventory.measures import read_length
from inventory.planning.two_trips import Trip
from inventory.reports.purchasing.demands import Demand
from jobs import goods
from jobs.ahead_case import FAR, NEAR, OWN, here, made, weekly
from jobs.shop import TODAY, exactly, order, plenty, shop

FAIR = Market("Fair", TODAY + timedelta(days=30), 10.0)


def test_orders_a_week_follow_the_season_of_their_middle() -> None:
    """From Friday 27 November: the first week's middle is 30 November, the last day of its month."""
    there = exactly(shop(today=date(2026, 11, 27)))
    worked = made(there)
    months = (*[1.0] * 10, 2.0, 0.5)
    seasonal = replace(worked, expected=replace(worked.expected, months=months))
    usual = staged(there, worked, (), 3).scene.streams[0].expected
    assert usual[0] == pytest.approx(worked.expected.patterns[0].orders)
    found = staged(there, seasonal, (), 3).scene.streams[0].expected
    assert found == pytest.approx([2 * usual[0], usual[1] / 2, usual[2] / 2])


def test_a_market_sells_piece_by_piece_what_is_made_two_weeks_before() -> None:
    """Ten pieces in thirty days: made in the week after next, due a week later; too far off it is left out."""
    there = here()
    worked = made(there, markets=(FAIR,))
    assert [(one.name, one.pieces) for one in worked.expected.markets] == [("Fair", 10.0)]
    stage = staged(there, worked, (), 6)
    (market,) = [one for one in stage.scene.streams if one.market]
    assert list(market.expected) == [0, 0, 10, 0, 0, 0]
    assert (market.shares, list(market.notice)) == ([1.0], [1])
    assert not any(one.market for one in staged(there, worked, (), 2).scene.streams)
    *_, before, last = ways_of(there, worked, stage)
    assert (before.name, last.name) == ("before each market", "levels worked out")
    assert list(before.looks) == [True, *[False] * 5]
    kit, glue = stage.parts.index(fold(goods.CHROME_KIT)), stage.parts.index(fold(goods.GLUE))
    assert before.ahead[0][kit] == 10_000
    assert before.ahead[0][glue] == 10 * dict(stage.scene.kinds[0].good.takes)[glue]


def test_hands_of_an_unlearned_supply_are_about_as_written() -> None:
    """Of glue nobody weighed yet; what is counted is used as written."""
    there = shop()
    stage = staged(there, made(there), (), 2)
    glue = stage.parts.index(fold(goods.GLUE))
    assert stage.parts.index(fold(goods.CHROME_KIT)) not in stage.scene.hands
    points = stage.scene.hands[glue]
    assert len(points) > 9
    assert sum(points) / len(points) == pytest.approx(1000, abs=1)
    assert min(points) < 700 < 1300 < max(points)


def test_finished_pieces_of_the_very_kind_count() -> None:
    """With the refill of its family said or not; of another blank, plating or refill, or fatter, they do not."""
    fatter = read_length("1 mm")
    kinds = {
        "usual": Piece("Turnstone gloss", goods.CHROME_KIT, goods.OLIVE),
        "said": Piece("Turnstone gloss", goods.CHROME_KIT, goods.OLIVE, goods.REFILL),
        "slim": Piece("Turnstone gloss", goods.CHROME_KIT, goods.OLIVE, goods.SLIM),
        "blank": Piece("Turnstone gloss", goods.CHROME_KIT, goods.ACRYLIC),
        "plating": Piece("Turnstone gloss", goods.RHODIUM_KIT, goods.OLIVE),
        "fatter": Piece("Turnstone gloss", goods.CHROME_KIT, goods.OLIVE, None, fatter),
        "pattern": Piece("Avocet gloss", goods.CHROME_KIT, goods.OLIVE),
    }
    stock = plenty()
    for at, name in enumerate(kinds):
        stock.lot(name, 1000 * 2**at)
    known = goods.catalogue().with_parts(*(Part(name, one) for name, one in kinds.items()))
    there = exactly(shop(stock, known))

    def finished(refill: str | None) -> int:
        found = making_of(there, "turnstone gloss", (OWN[0], OWN[1], refill))
        assert found is not None
        return found.finished

    assert (finished(None), finished(fold(goods.REFILL)), finished(fold(goods.SLIM))) == (1, 1 + 2, 4)


def test_a_pattern_nobody_asked_for_is_wanted_in_what_is_there_most() -> None:
    """Two platings of its kits are on the shelf, two kinds of blanks; of one without a bill nothing is known."""
    known = goods.catalogue()
    stock = plenty().with_only(goods.OLIVE, 5000)
    stock.lot(goods.RHODIUM_KIT, 90_000)
    stock.lot(goods.ACRYLIC, 9000)
    there = shop(stock, known.with_pattern(replace(known.pattern("Godwit plain"), bill=())))
    kinds = kinds_of(there, ())
    found = [(kind[0], kind[1]) for kind in kinds["turnstone gloss"]]
    assert found == [
        ("rhodium", "acrylic round"),
        ("rhodium", "olive square"),
        ("chrome", "acrylic round"),
        ("chrome", "olive square"),
    ]
    assert "godwit plain" not in kinds
    assert kinds_of(there, weekly())["turnstone gloss"] == (OWN,)


def answering(there: Shop, worked: Levels, demands: list[Demand], told: dict[str, Any]) -> Decided | None:
    """What is made of this answer of the programme."""

    def answer(senders: Any, stocked: Any, promises: Any, trip: float, *, seconds: float) -> Trip | None:
        told.update(senders=senders, stocked=stocked, promises=promises, trip=trip, seconds=seconds)
        place = promises[0].part
        likely: list[int | None] = [None] * len(stocked)
        likely[promises[1].part] = 1
        return Trip(((place, 1, 3),), (True, False), (True, False), (0.25, 0.5), tuple(likely), 10.0, 7.0)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(looking, "two_trips", answer)
        return look(there, DemandPast(weekly()), worked, demands, (NEAR, FAR), 9.0)


def test_what_goes_now_what_waits_and_what_fills_the_parcel() -> None:
    """Three packs of five kits for two that are promised: thirteen more. The other promise waits for the far one; what
    is below its level waits too. A slim refill is sold by nobody, so it stays on the list."""
    stock = plenty().with_only(goods.OLIVE, 3000)
    stock.orders = [order("Reed", 2), order("Finch", 1)]
    there, known = exactly(shop(stock)), goods.catalogue()
    worked, due = made(there), TODAY + timedelta(days=21)
    kit, tube, slim = known.part(goods.CHROME_KIT), known.part(goods.TUBE), known.part(goods.SLIM)
    demands = [
        Demand(kit, 2000, due, PROMISED, "", ("Reed",)),
        Demand(tube, 1000, due, PROMISED, "", ("Finch",)),
        Demand(slim, 1000, None, PROMISED, ""),
    ]
    told: dict[str, Any] = {}
    done = answering(there, worked, demands, told)
    assert done is not None
    assert done.now[0] == demands[0]
    (fill,) = done.now[1:-1]
    assert (fill.part, fill.quantity, fill.needed_by, fill.tier) == (kit, 13_000, None, LOW)
    rate = next(one.rate for one in worked.parts if one.part == kit)
    assert 4 < rate < 4.2  # four good pieces a week take more than four kits
    assert fill.reason == "40 free; 4 a week asked for"  # 4.09
    assert done.now[-1] == demands[2]
    assert done.sent == {NEAR.name}
    assert done.told.waits[0] == (demands[1], FAR.name)
    blank = next(one for one in worked.parts if one.part.name == goods.OLIVE)
    below = {one.part.name: (one.quantity, sender) for one, sender in done.told.waits[1:]}
    assert below[goods.OLIVE] == (blank.reorder_at - 3000, "")
    assert goods.GLUE not in below  # 50 ml are above its level
    assert done.told.trip == TODAY + timedelta(days=14)
    assert done.told.likely == ((NEAR.name, 0.25), (FAR.name, 0.5))
    assert (done.told.gap, done.told.courses) == (3.0, looking.DRAWN)


def test_what_is_left_after_the_next_trip_is_worth_less_the_longer_it_lies() -> None:
    """The first slice up to the least that three courses in ten ask for: the price of a kit, less a quarter a year of
    it for as long as its middle lies, its share of the postage, and what it saves of shortage."""
    there, kit = here(), goods.catalogue().part(goods.CHROME_KIT)
    worked = made(there)
    told: dict[str, Any] = {}
    demands = [
        Demand(kit, 2000, None, PROMISED, ""),
        Demand(goods.catalogue().part(goods.TUBE), 1000, None, PROMISED, ""),
    ]
    assert answering(there, worked, demands, told) is not None
    row = next(one for one in worked.parts if one.part == kit)
    stocked = told["stocked"][told["promises"][0].part]
    asked = worked.asked[fold(kit.name)]
    later = sorted(asked[2:4].sum(axis=0) + asked[4] * 5 / 7)
    end, each = stocked.worth[0]
    assert end == pytest.approx(later[149])  # 150 of 500 courses ask for no more
    shared = 13.5 / (row.rate * 2.7 * row.every)  # nothing else comes from there
    tied = 0.25 / 52 * end / 2 / row.rate
    any_ = sum(units > 0 for units in later) / len(later)
    assert each == pytest.approx(2.7 * (1 - tied + min(shared, 0.5)) + stocked.short * any_)
    beyond = stocked.worth[-1]
    last = sum(units for units, _ in stocked.worth) - beyond[0] / 2
    assert last > max(later)
    assert beyond[1] == pytest.approx(max(2.7 * (1 - 0.25 / 52 * last / row.rate), 0.0))
    assert (told["promises"][0].days, told["promises"][0].cost) == (60, looking.TROUBLE)


def test_what_sleeps_is_what_hardly_any_future_uses() -> None:
    """Gunmetal kits nobody asked for, at what they cost; of chrome ones what is beyond nineteen futures in twenty."""
    stock = plenty().with_only(goods.CHROME_KIT, 400_000, 160_000)
    stock.lot(goods.GUN_KIT, 3000, 1200)
    stock.lot(goods.SLIM, 999, 50)
    stock.lot(goods.ACRYLIC, 1000, 250)
    there = exactly(shop(stock))
    told = rehearse(there, DemandPast(weekly()), Rehearsing(weeks=4, futures=60))
    sleeps = {one.part.name: (one.quantity, one.worth) for one in told.sleeps}
    assert sleeps[goods.GUN_KIT] == (3000, 12.0)
    assert sleeps[goods.ACRYLIC] == (1000, 2.5)
    assert goods.SLIM not in sleeps
    quantity, worth = sleeps[goods.CHROME_KIT]
    assert 300_000 < quantity < 400_000
    assert worth == pytest.approx(quantity * 0.004)
    assert next(iter(sleeps)) == goods.CHROME_KIT
    assert goods.SAW not in sleeps
    assert not told.hours
    assert told.ways[0].saves.mean == 0
    assert told.asked == pytest.approx(4.06, abs=0.9)


def test_only_so_many_weeks_and_futures_are_rehearsed() -> None:
    """Two to 104 weeks, two to 20,000 futures."""
    past = DemandPast(weekly())
    for asked in (Rehearsing(weeks=105), Rehearsing(futures=20_001), Rehearsing(futures=1)):
        with pytest.raises(Exception, match="cannot be rehearsed"):
            rehearse(here(), past, asked)
    assert rehearse(here(), past, Rehearsing(weeks=2, futures=2)).weeks == 2
