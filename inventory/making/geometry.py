"""Volumes of glue and finish that follow from geometry, exact.

Lengths in mm, areas in cm², volumes in ml (1 ml = 1 cm³ = 1000 mm³). π is a fraction right to 30 digits, so
that a result is one exact fraction and rounds to the same thousandth everywhere. These are first guesses
until the shop's own weighings replace them; what stays in the pot or on the paper is a waste factor on top.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from inventory.errors import BadInput

PI: Final = Fraction(3_14159_26535_89793_23846_26433_83280, 10**30)
"""π to 30 decimal places (OEIS A000796); off by less than 1e-30."""


def glue_volume_ml(drill_mm: Fraction, tube_mm: Fraction, length_mm: Fraction) -> Fraction:
    """Glue between a hole and the tube in it, ml: π/4 · (drill² − tube²) · length / 1000.

    `drill_mm` and `tube_mm` are diameters. The volume of a hollow cylinder; nothing is added for waste.
    """
    _check("tube's diameter", tube_mm)
    _check("tube's length", length_mm)
    if drill_mm < tube_mm:
        raise BadInput(
            f"A tube of {float(tube_mm):g} mm does not go into a hole of {float(drill_mm):g} mm.",
            hint="The drill must be at least as wide as the tube; check that neither is mistyped.",
        )
    return PI / 4 * (drill_mm**2 - tube_mm**2) * length_mm / 1000


def barrel_area_cm2(diameter_mm: Fraction, length_mm: Fraction) -> Fraction:
    """Outside of a barrel, cm²: π · diameter · length / 100.

    For a barrel whose ends differ give the mean diameter: a cone's slope adds less than a thousandth here.
    """
    _check("barrel's diameter", diameter_mm)
    _check("barrel's length", length_mm)
    return PI * diameter_mm * length_mm / 100


def _check(what: str, length: Fraction) -> None:
    if length <= 0:
        raise BadInput(
            f"The {what} of {float(length):g} mm cannot be used.", hint="Give a length above 0 mm."
        )
