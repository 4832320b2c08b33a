"""Drills: the standard table, designations in four systems, and the ones that get confused."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.errors import BadMeasure
from inventory.measures import INCH, read_drill
from inventory.measures.drills import TWIN, standard_drills
from inventory.measures.lengths import drill_sizes


@pytest.mark.outside
@pytest.mark.parametrize(("system", "count", "total"), [("number", 80, "8.2637"), ("letter", 26, "8.072")])
def test_the_drill_table_adds_up(system: str, count: int, total: str) -> None:
    """Sums of the diameters of ASME B94.11M, as four independent published tables give them (read), in inches."""
    inches = [drill.mm / INCH for drill in standard_drills() if drill.system == system]
    assert (count, Fraction(total)) == (len(inches), sum(inches))


@pytest.mark.outside
@pytest.mark.parametrize(
    ("designation", "inches"),
    [
        *(("#1", "0.2280"), ("#7", "0.2010"), ("#29", "0.1360"), ("#60", "0.0400"), ("#80", "0.0135")),
        *(("A", "0.234"), ("F", "0.257"), ("J", "0.277"), ("O", "0.316"), ("Z", "0.413")),
    ],
)
def test_number_and_letter_drills_have_their_published_size(designation: str, inches: str) -> None:
    """Check points of ASME B94.11M, in four published tables (read)."""
    assert Fraction(inches) * INCH == read_drill(designation).mm


@pytest.mark.practice
@pytest.mark.parametrize(
    ("designation", "twin"),
    [
        *(("7 mm", "J"), ("J", "7 mm"), ("8 mm", "O"), ("8 mm", "5/16"), ("O", "5/16"), ("5/16", "O")),
        *(("25/64", "10 mm"), ("10 mm", "25/64"), ("Z", "10.5 mm"), ("27/64", "10.5 mm"), ("10.5 mm", "Z")),
    ],
)
def test_drills_that_get_confused_are_named(designation: str, twin: str) -> None:
    """Confusions known in the trade (common practice, no source)."""
    assert 0 < abs(read_drill(twin).mm - read_drill(designation).mm) <= TWIN


def test_sizes_shrink_from_one_number_to_the_next() -> None:
    """A wire gauge: the higher the number, the thinner; letters grow from A to Z."""
    sizes = drill_sizes()
    numbers = [sizes[f"#{number}"] for number in range(1, 81)]
    letters = [sizes[letter] for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"]
    assert numbers == sorted(numbers, reverse=True)
    assert letters == sorted(letters)


@pytest.mark.parametrize(
    ("text", "designation", "system"),
    [
        ("7", "7 mm", "metric"),
        ("1,2 cm", "12 mm", "metric"),
        ("10.50 mm", "10.5 mm", "metric"),
        ('27/64"', "27/64", "fractional inch"),
        ("1-3/16 in", "1-3/16", "fractional inch"),
        ("1 in", "1 in", "fractional inch"),
        ("0.25 in", "1/4", "fractional inch"),
        ("0.316 in", "O", "letter"),
        ("201 thou", "#7", "number"),
        ("No. 7", "#7", "number"),
        ("letter o", "O", "letter"),
    ],
)
def test_a_drill_gets_its_canonical_designation(text: str, designation: str, system: str) -> None:
    """One spelling per drill, whatever was typed."""
    drill = read_drill(text)
    assert (designation, system) == (drill.designation, drill.system)


@pytest.mark.parametrize(
    ("text", "message", "hint"),
    [
        ("0.3 in", "no drill of 0.3 in", "N or 19/64"),
        ("200 mm", "is no drill", "0.1 mm to 100 mm"),
        ("0.05 mm", "is no drill", "0.1 mm to 100 mm"),
        ("#81", "no number drill", "#80"),
    ],
)
def test_what_is_no_drill_is_refused(text: str, message: str, hint: str) -> None:
    """An inch size between the standards names its neighbours."""
    with pytest.raises(BadMeasure) as refusal:
        read_drill(text)
    assert message in refusal.value.message
    assert hint in refusal.value.hint


@given(st.sampled_from(standard_drills()))
def test_every_standard_drill_reads_back_from_its_designation(drill: object) -> None:
    """Designations are unique and unambiguous."""
    assert drill == read_drill(str(drill))


@pytest.mark.practice
def test_a_shop_may_own_every_sixty_fourth_up_to_40_mm() -> None:
    """From 1/64 in to 1 9/16 in, the last below 40 mm; metric ones by tenths up to 3 mm, by halves above."""
    standard = standard_drills()
    inches = [drill.mm / INCH for drill in standard if drill.system == "fractional inch"]
    assert inches == [Fraction(n, 64) for n in range(1, 101)]
    metric = [drill.mm for drill in standard if drill.system == "metric"]
    assert metric == [Fraction(n, 10) for n in [*range(3, 30), *range(30, 401, 5)]]


@pytest.mark.parametrize(("text", "mm"), [("0.1 mm", "0.1"), ("100 mm", "100")])
def test_the_thinnest_and_the_thickest_are_drills(text: str, mm: str) -> None:
    """What is said of the range holds at its ends."""
    assert read_drill(text).mm == Fraction(mm)
