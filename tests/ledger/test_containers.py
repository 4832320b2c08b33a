"""Containers: so many full ones and one that is open; the first use opens one, and it keeps from that day."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jobs.shop import Stock
from searching import examples

from inventory.catalogue import Part, Supply
from inventory.jobs.stock.drawing import Purpose, take
from inventory.ledger import Lot
from inventory.ledger.bottles.containers import called, full_and_open, net_of, to_open
from inventory.ledger.bottles.shelf_life import use_by
from inventory.ledger.documents.drafting import Draft
from inventory.ledger.fifo import share

DAY = date(2026, 11, 28)
CA = Part("thin CA", Supply("adhesive", 50_000, 12_000, 365, 90), "ml")
BULK = Part("wax", Supply("finish", keeps_opened=30), "g")
PADS = Part("pads", Supply("abrasive", 100_000), "piece")


def lot(quantity: int, opened: date | None = None, name: str = "") -> Lot:
    """A lot of thin CA."""
    return Lot(1, CA.name, name, None, quantity, 0, opened_on=opened)


@pytest.mark.parametrize(
    ("quantity", "opened", "full", "inside"),
    [
        (150_000, None, 3, 0),
        (130_000, None, 2, 30_000),
        (30_000, None, 0, 30_000),
        (30_000, DAY, 0, 30_000),
        (50_000, DAY, 0, 50_000),
        (130_000, DAY, 2, 30_000),
        (100_000, DAY, 1, 50_000),
    ],
)
def test_full_ones_and_the_open_one(quantity: int, opened: date | None, full: int, inside: int) -> None:
    """Quantity = full · net + what is in the open one; an opened lot has one open at least."""
    assert full_and_open(CA, lot(quantity, opened)) == (full, inside)


def test_what_comes_in_no_containers() -> None:
    """Whole things are none, and of a supply without a net content nobody knows how many there are."""
    assert (net_of(PADS), net_of(BULK), net_of(CA)) == (None, None, 50_000)
    assert full_and_open(BULK, lot(7000)) == (0, 7000)
    assert (to_open(PADS, lot(300_000)), to_open(BULK, lot(7000)), to_open(CA, lot(7000, DAY))) == (
        0,
        7000,
        0,
    )


def test_what_a_lot_is_called() -> None:
    """By its name and the day it was opened; a name that only says sealed or opened is not repeated."""
    assert [called(lot(1, day, name)) for name in ("", "sealed", "batch 7") for day in (None, DAY)] == [
        "lot 1",
        "opened 2026-11-28",
        "sealed",
        "opened 2026-11-28",
        "batch 7",
        "batch 7, opened 2026-11-28",
    ]


def test_the_first_use_opens_one_bottle_of_three() -> None:
    """Two stay sealed with their own last day; the open one keeps three months from the day of the work."""
    stock = Stock()
    number = stock.lot(CA.name, 150_000, 2342, name="batch 7", received_on=date(2026, 10, 9))
    draft = Draft(stock.book, worked_on=DAY - timedelta(days=1))
    for _ in range(2):
        take(draft, CA, 4000, Purpose("Reed", "used", DAY), [(number, 50_000)])
    sealed, opened = draft.book.lots_of(CA.name)
    assert (sealed.quantity, sealed.opened_on, use_by(CA, sealed)) == (100_000, None, date(2027, 10, 9))
    assert (opened.quantity, opened.opened_on, opened.name) == (42_000, DAY - timedelta(days=1), "batch 7")
    assert use_by(CA, opened) == DAY + timedelta(days=89)
    assert sealed.cost + opened.cost == 2342 + sum(line.cost for line in draft.lines if line.reason == "used")
    assert len(draft.lots) == 1


def test_nothing_is_opened_before_it_came_or_while_another_is_open() -> None:
    """A session planned for before the parcel came opens its bottle on the parcel's day; the open one goes first."""
    stock = Stock()
    stock.lot(CA.name, 50_000, 800, received_on=DAY)
    stock.lot(CA.name, 9000, 100, received_on=DAY, opened_on=DAY)
    draft = Draft(stock.book, worked_on=DAY - timedelta(days=9))
    take(draft, CA, 8000, Purpose(None, "used", DAY))
    assert draft.lots == []
    take(draft, CA, 2000, Purpose(None, "used", DAY))
    assert [new.opened_on for new in draft.lots] == [DAY]


def test_a_bottle_used_up_at_once_leaves_no_lot() -> None:
    """Two whole ones go straight from the sealed lot, the third is opened."""
    stock = Stock()
    stock.lot(CA.name, 150_000, 1000)
    draft = Draft(stock.book)
    drawn = take(draft, CA, 120_000, Purpose(None, "used", DAY))
    assert (drawn.quantity, drawn.cost, drawn.found) == (120_000, 333 + 333 + 133, 0)
    assert [(one.quantity, one.opened_on) for one in draft.book.lots_of(CA.name)] == [(30_000, DAY)]


lots = st.lists(
    st.tuples(st.integers(1, 200_000), st.integers(0, 5000), st.booleans()), min_size=1, max_size=4
)


@examples(40)
@given(lots=lots, draws=st.lists(st.integers(1, 90_000), max_size=8), named=st.booleans())
def test_opening_loses_nothing(lots: list[tuple[int, int, bool]], draws: list[int], named: bool) -> None:
    """In = out + left in quantity and cost; at most one container is open that no lot was before."""
    stock = Stock()
    for quantity, cost, opened in lots:
        stock.lot(CA.name, quantity, cost, opened_on=DAY if opened else None)
    draft = Draft(stock.book)
    first = stock.lots[0].id
    whole, worth = sum(one[0] for one in lots), sum(one[1] for one in lots)
    for quantity in draws:
        take(draft, CA, quantity, Purpose(None, "used", DAY), [(first, quantity)] if named else ())
    left = draft.book.lots_of(CA.name)
    went = [line for line in draft.lines if line.reason == "used"]
    found = [line for line in draft.lines if line.reason == "found"]
    whole, worth = whole + sum(one.quantity for one in found), worth + sum(one.cost for one in found)
    assert sum(one.quantity for one in left) - sum(line.quantity for line in went) == whole
    assert sum(one.cost for one in left) - sum(line.cost for line in went) == worth
    assert sum(line.quantity for line in draft.lines if line.reason == "opened") == 0
    assert sum(line.cost for line in draft.lines if line.reason == "opened") == 0
    assert sum(1 for one in left if one.opened_on and one.id < 0) <= 1
    assert all(one.quantity <= 50_000 for one in left if one.opened_on and one.id < 0)
    assert sum(draws) == -sum(line.quantity for line in went)


def test_a_share_of_nothing_left() -> None:
    """The last of a lot takes all the cost that is left, whether it is opened or used."""
    assert share(50_000, 781, 50_000) == 781
