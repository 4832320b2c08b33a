"""Containers on a scale: what is in one of that weight, and how far off that may be.

What is in a container is (gross − tare) / density. A scale that shows steps of `step` grams is off by step / √12 (one
standard deviation, uniform in the step), two weighings by √2 of that.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import sqrt
from typing import Final

from inventory.catalogue import Part, Supply
from inventory.ledger.bottles.containers import net_of

TWELFTH: Final = 1 / sqrt(12)
OVERFULL: Final = Fraction(11, 10)
"""A container may hold so much of its net content when it is new; more is a slip."""


class Impossible(Exception):
    """A reading that cannot be, with the sentence that says so. column: the cell to mend."""

    def __init__(self, sentence: str, column: str = "gross g") -> None:
        super().__init__(sentence)
        self.column = column


def content(gross: int, tare: int, density: Fraction) -> int:
    """Thousandths of a unit in a bottle: (gross − tare) / density, all weights in thousandths of a gram."""
    return round(Fraction(gross - tare) / density)


@dataclass(frozen=True, slots=True)
class Scale:
    """A supply whose containers can be weighed. unit, net: of what is in one; tare: thousandths of a gram."""

    part: Part
    tare: int
    density: Fraction
    net: int | None

    def inside(self, gross: int, column: str) -> int:
        """What a container of that weight holds. Raises Impossible for less than nothing or more than it can hold."""
        if gross < self.tare:
            raise Impossible(
                f"That is less than the empty bottle, {self.tare / 1000:g} g. Weigh it again.", column
            )
        left = content(gross, self.tare, self.density)
        if self.net is not None and left > OVERFULL * self.net:
            full = f"{left / 1000:g} {self.part.unit}; a full one holds {self.net / 1000:g}"
            raise Impossible(f"That would be {full}. Weigh it again.", column)
        return left

    def error(self, step: int) -> int:
        """One standard deviation of the difference of two weighings."""
        return round(float(step / self.density) * TWELFTH * sqrt(2))


def scale_of(part: Part) -> Scale:
    """How a supply is weighed. Raises Impossible where its sheet does not say enough."""
    detail = part.detail
    if not isinstance(detail, Supply) or detail.tare is None:
        raise Impossible(
            f"The empty weight of {part.name} is not known: give its tare in the supplies tab, or count it."
        )
    if part.unit != "g" and detail.density is None:
        raise Impossible(f"The density of {part.name} is not known: give it in the supplies tab.")
    return Scale(part, detail.tare, (part.unit != "g" and detail.density) or Fraction(1), net_of(part))
