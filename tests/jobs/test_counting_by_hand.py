"""Small rules of counting, each at the place where it begins to hold."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from inventory.catalogue import Part, Supply
from inventory.errors import Place
from inventory.jobs.counting.cost_corrections import _correction
from inventory.jobs.counting.count_rows import CountedRow, _uncounted
from inventory.jobs.counting.doubts import unlikely_cost
from inventory.jobs.counting.what_to_count import classes, in_containers, worth_counting
from inventory.ledger import Count, Lot
from inventory.ledger.costs import SAID, UNKNOWN, Saying
from inventory.reports.filled import FilledCount
from jobs import goods
from jobs.shop import EUR, TODAY, Stock, shop

HERE = Place("counts.csv", "counts", 2)
BOTTLES = Part(goods.GLUE, Supply("adhesive", 50_000, 12_000, density=Fraction(1)), "ml")


@pytest.mark.parametrize(
    ("part", "said", "error"), [("ml", 0, 408), ("ml", 300, 300), ("piece", 0, 0), ("piece", 9, 9)]
)
def test_what_a_count_may_be_off_by(part: str, said: int, error: int) -> None:
    """Read to one unit twice: 1000 · √2 / √12 is 408.2; as weighed; pieces are counted exactly."""
    row = CountedRow(replace(BOTTLES, unit=part), None, FilledCount(HERE, goods.GLUE, 4000, error=said), 5000)
    assert (row.checked.error, row.checked.expected, row.checked.counted) == (error, 5000, 4000)


@pytest.mark.parametrize(
    ("lots", "full", "inside", "asked"),
    [
        ((150_000,), None, 3000, "How many full ones"),
        ((110_000,), None, 3000, "How many full ones"),
        ((60_000,), None, 3000, "How many full ones"),
        ((50_000, 9000), None, 3000, "How many full ones"),
        ((50_000,), None, 3000, ""),
        ((9000,), None, 3000, ""),
        ((), None, 3000, ""),
        ((60_000,), 1, None, "weigh it too"),
        ((100_000,), 1, None, ""),
        ((60_000,), 1, 3000, ""),
        ((60_000,), None, None, ""),
    ],
)
def test_full_ones_and_the_open_one_are_counted_both(
    lots: tuple[int, ...], full: int | None, inside: int | None, asked: str
) -> None:
    """In bottles of 50 ml: one alone needs no full ones; where by the book one is open it is weighed."""
    there = [Lot(n, goods.GLUE, "", TODAY, many, 1) for n, many in enumerate(lots, 1)]
    said = _uncounted(BOTTLES, there, FilledCount(HERE, goods.GLUE, 4000, full=full, inside=inside))
    assert asked in said
    assert bool(said) is bool(asked)


def test_one_cost_or_two_are_the_usual() -> None:
    part = goods.catalogue().part(goods.REFILL)
    far = Fraction(9999)
    one = unlikely_cost(part, far, (Fraction(100), Fraction(100)), EUR)
    two = unlikely_cost(part, far, (Fraction(100), Fraction(200)), EUR)
    assert one.endswith("is far from the usual 1.00 EUR.")
    assert two.endswith("is far from the usual 1.00 EUR to 2.00 EUR.")


def test_what_costs_nothing_is_said_to_cost_nothing() -> None:
    """A unit cost of 0 is one: of what nobody knew the cost of, and of what was said to cost 0.30."""
    row = Count(goods.TUBE, 3000, Fraction(0), place=HERE)
    lot = Lot(7, goods.TUBE, "", TODAY, 3000, 30, cost_from=UNKNOWN)
    found = _correction(row, lot, None)
    assert found is not None
    assert (found.was, found.now, found.unit_cost) == (None, 0, Fraction(0))
    known = replace(lot, cost_from=SAID)
    before = Saying("opening", 3000, 30, 3000, 30)
    assert _correction(row, known, None) is None
    again = _correction(row, known, before)
    assert again is None or (again.was, again.now) == (30, 0)


def test_what_is_worth_nothing_is_of_the_last_class() -> None:
    """Whatever its place; of things of one value each goes by what comes before it."""
    assert classes({"a": 0, "b": 0}) == {"a": "C", "b": "C"}
    assert classes({"a": 1, "b": 0}) == {"a": "A", "b": "C"}
    assert classes(dict.fromkeys("abcdefghij", 1)) == dict(zip("abcdefghij", "AAAAAAABBB", strict=True))


def test_any_rest_of_a_part_is_worth_counting() -> None:
    """A thousandth of a strip is there; of what there is none of nothing is."""
    for there, names in ((1, [goods.STRIP]), (0, [])):
        stock = Stock()
        if there:
            stock.lot(goods.STRIP, there)
        assert [one.part.name for one in worth_counting(shop(stock), {}, 9)] == names


@pytest.mark.parametrize(
    ("detail", "unit", "known"),
    [
        (Supply("adhesive", 50_000, 12_000, density=Fraction(1)), "ml", True),
        (Supply("adhesive", 50_000, 12_000), "ml", False),
        (Supply("adhesive", 50_000, 12_000), "g", True),
        (Supply("adhesive", None, 12_000), "g", False),
        (Supply("adhesive", 50_000, None), "g", False),
    ],
)
def test_what_is_counted_in_containers(detail: Supply, unit: str, known: bool) -> None:
    """Where the net and the empty one's weight are known, and what a millilitre weighs."""
    assert in_containers(Part(goods.GLUE, detail, unit)) is known
