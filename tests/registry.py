"""The units library's registries: each takes a second to make."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pint import UnitRegistry


@cache
def exact() -> UnitRegistry[Fraction]:
    """One that computes in fractions."""
    import pint

    return pint.UnitRegistry(non_int_type=Fraction)


@cache
def plain() -> UnitRegistry[float]:
    """One that computes in floats."""
    import pint

    return pint.UnitRegistry()
