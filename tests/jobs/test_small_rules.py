"""Small rules of the jobs that no other test walks past: each at the place where it begins to hold."""

from __future__ import annotations

import random
from collections.abc import Collection
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

import pytest

from inventory.catalogue import Barrel, Part, Tool, fold
from inventory.jobs.counting.doubts import unlikely_cost
from inventory.jobs.orders.needs import shared as share_out_stages
from inventory.jobs.orders.order_check import check
from inventory.jobs.purchasing.parcels import everything_due
from inventory.jobs.sessions.reconciling.bills_drawn import shared as share_out_rows
from inventory.jobs.stock.loading import _as_last_time
from inventory.ledger.counting.differences import Difference
from inventory.measures import read_length
from inventory.reports.purchasing.parcels import Arrived
from jobs import goods
from jobs.shop import EUR, TODAY, plenty, request, shop


def test_all_that_is_due_from_a_supplier_is_one_row_a_part() -> None:
    """Two parcels of tubes and one of refills on their way."""
    stock = plenty()
    for part, quantity in ((goods.TUBE, 20_000), (goods.REFILL, 5000), (goods.TUBE, 10_000)):
        stock.coming(part, quantity, TODAY + timedelta(days=3))
    assert everything_due(shop(stock), "saltmarsh turning") == (
        Arrived(goods.TUBE, 30_000),
        Arrived(goods.REFILL, 5000),
    )


@pytest.mark.parametrize(("tubed", "said"), [(2, True), (1, True), (0, False)])
def test_bushings_nobody_named_are_asked_for_where_any_barrel_has_a_tube(tubed: int, said: bool) -> None:
    """Of two barrels one, both or none on a tube: what has none is turned without them."""
    known = goods.catalogue()
    cap, body = known.family("Avocet").barrels
    bare = Barrel("body", None, body.drill, body.finished_a, body.finished_b, read_length("53 mm"))
    barrels = ((bare, bare), (cap, bare), (cap, body))[tubed]
    there = shop(plenty(), known.with_family("Avocet", barrels=barrels))
    report = check(there, request(2, pattern="Avocet gloss", platings=("gunmetal",)))
    assert any("No bushings named for Avocet" in one for one in report.cautions) is said


@pytest.mark.parametrize("seed", range(5))
def test_what_is_shared_adds_up_and_is_in_proportion(seed: int) -> None:
    """Over stages by shares, over rows by weights: nothing lost, each within one of its part; of no weight nothing."""
    draw = random.Random(seed)
    weights = [draw.randrange(9) for _ in range(6)] + [1]
    total = draw.randrange(10_000)
    for parts in (
        share_out_rows(total, weights),
        [many for _, many in share_out_stages(total, [("cut", float(one)) for one in weights])],
    ):
        assert sum(parts) == total
        for many, weight in zip(parts, weights, strict=True):
            assert abs(many - total * weight / sum(weights)) < 1.5
            assert weight or not many
    assert share_out_rows(7, [0, 0]) == [0, 0]


@pytest.mark.parametrize(("cost", "asked"), [(24, True), (25, False), (800, False), (801, True)])
def test_a_cost_four_times_off_what_is_known_is_still_likely(cost: int, asked: bool) -> None:
    """From 1.00 to 2.00 a piece is known: a quarter of the one to four times the other."""
    part = goods.catalogue().part(goods.REFILL)
    said = unlikely_cost(part, Fraction(cost), (Fraction(100), Fraction(200)), EUR)
    assert bool(said) is asked
    assert unlikely_cost(part, Fraction(cost), None, EUR) == ""


def saw(name: str, width: str, *, there: bool) -> tuple[Part, bool]:
    return Part(name, Tool("saw", width)), there


@pytest.mark.parametrize(
    ("saws", "kerf"),
    [
        ([], Fraction(2)),
        ([saw("a", "1.4 mm", there=True), saw("b", "1.1 mm", there=True)], Fraction(11, 10)),
        ([saw("a", "1.4 mm", there=True), saw("b", "0.8 mm", there=False)], Fraction(14, 10)),
        ([saw("a", "1.4 mm", there=False), saw("b", "0.8 mm", there=False)], Fraction(8, 10)),
        ([saw("a", "", there=True)], Fraction(2)),
    ],
    ids=["none", "narrowest", "on hand", "known", "of no width"],
)
def test_the_saw_that_cuts_is_the_narrowest_there_is(saws: list[tuple[Part, bool]], kerf: Fraction) -> None:
    """On hand before one that is only known; 2 mm where none says its width."""
    known = goods.catalogue()
    without = replace(known, parts={key: one for key, one in known.parts.items() if one.name != goods.SAW})
    stock = plenty().without(goods.SAW)
    for part, there in saws:
        if there:
            stock.lot(part.name, 1000)
    assert shop(stock, without.with_parts(*(part for part, _ in saws))).kerf == kerf


def test_books_are_alike_whatever_was_looked_up_in_them() -> None:
    """Claims that were found once are kept; that makes no book another."""
    stock = plenty()
    stock.claim("Reed", goods.TUBE, 1000)
    one, other = stock.book, stock.book
    assert one.claims_of("reed") == one.claims
    assert one == other
    assert "_found" not in repr(one)


def test_counts_that_say_what_was_counted_last_are_doubted_where_something_moved_since() -> None:
    """Entry 3 found 7 tubes, two were used since: a sheet that says 7 again may be that one, not one that says 5."""

    def since(_: int, keys: Collection[str]) -> dict[str, tuple[int, tuple[int, ...]]]:
        return dict.fromkeys(keys, (-2000, ()))

    for found, told in ((7000, {3: 1}), (5000, {})):
        differences = [Difference(goods.TUBE, 5000, found), Difference(goods.REFILL, 1000, 4000)]
        assert _as_last_time(differences, {fold(goods.TUBE): 3}, since) == told
