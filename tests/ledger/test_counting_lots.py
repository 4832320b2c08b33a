"""Counts of lots that tell themselves apart: by the day they were opened, their name, their use-by."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jobs import goods
from jobs.shop import TODAY, Stock
from searching import examples

from inventory.ledger import Count, Lot
from inventory.ledger.counting.differences import Counted, Difference, book_counts
from inventory.ledger.counting.lots import alike
from inventory.measures import read_length

from .test_counting import after

DAY = TODAY - timedelta(days=20)


def lots_of(stock: Stock) -> list[tuple[str, int, int, object, object]]:
    """Name, quantity, cost, day of opening and use-by of every lot."""
    return [(lot.name, lot.quantity, lot.cost, lot.opened_on, lot.use_by) for lot in stock.lots]


def counted(stock: Stock, *rows: Count) -> tuple[Stock, Counted]:
    """The stock after a count, and the count."""
    done = book_counts(rows, stock.book)
    return after(stock, done), done


def test_the_day_a_bottle_was_opened_is_kept() -> None:
    """A row of a lot that is there says when it was opened: its content carries that day, and its cost."""
    stock = Stock()
    stock.lot(goods.GLUE, 50_000, 781, name="sealed")
    later, done = counted(stock, Count(goods.GLUE, 45_000, lot="sealed", opened_on=DAY, container=50_000))
    assert lots_of(later) == [("sealed", 45_000, 702, DAY, None)]
    assert sum(line.cost for line in done.lines) == 702 - 781
    again, done = counted(later, Count(goods.GLUE, 45_000, lot="sealed", opened_on=DAY, container=50_000))
    assert (lots_of(again), done.lines) == (lots_of(later), [])


def test_one_of_three_bottles_was_opened() -> None:
    """130 ml opened on a day are two full ones, sealed, and 30 ml that were opened."""
    stock = Stock()
    stock.lot(goods.GLUE, 150_000, 3000, name="A")
    later, done = counted(stock, Count(goods.GLUE, 130_000, lot="A", opened_on=DAY, container=50_000))
    assert lots_of(later) == [("A", 100_000, 2000, None, None), ("A", 30_000, 600, DAY, None)]
    assert counted(later, Count(goods.GLUE, 130_000, lot="A", opened_on=DAY, container=50_000))[1].lines == []
    first, _ = counted(
        Stock(), Count(goods.GLUE, 130_000, Fraction(7), lot="A", opened_on=DAY, container=50_000)
    )
    assert lots_of(first) == [("A", 30_000, 210, DAY, None), ("A", 100_000, 700, None, None)]
    assert done.differences == [Difference(goods.GLUE, 150_000, 130_000)]


def test_a_renamed_lot_keeps_its_cost() -> None:
    """The old name with 0 and the new one with what is in it: the cost moves along, whatever the row says it costs."""
    stock = Stock()
    stock.lot(goods.GLUE, 50_000, 781, name="shelf", received_on=DAY)
    rows = Count(goods.GLUE, 0, lot="shelf"), Count(goods.GLUE, 50_000, Fraction(20), lot="door")
    later, done = counted(stock, *rows)
    assert lots_of(later) == [("door", 50_000, 781, None, None)]
    assert (done.lots[0].received_on, done.differences, done.notes) == (DAY, [], [])


def test_a_bottle_is_known_again_by_the_day_it_was_opened() -> None:
    """Another name and the same day of opening: it is that bottle. Without one it is a lot found, and that is said."""
    stock = Stock()
    stock.lot(goods.GLUE, 31_000, 527, name="opened", opened_on=DAY, use_by=TODAY)
    later, done = counted(stock, Count(goods.GLUE, 30_000, lot="door", opened_on=DAY))
    assert lots_of(later) == [("door", 30_000, 510, DAY, TODAY)]
    assert done.notes == []
    both, done = counted(stock, Count(goods.GLUE, 30_000, lot="door"))
    assert sum(lot.quantity for lot in both.lots) == 61_000
    assert done.notes == [
        f"{goods.GLUE}: no row speaks of opened {DAY.isoformat()}, which stays as it is. "
        "If “door” is a new name for it, give the old one a row with 0."
    ]


def test_a_use_by_read_off_later_is_kept() -> None:
    """The lot's last day is what the row says; what the row leaves open stays."""
    stock = Stock()
    stock.lot(goods.GLUE, 31_000, 527, name="A", opened_on=DAY)
    later, done = counted(stock, Count(goods.GLUE, 31_000, lot="A", use_by=TODAY))
    assert lots_of(later) == [("A", 31_000, 527, DAY, TODAY)]
    assert done.differences == []


def test_a_day_of_opening_corrected() -> None:
    """The bottle was opened on another day than the book thought; what is found beyond it costs like it."""
    stock = Stock()
    stock.lot(goods.GLUE, 30_000, 300, name="A", opened_on=DAY)
    later, _ = counted(stock, Count(goods.GLUE, 40_000, lot="A", opened_on=TODAY))
    assert lots_of(later) == [("A", 30_000, 300, TODAY, None), ("A", 10_000, 100, TODAY, None)]


def test_more_of_an_opened_lot_keeps_its_receipt() -> None:
    """What is found of a bottle beyond what moved was in it: it came with it and goes off with it."""
    stock = Stock()
    stock.lot(goods.GLUE, 45_000, 450, name="A", received_on=DAY, use_by=TODAY, opened_on=DAY)
    for rows in ([Count(goods.GLUE, 50_000, lot="A")], [Count(goods.GLUE, 50_000, lot="A", opened_on=TODAY)]):
        done = book_counts(rows, stock.book)
        assert {(lot.received_on, lot.use_by) for lot in done.lots} == {(DAY, TODAY)}
        assert {lot.opened_on for lot in done.lots} == {rows[0].opened_on or DAY}


names = st.sampled_from(("", "A", "B", "sealed"))
opened_days = st.none() | st.sampled_from((DAY, TODAY))
kept = st.tuples(names, st.integers(1, 180_000), st.integers(0, 3000), opened_days)
said = st.tuples(names, st.integers(0, 180_000), opened_days, st.none() | st.just(TODAY))


@examples(80)
@given(lots=st.lists(kept, max_size=4), rows=st.lists(said, min_size=1, max_size=4), net=st.booleans())
def test_bottles_counted_keep_what_they_cost_and_are_counted_once(
    lots: list[tuple[str, int, int, date | None]],
    rows: list[tuple[str, int, date | None, date | None]],
    net: bool,
) -> None:
    """In = out + left: cost comes only with what is found; and the same count again changes nothing."""
    stock = Stock()
    for name, quantity, cost, opened in lots:
        stock.lot(goods.GLUE, quantity, cost, name=name, opened_on=opened)
    container = 50_000 if net else None
    counts = [
        Count(goods.GLUE, quantity, None, name, None, opened, use_by, container=container)
        for name, quantity, opened, use_by in rows
    ]
    later, done = counted(stock, *counts)
    lines = [line for line in done.lines if line.account == "shelf"]
    worth = sum(lot.cost for lot in stock.lots)
    assert sum(lot.cost for lot in later.lots) == worth + sum(line.cost for line in lines)
    found = [line for line in lines if line.reason in ("found", "opening")]
    gone = [line for line in lines if line.reason == "not found"]
    moved = [line for line in lines if line.reason == "moved"]
    assert (sum(line.quantity for line in moved), sum(line.cost for line in moved)) == (0, 0)
    assert not (found and gone)
    if any(not row[0] for row in rows):
        assert sum(lot.quantity for lot in later.lots) == sum(row[1] for row in rows)
    twice, again = counted(later, *counts)
    assert [line for line in again.lines if line.reason in ("found", "not found")] == []
    assert lots_of(twice) == lots_of(later) or sum(line.quantity for line in again.lines) == 0


@pytest.mark.parametrize(
    ("rows", "left"),
    [
        ([Count(goods.GLUE, 7000, lot="A"), Count(goods.GLUE, 6000, lot="B")], [7000, 5000, 1000]),
        (
            [
                Count(goods.GLUE, 7000, lot="A"),
                Count(goods.GLUE, 4000, lot="B"),
                Count(goods.GLUE, 500, lot="C"),
            ],
            [7000, 4000, 500],
        ),
    ],
)
def test_what_is_out_of_date_is_asked_of_the_lots_as_found(rows: list[Count], left: list[int]) -> None:
    """Not of what the book thought: 10 and 5 ml there, less or more or another bottle found."""
    stock = Stock()
    for name, quantity in (("A", 10_000), ("B", 5000)):
        stock.lot(goods.GLUE, quantity, 100, name=name)
    asked: list[list[int]] = []

    def off(_: str, lots: Iterable[Lot]) -> int:
        asked.append([lot.quantity for lot in lots])
        return 0

    book_counts(rows, stock.book, off=off)
    assert asked == [left]


def test_rows_that_say_most_of_their_lots_speak_first() -> None:
    """A lot's number, then a size there is, then a name, then none: the rows of each together, in their order."""
    size = read_length("20 mm")
    lots = [
        Lot(5, goods.ANTLER, "", None, 1000, 0),
        Lot(6, goods.ANTLER, "b", None, 1000, 0, smallest_diameter=size, length=size),
    ]
    assert lots[1].measured
    bare, named = Count(goods.ANTLER, 1000), Count(goods.ANTLER, 2000, lot="a")
    sized = Count(goods.ANTLER, 3000, lot="b", smallest_diameter=size, length=size)
    numbered, other = Count(goods.ANTLER, 4000, number=5), Count(goods.ANTLER, 500, number=5)
    found = alike([bare, named, sized, numbered, other], lots)
    assert found == [[numbered, other], [sized], [named], [bare]]


def test_what_is_out_of_date_is_asked_of_the_lots_as_they_will_be() -> None:
    """What moved from one bottle to another, and what was found in it besides, none of it claimed."""
    stock = Stock()
    stock.lot(goods.GLUE, 50_000, 781, name="sealed")
    asked: list[list[tuple[str, int, int]]] = []

    def off(_: str, lots: Iterable[Lot]) -> int:
        asked.append([(lot.name, lot.quantity, lot.claimed) for lot in lots])
        return 0

    rows = Count(goods.GLUE, 40_000, lot="sealed"), Count(goods.GLUE, 30_000, Fraction(20), lot="door")
    book_counts(rows, stock.book, off=off)
    assert asked == [[("sealed", 40_000, 0), ("door", 10_000, 0), ("door", 20_000, 0)]]
