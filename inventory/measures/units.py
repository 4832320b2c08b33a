"""The units parts are counted in, and how one changes into another: exactly, or not at all."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Literal

from inventory.errors import BadMeasure
from inventory.measures.text import plain, said

Kind = Literal["weight", "volume", "length", "count"]

_MEASURED: dict[str, tuple[Kind, str]] = {
    "g": ("weight", "g gram grams gramme grammes gr"),
    "kg": ("weight", "kg kilo kilos kilogram kilograms"),
    "mg": ("weight", "mg milligram milligrams"),
    "oz weight": ("weight", "oz weight|oz wt|oz av|weight oz|ounce weight|ounces weight|oz (weight)"),
    "lb": ("weight", "lb lbs pound pounds"),
    "ml": ("volume", "ml millilitre millilitres milliliter milliliters cc"),
    "cl": ("volume", "cl centilitre centilitres centiliter centiliters"),
    "l": ("volume", "l litre litres liter liters"),
    "fl oz": ("volume", "fl oz|fl. oz|fl. oz.|fl.oz.|fl oz.|floz|fluid ounce|fluid ounces|us fl oz"),
    "mm": ("length", "mm millimetre millimetres millimeter millimeters"),
    "cm": ("length", "cm centimetre centimetres centimeter centimeters"),
    "m": ("length", "m metre metres meter meters"),
    "in": ("length", 'in inch inches "'),
}
_POUND = Fraction("453.59237")  # g, by the international yard and pound agreement of 1959
_INCH = Fraction("25.4")  # mm, by the same: a yard of 0.9144 m has 36
_GALLON = (
    231 * _INCH**3 / 1000
)  # ml: the US gallon is 231 cubic inches (NIST Handbook 44, appendix C, from memory)
_SIZES = {
    "mg": Fraction(1, 1000),
    "g": Fraction(1),
    "kg": Fraction(1000),
    "lb": _POUND,
    "oz weight": _POUND / 16,
    "ml": Fraction(1),
    "cl": Fraction(10),
    "l": Fraction(1000),
    "fl oz": _GALLON / 128,
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": _INCH,
}
"""One of each in g, ml or mm, exactly."""

_COUNTED = """
    piece sheet strip pair set pad roll box tube bottle pack packet sachet bag can tin jar pot cartridge
    syringe card stick rod bar block disc belt tip blade edge cutter nib cap sleeve label towel cloth sponge
    brush glove refill kit blank
"""
_PIECES = "pc pcs pcs. each ea ea. pce pces unit units piece(s) off"
_HOLDING = """
    bottle pack packet sachet bag can tin jar pot tube cartridge syringe box roll carton container
"""


@dataclass(frozen=True, slots=True)
class Unit:
    """What a part is counted in: its canonical name (`g`, `ml`, `mm`, `piece`, `sheet`) and kind."""

    name: str
    kind: Kind

    @property
    def example(self) -> str:
        """What an accepted amount looks like, for a hint."""
        return "12" if self.kind == "count" else f"12.5 or 12.5 {self.name}"


def plural(name: str) -> str:
    """The plural of a counted unit: `boxes`, `sheets`."""
    return name + ("es" if name.endswith(("x", "s", "ch", "sh")) else "s")


def _names() -> dict[str, Unit]:
    units = {name: Unit(name, "count") for name in _COUNTED.split()}
    names = {word: unit for name, unit in units.items() for word in (name, plural(name))}
    names.update(dict.fromkeys(_PIECES.split(), units["piece"]))
    for name, (kind, words) in _MEASURED.items():
        names.update(dict.fromkeys(words.split("|" if "|" in words else None), Unit(name, kind)))
    return names


UNITS = _names()
CONTAINERS = {word: name for name in _HOLDING.split() for word in (name, plural(name))}


@lru_cache(maxsize=256)  # the units of a shop are few, and asked for with every amount that is shown
def read_unit(text: str) -> Unit:
    """The unit called `text`: `ml`, `grams`, `pcs`, `sheets`, `box`. Raises BadMeasure for any other word."""
    tidy = plain(text, "unit")
    unit = _named(tidy)
    if unit is None:
        raise _no_unit(tidy)
    return unit


def unit_word(word: str) -> str:
    """The canonical name of the unit `word`, or `word` in lower case where it is none we know."""
    unit = _named(word)
    return unit.name if unit else word.casefold()


def _named(word: str) -> Unit | None:
    key = word.casefold()
    return UNITS.get(key) or UNITS.get(key.removesuffix("."))


def convert(word: str, own: Unit, density: Fraction | None, tidy: str) -> Fraction:
    """How many of `own` one `word` is, exactly; `density` is in g/ml, `tidy` the whole text for a refusal.

    Raises BadMeasure where the kinds differ, a density is missing, or a plain ounce could be either kind.
    """
    if word.casefold() in {"oz", "oz.", "ounce", "ounces"}:
        word = _ounce(own, density, tidy)
    unit = read_unit(word)
    if unit.kind == own.kind != "count":
        return _SIZES[unit.name] / _SIZES[own.name]
    if {unit.kind, own.kind} != {"weight", "volume"}:
        raise BadMeasure(f"{said(tidy)} cannot be turned into {own.name}.", hint=f"Write it in {own.name}.")
    if not density:
        raise BadMeasure(
            f"{said(tidy)} cannot be turned into {own.name} without the density.",
            hint=f"Write it in {own.name}, or give the supply its density in g/ml.",
        )
    in_other = _SIZES[unit.name] * density if own.kind == "weight" else _SIZES[unit.name] / density
    return in_other / _SIZES[own.name]


def _ounce(own: Unit, density: Fraction | None, tidy: str) -> str:
    if own.kind != "volume":
        return "oz weight"
    number = tidy.rstrip(" .abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ")
    weight = f" or {number} oz weight" if density else ""
    raise BadMeasure(
        f"{said(tidy)} could be fluid ounces or ounces of weight.",
        hint=f"Write {number} fl oz{weight}, or the amount in {own.name}.",
    )


def _no_unit(word: str) -> BadMeasure:
    hint = "Accepted: g, kg, oz, lb, ml, cl, l, fl oz, mm, cm, m, in, piece, sheet, strip, pair, set, pad …"
    return BadMeasure(f"{said(word)} is not a unit known here.", hint=hint)
