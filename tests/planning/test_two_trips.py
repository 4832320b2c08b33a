"""Now or on the next trip: the programme against reckoning by hand and against every choice written out."""

from __future__ import annotations

from itertools import product
from types import SimpleNamespace

import numpy as np
import pytest

from inventory.planning.two_trips import GAP, Promised, Stocked, Trip, TripOffer, TripSupplier, two_trips

NEAR = TripSupplier("Near", 5.0, None, 0.0, 3)
NONE = np.zeros(1)


def part(worth: tuple[tuple[float, float], ...] = ((10.0, 2.1),), *offers: TripOffer) -> Stocked:
    """A part at 2 a unit from supplier 0, of which there is none."""
    return Stocked(offers or (TripOffer(0, 2.0, 1.0),), 0.0, NONE, NONE, 0.0, worth)


def found(*rows: object, senders: tuple[TripSupplier, ...] = (NEAR,), days: float = 7) -> Trip:
    """The choice."""
    parts = [one for one in rows if isinstance(one, Stocked)]
    promises = [one for one in rows if isinstance(one, Promised)]
    trip = two_trips(senders, parts, promises, days)
    assert trip is not None
    return trip


def test_what_cannot_wait_goes_and_what_can_waits() -> None:
    """Parcels take 3 days, the next trip is in 7: what must be there in 9 goes now, in 30 it waits."""
    hurried = found(part(), Promised(0, "S1", 2, 9, 50))
    assert (hurried.send, hurried.now) == ((True,), (True,))
    assert hurried.proven
    waits = found(part(), Promised(0, "S1", 2, 30, 50))
    assert (waits.send, waits.now, waits.packs) == ((False,), (False,), ())


def test_what_is_late_already_hurries() -> None:
    """It was wanted yesterday: now is better than in a week."""
    assert found(part(), Promised(0, "S1", 2, -1, 50)).now == (True,)


def test_a_parcel_that_goes_is_filled_up_with_what_is_worth_it() -> None:
    """2.1 for what costs 2 is no reason for a parcel of 5; once it goes, all ten are."""
    other = part()
    assert not found(other).send[0]
    filled = found(part(()), other, Promised(0, "S1", 2, 9, 50))
    assert {at: packs for at, _, packs in filled.packs}[1] == 10
    assert found(part(((10.0, 2.6),))).send[0]  # ten times 0.6 is more than 5


def test_free_postage_and_a_minimum_order_are_reached() -> None:
    """A third unit at 2 that is worth 1.9 saves 5; a minimum of 12 takes six of them."""
    slices = ((10.0, 1.9),)
    free = TripSupplier("Free", 5.0, 6.0, 0.0, 3)
    want = Promised(0, "S1", 2, 9, 50)
    assert found(part(slices), want, senders=(free,)).packs == ((0, 0, 3),)
    assert found(part(slices), want).packs == ((0, 0, 2),)
    least = TripSupplier("Least", 5.0, None, 12.0, 3)
    assert found(part(slices), want, senders=(least,)).packs == ((0, 0, 6),)


def test_what_nobody_hurries_for_waits_for_a_parcel_that_goes() -> None:
    """A worn tool alone is no reason for 5 of postage; with a promise from the same supplier it comes along."""
    tool = Promised(0, "tool", 1, 60, 0)
    assert not found(part(()), tool).send[0]
    both = found(part(()), part(()), tool, Promised(1, "S1", 2, 9, 50))
    assert both.now == (True, True)


def test_the_surer_supplier_serves_what_is_promised() -> None:
    """The cheaper one came 14 days late every other time."""
    late = TripSupplier("Late", 5.0, None, 0.0, 3, (0, 14))
    two = part((), TripOffer(0, 1.5, 1.0), TripOffer(1, 2.0, 1.0))
    trip = found(two, Promised(0, "S1", 1, 6, 50), senders=(late, NEAR))
    assert trip.send == (False, True)
    assert trip.likely == (None,)


def test_the_first_choice_is_the_best_of_all_written_out() -> None:
    """One part, two courses: every number of packs now, and then the best of each course by trying all."""
    dice = np.random.default_rng(5)
    for _ in range(25):
        fee, price, short = dice.uniform(1, 6), dice.uniform(1, 4), dice.uniform(0, 8)
        soon = dice.integers(0, 4, 2).astype(float)
        before = soon + dice.integers(0, 3, 2).astype(float)
        slices = ((2.0, price + dice.uniform(0, 3)), (2.0, price * 0.9))
        one = Stocked((TripOffer(0, price, 1.0),), 1.0, soon, before, short, slices)
        trip = found(one, senders=(TripSupplier("A", fee, None, 0.0, 3),))

        def left(stock: float, one: Stocked = one) -> float:
            owed, total = max(-stock, 0.0), 0.0
            for units, coins in one.worth:
                total += min(max(stock, 0.0), units) * coins
                stock -= units
            return owed * (one.short + one.worth[0][1]) - total

        def then(stock: float, at: int, one: Stocked = one, fee: float = fee, price: float = price) -> float:
            return min((fee if n else 0) + price * n + left(stock + n - one.soon[at]) for n in range(9))

        best = min(
            (fee if n else 0)
            + price * n
            + sum(max(before[at] - 1 - n, 0) * short + then(1.0 + n, at) for at in (0, 1)) / 2
            for n, _ in product(range(9), (0,))
        )
        assert trip.cost == pytest.approx(best, abs=GAP * max(abs(best), 1) + 1e-6)
        assert trip.bound <= best + 1e-6


def test_what_is_bought_after_both_trips_costs_its_cheapest_price_and_a_share_of_postage() -> None:
    """A worn tool waits for a third trip: a tenth more than the 2 it costs at the cheaper of two suppliers."""
    two = part((), TripOffer(0, 3.0, 1.0), TripOffer(0, 2.0, 1.0))
    assert found(two, Promised(0, "tool", 2, 60, 0)).cost == pytest.approx(2 * 2.2)
    # What is worth more than that is reckoned at its worth.
    assert found(part(((1.0, 2.5), (1.0, 2.4))), Promised(0, "tool", 2, 60, 0)).cost == pytest.approx(2 * 2.5)


def test_a_choice_is_proven_within_half_a_hundredth_of_its_cost_or_of_a_coin() -> None:
    """The gap of what costs 100 is 0.5; that of what costs 0.5, or earns as much, is 0.005."""

    def proven(cost: float, bound: float) -> bool:
        return Trip((), (), (), (), (), cost, bound).proven

    assert proven(100, 99.5)
    assert not proven(100, 99.49)
    assert (proven(0.5, 0.4951), proven(0.5, 0.4949)) == (True, False)
    assert (proven(-0.5, -0.5049), proven(-0.5, -0.5051)) == (True, False)
    assert (proven(-100, -100.4), proven(-100, -100.6)) == (True, False)


def test_a_parcel_that_is_never_late_comes_just_in_time() -> None:
    """Sent in 7 days and 3 on its way: there in 10."""
    assert NEAR.too_late(7, 10) == 0
    assert NEAR.too_late(7, 9) == pytest.approx(1 + 1 / 28)


def test_packs_are_whole_now_and_reckoned_by_the_unit_then() -> None:
    """Two of a pack of five at 2 each: now the whole pack for 10, on the next trip, where more may be wanted, 4."""
    five = part((), TripOffer(0, 2.0, 5.0))
    now = found(five, Promised(0, "S1", 2, 9, 50))
    assert now.packs == ((0, 0, 1),)
    assert now.cost == pytest.approx(5 + 10)
    then = found(five, Promised(0, "S1", 2, 14, 50))
    assert (then.packs, then.then) == ((), (1.0,))
    assert then.cost == pytest.approx(5 + 4)
    quarters = found(part((), TripOffer(0, 2.0, 0.25)), Promised(0, "S1", 2, 9, 50))
    assert quarters.packs == ((0, 0, 8),)
    assert quarters.cost == pytest.approx(5 + 4)


def test_most_of_a_promise_now_is_now() -> None:
    """Five of nine in one pack, four on the next trip: one pack more would cost 10 for 8, and late is but a coin."""
    free = TripSupplier("Free", 0.0, None, 0.0, 3)
    trip = found(part((), TripOffer(0, 2.0, 5.0)), Promised(0, "S1", 9, 9, 1), senders=(free,))
    assert (trip.packs, trip.now) == (((0, 0, 1),), (True,))
    assert trip.cost == pytest.approx(18 + 4 / 9 * (1 + 1 / 28))


def test_postage_of_less_than_a_coin_and_a_minimum_of_less_are_reckoned_with() -> None:
    """A third unit at 2 that is worth 1.9 saves 0.9; a minimum of 0.9 takes two at a half."""
    want = Promised(0, "S1", 2, 9, 50)
    cheap = TripSupplier("Free", 0.9, 6.0, 0.0, 3)
    assert found(part(((10.0, 1.9),)), want, senders=(cheap,)).packs == ((0, 0, 3),)
    least = TripSupplier("Least", 5.0, None, 0.9, 3)
    half = part((), TripOffer(0, 0.5, 1.0))
    assert found(half, Promised(0, "S1", 1, 9, 50), senders=(least,)).packs == ((0, 0, 2),)


def test_postage_is_free_or_it_is_not() -> None:
    """Of 100 that would free it 4 are spent: all of it is paid, now as then."""
    far = TripSupplier("Far", 5.0, 100.0, 0.0, 3)
    for days in (9, 14):
        trip = found(part(()), Promised(0, "S1", 2, days, 50), senders=(far,))
        assert trip.cost == pytest.approx(5 + 4)


def test_who_is_sent_to_on_the_next_trip_and_how_often() -> None:
    """Ten are asked for in one course of two, none in the other; of two suppliers the second is cheaper.

    Each that is owed costs what a first half would be worth, 2.6: with it 10.5 are bought for 26, and it is 1.3 less.
    """
    asked = np.array([10.0, 0.0])
    offers = (TripOffer(0, 3.0, 1.0), TripOffer(1, 2.0, 1.0))
    trip = found(Stocked(offers, 0.0, asked, asked, 0.0, ((0.5, 2.6),)), senders=(NEAR, NEAR))
    assert (trip.send, trip.then, trip.likely) == ((False, False), (0.0, 0.5), (1,))
    assert trip.cost == pytest.approx((5 + 10.5 * 2 - 1.3) / 2)
    assert found(part(())).likely == (None,)


def test_what_is_short_until_the_next_parcel_costs_what_it_says() -> None:
    """Three are asked for before, one is there: two at 2 each and 5 of postage, or two short at 3 each."""
    cheap, dear = (
        found(Stocked((TripOffer(0, 2.0, 1.0),), 1.0, np.zeros(1), np.full(1, 3.0), short, ()))
        for short in (3.0, 6.0)
    )
    assert (cheap.packs, dear.packs) == ((), ((0, 0, 2),))
    assert (cheap.cost, dear.cost) == pytest.approx((2 * 3, 5 + 4))


def test_what_is_still_owed_after_the_next_trip_costs_that_again_and_what_it_would_have_been_worth() -> None:
    """Of two courses one asks for a piece: short at 0.5, then owed at 0.5, and with a slice worth 0.3 at 0.8."""
    asked = np.array([1.0, 0.0])
    for worth, cost in (((), 0.5 + 0.5), (((1.0, 0.3), (1.0, 0.2)), 0.5 + 0.8)):
        trip = found(Stocked((TripOffer(0, 2.0, 1.0),), 0.0, asked, asked, 0.5, worth))
        assert trip.cost == pytest.approx(cost / 2)


def test_an_order_is_as_late_as_its_latest_part() -> None:
    """Two parts of one order wait for a third trip, 8 days too late: late once, not twice; of two orders twice."""
    parts, wait = (part(()), part(())), 2 * 2 * 2.2
    together = found(*parts, Promised(0, "S1", 2, 9, 1.5), Promised(1, "S1", 2, 9, 1.5))
    apart = found(*parts, Promised(0, "S1", 2, 9, 1.5), Promised(1, "S2", 2, 9, 1.5))
    assert together.cost == pytest.approx(wait + 1.5 * (1 + 8 / 28))
    assert apart.cost == pytest.approx(wait + 3 * (1 + 8 / 28))


def test_a_third_trip_is_to_the_quickest_supplier_and_nobody_at_all_is_late() -> None:
    """Sent in 14 days and 3 on its way, whoever is cheaper; what nobody sells is late for sure, and costs nothing."""
    slow = TripSupplier("Slow", 5.0, None, 0.0, 30)
    two = part((), TripOffer(0, 2.0, 1.0), TripOffer(1, 3.0, 1.0))
    trip = found(two, Promised(0, "S1", 1, 9, 1), senders=(slow, NEAR))
    assert trip.cost == pytest.approx(2.2 + 1 + 8 / 28)
    nowhere = Stocked((), 0.0, NONE, NONE, 0.0, ())
    assert found(nowhere, Promised(0, "S1", 2, 9, 50)).cost == pytest.approx(50)


def test_what_comes_just_in_time_is_not_late() -> None:
    """Three days on its way, needed in three; on the next trip needed in ten."""
    for days in (3, 10):
        assert found(part(()), Promised(0, "S1", 2, days, 50)).cost == pytest.approx(5 + 4)


def test_how_good_a_choice_is_at_least_is_what_the_solver_proved(monkeypatch: pytest.MonkeyPatch) -> None:
    """A search that was stopped: its bound, or the cost itself where it tells none; nothing where it found nothing."""
    told = SimpleNamespace(x=None, fun=10.0, mip_dual_bound=9.0)
    monkeypatch.setattr("scipy.optimize.milp", lambda *_, **__: told)
    assert two_trips((NEAR,), (part(()),), (), 7) is None
    told.x = np.zeros(99)
    stopped = found(part(()))
    assert (stopped.cost, stopped.bound, stopped.proven) == (10, 9, False)
    told.mip_dual_bound = None
    assert found(part(())).bound == 10
