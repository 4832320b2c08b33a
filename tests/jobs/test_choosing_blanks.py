"""Which blanks a plan takes where there are several kinds, or fewer than it would like."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.jobs.orders.needs import usable_free
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.requests import OrderRequest, request_of
from inventory.jobs.sessions.cut_plan import cut_together
from inventory.jobs.sessions.planning import Ask, plan
from inventory.making.blanks.fitting import plan_blanks
from inventory.making.blanks.model import Segment, Wanted, one_off
from inventory.making.blanks.planning import cutting_plan
from inventory.measures import read_length
from jobs import goods
from jobs.sessions import SATURDAY
from jobs.shop import order, shop

from .evening_case import Evening, antlers, lossless


def test_every_free_blank_is_looked_at() -> None:
    """Somebody holds one antler, nobody said which: the one that fits is found behind one that does not."""
    stock = antlers("30 mm", "70 mm")
    stock.claim("Somebody", goods.ANTLER, 1000)
    stock.orders = [order("Somebody", 1, blank=goods.ANTLER)]
    there = shop(stock, lossless())
    report = check(there, request_of(order("Reed", 1, blank=goods.ANTLER)))
    assert [cut.name for cut in report.plan.blanks.cuts] == ["B"]
    assert report.plan.blanks.capacity == 1


def test_no_more_blanks_than_are_free() -> None:
    """Two antlers fit, one is somebody's: one is cut, the other piece needs one to be bought."""
    stock = antlers("70 mm", "70 mm")
    stock.claim("Somebody", goods.ANTLER, 1000)
    stock.orders = [order("Somebody", 1, blank=goods.ANTLER)]
    there = shop(stock, lossless())
    part = there.catalogue.part(goods.ANTLER)
    size = check(there, request_of(order("Reed", 1, blank=goods.ANTLER))).plan.size
    found = plan_blanks(part, size, there.book.lots_of(goods.ANTLER), usable_free(there, part), there.kerf, 2)
    assert (sum(cut.blanks for cut in found.cuts), found.needed, found.capacity, found.usable) == (1, 2, 1, 1)
    rows = Evening.of(there, [order("Reed", 2, blank=goods.ANTLER)]).report.sessions[0].rows
    assert sum(cut.blanks for cut in cut_together(there, rows[-1:]).cuts) == 1


def test_other_peoples_antlers_leave_the_plain_blanks_alone() -> None:
    """What is measured and set aside for others is not taken off the plain ones a second time."""
    stock = antlers("70 mm", plain=1)
    stock.claim("Somebody", goods.ANTLER, 1000, lot=stock.lots[-2].id)
    stock.orders = [order("Somebody", 1, blank=goods.ANTLER)]
    there = shop(stock, lossless())
    rows = plan(there, (), Ask((SATURDAY,), (), (_antler(),))).sessions[0].rows
    assert cut_together(there, rows).short == ()


def _antler() -> OrderRequest:
    return OrderRequest("Turnstone gloss", ("chrome",), goods.ANTLER, 1, SATURDAY)


ONE = Wanted("one", (Segment(read_length("50 mm").mm, read_length("10 mm").mm),))


sizes = st.lists(st.tuples(st.integers(8, 14), st.integers(40, 170)), min_size=1, max_size=6)


@examples(60)
@given(blanks=sizes, pieces=st.integers(1, 6), most=st.integers(0, 6))
@pytest.mark.cross_check
def test_a_limit_on_blanks_against_every_choice(
    blanks: list[tuple[int, int]], pieces: int, most: int
) -> None:
    """Of all sets of so many blanks: the most pieces, then the least bulk."""
    measured = [
        one_off(n, read_length(f"{d} mm").mm, read_length(f"{x} mm").mm) for n, (d, x) in enumerate(blanks)
    ]
    kerf = read_length("2 mm").mm
    gives = {
        one.key: int((one.length + kerf) // (50 + kerf)) if blanks[at][0] >= 10 else 0
        for at, one in enumerate(measured)
    }
    found = cutting_plan(measured, [replace(ONE, count=pieces)], kerf, most=most)
    sets = [some for size in range(min(most, len(measured)) + 1) for some in combinations(measured, size)]
    made = max(min(pieces, sum(gives[one.key] for one in some)) for some in sets)
    bulk = min(
        sum(one.bulk for one in some)
        for some in sets
        if min(pieces, sum(gives[one.key] for one in some)) == made
    )
    by_key = {one.key: one for one in measured}
    assert pieces - sum(found.short.values()) == made
    assert sum(by_key[cut.stock].bulk for cut in found.patterns) == bulk


def test_many_orders_of_one_kind_are_one_kind() -> None:
    """Twelve orders share the antlers: each of them a kind of its own would be cut in too many ways."""
    there = shop(antlers("700 mm", "700 mm", "700 mm"), lossless())
    evening = Evening.of(there, [order(f"order {at:02}", 2, blank=goods.ANTLER) for at in range(12)])
    (session,) = evening.report.sessions
    found_ = cut_together(evening.report.shop, session.rows)
    assert (found_.short, found_.proven, sum(m for c in found_.cuts for _, m in c.pieces)) == ((), True, 24)
