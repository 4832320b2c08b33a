"""The book as a rehearsal's scene: shelf, parcels, promises, what is expected, how parts are bought.

What is not in it: minimum orders, sold-out offers, and goods that go out of date in these weeks. Pieces sold off the
shelf are asked for like orders. Of a promised order the hours are those of all its pieces, though some may be begun.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from math import ceil, exp
from statistics import NormalDist

from inventory.catalogue import STALL, Offer, Order, Part, Piece, Supplier, Tool, fold
from inventory.jobs.ahead.levels import Levels, factors
from inventory.jobs.ahead.making import Making, making_of
from inventory.jobs.ahead.terms import PartSource, lateness, minor_units, source_of
from inventory.jobs.hours.time_left import promised_work
from inventory.jobs.hours.week import week_of
from inventory.ledger.availability import out_of_date
from inventory.ledger.lateness import counted_on
from inventory.ledger.shop import Shop
from inventory.planning.demand.expected import Kind
from inventory.planning.demand.markets import SHAPE, made_in
from inventory.planning.rehearsal.scene import (
    ALWAYS_POSTED,
    SCALE,
    BoughtAs,
    MadeOf,
    Owed,
    Recipe,
    Scene,
    Sender,
    Stream,
    UnderWay,
)

NOTICE = (2, 3, 4)
"""Weeks from asking to due where fewer than `LEAST` promises of the past show them (an assumption)."""
LEAST = 5
SWINGS = 32
"""How many good and bad times are told apart."""


@dataclass(frozen=True, slots=True)
class Staged:
    """A scene, and by its numbers the parts, folded, with where each is reckoned to come from."""

    scene: Scene
    parts: tuple[str, ...]
    sources: tuple[PartSource | None, ...]


def staged(shop: Shop, made: Levels, notice: Sequence[int], weeks: int) -> Staged:
    """The scene of so many weeks. made: levels, with what is expected; notice: weeks from asking to due, as it was."""
    kinds, streams = _expected(shop, made, notice, weeks)
    sources = {fold(one.part.name): one.source for one in made.parts}
    owed = _claims(shop)
    used = [*owed.values(), *(one for kind in kinds.values() for one in kind.takes)]
    for key in dict.fromkeys(part for one in used for part in one):
        part = shop.catalogue.parts[key]
        if key not in sources:
            sources[key] = source_of(shop, part, 0.0)
    parts = tuple(key for key in sources if not isinstance(shop.catalogue.parts[key].detail, Tool | Piece))
    number = {key: at for at, key in enumerate(parts)}
    senders, groups = _senders(shop, sources.values()), _groups(shop)
    rates = {fold(one.part.name): one.rate * one.every for one in made.parts}
    scene = Scene(
        weeks,
        [_good(shop, shop.catalogue.parts[key]) for key in parts],
        [_bought(shop, sources[key], rates.get(key, 0.0), list(senders), groups) for key in parts],
        list(senders.values()),
        [_numbered(kinds[kind], number) for kind in kinds],
        streams,
        _owed(shop, owed, number),
        _coming(shop, number, list(senders)),
        {number[key]: points for key in parts if len(points := _hands(shop, key)) > 1},
        _hours(shop, weeks),
        _swings(made.expected.swing),
    )
    return Staged(scene, parts, tuple(sources[key] for key in parts))


def _expected(
    shop: Shop, made: Levels, notice: Sequence[int], weeks: int
) -> tuple[dict[tuple[str, Kind], Making], list[Stream]]:
    """Every kind that can be made, and the streams of orders of each pattern for them."""
    kinds: dict[tuple[str, Kind], Making] = {}
    streams = []
    months = made.expected.season(shop.today, weeks)
    for one in made.expected.patterns:
        shares = {}
        for kind, share in one.kinds.items():
            making = making_of(shop, one.pattern, kind)
            if making is not None and share > 0:
                kinds[one.pattern, kind] = making
                shares[kind] = share
        if shares and one.orders:
            rows = [list(kinds).index((one.pattern, kind)) for kind in shares]
            a_week = [one.orders * sum(shares.values()) * month for month in months]
            usual = tuple(notice) if len(notice) >= LEAST else NOTICE
            sizes = tuple(one.sizes), tuple(one.sizes.values())
            streams.append(Stream(a_week, one.shape, rows, tuple(shares.values()), *sizes, usual))
    return kinds, [*streams, *_markets(shop, made, list(kinds), weeks)]


def _markets(shop: Shop, made: Levels, kinds: Sequence[tuple[str, Kind]], weeks: int) -> Iterable[Stream]:
    """A stream for each market to come: its pieces, one by one, in the week they are made, due on its day."""
    shares = made.expected.shares()
    sold = [shares.get(kind, 0.0) for kind in kinds]
    for one in made.expected.markets:
        week = made_in(one.on, shop.today)
        if week < weeks and one.pieces > 0 and sum(sold) > 0:
            expected = [one.pieces * (at == week) for at in range(weeks)]
            # It is on some day of its week, and what comes that week may be too late.
            notice = max((one.on - shop.today).days // 7 - 1 - week, 0)
            yield Stream(expected, SHAPE, range(len(kinds)), sold, notice=(notice,), market=True)


def _numbered(made: Making, number: Mapping[str, int]) -> MadeOf:
    rows = [
        Recipe([(number[part], units) for part, units in one.items() if part in number], minutes)
        for one, minutes in zip(made.takes, made.minutes, strict=True)
    ]
    return MadeOf(rows[0], list(zip(made.shares, rows[1:], strict=True)), made.finished)


def _claims(shop: Shop) -> dict[str, Counter[str]]:
    """By folded order what is set aside or still to be bought for it, pieces that are finished left out."""
    done: dict[str, Counter[str]] = {}
    for claim in shop.book.claims:
        order = shop.book.orders.get(fold(claim.order))
        if order is not None and order.state == "promised":
            done.setdefault(fold(claim.order), Counter())[fold(claim.part)] += claim.quantity
    return done


def _owed(shop: Shop, claims: Mapping[str, Mapping[str, int]], number: Mapping[str, int]) -> list[Owed]:
    minutes = {fold(work.name): work.minutes for work in promised_work(shop)}
    return [
        Owed(
            _due_week(shop, shop.book.orders[order]),
            [(number[part], units) for part, units in takes.items() if part in number],
            minutes.get(order, 0),
        )
        for order, takes in claims.items()
    ]


def _due_week(shop: Shop, order: Order) -> int:
    """What is for the stall is due on no day."""
    return 10**6 if order.customer == STALL else max((order.due - shop.today).days, 0) // 7


def _good(shop: Shop, part: Part) -> int:
    """What is on the shelf and in date, set aside or not."""
    gone = sum(lot.quantity for lot in out_of_date(shop.book, part, shop.today))
    return max(shop.book.balance(part.name).on_hand - gone, 0)


def _senders(shop: Shop, sources: Iterable[PartSource | None]) -> dict[str, Sender]:
    """By folded supplier; those parcels are on their way from too, and last nobody."""
    names = dict.fromkeys(fold(one.supplier.name) for one in sources if one is not None)
    names |= dict.fromkeys(fold(row.supplier) for row in shop.book.due)
    done = {key: _sender(shop, shop.catalogue.suppliers[key]) for key in names}
    return {**done, "": Sender(0)}


def _sender(shop: Shop, one: Supplier) -> Sender:
    rate = shop.rate(one.currency) or 1
    lead = one.lead_days or 0
    weeks = [max(ceil((lead + late) / 7), 1) for late in lateness(shop, one)]
    free_from = ALWAYS_POSTED if one.free_from is None else round(one.free_from * rate)
    return Sender(round(one.postage * rate), free_from, weeks)


def _bought(
    shop: Shop,
    source: PartSource | None,
    lot: float,
    senders: Sequence[str],
    groups: Mapping[tuple[str, str], int],
) -> BoughtAs:
    """lot: units that are bought at once, whose price is what stock is worth."""
    if source is None:
        return BoughtAs(senders.index(""), -1, 1000, [(0, 0)])
    offer, rate = source.offer, shop.rate(source.supplier.currency) or 1
    steps = [(step.from_packs, round(step.price * rate)) for step in offer.steps]
    steps[0] = (0, steps[0][1])
    worth = round(source.price(lot) * minor_units(shop) * SCALE / 1000)
    supplier = senders.index(fold(source.supplier.name))
    return BoughtAs(supplier, groups[_group(offer)], offer.pack, steps, worth)


def _groups(shop: Shop) -> dict[tuple[str, str], int]:
    """A number for each price group, and for what counts alone."""
    named = dict.fromkeys(_group(offer) for several in shop.offers.values() for offer in several)
    return {name: at for at, name in enumerate(named)}


def _group(offer: Offer) -> tuple[str, str]:
    return fold(offer.supplier), offer.price_group or f"{fold(offer.part)}/{offer.pack}"


def _coming(shop: Shop, number: Mapping[str, int], senders: Sequence[str]) -> list[UnderWay]:
    done = []
    for row in shop.book.due:
        part, sender = fold(row.part), senders.index(fold(row.supplier))
        day = counted_on(shop.book, row, shop.today)
        lead = shop.catalogue.suppliers[fold(row.supplier)].lead_days or 0
        days = (day - shop.today).days if day is not None else lead
        if part in number:
            done.append(UnderWay(number[part], row.quantity, max(days, 0) // 7, sender))
    return done


def _hands(shop: Shop, key: str) -> list[int]:
    return [round(1000 * one) for one in factors(shop, key)]


def _hours(shop: Shop, weeks: int) -> list[int] | None:
    week = week_of(shop.settings)
    if week is None:
        return None
    days = [shop.today + timedelta(days=7 * at) for at in range(weeks + 1)]
    return [week.between(first, end) for first, end in pairwise(days)]


def _swings(swing: float) -> list[int]:
    """Thousandths of the usual: the middles of equally likely parts of a lognormal law, with mean 1."""
    normal = NormalDist()
    points = [exp(swing * normal.inv_cdf((at + 0.5) / SWINGS)) for at in range(SWINGS)]
    return [round(1000 * one * SWINGS / sum(points)) for one in points]


def notices(shop: Shop, taken: Mapping[str, date]) -> tuple[int, ...]:
    """Whole weeks from the day each order was taken to the day it was due, of those that were to be made for a day."""
    return tuple(
        min((order.due - taken[key]).days // 7, 26)
        for key, order in shop.book.orders.items()
        if key in taken and order.due > taken[key] and order.customer != STALL
    )
