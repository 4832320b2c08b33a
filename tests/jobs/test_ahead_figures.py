"""What is reckoned ahead, figure by figure: what a part costs and who sends it, what a piece takes,
and what is put before the programme of two trips. All of it worked out by hand from the shop of `goods`."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from math import prod
from typing import Any

import pytest

from inventory.catalogue import STALL, Offer, PriceStep, Supplier, fold
from inventory.jobs.ahead import looking, scene
from inventory.jobs.ahead.history import asked_for, tells_enough
from inventory.jobs.ahead.history import notices as promised_before
from inventory.jobs.ahead.levels import DemandPast, Levels, PartLevel, _profit, _rounded, levels
from inventory.jobs.ahead.looking import look
from inventory.jobs.ahead.making import making_of
from inventory.jobs.ahead.terms import (
    between_trips,
    lateness,
    minor_units,
    own_coins,
    prices_of,
    short_cost,
    source_of,
)
from inventory.jobs.purchasing.demand import LOW, PROMISED
from inventory.ledger import Book
from inventory.ledger.shop import Shop
from inventory.measures import currency
from inventory.planning.two_trips import Trip
from inventory.reports.purchasing.demands import Demand
from jobs import goods
from jobs.ahead_case import FAR, NEAR, OWN, here, made, weekly
from jobs.shop import TODAY, exactly, order, plenty, shop


def test_a_price_falls_at_its_packs_and_not_a_hair_before() -> None:
    """Ten packs of ten: from 100 units on 3.20 for a pack, before that 4.00; in a coin worth 0.9 of ours."""
    (tubes,) = goods.catalogue().offers[fold(goods.TUBE)]
    price = prices_of(shop(), tubes, Fraction(9, 10))
    assert [round(price(units), 9) for units in (0.0, 1.0, 99.99, 100.0, 500.0)] == [
        *[0.36] * 3,
        *[0.288] * 2,
    ]


def test_who_sends_a_part_depends_on_how_much_is_bought() -> None:
    """One kit: 4.50 near, a pack of five at 13.50 far. Fifteen: 15 × 3.60 near; 3 × 13.50 far and a fifth of its
    postage of 13.50, for it is never free there. A fifth of the near one's is not reckoned: it may be."""
    there, kit = shop(), goods.catalogue().part(goods.CHROME_KIT)
    one, many = source_of(there, kit, 1.0), source_of(there, kit, 15.0)
    assert one is not None
    assert many is not None
    assert (one.supplier, one.steps, one.group) == (NEAR, (10.0,), f"{goods.CHROME_KIT}/1000")
    assert (many.supplier, many.steps) == (FAR, ())
    assert source_of(there, goods.catalogue().part(goods.EPOXY), 1.0) is None
    alike = (
        Offer(FAR.name, goods.SLIM, 1000, (PriceStep(1, 100),)),
        Offer(NEAR.name, goods.SLIM, 1000, (PriceStep(1, 360),)),
    )
    known = replace(there, offers={fold(goods.SLIM): alike})
    near = source_of(known, goods.catalogue().part(goods.SLIM), 1.0)
    assert near is not None
    assert near.supplier == NEAR  # 0.90 and 2.70 far, 3.60 near: the nearer of two that cost the same


def test_parcels_are_late_as_they_were_and_once_more_while_few_are_known() -> None:
    """Early is not late; from the fourth on no guess is added, a week before."""
    name = fold(NEAR.name)
    assert lateness(here(late={name: (3, -2, 0)}), NEAR) == [3, 0, 0, 7]
    assert lateness(here(late={name: (3, -2, 0, 1)}), NEAR) == [3, 0, 0, 1, 0]
    assert lateness(here(), NEAR) == [7]


def test_trips_are_as_far_apart_as_they_were_once_five_are_known() -> None:
    days = [TODAY + timedelta(days=at) for at in (0, 10, 13, 30, 36)]
    assert between_trips([*days, days[0]]) == 8.0  # of 10, 3, 17 and 6
    assert between_trips(days[:4]) == 14.0


def test_one_unit_too_few_costs_what_the_pieces_that_wait_leave() -> None:
    """Half the profit of 9.00 is lost; abrasives hold a tenth of that up; of two uses the greater counts."""
    parts = goods.catalogue()
    assert short_cost(parts.part(goods.CHROME_KIT), 9.0, {"a": 1.0, "b": 2.0}) == 2.25
    assert short_cost(parts.part(goods.STRIP), 9.0, {"a": 0.5}) == pytest.approx(0.9)
    assert short_cost(parts.part(goods.GLUE), 9.0, {"a": 0.5}) == 9.0
    assert short_cost(parts.part(goods.GLUE), 9.0, {}) == 0.0


def test_what_a_piece_takes_that_is_lost_at_some_stage() -> None:
    """Two olive blanks for four pieces. 2 % lost drilling took the blank; 3 % of the rest turning took tube and glue
    too; 1 % of those left, assembling, took all but the pot of epoxy that an evening takes for four."""
    found = making_of(here(), "turnstone gloss", OWN)
    assert found is not None
    good, drilled, turned, assembled = found.takes
    blank, glued = {"olive square": 500}, {"tube 27/64": 1000, "thin ca": good["thin ca"]}
    rest = {"gloss ca": good["gloss ca"], "strip p400": 500, "turnstone kit chrome": 1000, "refill g2": 1000}
    assert drilled == blank
    assert turned == blank | glued
    assert assembled == blank | glued | rest
    assert good == {**assembled, "epoxy": 500}
    assert found.shares == pytest.approx([0.02, 0.98 * 0.03, 0.98 * 0.97 * 0.01])
    assert found.minutes[1:] == [45, 45, 45]
    assert found.finished == 0


def test_minutes_of_a_piece_that_is_lost_are_those_until_then() -> None:
    """Said by stage, setting up an evening of four with them; where the pattern says the whole, all of them."""
    by_stage = {"cut": 1, "drill": 2, "glue": 4, "trim": 8, "turn": 16, "finish": 32, "assemble": 64}
    known = goods.catalogue()
    pattern = known.pattern("Turnstone gloss")
    said = {
        "minutes by stage": ", ".join(f"{stage} {many}" for stage, many in by_stage.items()),
        "setting up by stage": ", ".join(f"{stage} {at}" for at, stage in enumerate(by_stage)),
    }
    there = exactly(shop(known=known.with_pattern(replace(pattern, minutes=None)), settings=said))
    found = making_of(there, "turnstone gloss", OWN)
    assert found is not None
    assert found.minutes == [127 + 6, 3, 31, 127]  # 21 of setting up, a quarter of it begun
    whole = making_of(exactly(shop(settings=said)), "turnstone gloss", OWN)
    assert whole is not None
    assert whole.minutes == [45 + 6, 45, 45, 45]


def test_levels_are_what_pays() -> None:
    """Holding a unit for a cycle, a quarter of its price a year, against half of 9.00 for each piece too few.

    Of four begun, from two blanks, as many come out good as survive every stage.
    """
    there = made(here())
    assert there.profit == pytest.approx(9.0)  # 30 % of 30.00
    blank = next(one for one in there.parts if one.part.name == goods.OLIVE)
    losses = goods.catalogue().materials["olive wood"].losses
    a_piece = 2 / (4 * prod(1 - float(loss) for loss in losses.values()))
    assert there.uses[fold(goods.OLIVE)] == pytest.approx(a_piece, rel=1e-3)
    assert blank.chance == pytest.approx(1 - 0.25 / 52 * 2.40 * blank.every / (4.50 / a_piece), rel=1e-4)
    assert blank.weeks == pytest.approx((14 + 5 + 7) / 7)
    assert max(one.chance for one in there.parts) == 0.999  # courses tell no more
    for one in there.parts:
        step = 1000 if one.part.unit in ("piece", "strip") else 500
        assert (one.reorder_at % step, one.up_to % step) == (0, 0)
        assert one.up_to - one.reorder_at == round(one.rate * one.every * 1000 / step) * step
        assert there.uses[fold(one.part.name)] > 0
    lying = sum(
        one.source.price(one.rate * one.every) * ((one.reorder_at + one.up_to) / 2000 - one.rate * one.weeks)
        for one in there.parts
        if one.source is not None
    )
    assert there.money == pytest.approx(lying)
    assert there.kept


def test_less_money_in_stock_makes_lower_levels() -> None:
    """Half of it: kept, and no part's level higher; a coin cannot be kept, and is said not to be."""
    there = here()
    free = made(there)
    half = levels(there, DemandPast(weekly()), most_money=free.money / 2)
    assert half.kept
    assert free.money / 4 < half.money <= free.money / 2
    assert all(one.reorder_at <= other.reorder_at for one, other in zip(half.parts, free.parts, strict=True))
    whole = levels(there, DemandPast(weekly()), most_money=free.money)
    assert [one.up_to for one in whole.parts] == [one.up_to for one in free.parts]
    assert not levels(there, DemandPast(weekly()), most_money=0.01).kept


class Asked(Exception):
    """What the programme of two trips was asked."""

    def __init__(self, senders: Any, stocked: Any, promises: Any, trip: float) -> None:
        self.senders, self.stocked, self.promises, self.trip = senders, stocked, promises, trip


def asking(senders: Any, stocked: Any, promises: Any, trip: float, *, seconds: float) -> Trip:
    assert seconds == 9.0
    raise Asked(senders, stocked, promises, trip)


def put(there: Shop, worked: Levels, demands: list[Demand], notice: tuple[int, ...] = ()) -> Asked:
    """What the programme is asked."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(looking, "two_trips", asking)
        with pytest.raises(Asked) as told:
            look(there, DemandPast(weekly(), notice=notice), worked, demands, goods.SUPPLIERS, 9.0)
    return told.value


def test_what_is_put_before_the_programme() -> None:
    """Two kits promised in three weeks, wanted two weeks before a piece is finished; what an order late is worth."""
    there = here(orders={"reed": order("Reed", 2)})
    worked, kit = made(there), goods.catalogue().part(goods.CHROME_KIT)
    due = TODAY + timedelta(days=21)
    demands = [
        Demand(kit, 2000, due, PROMISED, "", ("Reed",)),
        Demand(goods.catalogue().part(goods.SLIM), 1000, None, LOW, ""),
    ]
    asked = put(there, worked, demands)
    near, far = asked.senders
    assert (near.postage, near.free_from, near.least, near.lead, near.late) == (4.9, 60.0, 0.0, 5, [7])
    assert (round(far.postage, 9), far.free_from, far.lead) == (13.5, None, 30)
    (promise,) = asked.promises  # a slim refill is sold by nobody
    assert (promise.order, promise.units, promise.days, promise.cost) == ("Reed", 2.0, 14, 5 * 9.0 * 2)
    row = next(one for one in worked.parts if one.part == kit)
    stocked = asked.stocked[promise.part]
    assert [(one.sender, one.price, one.pack) for one in stocked.sources] == [(0, 3.6, 1.0), (1, 2.7, 5.0)]
    assert stocked.stock == 40.0
    assert len(stocked.soon) == len(stocked.before) == looking.DRAWN
    per_week = worked.asked[fold(kit.name)][:, : looking.DRAWN]
    assert list(stocked.soon) == pytest.approx(list(per_week[:2].sum(axis=0)))
    two_thirds = per_week[:2].sum(axis=0) + per_week[2] * 5 / 7
    assert list(stocked.before) == pytest.approx(list(two_thirds))
    # Notice of 14, 21, 28 and 42 days, parcels a week late, a week to make it: asked for at some day of nineteen.
    days = [19 * at / 8 for at in range(1, 8)]
    late = sum(wait < 19 - day + 7 + 7 for wait in (14, 21, 28, 42) for day in days) / 28
    use = worked.uses[fold(kit.name)]
    assert stocked.short == pytest.approx(0.5 * 9.0 / use * late)
    assert sum(units for units, _ in stocked.worth) == pytest.approx(
        2 * max(row.up_to / 1000, row.reorder_at / 1000 + 5)
    )
    coins = [each for _, each in stocked.worth]
    assert coins == sorted(coins, reverse=True)
    assert all(units > 0 for units, _ in stocked.worth)
    wide = put(there, worked, demands, (60, 60, 60, 60))
    assert wide.stocked[promise.part].short == 0.0
    assert put(there, worked, demands, (60, 60, 60)).stocked[promise.part].short == stocked.short


def test_what_is_asked_for_counts_from_the_first_day_it_was_promised() -> None:
    """What was only wished for, or asks for nothing any more, is none; a past begins with eight, and three months."""
    state = {"a": "promised", "b": "wish", "c": "handed over", "d": "promised"}
    orders = {key: order(key, 2, handed=1, state=said) for key, said in state.items()}
    orders["d"] = order("d", 0, state="promised")
    taken = {key: TODAY - timedelta(days=days) for key, days in {"a": 3, "b": 3, "c": 9, "d": 1}.items()}
    found = asked_for(here(orders=orders), taken, [])
    assert [(one.on, one.pieces) for one in found] == [(taken["c"], 3), (taken["a"], 3)]
    assert tells_enough(weekly(14), TODAY)
    assert not tells_enough(weekly(13), TODAY)
    assert tells_enough([weekly(14)[-1]] * 8, TODAY)
    assert not tells_enough([weekly(14)[-1]] * 7, TODAY)


def test_notice_is_from_the_promise_to_the_day_due() -> None:
    """In whole weeks for a rehearsal, half a year at most; the stall's are none; on the day itself is none."""
    orders = {
        "a": order("a", due=TODAY + timedelta(days=20)),
        "b": order("b", due=TODAY),
        "c": order("c", due=TODAY + timedelta(days=999)),
        "d": order("d", due=TODAY + timedelta(days=20), customer=STALL),
    }
    there = here(orders=orders)
    assert scene.notices(there, dict.fromkeys(orders, TODAY)) == (2, 26)
    assert isinstance(there.book, Book)


def test_the_heights_a_level_is_chosen_from_are_chances() -> None:
    """From a third to nearly sure, each higher than the one before; nothing is kept for what never happens."""
    assert list(looking.QUANTILES) == sorted(set(looking.QUANTILES))
    assert 0 < looking.QUANTILES[0] < looking.QUANTILES[-1] < 1


def test_a_part_below_its_level_lacks_just_that() -> None:
    """4 tubes wanted at least and 1 free: 3 lack; none free: 4; at the level none."""
    for there, lacks in ((1000, [3000]), (0, [4000]), (4000, [])):
        at = shop(plenty().with_only(goods.TUBE, there))
        level = PartLevel(at.catalogue.part(goods.TUBE), 4000, 9000, 1.0, 3.0, 0.95, None, 4.0)
        assert [one.quantity for one in looking._below(at, level)] == lacks


@pytest.mark.parametrize(
    ("code", "cents", "there", "dollar"),
    [("EUR", 100, "0.9", 0.009), ("JPY", 1, "160", 1.6), ("EUR", 100, "", 0.01)],
)
def test_coins_have_as_many_minor_units_as_their_standard_says(
    code: str, cents: int, there: str, dollar: float
) -> None:
    """ISO 4217: a hundred cents to the euro, none to the yen. A cent of a dollar at 0.90 € is 0.009 €."""
    rates = {"rate USD": there} if there else {}
    here = replace(shop(settings=rates), currency=currency(code))
    assert minor_units(here) == cents
    assert own_coins(here, FAR) == pytest.approx(dollar)
    assert own_coins(here, replace(FAR, currency=code)) == 1 / cents


def test_profit_is_a_share_of_what_was_agreed() -> None:
    """30 % of the mean of 30.00 and 20.00; an assumption where no price was agreed."""
    one, other = weekly(2)
    assert _profit(shop(), [one, replace(other, price=2000), replace(one, price=None)]) == pytest.approx(7.5)
    assert _profit(shop(), [replace(one, price=None)]) == _profit(shop(), []) > 0


@pytest.mark.parametrize(
    ("level", "rate", "every", "unit", "at", "up"),
    [
        (3.0, 1.0, 4.0, "piece", 3000, 7000),
        (3.0001, 1.0, 4.0, "piece", 4000, 8000),
        (3.0, 0.1, 4.0, "piece", 3000, 4000),
        (3.0, 0.0, 4.0, "piece", 3000, 3000),
        (2.9, 0.4, 4.0, "piece", 3000, 5000),
        (3.2, 0.4, 2.0, "ml", 3500, 4500),
        (0.0, 0.0, 4.0, "ml", 0, 0),
    ],
)
def test_levels_are_whole_pieces_or_half_millilitres(
    level: float, rate: float, every: float, unit: str, at: int, up: int
) -> None:
    """The level up, what a cycle takes to the nearest, one step at least of what is used at all."""
    part = replace(goods.catalogue().part(goods.TUBE), unit=unit)
    found = _rounded(part, level, rate, 3.0, 0.95, None, every)
    assert (found.reorder_at, found.up_to) == (at, up)


@pytest.mark.parametrize(("near", "who"), [(360, NEAR), (361, FAR)])
def test_a_fifth_of_a_postage_that_is_never_free_counts_in_the_choice(near: int, who: Supplier) -> None:
    """1.00 $ at 0.90 € and a fifth of 15.00 $ are 3.60: the nearer one is taken at that price, not above it."""
    offers = (
        Offer(FAR.name, goods.SLIM, 1000, (PriceStep(1, 100),)),
        Offer(NEAR.name, goods.SLIM, 1000, (PriceStep(1, near),)),
    )
    found = source_of(
        replace(shop(), offers={fold(goods.SLIM): offers}), goods.catalogue().part(goods.SLIM), 1.0
    )
    assert found is not None
    assert found.supplier == who


def test_notice_is_of_orders_that_were_promised_before_their_day() -> None:
    """In days, in the order of the book; not of one that was promised on its day or after it, nor of a wish."""
    orders = {
        name: order(name, due=TODAY + timedelta(days=days))
        for name, days in zip("abcd", (9, 1, 0, -3), strict=True)
    }
    assert promised_before(here(orders=orders), dict.fromkeys("abcd", TODAY)) == (9, 1)
    assert promised_before(here(orders=orders), {"a": TODAY}) == (9,)
