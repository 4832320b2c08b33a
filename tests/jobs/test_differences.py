"""Why a count is not what was expected: each reason where it applies, and not where a decoy only looks like it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
import registry

from inventory.catalogue import Part, Supply, fold
from inventory.jobs.differences.reasons import MOST, NOTHING_FOUND, BookMemory, differing, explain
from inventory.jobs.differences.units import FLUID_OUNCE, INCH, OUNCE
from inventory.jobs.sessions.reconciling.measured import Checked
from inventory.ledger import DueIn
from inventory.ledger.documents.booked import Happening
from inventory.ledger.shop import Shop
from jobs import goods
from jobs.differences_case import ACCELERATOR, DENSE, WAX, checked, document, first, known, moved, past, told
from jobs.shop import TODAY, Stock, plenty, shop


def test_what_was_counted_as_expected_is_not_spoken_of() -> None:
    """Right counts give no difference, and nothing has to be looked up for them."""
    rows = [checked(goods.TUBE, 80, 80), checked(goods.REFILL, 50, 48)]
    assert list(told(rows)) == [goods.REFILL]
    assert differing(rows) == (goods.REFILL,)


def test_difference_carries_the_figures() -> None:
    """Part, unit, expected, counted, and the difference with its sign."""
    (one,) = explain(shop(), [checked(goods.GLUE, 40, 37, 100, "weighed")])
    assert (one.part, one.unit, one.expected, one.counted, one.difference) == (
        goods.GLUE,
        "ml",
        40_000,
        37_000,
        -3000,
    )


def test_never_more_than_three_reasons_and_never_none() -> None:
    """The best three; where the book says nothing, to count once more."""
    context = past(goods.TUBE, moved(document(4, "arrival", 5), goods.TUBE, 72))
    many = told(
        [checked(goods.TUBE, 80, 8), checked(goods.CAP_TUBE, 10, 82), checked(goods.CHROME_KIT, 40, 39)],
        None,
        context,
    )
    assert all(1 <= len(reasons) <= MOST for reasons in many.values())
    assert first(checked(goods.DRILL, 7, 9)) == NOTHING_FOUND


# --- unit mix-ups ---------------------------------------------------------------------------------------------------


@pytest.mark.outside
def test_the_factors_are_the_published_ones() -> None:
    """NIST Handbook 44, appendix C (from memory): exact ounce, US fluid ounce and inch; pint says the same."""
    assert (
        Fraction(28_349_523_125, 10**9),
        Fraction("29.5735295625"),
        Fraction(254, 10),
    ) == (OUNCE, FLUID_OUNCE, INCH)
    quantity = registry.exact().Quantity
    assert quantity(Fraction(1), "avoirdupois_ounce").to("g").magnitude == OUNCE
    assert quantity(Fraction(1), "fluid_ounce").to("ml").magnitude == FLUID_OUNCE
    assert quantity(Fraction(1), "inch").to("mm").magnitude == INCH


@pytest.mark.parametrize(
    ("row", "word"),
    [
        (checked(goods.TUBE, 80, 8), "counted in packs of 10 (Saltmarsh Turning)? 8 × 10 = 80"),
        (checked(goods.TUBE, 8, 80), "booked in packs of 10 (Saltmarsh Turning)? 8 × 10 = 80"),
        (checked(goods.GLUE, 112, 2, 100), "counted in packs of 56 ml"),
        (checked(WAX.name, 300, 3), "counted in containers of 100 g? 3 × 100 = 300"),
        (Checked(WAX.name, 85_048, 3000, 0, "counted"), "counted in ounces of 28.349523125 g"),
        (Checked(goods.FINISH, 59_147, 2000, 0, "counted"), "counted in US fluid ounces of 29.5735295625 ml"),
        (checked(goods.FINISH, 2, 2000), "booked in litres"),
        (checked(goods.STRIP, 60, 6), "one nought too few or too many"),
    ],
    ids=lambda value: value if isinstance(value, str) else value.part,
)
def test_another_unit(row: Checked, word: str) -> None:
    """What was counted times the factor is what was expected, or the other way round."""
    assert first(row).startswith("unit mix-up: ")
    assert word in first(row)


@pytest.mark.parametrize(
    "row",
    [
        checked(goods.TUBE, 80, 9),
        checked(WAX.name, 85, 4),
        checked(goods.GLUE, 90, 2),
        checked(goods.REFILL, 0, 5),
    ],
)
def test_no_unit_fits_a_mere_shortage(row: Checked) -> None:
    """More than 5 % off the factor, or nothing expected: no mix-up of units."""
    assert not any("unit mix-up" in reason for reason in told([row])[row.part])


def test_a_near_fit_stands_behind_an_exact_one() -> None:
    """80 tubes are 8 packs; 77 tubes are nearly."""
    context = past(goods.TUBE, moved(document(4, "arrival", 5), goods.TUBE, 69))
    assert "unit mix-up" in first(checked(goods.TUBE, 80, 8))
    near = told([checked(goods.TUBE, 77, 8)], None, context)[goods.TUBE]
    assert "double entry" in near[0]
    assert "unit mix-up" in near[1]


@pytest.mark.parametrize(("expected", "packs", "fits"), [(200, 19, True), (85, 8, False)])
def test_a_unit_fits_within_five_in_a_hundred(expected: int, packs: int, fits: bool) -> None:
    """190 tubes for 200 are 5 % less; 80 for 85 are 6 %."""
    row = checked(goods.TUBE, expected, packs)
    assert any("unit mix-up" in reason for reason in told([row])[goods.TUBE]) is fits


@pytest.mark.parametrize(
    ("part", "pack", "packs", "said"),
    [(goods.TUBE, 10, 3, True), (goods.TUBE, 10, 4, False), (goods.REFILL, 5, 2, True)],
)
def test_up_to_three_packs_of_five_or_more_are_taken_for_pieces(
    part: str, pack: int, packs: int, said: bool
) -> None:
    """Seven loose ones beside them; of four packs nobody writes down four."""
    row = checked(part, pack * packs + 7, packs + 7)
    assert any("packs taken for pieces" in reason for reason in told([row])[part]) is said


def test_full_packs_written_down_as_pieces() -> None:
    """Two packs of ten and seven loose are 27, not 9; nothing like that for 10."""
    assert first(checked(goods.TUBE, 27, 9)).startswith(
        "packs taken for pieces: 2 packs of 10 and 7 loose are 27"
    )
    assert not any("packs taken" in reason for reason in told([checked(goods.TUBE, 27, 10)])[goods.TUBE])


def test_grams_for_millilitres() -> None:
    """50 ml at 0.8 g/ml weigh 40 g; 45 is neither."""
    assert first(checked(DENSE.name, 50, 40)).startswith("unit mix-up: grams for millilitres? 50 ml is 40 g")
    assert "grams for" not in first(checked(DENSE.name, 50, 45))
    weighed = [Checked(DENSE.name, 50_000, 40_000 + off, 800, "counted") for off in (1600, 1601)]
    assert ["grams for" in first(one) for one in weighed] == [
        True,
        False,
    ]  # two deviations of what a scale can tell
    light = replace(WAX, detail=Supply("finish", density=Fraction("0.8")))
    here = shop(known=goods.catalogue().with_parts(light))
    assert first(checked(WAX.name, 40, 50), here).startswith(
        "unit mix-up: millilitres for grams? 40 g is 50 ml"
    )


def test_the_bottle_weighed_with_it() -> None:
    """12.4 g of glass are 15.5 ml at 0.8 g/ml; two bottles twice that; 12 ml are none."""
    one = Checked(DENSE.name, 40_000, 55_500, 0, "counted")
    assert first(one) == "the empty container, 12.4 g, weighed with it: that is 15.5 ml too much"
    stock = plenty()
    stock.lot(DENSE.name, 20_000)
    stock.lot(DENSE.name, 20_000)
    two = Checked(DENSE.name, 40_000, 71_000, 0, "counted")
    assert first(two, shop(stock, known())).startswith("2 empty containers of 12.4 g each")
    assert "weighed with it" not in first(Checked(DENSE.name, 40_000, 52_000, 0, "counted"))


# --- what the book remembers ----------------------------------------------------------------------------------------


def test_booked_twice() -> None:
    """The book has just one delivery too many; two alike within three months name both."""
    once = past(goods.REFILL, moved(document(4, "arrival", 20), goods.REFILL, 12))
    assert "entry 4 (arrival, 2026-11-05) brought just 12" in first(checked(goods.REFILL, 50, 38), None, once)
    again = past(goods.REFILL, *(moved(document(n, "arrival", n), goods.REFILL, 12) for n in (4, 6)))
    assert "each brought 12; one of them may be booked twice" in first(
        checked(goods.REFILL, 50, 38), None, again
    )


@pytest.mark.parametrize(
    "line",
    [
        moved(document(4, "arrival", 93), goods.REFILL, 12),
        moved(document(4, "arrival", 3), goods.REFILL, 11),
        moved(document(4, "arrival", 3), goods.REFILL, 12, "due"),
        moved(document(4, "weekend", 3), goods.REFILL, 12),
    ],
    ids=["long ago", "another size", "not the shelf", "no receipt"],
)
def test_no_double_entry(line: Happening) -> None:
    """Old, other or inner lines are no double entry."""
    reasons = told([checked(goods.REFILL, 50, 38)], None, past(goods.REFILL, line))[goods.REFILL]
    assert not any("double entry" in reason for reason in reasons)


def test_taken_twice() -> None:
    """The shelf has more, by just what a hand-over took; a receipt of that size says nothing."""
    took = past(goods.REFILL, moved(document(9, "hand-over", 2), goods.REFILL, -3))
    assert "entry 9 (hand-over, 2026-11-23) took just 3" in first(checked(goods.REFILL, 20, 23), None, took)
    both = past(goods.REFILL, *(moved(document(n, "weekend", 1), goods.REFILL, -3) for n in (8, 9)))
    assert "each took 3" in first(checked(goods.REFILL, 20, 23), None, both)
    brought = past(goods.REFILL, moved(document(9, "arrival", 2), goods.REFILL, 3))
    assert first(checked(goods.REFILL, 20, 23), None, brought) == NOTHING_FOUND


def coming(*rows: tuple[int, int, date | None]) -> Shop:
    """Refills due in: units, units a pack, the day."""
    stock = plenty()
    stock.due = [
        DueIn(n, goods.REFILL, "Saltmarsh Turning", 1000 * units, 0, on, 0, 1000 * pack)
        for n, (units, pack, on) in enumerate(rows, 1)
    ]
    return shop(stock)


def test_a_delivery_not_booked() -> None:
    """All that is due in, or whole packs of it, or all orders together; not any odd number."""
    there = coming((20, 5, TODAY))
    assert first(checked(goods.REFILL, 50, 70), there).startswith(
        "a delivery not booked: all of the 20 due in from Saltm"
    )
    assert "2 packs of the 20 due in" in first(checked(goods.REFILL, 50, 60), there)
    assert "20 is due in from 2 orders" in first(
        checked(goods.REFILL, 50, 70), coming((8, 8, None), (12, 12, TODAY))
    )
    assert first(checked(goods.REFILL, 50, 57), there) == NOTHING_FOUND
    assert first(checked(goods.REFILL, 50, 30), there) == NOTHING_FOUND


def test_a_delivery_that_cannot_be_there_yet_is_less_likely() -> None:
    """What a hand-over of that size explains comes first where the parcel is a month off, last where it is due."""
    took = past(goods.REFILL, moved(document(9, "hand-over", 2), goods.REFILL, -20))
    row = checked(goods.REFILL, 50, 70)
    assert "double entry" in first(row, coming((20, 5, TODAY + timedelta(days=30))), took)
    assert "not booked" in first(row, coming((20, 5, TODAY)), took)
    assert "not booked" in first(row, coming((20, 5, TODAY + timedelta(days=7))), took)
    assert "double entry" in first(row, coming((20, 5, TODAY + timedelta(days=8))), took)


def test_gone_off_and_thrown_away() -> None:
    """A lot past its day that held just that, or at least so much; a good lot says nothing."""
    stock = Stock()
    stock.lot(goods.GLUE, 12_000, name="March", use_by=TODAY - timedelta(days=1))
    stock.lot(goods.GLUE, 30_000, name="May", use_by=TODAY + timedelta(days=90))
    here = shop(stock)
    assert (
        first(checked(goods.GLUE, 42, 30), here) == "thrown away: “March” is out of date and held just 12 ml"
    )
    assert first(checked(goods.GLUE, 42, 35), here) == "thrown away: 12 ml of it is out of date (“March”)"
    assert not any("thrown" in reason for reason in told([checked(goods.GLUE, 42, 22)], here)[goods.GLUE])
    assert not any("thrown" in reason for reason in told([checked(goods.GLUE, 30, 42)], here)[goods.GLUE])
    stock.lot(goods.GLUE, 7000, name="April", use_by=TODAY - timedelta(days=2))
    nearly = Checked(goods.GLUE, 49_000, 29_500, 300, "counted")  # twice what the measuring may be off
    said = "thrown away: 19 ml of it is out of date (“March”, “April”)"
    assert told([nearly], shop(stock))[goods.GLUE][0] == said


def test_into_the_air() -> None:
    """What is highly flammable may lose some per cent in two months; not a fifth, not a glue, not the other way."""
    stock = Stock()
    stock.lot(ACCELERATOR.name, 200_000, opened_on=TODAY - timedelta(days=60))
    here = shop(stock, known())
    reason = first(checked(ACCELERATOR.name, 200, 190), here)
    assert reason.startswith("evaporation: it is highly flammable liquid and vapour (H225), and 5 % less")
    for decoy in (
        checked(ACCELERATOR.name, 200, 160),
        checked(ACCELERATOR.name, 200, 207),
        checked(goods.GLUE, 200, 190),
    ):
        assert not any("evaporation" in one for one in told([decoy], here)[decoy.part])
    fresh = Stock()
    fresh.lot(ACCELERATOR.name, 200_000, opened_on=TODAY)
    assert "evaporation" not in first(checked(ACCELERATOR.name, 200, 190), shop(fresh, known()))


@pytest.mark.parametrize(
    ("days", "left", "likely"), [(60, 188, True), (60, 186, False), (400, 180, True), (400, 179, False)]
)
def test_what_goes_into_the_air(days: int, left: int, likely: bool) -> None:
    """2 % at opening and 2 % a month: 6 % after sixty days, and not 7; never more than 10."""
    stock = Stock()
    stock.lot(ACCELERATOR.name, 200_000, opened_on=TODAY - timedelta(days=days))
    row = checked(ACCELERATOR.name, 200, left)
    assert first(row, shop(stock, known())).startswith("evaporation") is likely


def test_a_solvent_without_codes_evaporates_too() -> None:
    """The type says it where nobody copied the hazards."""
    here = shop(known=goods.catalogue().with_parts(Part("spirit", Supply("solvent"), "ml")))
    assert first(checked("spirit", 200, 194), here).startswith("evaporation: it is a solvent, and 3 % less")


def test_ordinary_scatter() -> None:
    """Within twice the measuring error nothing else is said; within twice the sessions' own it stands among others."""
    assert told([checked(goods.GLUE, 50, 49, 600, "weighed")])[goods.GLUE] == (
        "ordinary scatter: weighed to ± 1.2 ml, the difference of 1 ml is no more than that",
    )
    twice = Checked(goods.GLUE, 50_000, 48_800, 600, "weighed")
    assert "no more than that" in first(twice)
    context = BookMemory(scatter={fold(goods.GLUE): 3000})
    assert "sessions differ by ± 6 ml" in first(checked(goods.GLUE, 50, 46, 600, "weighed"), None, context)
    assert "scatter" not in first(checked(goods.GLUE, 50, 43, 600, "weighed"), None, context)
    assert "scatter" not in first(checked(goods.REFILL, 50, 49))
    assert "scatter" not in first(
        Checked(goods.GLUE, 50_000, 49_999, 0, "weighed")
    )  # nothing is known of its sessions
