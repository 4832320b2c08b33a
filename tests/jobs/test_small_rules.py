"""Small rules of the jobs that no other test walks past: each at the place where it begins to hold."""

from __future__ import annotations

import random
from datetime import timedelta
from fractions import Fraction

import pytest

from inventory.catalogue import Barrel
from inventory.jobs.counting.doubts import unlikely_cost
from inventory.jobs.orders.needs import shared as share_out_stages
from inventory.jobs.orders.order_check import check
from inventory.jobs.purchasing.parcels import everything_due
from inventory.jobs.sessions.reconciling.bills_drawn import shared as share_out_rows
from inventory.measures import read_length
from inventory.reports.parcels import Arrived
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
