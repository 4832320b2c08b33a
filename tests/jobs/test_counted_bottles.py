"""Bottles counted and weighed, full and open ones apart."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from typing import Any

import pytest

from inventory.catalogue import Part, Supply
from inventory.errors import BadSheet
from inventory.jobs.counting.count_booking import book_count
from inventory.ledger.shop import Shop
from inventory.reports.filled import FilledCount
from jobs import goods
from jobs.shop import TODAY, Stock, shop

from .counting_case import MARK, count, row, sheet

CA = Part(goods.GLUE, Supply("adhesive", 50_000, 12_000, 365, 90, (), Fraction(105, 100)), "ml")


def bottles(*lots: tuple[int, Any]) -> tuple[Shop, list[int]]:
    """A shop with lots of thin CA in bottles of 50 ml: how much, and the day they were opened."""
    stock = Stock()
    numbers = [
        stock.lot(goods.GLUE, many, many // 50, received_on=TODAY, opened_on=opened) for many, opened in lots
    ]
    return shop(stock, goods.catalogue().with_parts(CA)), numbers


def weighed(lot: int, full: int | None, inside: int | None, second: int | None = None) -> FilledCount:
    """Full ones and the open one on the scale."""
    said = row(goods.GLUE, ((full or 0) * 50_000 + (inside or 0)) / 1000, lot=lot)
    return replace(said, second=second, full=full, inside=inside, error=40)


def left(here: Shop) -> list[tuple[int, Any]]:
    """Quantity and day of opening of every lot of thin CA."""
    return [(lot.quantity, lot.opened_on) for lot in here.book.lots_of(goods.GLUE)]


def test_full_ones_and_the_open_one_are_counted_apart() -> None:
    """Of three sealed bottles one is found open: it is a lot of its own, opened today at the latest, with its cost."""
    here, (number,) = bottles((150_000, None))
    report, after = count(here, weighed(number, 2, 44_000), as_counted=True)
    assert left(after) == [(100_000, None), (44_000, TODAY)]
    assert report.found[0].difference.difference == -6000
    worth = sum(lot.cost for lot in after.book.lots_of(goods.GLUE))
    assert worth - 3000 == report.cost == -120
    _, same = count(here, weighed(number, 3, None))
    assert left(same) == left(here)


def test_an_open_one_is_weighed_in_its_own_row() -> None:
    """It keeps the day it was opened, whether there is less in it than booked or more."""
    here, (full, opened) = bottles((100_000, None), (31_000, TODAY - timedelta(days=9)))
    for inside in (29_000, 33_000):
        _, after = count(here, weighed(full, 2, None), weighed(opened, None, inside))
        assert sum(many for many, day in left(after) if day) == inside
        assert {day for _, day in left(after)} == {None, TODAY - timedelta(days=9)}


def test_what_one_lot_lacks_is_not_what_another_was_opened_from() -> None:
    """A sealed bottle is found open, another one emptier: each keeps its own receipt and cost."""
    here, (opened, full) = bottles((31_000, TODAY - timedelta(days=9)), (50_000, None))
    _, after = count(here, weighed(opened, None, 30_000), weighed(full, 0, 45_000), as_counted=True)
    days = {TODAY - timedelta(days=9): 30_000, TODAY: 45_000}
    assert left(after) == [(many, day) for day, many in days.items()]
    assert [lot.cost for lot in after.book.lots_of(goods.GLUE)] == [600, 900]


def test_a_count_of_bottles_that_leaves_something_open_is_asked_about() -> None:
    """How many full ones, where there may be some; the open one's weight, where there is one by the book."""
    here, (number,) = bottles((130_000, None))
    for said, asked in (
        (weighed(number, None, 20_000), "How many full ones"),
        (weighed(0, 2, None), "one is open"),
    ):
        with pytest.raises(BadSheet) as stop:
            book_count(here, sheet(said), MARK)
        assert asked in stop.value.where[0].problem


def test_a_second_look_at_a_bottle_agrees_as_far_as_the_scale_tells() -> None:
    """One millilitre apart it is the same count; more apart a third one is asked for."""
    here, (number,) = bottles((150_000, None))
    report, after = count(here, weighed(number, 1, 20_000, second=71_000))
    assert (report.asked_again, sum(many for many, _ in left(after))) == ((), 70_000)
    kitchen = replace(
        weighed(number, 1, 20_000, second=71_200), error=600
    )  # a scale that shows twos of grams
    assert count(here, kitchen)[0].asked_again == ()
    for apart in (weighed(number, 1, 20_000, second=71_001), replace(kitchen, second=71_201)):
        with pytest.raises(BadSheet, match="One count"):
            book_count(here, sheet(apart), MARK)
