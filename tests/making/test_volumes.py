"""Volumes from geometry, held against a units library and the definition of π."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from searching import examples

from inventory.errors import BadInput
from inventory.making.geometry import PI, barrel_area_cm2, glue_volume_ml

LENGTHS = st.fractions(min_value=Fraction(1, 10), max_value=200, max_denominator=128)


@pytest.mark.cross_check
def test_pi_has_thirty_digits() -> None:
    """π by Machin's formula π = 16 arctan 1/5 − 4 arctan 1/239 (1706), in whole numbers, to 30 decimals."""

    def arctan(inverse: int, one: int) -> int:
        term, total, n = one // inverse, 0, 1
        while term:
            total += term // n if n % 4 == 1 else -(term // n)
            term //= inverse * inverse
            n += 2
        return total

    assert barrel_area_cm2(Fraction(1), Fraction(100)) == PI
    one = 10**45
    assert abs(PI - Fraction(16 * arctan(5, one) - 4 * arctan(239, one), one)) < Fraction(1, 10**30)


@pytest.mark.outside
@given(LENGTHS, LENGTHS, LENGTHS)
@examples(25)
def test_glue_against_the_units_library(tube: Fraction, gap: Fraction, length: Fraction) -> None:
    """The hollow cylinder in ml, with pint carrying the units."""
    mm = pint.get_application_registry().millimeter  # type: ignore[no-untyped-call] # pint has no types here
    drill = tube + gap / 100
    area = 3.141592653589793 / 4 * ((float(drill) * mm) ** 2 - (float(tube) * mm) ** 2)
    expected = (area * float(length) * mm).to("milliliter").magnitude
    assert float(glue_volume_ml(drill, tube, length)) == pytest.approx(expected, rel=1e-9)


@pytest.mark.outside
@given(LENGTHS, LENGTHS)
@examples(25)
def test_area_against_the_units_library(diameter: Fraction, length: Fraction) -> None:
    """Area in cm², with pint carrying the units."""
    mm = pint.get_application_registry().millimeter  # type: ignore[no-untyped-call] # pint has no types here
    area = 3.141592653589793 * float(diameter) * mm * float(length) * mm
    assert float(barrel_area_cm2(diameter, length)) == pytest.approx(area.to("cm**2").magnitude, rel=1e-12)


def test_a_slim_tube() -> None:
    """A 53 mm tube of 6.9 mm in a 7 mm hole: about six hundredths of a millilitre, exact to the thousandth."""
    volume = glue_volume_ml(Fraction(7), Fraction(69, 10), Fraction(53))
    assert volume == PI * Fraction(53 * 139, 400_000)
    assert round(volume, 3) == Fraction(58, 1000)


@given(LENGTHS, LENGTHS, LENGTHS, LENGTHS)
@examples(25)
def test_volumes_add_up(tube: Fraction, gap: Fraction, one: Fraction, other: Fraction) -> None:
    """Two lengths of tube take exactly what one as long as both takes; no gap takes nothing."""
    drill = tube + gap
    both = glue_volume_ml(drill, tube, one + other)
    assert glue_volume_ml(drill, tube, one) + glue_volume_ml(drill, tube, other) == both
    assert glue_volume_ml(tube, tube, one) == 0


@pytest.mark.parametrize(
    ("drill", "tube", "length", "says"),
    [
        (6, 7, 50, "7 mm does not go into a hole of 6 mm"),
        (7, 0, 50, "tube's diameter"),
        (7, 6, 0, "tube's length"),
    ],
)
def test_refused_glue(drill: int, tube: int, length: int, says: str) -> None:
    """A tube wider than its hole, or without size, is refused."""
    with pytest.raises(BadInput, match=says):
        glue_volume_ml(Fraction(drill), Fraction(tube), Fraction(length))


@pytest.mark.parametrize(
    ("diameter", "length", "says"),
    [(0, 50, "barrel's diameter"), (8, -1, "barrel's length")],
)
def test_refused_area(diameter: int, length: int, says: str) -> None:
    """A barrel without size is refused."""
    with pytest.raises(BadInput, match=says):
        barrel_area_cm2(Fraction(diameter), Fraction(length))
