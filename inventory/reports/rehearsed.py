"""What a rehearsal of the coming weeks comes to, for screens and sheets."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from inventory.catalogue import Part
from inventory.measures import Currency
from inventory.planning.rehearsal.telling import Spread


@dataclass(frozen=True, slots=True)
class RehearsedWay:
    """A way of buying; money in the shop's coin. late: orders; missed: pieces a market lacked; cost: see `jobs/ahead`.

    money: what lies in stock on average; by_week: the same at the end of each week. saves, spares: how much dearer and
    how many more orders late the first way is, the mean with its 95 % interval. chances: by part, of somebody waiting
    for it at the end of each week.
    """

    name: str
    late: Spread
    missed: Spread
    cost: Spread
    money: Spread
    by_week: tuple[Spread, ...]
    parcels: float
    saves: Spread
    spares: Spread
    chances: Mapping[str, tuple[float, ...]]


@dataclass(frozen=True, slots=True)
class Sleeps:
    """What of a part is left over in all but one future in twenty: thousandths, and what it is worth in coins."""

    part: Part
    quantity: int
    worth: float


@dataclass(frozen=True, slots=True)
class Rehearsed:
    """asked: orders in a future on average, promised ones among them; pieces: what markets are expected to sell.

    looked_back: weeks of past it is drawn from; hours: whether the maker said what hours there are. parts: by folded
    name, those that are used.
    """

    seed: int
    weeks: int
    futures: int
    first: date
    currency: Currency
    ways: tuple[RehearsedWay, ...]
    parts: Mapping[str, Part]
    sleeps: tuple[Sleeps, ...]
    asked: float
    pieces: float
    looked_back: int
    hours: bool
    markets: tuple[tuple[str, date], ...] = ()

    def ends(self, week: int) -> date:
        """The last day of a week, counted from 0."""
        return self.first + timedelta(days=7 * week + 6)
