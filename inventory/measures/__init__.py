"""Lengths, drills, grits, amounts, money and dates: read exactly, refused where they could mean two things.

Everything public is reached from here; a module loads when one of its names is first asked for, so that a
command which only counts never reads a drill table.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from inventory.measures.amounts import STEPS, read_amount, show_about, show_amount, show_measurable
    from inventory.measures.dates import Order, read_date, show_date, show_day
    from inventory.measures.drills import Drill, read_drill
    from inventory.measures.grits import Grit, micron, read_grit, show_grit, substitute
    from inventory.measures.lengths import (
        INCH,
        Length,
        millimetres,
        read_length,
        show_length,
        show_mm,
    )
    from inventory.measures.money import (
        Currency,
        currency,
        read_money,
        read_unit_price,
        show_money,
        show_unit_price,
    )
    from inventory.measures.numbers import exact, read_fraction, read_number, show_number
    from inventory.measures.units import Unit, read_unit
    from inventory.measures.words import listed, plural

__all__ = [
    "INCH",
    "STEPS",
    "Currency",
    "Drill",
    "Grit",
    "Length",
    "Order",
    "Unit",
    "currency",
    "exact",
    "listed",
    "micron",
    "millimetres",
    "plural",
    "read_amount",
    "read_date",
    "read_drill",
    "read_fraction",
    "read_grit",
    "read_length",
    "read_money",
    "read_number",
    "read_unit",
    "read_unit_price",
    "show_about",
    "show_amount",
    "show_date",
    "show_day",
    "show_grit",
    "show_length",
    "show_measurable",
    "show_mm",
    "show_money",
    "show_number",
    "show_unit_price",
    "substitute",
]

_HOMES = {
    "amounts": "STEPS read_amount show_about show_amount show_measurable",
    "dates": "Order read_date show_date show_day",
    "drills": "Drill read_drill",
    "grits": "Grit micron read_grit show_grit substitute",
    "lengths": "INCH Length millimetres read_length show_length show_mm",
    "money": "Currency currency read_money read_unit_price show_money show_unit_price",
    "numbers": "exact read_fraction read_number show_number",
    "units": "Unit read_unit",
    "words": "listed plural",
}


def __getattr__(name: str) -> object:
    for module, names in _HOMES.items():
        if name in names.split():
            return getattr(import_module(f"{__name__}.{module}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
