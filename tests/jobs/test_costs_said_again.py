"""A unit cost that a counts sheet says of what is there: used, said before, or told as not used."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from inventory.errors import Place
from inventory.jobs.counting.cost_corrections import corrections, not_used
from inventory.ledger import Book, Count
from inventory.ledger.costs import UNKNOWN, Saying
from jobs import goods
from jobs.shop import Stock

ROW = Count(goods.GLUE, 50_000, Fraction(20), place=Place("counts.csv", "counts", 4))
BY_PARCEL = Saying("arrived", 50_000, 900, 50_000, 900)


def of(**lot: object) -> Book:
    """50 ml of glue that cost 9.00."""
    stock = Stock()
    stock.lot(goods.GLUE, 50_000, 900)
    stock.lots[0] = replace(stock.lots[0], **lot)  # type: ignore[arg-type]  # fields by name
    return stock.book


@pytest.mark.parametrize(
    ("book", "said", "corrected", "told"),
    [
        (of(), BY_PARCEL, False, True),
        (of(), replace(BY_PARCEL, word="opening"), True, False),
        (of(), replace(BY_PARCEL, word="opening", cost=1000), False, False),
        (of(), replace(BY_PARCEL, cost=1000), False, True),
        (of(), replace(BY_PARCEL, later=True), True, False),
        (of(cost_from=UNKNOWN), BY_PARCEL, True, False),
        (of(id=-1), BY_PARCEL, False, False),
        (of(id=1), replace(BY_PARCEL, word="opening"), True, False),
        (of(id=1), replace(BY_PARCEL, word="opening", cost=1000), False, False),
        (Book(), BY_PARCEL, False, False),
    ],
)
def test_what_becomes_of_a_unit_cost(book: Book, said: Saying, corrected: bool, told: bool) -> None:
    """A parcel's goods keep what was paid, a count corrects a count, a new lot takes it; nothing is told twice."""
    found = corrections([ROW], book, lambda lots: dict.fromkeys(lots, said))
    assert [(one.now, one.unit_cost) for one in found] == ([(1000, Fraction(20))] if corrected else [])
    notes = list(not_used([ROW], book, found, lambda lots: dict.fromkeys(lots, said)))
    assert [("row 4" in note, "“unit cost” is not used" in note) for note in notes] == [(True, True)] * told


def test_a_cost_that_one_of_the_lots_takes_is_used() -> None:
    """What a parcel brought keeps what was paid, what the same row found beside it costs what the row says."""
    stock = Stock()
    stock.lot(goods.GLUE, 50_000, 900)
    stock.lots.append(replace(stock.lots[0], id=-1))
    assert not list(not_used([ROW], stock.book, (), lambda lots: dict.fromkeys(lots, BY_PARCEL)))


def test_another_part_is_none_of_it() -> None:
    """A row of a part the book has nothing of says nothing of others."""
    assert not corrections([replace(ROW, part=goods.TUBE)], of(), lambda _: {})
    assert not list(not_used([replace(ROW, part=goods.TUBE)], of(), (), lambda _: {}))
