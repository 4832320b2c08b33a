"""The book's whole numbers as the decimals people read, exactly."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Exact:
    """Turns the book's integers into decimals. exponent: decimals of the shop's coin."""

    exponent: int

    def amount(self, steps: int) -> Decimal:
        """Thousandths of a unit: 12000 → 12, 12500 → 12.5."""
        whole = Decimal(steps).scaleb(-3).normalize()
        return whole if whole.as_tuple().exponent < 0 else whole.quantize(Decimal(1))  # type: ignore[operator]  # finite

    def money(self, minor: int | None) -> Decimal | None:
        """Minor units with all the coin's decimals: 1250 → 12.50."""
        return None if minor is None else Decimal(minor).scaleb(-self.exponent)
