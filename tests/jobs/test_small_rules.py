"""Small rules of the jobs that no other test walks past: each at the place where it begins to hold."""

from __future__ import annotations

from datetime import timedelta

import pytest

from inventory.catalogue import Barrel
from inventory.jobs.orders.order_check import check
from inventory.jobs.purchasing.parcels import everything_due
from inventory.measures import read_length
from inventory.reports.parcels import Arrived
from jobs import goods
from jobs.shop import TODAY, plenty, request, shop


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
