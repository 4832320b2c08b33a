"""What stands on the page of the shop: texts as a person reads them, and figures only where something is drawn."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class PageOrder:
    """An open order. late: its day is past or cannot be kept; lacks: a text each; price: empty where none is agreed."""

    name: str
    customer: str
    due: date
    late: bool
    what: str
    stands: str
    lacks: tuple[str, ...]
    price: str


@dataclass(frozen=True, slots=True)
class PagePart:
    """A part. days_left: of what is free, at the rate of the last half year; None where nothing was used.

    by_month: thousandths used in each of the last months; empty, as `used` is, where nothing was.
    """

    name: str
    kind: str
    on_hand: str
    free: str
    reorder_at: str
    due_in: str
    short: bool
    days_left: int | None
    where: str
    fits: str
    by_month: tuple[int, ...] = ()
    used: str = ""


@dataclass(frozen=True, slots=True)
class PageBottle:
    """What goes out of date. off: it is already."""

    name: str
    held: str
    best_before: date
    off: bool


@dataclass(frozen=True, slots=True)
class PageParcel:
    """What is on its way."""

    part: str
    quantity: str
    supplier: str
    expected: date | None
    late: bool


@dataclass(frozen=True, slots=True)
class PageMake:
    """So many pieces that can be made now."""

    count: int
    piece: str
    blank: str


@dataclass(frozen=True, slots=True)
class PageMoney:
    """What a private page leaves out. months: name, sold for, left; prices: pattern and what was agreed last;

    goals: name, reached of what, day.
    """

    worth: str
    this_month: str
    this_year: str
    coin: str
    months: tuple[tuple[str, Decimal, Decimal], ...]
    prices: tuple[tuple[str, str], ...]
    goals: tuple[tuple[str, str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class ShopPage:
    """Everything on it. money: None on a page for the wall; then no order has a customer or a price either.

    most: whether no larger set of pieces can be made.
    """

    day: date
    orders: tuple[PageOrder, ...]
    makeable: tuple[PageMake, ...]
    short: tuple[PagePart, ...]
    parts: tuple[PagePart, ...]
    bottles: tuple[PageBottle, ...]
    parcels: tuple[PageParcel, ...]
    money: PageMoney | None = field(default=None)
    most: bool = True
