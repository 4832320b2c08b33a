"""What goes to whom now and what waits: today's wants and what is expected, put before the two-stage programme.

Every figure of it comes from the shop: terms and packs from the offers, lateness from its parcels, notice from its
orders (days from the promise to the day due), what will be asked for from the courses the levels are worked out of.
What is no promise (a typed level, a worn tool, a bottle that goes off) waits for a parcel that goes anyway or earns its
postage together with the rest; a typed level is kept free beside what is expected to be asked for.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction
from typing import TYPE_CHECKING

from inventory.catalogue import Part, Supplier, fold
from inventory.jobs.ahead.levels import DemandPast, Levels, PartLevel
from inventory.jobs.ahead.terms import HOLDING, PartSource, lateness, own_coins, prices_of, short_cost
from inventory.jobs.purchasing.demand import LOW, PROMISED, pace, unclaimed
from inventory.ledger.shop import Shop
from inventory.measures import show_measurable
from inventory.planning.two_trips import Promised, Stocked, Trip, TripOffer, TripSupplier, two_trips
from inventory.planning.windows import asked_between, nothing, quantiles
from inventory.reports.purchasing.demands import Demand
from inventory.reports.purchasing.shopping import LookedAhead

if TYPE_CHECKING:
    from inventory.planning.forecasting.arrays import Floats

DRAWN, FEWEST, TOGETHER = 8, 3, 2400
"""Courses the programme looks at: more change few choices and take longer (see scripts/soak/seasons.py). Of many parts
fewer, so that courses and parts together stay about the same: of 1,000 parts 8 courses took 18 s, 2 took 3.
"""
MAKING = 7
"""Days from a parcel to the finished piece: it waits for the next weekend (an assumption)."""
NOTICE = (14, 21, 28, 42)
"""Days orders are taken before they are due where the book shows fewer than four (an assumption)."""
TROUBLE = 0.1
"""Coins a point of trouble is worth that is no promise (see `purchasing.demand.TROUBLE`; an assumption)."""
QUANTILES = (0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 0.99)
MARKS_UP = 5.0
"""Times its profit an order is worth that comes late: what is lost is the customer too (an assumption)."""


@dataclass(frozen=True, slots=True)
class Decided:
    """now: of the demands those that are bought now, and what fills the parcels up; sent: names of suppliers that get

    an order today, and of those nobody knows how long they take; told: what waits.
    """

    now: tuple[Demand, ...]
    sent: frozenset[str]
    told: LookedAhead


def look(
    shop: Shop,
    past: DemandPast,
    made: Levels,
    demands: Sequence[Demand],
    sellers: Sequence[Supplier],
    seconds: float,
) -> Decided | None:
    """None where nothing could be decided in the time given."""
    levels = {fold(one.part.name): one for one in made.parts}
    parts = {key: one.part for key, one in levels.items()} | {
        fold(one.part.name): one.part for one in demands
    }
    senders = tuple(
        one for one in sellers if one.lead_days is not None and shop.rate(one.currency) is not None
    )
    keys = tuple(parts)
    beside = _Beside.of(shop, past, made, senders, len(keys))
    stocked = [_stocked(shop, parts[key], levels.get(key), made, beside) for key in keys]
    places = {key: at for at, key in enumerate(keys)}
    firm = [one for one in demands if one.tier in (PROMISED, LOW) or fold(one.part.name) not in levels]
    nowhere = [one for one in demands if not stocked[places[fold(one.part.name)]].sources]
    firm = [one for one in firm if one not in nowhere]
    promises = [_promised(shop, one, places, made.profit) for one in firm]
    trip = two_trips([_sender(shop, one) for one in senders], stocked, promises, made.trip, seconds=seconds)
    if trip is None:
        return None
    now = [one for one, goes in zip(firm, trip.now, strict=True) if goes]
    now += _fills(shop, made, [parts[key] for key in keys], stocked, trip, now)
    waits = [one for one, goes in zip(firm, trip.now, strict=True) if not goes]
    bought = {fold(one.part.name) for one in (*now, *waits)}
    waits += [one for key, level in levels.items() if key not in bought for one in _below(shop, level)]
    likely = [trip.likely[places[fold(one.part.name)]] for one in waits]
    told = LookedAhead(
        tuple(
            (one, senders[at].name if at is not None else "") for one, at in zip(waits, likely, strict=True)
        ),
        shop.today + timedelta(days=round(made.trip)),
        tuple((one.name, share) for one, share in zip(senders, trip.then, strict=True)),
        0.0 if trip.proven else trip.cost - trip.bound,
        beside.drawn,
        MARKS_UP,
        MAKING,
    )
    sent = {one.name for one, goes in zip(senders, trip.send, strict=True) if goes}
    sent |= {one.name for one in sellers if one not in senders}
    return Decided((*now, *nowhere), frozenset(sent), told)


def _below(shop: Shop, level: PartLevel) -> Iterable[Demand]:
    """What is below its worked-out level and can wait all the same."""
    lacks = level.reorder_at - max(unclaimed(shop, level.part, shop.today), 0)
    if lacks > 0:
        yield Demand(level.part, lacks, None, LOW, _why(shop, level.part, level.rate))


def _sender(shop: Shop, one: Supplier) -> TripSupplier:
    coin = own_coins(shop, one)
    free = one.free_from * coin if one.free_from is not None else None
    return TripSupplier(
        one.name,
        one.postage * coin,
        free,
        (one.minimum_order or 0) * coin,
        one.lead_days or 0,
        lateness(shop, one),
    )


def _promised(shop: Shop, one: Demand, places: Mapping[str, int], profit: float) -> Promised:
    order = one.orders[0] if one.orders else one.part.name
    found = shop.book.orders.get(fold(order)) if one.orders else None
    cost = MARKS_UP * profit * found.count if found else TROUBLE * one.trouble
    days = (one.needed_by - shop.today).days - MAKING if one.needed_by else 60
    return Promised(places[fold(one.part.name)], order, one.quantity / 1000, days, cost)


@dataclass(frozen=True, slots=True)
class _Beside:
    """What holds for many parts alike. notice: days, rising; late: by sender; drawn: courses looked at.

    shares: postage a coin of goods carries, by folded supplier; missed: what was worked out already, by sender, window.
    """

    senders: Sequence[Supplier]
    notice: Sequence[int]
    late: Sequence[Sequence[int]]
    drawn: int
    shares: Mapping[str, float]
    missed: dict[tuple[int, float], float]

    @classmethod
    def of(
        cls, shop: Shop, past: DemandPast, made: Levels, senders: Sequence[Supplier], parts: int
    ) -> _Beside:
        notice = past.notice if len(past.notice) >= 4 else NOTICE
        late = [lateness(shop, one) for one in senders]
        drawn = max(min(DRAWN, TOGETHER // max(parts, 1)), FEWEST)
        return cls(senders, sorted(notice), late, drawn, _shares(shop, made), {})

    def missed_of(self, sender: int, window: float) -> float:
        """See `missed`."""
        if (sender, window) not in self.missed:
            self.missed[sender, window] = missed(self.notice, self.late[sender], window)
        return self.missed[sender, window]


def _stocked(shop: Shop, part: Part, level: PartLevel | None, made: Levels, beside: _Beside) -> Stocked:
    key, senders = fold(part.name), beside.senders
    lot = max(level.rate * level.every, 0.001) if level else 1.0
    sources = _sources(shop, key, senders, lot)
    none = nothing(beside.drawn)
    lead = min((senders[one.sender].lead_days or 0 for one in sources), default=0)
    arrives = shop.today + timedelta(days=round(made.trip) + lead)
    there = max(unclaimed(shop, part, arrives), 0) / 1000
    if level is None or not sources:
        return Stocked(sources, there, none, none, 0.0, ())
    asked = made.asked[key]
    soon, before, later = (
        asked_between(asked, 0, made.trip),
        asked_between(asked, 0, made.trip + lead),
        asked_between(asked, made.trip, 2 * made.trip + lead),
    )
    first = min(sources, key=lambda one: senders[one.sender].lead_days or 0).sender
    cost = short_cost(part, made.profit, {"": made.uses[key]}) * beside.missed_of(first, made.trip + lead)
    share = beside.shares[fold(level.source.supplier.name)] if level.source is not None else 0.0
    worth = _worth(level, min(sources, key=lambda one: one.price), later, cost, share)
    return Stocked(sources, there, soon[: beside.drawn], before[: beside.drawn], cost, worth)


def _sources(shop: Shop, key: str, senders: Sequence[Supplier], lot: float) -> tuple[TripOffer, ...]:
    """The offer of each supplier that covers a cycle's use for the least."""
    done = []
    for number, one in enumerate(senders):
        found = []
        for offer in shop.offers.get(key, ()):
            rate = shop.rate(one.currency)
            if fold(offer.supplier) != fold(one.name) or rate is None or not offer.has_left(1):
                continue
            pack = offer.pack / 1000
            whole = -(-lot // pack) * pack
            price = prices_of(shop, offer, rate)(whole)
            found.append((price * whole, TripOffer(number, price, pack)))
        if found:
            done.append(min(found, key=lambda row: row[0])[1])
    return tuple(done)


def missed(notice: Sequence[int], late: Sequence[int], window: float) -> float:
    """The share of what is asked for at any time of a window that is late when its parcel comes at the end of it.

    notice: days, rising; late: days the supplier's parcels came late.
    """
    ends = [window - window * at / 8 + more + MAKING for at in range(1, 8) for more in late]
    return sum(bisect_left(notice, end) for end in ends) / (len(ends) * len(notice))


def _shares(shop: Shop, made: Levels) -> dict[str, float]:
    """Postage a coin of goods of a supplier carries, as often as it is sent to, by folded supplier."""
    bought: dict[str, list[tuple[PartLevel, PartSource]]] = {}
    for one in made.parts:
        if one.source is not None:
            bought.setdefault(fold(one.source.supplier.name), []).append((one, one.source))
    done = {}
    for name, several in bought.items():
        supplier = several[0][1].supplier
        spent = sum(one.rate * source.price(one.rate * one.every) for one, source in several)
        weeks = min(one.every for one, _ in several)
        coin = own_coins(shop, supplier)
        done[name] = float(supplier.postage * coin / max(spent * weeks, 1e-9))
    return done


def _worth(
    level: PartLevel, source: TripOffer, later: Floats, cost: float, share: float
) -> tuple[tuple[float, float], ...]:
    """Slices of what is left: its cost, less what it ties up until it is used, its postage, and shortage saved."""
    up = max(level.up_to / 1000, level.reorder_at / 1000 + source.pack)
    marks = sorted({*quantiles(later, QUANTILES), up, 2 * up})
    rows, begun = [], 0.0
    for end in marks:
        if end - begun <= 1e-9:
            continue
        middle = (begun + end) / 2
        tied = HOLDING / 52 * middle / max(level.rate, 1e-9)
        saved = cost * float((later > begun + 1e-9).mean())
        posted = min(share, 0.5) if end <= up + 1e-9 else 0.0
        rows.append((end - begun, max(source.price * (1 - tied + posted) + saved, 0.0)))
        begun = end
    return tuple(rows)


def _fills(
    shop: Shop,
    made: Levels,
    parts: Sequence[Part],
    stocked: Sequence[Stocked],
    trip: Trip,
    promised: Iterable[Demand],
) -> Iterable[Demand]:
    """What the parcels bring beyond that."""
    needs: Counter[str] = Counter()
    for one in promised:
        needs[one.part.name] += one.quantity
    brought: Counter[int] = Counter()
    for at, which, packs in trip.packs:
        brought[at] += round(packs * stocked[at].sources[which].pack * 1000)
    rates = {fold(one.part.name): one.rate for one in made.parts}
    for at, quantity in brought.items():
        part = parts[at]
        more = quantity - needs[part.name]
        if more > 0:
            yield Demand(part, more, None, LOW, _why(shop, part, rates.get(fold(part.name), 0.0)))


def _why(shop: Shop, part: Part, rate: float) -> str:
    there = max(unclaimed(shop, part, shop.today), 0)
    asked = pace(Fraction(round(rate * 1000), 7), part) if rate * 365000 >= 7 else "little"
    return f"{show_measurable(there, part.unit, down=True)} free; {asked} asked for"
