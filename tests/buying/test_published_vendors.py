"""The basket against published problems of choosing among vendors with setup costs, limits and quantity discounts.

What the vendors of these problems ask for is put in the words of a list: the setup is flat postage, the least quantity
is the first step, the greatest is what the supplier has left, one line is split over as many suppliers as it takes.
Incremental prices, which our lists do not have, become one deal for each segment (`vendor_cases.deals`), as in a
public model of it, and every choice of one deal a vendor gets a list of its own.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from .vendor_cases import MINOR, Vendor, bought, charged, cheapest, programme, vendor

BID = (
    vendor("a", "3855.84", (0, 33000, "61.150")),
    vendor(
        "b",
        "125804.84",
        (22000, 70000, "68.099"),
        (70000, 100000, "66.049"),
        (100000, 150000, "64.099"),
        (150000, 160000, "62.119"),
    ),
    vendor("c", "13456.00", (0, 165600, "62.190")),
    vendor("d", "6583.98", (0, 12000, "72.488")),
    vendor("e", "0", (0, 42000, "70.150"), (42000, 77000, "68.150")),
)
"""Bracken & McCormick 1968, Selected Applications of Nonlinear Programming, chapter 3 (pp. 28-36).  The table
was read in four public copies of it, not in the book."""

BID_DEMAND = Fraction("239600.48")
BID_COST = Fraction("15210109.512")
BID_PACK = 200
"""Every least and greatest quantity of the table is a multiple of it; the demand is 0.48 above one."""


@pytest.mark.outside
def test_bid_evaluation() -> None:
    """Bracken & McCormick's bids cost 15,210,109.512 at least: a and c sell all they have, e the 41,000.48 left.

    Source of the table: see `BID`; of the optimum: from memory, and the published model solved by scipy beside it.
    Costs are concave between the table's quantities, so in some best answer all vendors but one sell one of these: all
    but one sell whole packs of 200, one the odd 0.48 in place of a pack.  Each vendor is that one in turn.
    """
    odd = BID_DEMAND - int(BID_DEMAND) // BID_PACK * BID_PACK
    best = cheapest(BID, int(BID_DEMAND), BID_PACK, odd)
    quantities = bought(best, BID_PACK, odd)
    assert best.total == BID_COST * MINOR
    assert quantities == {"a": 33000, "c": 165600, "e": Fraction("41000.48")}
    assert charged(BID, quantities) == BID_COST
    assert programme(BID, float(BID_DEMAND)) == pytest.approx(float(BID_COST), rel=1e-9)


BREAKS = (
    vendor("s1", "0", (0, 100, "9.2"), (100, 200, "9"), (200, 240, "7")),
    vendor("s2", "0", (0, 50, "9"), (50, 210, "8.5")),
    vendor("s3", "0", (0, 100, "11"), (100, 240, "8.5")),
)
ORDERS = (
    vendor("s1", "100", (0, 300, "10"), (300, 600, "7")),
    vendor("s2", "500", (0, 800, "2")),
    vendor("s3", "300", (0, 500, "6"), (500, 1200, "4")),
)
ORDERS_ALL_UNITS = (
    vendor("s1", "100", (0, 300, "10"), (301, 600, "7"), incremental=False),
    vendor("s2", "500", (0, 800, "2")),
    vendor("s3", "300", (0, 500, "6"), (501, 1200, "4"), incremental=False),
)
COMPUTERS = (
    vendor("v1", "5000", (200, 500, "500")),
    vendor("v2", "4000", (200, 900, "350")),
    vendor("v3", "6000", (200, 400, "250")),
)
TWO = (
    vendor(
        "A",
        "0",
        *((0, 999, "9"), (1000, 2499, "8"), (2500, 7499, "7"), (7500, 14999, "5"), (15000, 20000, "3")),
        incremental=False,
    ),
    vendor(
        "B",
        "0",
        *((0, 1200, "8"), (1200, 3000, "7"), (3000, 7500, "6"), (7500, 14000, "4"), (14000, 20000, "2")),
    ),
)


@pytest.mark.outside
@pytest.mark.parametrize(
    ("vendors", "demand", "cost", "quantities"),
    [
        (BREAKS, 600, 5435, {"s1": 240, "s2": 210, "s3": 150}),
        (ORDERS, 2000, 8200, {"s2": 800, "s3": 1200}),
        (ORDERS_ALL_UNITS, 2000, 7200, {"s2": 800, "s3": 1200}),
        (COMPUTERS, 1100, 355_000, {"v2": 700, "v3": 400}),
        (TWO, 6000, 37_500, {"A": 7500}),
    ],
    ids=["price breaks", "order allocation", "order allocation, all units", "computers", "two schedules"],
)
def test_vendors_with_limits(
    vendors: tuple[Vendor, ...], demand: int, cost: int, quantities: dict[str, int]
) -> None:
    """Tables and answers as published, where an answer was; each also solved by scipy from the table.

    price breaks: Guéret, Prins & Sevaux 2002, Applications of Optimization (at most 40, 35 and 40 % of 600 from each);
    the quantities are in a public translation of the model, their cost follows from it.
    order allocation: Ravindran, exercise 5.5 with table 5.15, as two public pages print it (read), one with
    all-units prices as a second question; no answer was seen.
    computers: Winston's exercise of 1,100 computers from three vendors (the book from memory, the text seen on a public
    page), where a vendor need not be used; no answer was seen.
    two schedules: a problem of a public collection of models (read), prices for all units at A, by the unit at B:
    buying 1,500 more than the 6,000 needed is cheapest; no answer was seen.
    """
    basket = cheapest(vendors, demand)
    assert basket.total == cost * MINOR
    assert bought(basket) == quantities
    assert charged(vendors, bought(basket)) == cost
    assert programme(vendors, demand) == pytest.approx(cost, rel=1e-9)
