"""Now or on the next trip: the programme against reckoning by hand and against every choice written out."""

from __future__ import annotations

from itertools import product

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
