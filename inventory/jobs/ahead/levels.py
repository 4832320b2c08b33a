"""At what stock each part is to be ordered again, and up to what, worked out from what is expected to be asked for.

What is asked for in many courses of the coming weeks is exploded through bills, losses and rates. Of each part:

- how often its supplier is sent to: the cycle that costs least (`planning.cycles`);
- the reorder level: the least stock that lasts over lead time, as late as parcels were, and the days to the next trip
  with probability 1 − h c T / b (a unit more costs h c T over a cycle of T, one too few b; newsvendor, Hadley and
  Whitin, Analysis of Inventory Systems (1963), §4-2, from memory);
- order up to: what the cycle is expected to take beyond it, no more than keeps.

Where all this ties up more money than the maker will have in stock, holding is made dearer until it does not.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import TYPE_CHECKING

from inventory.catalogue import Part, Piece, Supply, Tool, fold
from inventory.jobs.ahead.markets import to_come
from inventory.jobs.ahead.recipes import kinds_of, per_piece
from inventory.jobs.ahead.terms import (
    HOLDING,
    PartSource,
    between_trips,
    lateness,
    minor_units,
    own_coins,
    short_cost,
    source_of,
)
from inventory.jobs.learning.supply_use import by_rate, known_use
from inventory.ledger.asked import AskedFor
from inventory.ledger.markets import Market
from inventory.ledger.shop import Shop
from inventory.measures import read_unit
from inventory.planning.cycles import Supplied, cycle
from inventory.planning.demand.expected import Expected, Kind, expected
from inventory.planning.futures import Courses, courses
from inventory.planning.windows import SUREST, lasting, taken_of

if TYPE_CHECKING:
    from datetime import date

    from inventory.planning.forecasting.arrays import Floats

WEEKS, COURSES, SEED = 26, 500, 11
HORIZON = 4
"""Weeks the forecasting methods are judged over."""
PROFIT = 10.0
"""What a piece leaves, coins, where no price was ever agreed (an assumption)."""


@dataclass(frozen=True, slots=True)
class PartLevel:
    """A part's worked-out figures, thousandths of its unit.

    rate: units expected a week; weeks: lead time and review it is reckoned over; chance: that the level lasts so long;
    source: where it is reckoned to come from, None where nobody sells it; every: weeks between two purchases of it.
    """

    part: Part
    reorder_at: int
    up_to: int
    rate: float
    weeks: float
    chance: float
    source: PartSource | None
    every: float


@dataclass(frozen=True, slots=True)
class Levels:
    """parts: those that are expected to be used; money: coins that lie in stock on average at these levels.

    kept: whether that is no more than was asked for; a step of every part at a time may be more. asked: by folded part
    the units each course asks for, (weeks, courses); uses: the most units a piece takes; profit: coins a piece leaves.
    takes: by pattern and kind the units of each part a good piece takes.
    """

    parts: tuple[PartLevel, ...]
    expected: Expected
    trip: float
    money: float
    kept: bool
    asked: Mapping[str, Floats]
    uses: Mapping[str, float]
    profit: float
    takes: Mapping[tuple[str, Kind], Mapping[str, float]]


@dataclass(frozen=True, slots=True)
class DemandPast:
    """What the book remembers: what was asked for, the days of shopping trips, what markets are named, and notice:

    days from the promise of each order to the day it was due.
    """

    asked: Sequence[AskedFor]
    trips: Sequence[date] = ()
    markets: Sequence[Market] = ()
    notice: Sequence[int] = ()


def levels(shop: Shop, past: DemandPast, *, most_money: float | None = None) -> Levels:
    """Every part's level. most_money: coins that may lie in stock on average, None for no cap."""
    kinds = kinds_of(shop, past.asked)
    looked = expected(past.asked, kinds, shop.today, HORIZON)
    looked = replace(looked, markets=to_come(shop, past))
    drawn = courses(looked, shop.today, WEEKS, COURSES, SEED)
    taken = per_piece(shop, drawn.kinds)
    trip = between_trips(past.trips)
    profit = _profit(shop, past.asked)
    rows = _uses(shop, drawn, taken)
    asked = {key: taken_of(drawn, uses, factors(shop, key)) for key, uses in rows.items()}
    done = _worked_out(shop, rows, asked, profit, trip, HOLDING)
    if most_money is not None and _money(done) > most_money:
        low, high = HOLDING, 64 * HOLDING
        for _ in range(12):
            middle = (low * high) ** 0.5
            done = _worked_out(shop, rows, asked, profit, trip, middle)
            low, high = (middle, high) if _money(done) > most_money else (low, middle)
        done = _worked_out(shop, rows, asked, profit, trip, high)
    kept = most_money is None or _money(done) <= most_money
    most = {key: max(uses.values()) for key, uses in rows.items()}
    return Levels(done, looked, trip, _money(done), kept, asked, most, profit, taken)


def _profit(shop: Shop, asked: Iterable[AskedFor]) -> float:
    """Coins a piece leaves: the shop's margin of what was agreed, on average."""
    prices = [one.price for one in asked if one.price]
    mean = sum(prices) / len(prices) / minor_units(shop) if prices else 0.0
    return float(shop.margin) * mean or PROFIT


def _uses(
    shop: Shop, drawn: Courses, taken: Mapping[tuple[str, Kind], Mapping[str, float]]
) -> dict[str, dict[int, float]]:
    """By folded part the rows of the courses that use it, with units a piece; no tools, nothing made or retired."""
    found: dict[str, dict[int, float]] = {}
    for row, kind in enumerate(drawn.kinds):
        for key, units in taken.get(kind, {}).items():
            part = shop.catalogue.parts.get(key)
            if not units or part is None or isinstance(part.detail, Tool | Piece):
                continue
            if not shop.catalogue.no_longer_bought(part):
                found.setdefault(key, {})[row] = units
    return found


def _worked_out(
    shop: Shop,
    rows: Mapping[str, Mapping[int, float]],
    asked: Mapping[str, Floats],
    profit: float,
    trip: float,
    holding: float,
) -> tuple[PartLevel, ...]:
    weekly = holding / 52
    rates = {key: float(one.mean()) for key, one in asked.items()}
    sources = {key: source_of(shop, shop.catalogue.parts[key], 4 * rate) for key, rate in rates.items()}
    cycles = _cycles(shop, rates, sources, weekly)
    done = []
    for key, uses in rows.items():
        part, source = shop.catalogue.parts[key], sources[key]
        every = cycles.get(key, 4.0)
        cost = source.price(rates[key] * every) if source else 0.0
        short = short_cost(part, profit, {str(row): units for row, units in uses.items()})
        chance = min(max(1 - weekly * cost * every / short, 0.0), SUREST) if short else 0.0
        days = trip + (source.supplier.lead_days or 0 if source else 0)
        late = lateness(shop, source.supplier) if source else (0,)
        level, weeks = lasting(asked[key], days, late, chance)
        done.append(_rounded(part, level, rates[key], weeks, chance, source, every))
    return tuple(done)


def factors(shop: Shop, key: str) -> Sequence[float]:
    """How much of a supply may really be used for what the bills write, about 1; counted parts as written."""
    part = shop.catalogue.parts[key]
    if not by_rate(part):
        return (1.0,)
    found = [
        point.factors.get("piece", 1.0) for point in known_use(shop.learned, part.name, ("piece",)).points
    ]
    return [one * len(found) / sum(found) for one in found]


def _cycles(
    shop: Shop, rates: Mapping[str, float], sources: Mapping[str, PartSource | None], weekly: float
) -> dict[str, float]:
    """Weeks between two purchases of each part, by supplier."""
    by: dict[str, list[tuple[str, PartSource]]] = {}
    for key, source in sources.items():
        if source is not None and rates[key] > 0:
            by.setdefault(fold(source.supplier.name), []).append((key, source))
    done: dict[str, float] = {}
    for several in by.values():
        supplier = several[0][1].supplier
        coin = own_coins(shop, supplier)
        rows = [
            Supplied(rates[key], one.price, one.group, one.steps, _keeps(shop, key)) for key, one in several
        ]
        free = supplier.free_from * coin if supplier.free_from is not None else None
        best = cycle(rows, supplier.postage * coin, free, weekly)
        done |= {key: best.weeks * m for (key, _), m in zip(several, best.multiples, strict=True)}
    return done


def _keeps(shop: Shop, key: str) -> float | None:
    detail = shop.catalogue.parts[key].detail
    return 0.8 * detail.keeps_sealed / 7 if isinstance(detail, Supply) and detail.keeps_sealed else None


def _rounded(
    part: Part,
    level: float,
    rate: float,
    weeks: float,
    chance: float,
    source: PartSource | None,
    every: float,
) -> PartLevel:
    """To whole pieces where it is counted, else to what its unit can be measured in."""
    step = 1000 if read_unit(part.unit).kind == "count" else 500
    at = ceil(level * 1000 / step - 1e-9) * step
    more = max(rate * every, 0.0)
    up = at + max(round(more * 1000 / step), 1 if rate else 0) * step
    return PartLevel(part, at, up, rate, weeks, chance, source, every)


def _money(done: Iterable[PartLevel]) -> float:
    """Coins in stock on average: the level less what the lead time takes, and half of what a cycle brings."""
    return sum(
        one.source.price(one.rate * one.every)
        * max(one.reorder_at / 1000 - one.rate * one.weeks + (one.up_to - one.reorder_at) / 2000, 0.0)
        for one in done
        if one.source
    )
