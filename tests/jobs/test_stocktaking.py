"""What to count: drawers by name, the few most worth it by value, doubt and time; and the sheet for them."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction

import pytest

from inventory.catalogue import Part, Supply, fold
from inventory.errors import UnknownName
from inventory.jobs.counting.what_to_count import EVERY, classes, count_sheet, rated, select, worth_counting
from inventory.jobs.stock.shelf import Filters
from jobs import goods
from jobs.shop import TODAY, Stock, plenty, shop


@pytest.mark.outside
def test_classes_of_the_published_example() -> None:
    """Heizer and Render, Operations Management, ch. 12, example 1 (read in a copy): ten items, classed as there."""
    values = {
        "10286": 90_000,
        "11526": 77_000,
        "12760": 26_350,
        "10867": 15_001,
        "10500": 12_500,
        "12572": 8_502,
        "14075": 1_200,
        "01036": 850,
        "01307": 504,
        "10572": 150,
    }
    assert sum(values.values()) == 232_057
    assert "".join(classes(values)[key] for key in values) == "AABBBCCCCC"


@pytest.mark.outside
def test_cycle_counting_of_the_published_example() -> None:
    """The same chapter, example 2 (from memory): A monthly, B quarterly, C twice a year; 500 + 1750 + 2750 items are
    77 a day.  The book counts in working days, twenty a month; the shop in days, thirty a month.
    """
    a_day = [
        round(Fraction(many, EVERY[group] * 20 // 30))
        for group, many in zip(EVERY, (500, 1750, 2750), strict=True)
    ]
    assert (a_day, sum(a_day)) == ([25, 29, 23], 77)


def test_classes_without_value() -> None:
    """What cost nothing is C, beside dear things and where nothing cost anything; one thing alone is A."""
    assert classes({"kit": 5, "gift": 0}) == {"kit": "A", "gift": "C"}
    assert classes({"gift": 0, "rest": 0}) == {"gift": "C", "rest": "C"}
    assert classes({}) == {}


def test_score_is_days_over_the_days_of_its_class() -> None:
    """Kits make up most of the value, epoxy hardly any: the same 45 days weigh three times or six times as much."""
    counted = {
        fold(name): TODAY - timedelta(days=45) for name in (goods.CHROME_KIT, goods.OLIVE, goods.EPOXY)
    }
    known = shop().catalogue
    kit, blank, glue, never = rated(
        shop(),
        counted,
        [known.part(one) for one in (goods.CHROME_KIT, goods.OLIVE, goods.EPOXY, goods.STRIP)],
    )
    assert [one.group for one in (kit, blank, glue)] == ["A", "A", "C"]
    assert (kit.value, kit.days, kit.score) == (16_000, 45, Fraction(3, 2))
    assert (glue.value, glue.score) == (900, Fraction(1, 4))
    assert (never.days, never.score) == (None, Fraction(3))
    assert kit.why == "dear; not counted for 45 days"
    assert glue.why == ""
    assert never.why == "never counted"


def test_doubt_comes_first() -> None:
    """The book's figure of the epoxy is doubtful: it comes before kits, however long ago they were counted."""
    stock = plenty()
    stock.to_count = (goods.EPOXY,)
    here = shop(stock)
    counted = {key: TODAY - timedelta(days=45) for key in here.catalogue.parts}
    best = worth_counting(here, counted, 2)
    assert [one.part.name for one in best] == [goods.EPOXY, goods.CHROME_KIT]
    assert best[0].why == "the book's figure is doubtful"
    del counted[fold(goods.CHROME_KIT)]
    assert worth_counting(here, counted, 1)[0].part.name == goods.EPOXY


def test_only_what_is_there_or_doubtful_and_only_so_many() -> None:
    """Nobody is sent to count what the book says is not there, unless it doubts that."""
    stock = Stock()
    stock.lot(goods.TUBE, 5000, 100)
    stock.lot(goods.REFILL, 5000, 100)
    assert {one.part.name for one in worth_counting(shop(stock), {}, 9)} == {goods.TUBE, goods.REFILL}
    stock.to_count = (goods.GUN_KIT,)
    assert worth_counting(shop(stock), {}, 9)[0].part.name == goods.GUN_KIT
    assert worth_counting(shop(stock), {}, 0) == ()
    only = [shop(stock).catalogue.part(goods.TUBE)]
    assert [one.part.name for one in worth_counting(shop(stock), {}, 9, only)] == [goods.TUBE]


def names(filters: Filters | None = None, **more: object) -> list[str]:
    """The parts of a selection in the well-filled shop, whose epoxy is doubtful."""
    stock = plenty()
    stock.to_count = (goods.EPOXY,)
    return [part.name for part in select(shop(stock), filters or Filters(), **more)]  # type: ignore[arg-type]  # by name


def test_a_drawer() -> None:
    """By kind, family, plating, words; by supplier; only what is doubtful; with what the book has none of."""
    assert names(Filters(kind="kits")) == [goods.CHROME_KIT]
    assert names(Filters(kind="kits", plating="gunmetal"), empty=True) == [
        "Avocet kit gunmetal",
        goods.GUN_KIT,
    ]
    assert names(Filters(family="Turnstone", text="kit")) == [goods.CHROME_KIT]
    assert names(doubtful=True) == [goods.EPOXY]
    assert names(supplier="far shore fittings") == [goods.CHROME_KIT]
    assert names(Filters(kind="tool"), supplier="Saltmarsh Turning") == [goods.DRILL]
    assert {goods.GLUE, goods.FINISH, goods.EPOXY, goods.STRIP, goods.REFILL} == set(
        names(Filters(kind="supplies"))
    )


def test_a_drawer_nobody_knows() -> None:
    """Unknown suppliers and kinds are refused with the nearest."""
    with pytest.raises(UnknownName, match="Saltmarsh"):
        names(supplier="Saltmarsh Turnig")
    with pytest.raises(UnknownName):
        names(Filters(kind="kitz"))


def test_the_sheet_is_blind_or_not() -> None:
    """The book's figures stand on it only where they are asked for; the reason never tells them."""
    here = shop()
    rows = worth_counting(here, {}, 3)
    blind, open_ = (count_sheet(here, "m", rows, blind=flag) for flag in (True, False))
    assert (blind.mark, blind.version, blind.on, blind.blind) == ("m", here.book.version, TODAY, True)
    assert all(row.booked is None for row in blind.rows)
    assert [row.booked for row in open_.rows] == [here.book.balance(one.part.name).on_hand for one in rows]
    assert [row.why for row in open_.rows] == [one.why for one in rows]
    assert all(row.lot == 0 for row in open_.rows)


def test_measured_blanks_are_counted_one_by_one() -> None:
    """Each natural blank has its own row with its name; with loose ones among them the part is counted whole."""
    stock = Stock()
    one, two = stock.measured("A7", "25 mm", "120 mm"), stock.measured("", "22 mm", "90 mm")
    here = shop(stock)
    rows = count_sheet(here, "m", rated(here, {}, [here.catalogue.part(goods.ANTLER)]), blind=False).rows
    assert [(row.lot, row.name, row.booked) for row in rows] == [(one, "A7", 1000), (two, f"lot {two}", 1000)]
    stock.lot(goods.ANTLER, 4000)
    (row,) = count_sheet(
        shop(stock), "m", rated(here, {}, [here.catalogue.part(goods.ANTLER)]), blind=False
    ).rows
    assert (row.lot, row.booked) == (0, 6000)


def test_bottles_of_several_lots_are_counted_lot_by_lot() -> None:
    """An open one and sealed ones have a row each; where nobody knows the tare the part is counted whole."""
    ca = Part(goods.GLUE, Supply("adhesive", 50_000, 12_000, density=Fraction(1)), "ml")
    stock = Stock()
    full = stock.lot(goods.GLUE, 100_000, 100, name="batch 7")
    opened = stock.lot(goods.GLUE, 31_000, 31, opened_on=TODAY)
    here = shop(stock, goods.catalogue().with_parts(ca))
    rows = count_sheet(here, "m", rated(here, {}, [here.catalogue.part(goods.GLUE)]), blind=True).rows
    told = [(full, "batch 7", True), (opened, f"opened {TODAY.isoformat()}", True)]
    assert [(row.lot, row.name, row.containers) for row in rows] == told
    plain = shop(stock)
    (row,) = count_sheet(plain, "m", rated(plain, {}, [plain.catalogue.part(goods.GLUE)]), blind=True).rows
    assert (row.lot, row.containers) == (0, False)
