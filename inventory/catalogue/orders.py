"""An order: a customer's wish, or the same once promised."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from inventory.measures import Length

OrderState = Literal["wish", "promised", "handed over", "released"]


@dataclass(frozen=True, slots=True)
class Order:
    """platings: accepted ones, the wished first; extra_diameter grows the finished barrel; price in minor units."""

    name: str
    pattern: str
    blank: str
    count: int
    due: date
    platings: tuple[str, ...]
    customer: str = ""
    refill: str | None = None
    extra_diameter: Length | None = None
    price: int | None = None
    state: OrderState = "wish"
