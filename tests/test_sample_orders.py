"""The sample loads as one piece, and its six orders stand as sample_stock/README.md says."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from functools import cache

import pytest
from sample_sheets import HERE, REQUIRED, TODAY, parts, tab

from inventory.catalogue import Catalogue, fold
from inventory.jobs.orders.order_check import OrderReport, check
from inventory.jobs.orders.requests import request_of
from inventory.ledger import Balance, Book, Intake, Lot
from inventory.ledger.counting.counts import Count
from inventory.ledger.shop import Shop
from inventory.measures import currency
from inventory.sheets.stock.reader import read_sheets

EURO = currency("EUR")


@cache
def intake() -> Intake:
    """The whole folder, read in one go."""
    return read_sheets([HERE], Catalogue(), {}, EURO, today=TODAY)


def shelf(counts: Sequence[Count]) -> Book:
    """The counts as a book: one lot a row, first received first."""
    lots: dict[str, list[Lot]] = defaultdict(list)
    totals: dict[str, int] = defaultdict(int)
    for number, row in enumerate(sorted(counts, key=lambda row: row.received_on or date.max)):
        cost = round((row.unit_cost or 0) * row.quantity / 1000)
        life = (row.opened_on, row.use_by, row.smallest_diameter, row.length)
        lot = Lot(number, row.part, row.lot, row.received_on, row.quantity, cost, 0, *life)
        totals[fold(row.part)] += row.quantity
        if row.quantity:
            lots[fold(row.part)].append(lot)
    balances = {part: Balance(on_hand=total) for part, total in totals.items()}
    return Book(balances=balances, lots={part: tuple(rows) for part, rows in lots.items()})


def shop() -> Shop:
    """The sample on the day its README tells of, a US dollar at 92 cents of the euro."""
    sample = intake()
    dollar = {"rate USD": "0.92"}
    return Shop(sample.catalogue, shelf(sample.counts), EURO, TODAY, dollar, sample.catalogue.offers)


def answer(order: str, at: Shop | None = None) -> OrderReport:
    """What can-take makes of one order of the sample."""
    request = next(one for one in intake().orders if one.name == order)
    return check(at or shop(), request_of(request))


def test_sample_loads_whole() -> None:
    """Every tab and row is taken, with nothing to remark."""
    sample = intake()
    assert dict(sample.rows) == {name: len(tab(name)) for name in REQUIRED}
    assert {part.name for part in sample.catalogue.parts.values()} == set(parts())
    assert sample.notes == ()


@pytest.mark.parametrize(
    ("order", "verdict", "earliest"),
    [
        ("S41", "from the shelf", TODAY),
        ("S42", "after buying", date(2026, 12, 1)),
        ("S43", "too late", date(2026, 12, 23)),
        ("S44", "cannot", None),
        ("S45", "from the shelf", TODAY),
        ("S46", "from the shelf", TODAY),
    ],
)
def test_orders_stand_as_told(order: str, verdict: str, earliest: date | None) -> None:
    """One from the shelf, one after three days, one too late by the overseas parcel, one not at all, two compete."""
    said = answer(order)
    assert (said.verdict, said.earliest) == (verdict, earliest)


@pytest.mark.parametrize(
    ("order", "missing"),
    [
        ("S41", set()),
        ("S42", {"tube 7 x 53", "accelerator", "Dunlin kit gunmetal", "dry strip P320"}),
        ("S43", {"Sanderling kit rhodium", "gel refill for click pens black"}),
        ("S44", {"Whimbrel kit antique copper", "trimmer pilot 33/64"}),
    ],
)
def test_orders_miss_what_was_planted(order: str, missing: set[str]) -> None:
    """What is short is what the README tells of, and nothing else."""
    assert {need.part.name for need in answer(order).plan.parts if need.short} == missing


def test_the_loser_of_the_last_kit_is_too_late() -> None:
    """With the kit claimed by S45, S46 has to wait for the overseas parcel."""
    now = shop()
    kit = fold("Curlew kit black titanium")
    claimed = {**now.book.balances, kit: replace(now.book.balance(kit), claimed=1000)}
    then = replace(now, book=replace(now.book, balances=claimed))
    assert answer("S46", then).verdict == "too late"


def test_measured_antler_is_cut_with_care() -> None:
    """The seam rippers come from antlers that are long and thick enough; the thin and the short one stay."""
    plan = answer("S41").plan.blanks
    assert {cut.name for cut in plan.cuts} <= {"antler A", "antler B", "antler D", "antler E", "antler F"}
    assert sum(cut.pieces for cut in plan.cuts) >= 2
    assert len(plan.unfit) == 2
