"""One day of a market, as the maker names it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from inventory.catalogue import fold


@dataclass(frozen=True, slots=True)
class Market:
    """One day of a market. expected: pieces that were said to be sold, None where nobody said."""

    name: str
    on: date
    expected: float | None = None


def market_key(name: str, on: date) -> str:
    """What one day of a market is told from others by."""
    return f"{fold(name)}\x1f{on.isoformat()}"
