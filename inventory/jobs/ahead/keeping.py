"""What keeping stock costs a year, part by part and drawer by drawer, and which parts are worth the trouble.

A year of a part costs what its money is worth elsewhere (its stock now, at a rate that can be set), what of it was
thrown out in the last year or lies there out of date, and its share of the postage of the parcels it comes in, by what
is bought of it. What a year's use is worth, and how often a supplier is sent to, is as the levels have it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from inventory.catalogue import Part, Piece, fold
from inventory.jobs.ahead.levels import Levels, PartLevel
from inventory.jobs.ahead.terms import minor_units, own_coins, short_cost
from inventory.ledger.asked import AskedFor
from inventory.ledger.availability import out_of_date
from inventory.ledger.past.asleep import Asleep, Held, asleep
from inventory.ledger.shop import Shop
from inventory.planning.classes import DemandClass, ValueClass, by_demand, by_value
from inventory.planning.demand.expected import kind_of

NO_DRAWER = "no drawer"


@dataclass(frozen=True, slots=True)
class PartKept:
    """One part, money in coins. use: a year's use; upto: the share of all use down to this part; worth: stock now.

    tied, expired, posted: a year's cost of its money, of what was thrown out or is out of date, of postage;
    short: what one unit too few costs; asleep: where nothing of it moved for half a year or longer.
    """

    part: Part
    value: ValueClass
    upto: float
    demand: DemandClass | None
    use: float
    worth: float
    tied: float
    expired: float
    posted: float
    short: float
    asleep: Asleep | None

    @property
    def cost(self) -> float:
        """A year of keeping it."""
        return self.tied + self.expired + self.posted


@dataclass(frozen=True, slots=True)
class StockKept:
    """parts: what is there or expected to be used, the most used first; holding: what a coin in stock costs a year.

    asleep: what neither came nor went for half a year, finished pieces among it, most money first.
    """

    parts: tuple[PartKept, ...]
    holding: float
    asleep: tuple[Asleep, ...]

    def by_drawer(self) -> dict[str, list[PartKept]]:
        """Drawers, the dearest a year first."""
        found: dict[str, list[PartKept]] = {}
        for one in self.parts:
            found.setdefault(one.part.drawer or NO_DRAWER, []).append(one)
        dear = {name: sum(one.cost for one in several) for name, several in found.items()}
        return {name: found[name] for name in sorted(found, key=lambda name: (-dear[name], name))}


@dataclass(frozen=True, slots=True)
class KeptPast:
    """What the book remembers. asked: orders and sales; held: parts that lie there, with the day each last moved.

    thrown: by folded part minor units thrown out in the last year.
    """

    asked: Sequence[AskedFor]
    held: Sequence[Held]
    thrown: Mapping[str, int]


def kept(shop: Shop, made: Levels, past: KeptPast, holding: float) -> StockKept:
    """Every part. made: levels; holding: share of the money in stock that a year of keeping it costs."""
    levels = {fold(one.part.name): one for one in made.parts}
    lots = [lot for several in shop.book.lots.values() for lot in several]
    worth: Counter[str] = Counter()
    for lot in lots:
        worth[fold(lot.part)] += lot.cost
    sleeping = asleep(past.held, shop.today)
    by_part = {fold(one.part): one for one in sleeping}
    parts = shop.catalogue.parts
    keys = [
        key
        for key in {**worth, **levels}
        if (worth.get(key) or key in levels) and not isinstance(parts[key].detail, Piece)
    ]
    uses = {key: _use(levels.get(key)) for key in keys}
    classes, series, posted = by_value(uses), _weeks(made, past.asked, shop.today), _posted(shop, made)
    coin = minor_units(shop)
    done = []
    for key in classes:
        gone = sum(lot.cost for lot in out_of_date(shop.book, parts[key], shop.today))
        value, upto = classes[key]
        held = worth[key] / coin
        done.append(
            PartKept(
                *(parts[key], value, upto, by_demand(series.get(key, ())), uses[key], held, holding * held),
                *((past.thrown.get(key, 0) + gone) / coin, posted.get(key, 0.0)),
                short_cost(parts[key], made.profit, {"": made.uses[key]}) if key in made.uses else 0.0,
                by_part.get(key),
            )
        )
    return StockKept(tuple(done), holding, sleeping)


def _use(level: PartLevel | None) -> float:
    """Coins a year's expected use is worth; nothing where nobody sells it any more."""
    return 52 * level.rate * level.source.price(level.rate * level.every) if level and level.source else 0.0


def _posted(shop: Shop, made: Levels) -> dict[str, float]:
    """Coins of postage a year, by folded part: each supplier's parcels shared by what is bought of it."""
    by: dict[str, list[PartLevel]] = {}
    for one in made.parts:
        if one.source is not None and one.rate > 0:
            by.setdefault(one.source.supplier.name, []).append(one)
    done: dict[str, float] = {}
    for name, several in by.items():
        supplier = shop.catalogue.supplier(name)
        coin = own_coins(shop, supplier)
        parcels, bought = 52 / min(one.every for one in several), sum(_use(one) for one in several)
        free = supplier.free_from is not None and bought / parcels >= supplier.free_from * coin
        if bought and not free:
            share = parcels * supplier.postage * coin / bought
            done |= {fold(one.part.name): share * _use(one) for one in several}
    return done


def _weeks(made: Levels, asked: Iterable[AskedFor], today: date) -> dict[str, list[float]]:
    """What was asked for of each part, by weeks back from today to the first order."""
    rows = [one for one in asked if one.on <= today]
    weeks = (today - min((one.on for one in rows), default=today)).days // 7 + 1
    done: dict[str, list[float]] = {}
    for one in rows:
        for part, units in made.takes.get((fold(one.pattern), kind_of(one)), {}).items():
            done.setdefault(part, [0.0] * weeks)[(today - one.on).days // 7] += units * one.pieces
    return done
