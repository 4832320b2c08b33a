"""Any run of promises, releases and hand-overs keeps the book sound and its cost whole."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.catalogue import Order
from inventory.errors import Refused
from inventory.jobs.orders.handing_over import HandingOver, hand_over
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.promising import promise, release
from inventory.jobs.orders.requests import request_of
from inventory.ledger.shop import Shop
from jobs import goods
from jobs.booking import booked
from jobs.shop import TODAY, order, plenty, shop


def take(here: Shop, one: Order) -> Shop:
    """The shop once the order is promised."""
    return booked(here, promise(here, one, check(here, request_of(one))))


def worth(here: Shop) -> int:
    """The cost of everything on the shelf."""
    return sum(lot.cost for lots in here.book.lots.values() for lot in lots)


steps = st.lists(
    st.tuples(st.sampled_from(["promise", "release", "hand"]), st.integers(0, 3), st.integers(0, 2)),
    max_size=8,
)


@examples(25)
@given(steps, st.lists(st.integers(1, 12), min_size=4, max_size=4))
def test_any_run_of_promises_keeps_the_book_sound(run: list[tuple[str, int, int]], there: list[int]) -> None:
    """Nothing below nothing, claims within the shelf, cost conserved: after every document (see `booking.sound`)."""
    stock = plenty().without(goods.CHROME_KIT, goods.TUBE, goods.OLIVE, goods.FINISH)
    for part, pieces in zip((goods.CHROME_KIT, goods.TUBE, goods.OLIVE), there, strict=False):
        stock.lot(part, 1000 * pieces, 137 * pieces)
    stock.lot(goods.FINISH, 5000 * there[3], 77)
    for name in "ab":
        stock.measured(name, "20 mm", "70 mm", 55)
    here, spent = shop(stock), 0
    start = worth(here)
    for kind, which, lost in run:
        name, blank = "ABCD"[which], goods.ANTLER if which % 2 else goods.OLIVE
        one = here.book.orders.get(name.casefold()) or order(name, 1 + which, blank=blank)
        due = TODAY + timedelta(days=5 - which)
        try:
            if kind == "promise":
                here = take(here, replace(one, due=due))
            elif kind == "release":
                here = booked(here, release(here, one))
            else:
                done = hand_over(here, one, HandingOver(lost={"turn": lost}))
                # what was not in the book is found at what its offer says: that much came in
                spent += done.cost - sum(line.cost for line in done.proposal.lines if line.reason == "found")
                here = booked(here, done.proposal)
        except Refused:
            continue
        assert start == worth(here) + spent
