"""One season lived: what is asked for, made, lost, bought and thrown out, with a way of buying to be tried.

A way of buying (`Buys`) is asked every seventh evening for what to order, in packs of offers; everything else is the
same for each. Parts are set to orders by due day; every evening of the weekend as much is begun as there are parts and
hours for; what is lost is begun again where the parts are there.
"""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING
from zlib import crc32

from season_world import CAPACITY, DAYS, LOST_LATE, LOST_TURNING, Ask, Parcel, Recipe, Tally, recipe

if TYPE_CHECKING:
    import numpy as np

    from inventory.catalogue import Catalogue, Offer, Supplier

Order = tuple["Offer", int]
Buys = Callable[["Season"], Sequence[Order]]
DOLLAR = Fraction(92, 100)
RISES = ((180, Fraction(103, 100)), (400, Fraction(104, 100)))
"""Days from which everything costs that much more."""


@dataclass(slots=True)
class Lot:
    """Stock that came together: quantity, the day it came, what a thousandth of it cost, postage not in it."""

    quantity: int
    came: int
    each: Fraction


@dataclass(slots=True)
class Season:
    """The state of one shop on one day, and what was written down on the way.

    dice: the luck at the lathe; post: that of parcels, a stream of its own so that no way of buying changes the other.
    """

    catalogue: Catalogue
    offers: Mapping[str, Sequence[Offer]]
    suppliers: Mapping[str, Supplier]
    asks: list[Ask]
    dice: np.random.Generator
    post: np.random.Generator
    shop: int
    day: int = 0
    lots: dict[str, list[Lot]] = field(default_factory=lambda: defaultdict(list))
    due: list[Parcel] = field(default_factory=list)
    open: list[Ask] = field(default_factory=list)
    history: list[Ask] = field(default_factory=list)
    used: list[tuple[int, str, int]] = field(default_factory=list)
    trips: list[int] = field(default_factory=list)
    lateness: list[tuple[str, int]] = field(default_factory=list)
    hand: dict[str, float] = field(default_factory=dict)
    recipes: dict[tuple[str, str, str], Recipe] = field(default_factory=dict)
    tally: Tally = field(default_factory=Tally)

    def on_hand(self, part: str) -> int:
        """Thousandths that lie there."""
        return sum(lot.quantity for lot in self.lots[part])

    def coming(self, part: str) -> int:
        """Thousandths that are on their way."""
        return sum(one.quantity for one in self.due if one.part == part)

    def takes(self, what: tuple[str, str, str]) -> Recipe:
        """The recipe of a piece, worked out once."""
        if what not in self.recipes:
            self.recipes[what] = recipe(self.catalogue, what)
        return self.recipes[what]

    def price_now(self) -> Fraction:
        """By how much everything costs more by now."""
        done = Fraction(1)
        for day, factor in RISES:
            done *= factor if self.day >= day else 1
        return done

    def coin(self, supplier: Supplier) -> Fraction:
        """The shop's cents for one of the supplier's."""
        return DOLLAR if supplier.currency == "USD" else Fraction(1)


def live(season: Season, buys: Buys) -> Tally:
    """From the first day to the last."""
    season.tally.begun_with = worth(season)
    ahead = list(season.asks)
    for day in range(DAYS):
        season.day = day
        while ahead and ahead[0].on <= day:
            ask = ahead.pop(0)
            ask.left = ask.pieces
            season.open.append(ask)
            season.history.append(ask)
            season.tally.asked += ask.pieces
        _arrive(season)
        _throw_out(season)
        if day % 7 == 5:
            _make(season)
        _close(season)
        if day % 7 == 6 and day < DAYS - 30:
            started = time.process_time()
            bought = list(buys(season))
            season.tally.seconds += time.process_time() - started
            order(season, bought)
        if day % 7 == 0:
            season.tally.stock.append(worth(season))
    season.tally.ends_with = worth(season) + sum((one.cost for one in season.due), Fraction(0))
    return season.tally


def _arrive(season: Season) -> None:
    for one in [one for one in season.due if one.comes <= season.day]:
        season.due.remove(one)
        season.lots[one.part].append(Lot(one.quantity, season.day, one.cost / one.quantity))
        season.lateness.append((one.supplier, season.day - one.expected))


def _throw_out(season: Season) -> None:
    for key, lots in season.lots.items():
        keeps = getattr(season.catalogue.parts[key].detail, "keeps_sealed", None)
        if keeps:
            old = [lot for lot in lots if season.day - lot.came > keeps]
            season.tally.thrown_out += sum((lot.each * lot.quantity for lot in old), Fraction(0))
            season.lots[key] = [lot for lot in lots if season.day - lot.came <= keeps]


def _make(season: Season) -> None:
    """An evening: earliest due first, a piece at a time, while there are parts and room at the lathe."""
    begun, fresh = 0, set[str]()
    for ask in sorted(season.open, key=lambda ask: (ask.due, ask.on)):
        taken = season.takes(ask.what)
        while ask.left and begun < CAPACITY and _there(season, taken, fresh):
            begun += 1
            for part, quantity in taken.evening.items():
                if part not in fresh:
                    fresh.add(part)
                    take(season, part, quantity)
            for part, each in taken.lathe.items():
                take(season, part, _really(season, part, each))
            if season.dice.random() < LOST_TURNING:
                continue
            for part, each in taken.late.items():
                take(season, part, _really(season, part, each))
            if season.dice.random() < LOST_LATE:
                continue
            ask.left -= 1
            season.tally.good += 1


def _there(season: Season, taken: Recipe, fresh: set[str]) -> bool:
    def enough(part: str) -> bool:
        need = taken.lathe.get(part, Fraction(0)) + taken.late.get(part, Fraction(0))
        return season.on_hand(part) >= need + (0 if part in fresh else taken.evening.get(part, 0))

    return all(map(enough, taken.parts()))


def _really(season: Season, part: str, each: Fraction) -> int:
    """Counted parts go as written; of a supply this shop's hand takes more or less, and never twice the same."""
    import numpy as np

    detail = season.catalogue.parts[part].detail
    if type(detail).__name__ != "Supply" or detail.type in ("refill", "packaging", "spare fitting"):  # type: ignore[union-attr]  # looked at by its kind
        return ceil(each)
    if part not in season.hand:
        season.hand[part] = float(
            np.exp(0.3 * np.random.default_rng((season.shop, crc32(part.encode()))).normal())
        )
    return ceil(float(each) * season.hand[part] * float(np.exp(0.3 * season.dice.normal())))


def take(season: Season, part: str, quantity: int) -> None:
    """First in, first out; what is not there is not taken."""
    season.used.append((season.day, part, quantity))
    for lot in season.lots[part]:
        gone = min(lot.quantity, quantity)
        lot.quantity -= gone
        quantity -= gone
    season.lots[part] = [lot for lot in season.lots[part] if lot.quantity]


def _close(season: Season) -> None:
    for ask in list(season.open):
        if ask.left and season.day > ask.due:
            if ask.market:
                season.tally.market_lost += ask.left
                season.open.remove(ask)
            elif not ask.late:
                ask.late = True
                season.tally.late += 1
        elif not ask.left:
            season.open.remove(ask)


def order(season: Season, bought: Sequence[Order]) -> None:
    """Send the orders: pay goods by price steps and postage by supplier, and wait."""
    by: dict[str, list[Order]] = defaultdict(list)
    for offer, packs in bought:
        if packs:
            by[offer.supplier.casefold()].append((offer, packs))
    for key, lines in by.items():
        supplier = season.suppliers[key]
        goods, costs = priced(season, lines)
        coin = season.coin(supplier)
        free = supplier.free_from is not None and goods >= supplier.free_from * season.price_now()
        postage = Fraction(0) if free else supplier.postage * coin
        season.tally.goods += goods * coin
        season.tally.postage += postage
        season.tally.parcels += 1
        wanted = promised(season)
        if not any(offer.part.casefold() in wanted for offer, _ in lines):
            season.tally.idle_parcels += 1
            season.tally.idle_postage += postage
        expected = season.day + (supplier.lead_days or 14)
        late = (
            int(season.post.integers(0, 3))
            if season.post.random() < 0.9
            else int(season.post.integers(5, 22))
        )
        for (offer, packs), cost in zip(lines, costs, strict=True):
            row = offer.part.casefold(), packs * offer.pack, expected + late, expected, supplier.name
            season.due.append(Parcel(*row, cost * coin, offer.pack))
    if by:
        season.trips.append(season.day)


def promised(season: Season) -> set[str]:
    """Parts that open orders lack, whatever lies there for others."""
    need: dict[str, Fraction] = defaultdict(Fraction)
    for ask in season.open:
        taken = season.takes(ask.what)
        for part in taken.parts():
            need[part] += ask.left * (taken.lathe.get(part, 0) + taken.late.get(part, 0)) + taken.evening.get(
                part, 0
            )
    return {part for part, quantity in need.items() if quantity > season.on_hand(part)}


def priced(season: Season, lines: Sequence[Order]) -> tuple[Fraction, list[Fraction]]:
    """Goods and each line's cost, in the supplier's cents: a price group's packs count together for the steps."""
    together: dict[str, int] = defaultdict(int)
    for offer, packs in lines:
        together[offer.price_group or f"{offer.part}/{offer.pack}"] += packs
    costs = []
    for offer, packs in lines:
        many = together[offer.price_group or f"{offer.part}/{offer.pack}"]
        reached = [step.price for step in offer.steps if step.from_packs <= many] or [offer.steps[0].price]
        costs.append(packs * reached[-1] * season.price_now())
    return sum(costs, Fraction(0)), costs


def unit_price(season: Season, part: str) -> Fraction:
    """What a thousandth of a part costs where it is cheapest by the single pack, by the prices of the first day."""
    prices = [
        Fraction(offer.steps[0].price, offer.pack) * season.coin(season.suppliers[offer.supplier.casefold()])
        for offer in season.offers.get(part, ())
    ]
    return min(prices, default=Fraction(0))


def worth(season: Season) -> Fraction:
    """All that lies there, at what was paid for it; a bottle counts for what is left in it."""
    return sum((lot.each * lot.quantity for lots in season.lots.values() for lot in lots), Fraction(0))
