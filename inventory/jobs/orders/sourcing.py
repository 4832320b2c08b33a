"""Where missing parts could come from in time: what is due in already, else the offers that cost least together.

Compared is what a purchase costs landed, goods and postage: a cheaper kit from a supplier of whom nothing else comes is
dear. The whole shopping list, with what else is wanted, splits and steps over groups, is worked out by `shopping`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from fractions import Fraction
from itertools import combinations
from math import ceil

from inventory.catalogue import Offer, Part, fold
from inventory.jobs.orders.needs import PartNeed
from inventory.ledger.lateness import counted_on
from inventory.ledger.shop import Shop

MOST_SELLERS = 8
"""Suppliers up to which every set of them is tried."""


@dataclass(frozen=True, slots=True)
class Purchase:
    """One thing to buy. cost: shop minor units, goods only; None where the exchange rate is not known."""

    part: Part
    quantity: int
    supplier: str
    packs: int
    pack: int
    cost: int | None
    arrives: date
    code: str = ""
    own_cost: int = 0
    currency: str = ""


@dataclass(frozen=True, slots=True)
class Sourcing:
    """How the shorts of one plan are met.

    due: (part, quantity, day counted on) already bought and unclaimed; buy: what to order; nowhere: parts nobody
    offers. taken: thousandths of each purchase that `due` counts on.
    ready: the day everything is there, None where something is nowhere; postage: shop minor units for `buy`.
    proven: nothing that is missing can be had for less (see `least_list`).
    """

    due: tuple[tuple[Part, int, date], ...]
    buy: tuple[Purchase, ...]
    nowhere: tuple[Part, ...]
    ready: date | None
    postage: int = 0
    taken: Mapping[int, int] = field(default_factory=dict)
    proven: bool = False


def shorts(parts: Iterable[PartNeed]) -> tuple[tuple[Part, int], ...]:
    """Each part's total shortage over the stages, thousandths."""
    sums: dict[str, tuple[Part, int]] = {}
    for need in parts:
        key = fold(need.part.name)
        if need.short:
            sums[key] = (need.part, sums.get(key, (need.part, 0))[1] + need.short)
    return tuple(sums.values())


def source(shop: Shop, parts: Iterable[PartNeed], due: date) -> Sourcing:
    """Meet every shortage: unclaimed due-in that arrives by `due` first, then the offers in time that cost least.

    Where nothing arrives in time the earliest arrival is taken, so that the answer can say when.
    """
    coming: list[Coming] = []
    buy: list[Purchase] = []
    choices: list[tuple[Purchase, ...]] = []
    nowhere: list[Part] = []
    ready = shop.today
    for part, short in shorts(parts):
        taken, short = _from_due(shop, part, short, date.min, due)
        coming += taken
        if not short:
            continue
        best = cheapest(shop, part, short, due)
        in_time = best is not None and best.arrives <= due
        late, left = ([], short) if in_time else _from_due(shop, part, short, due, date.max)
        if late and not left and (best is None or max(one.day for one in late) <= best.arrives):
            coming += late
        elif best is None:
            nowhere.append(part)
        elif in_time:
            choices.append(tuple(one for one in purchases_of(shop, part, short) if one.arrives <= due))
        else:
            buy.append(best)
    buy += least_landed(shop, choices, buy)
    days = [*(one.day for one in coming), *(purchase.arrives for purchase in buy)]
    return Sourcing(
        tuple((one.part, one.quantity, one.day) for one in coming),
        tuple(buy),
        tuple(nowhere),
        None if nowhere else max([ready, *days]),
        _postage(shop, buy),
        {one.purchase: one.quantity for one in coming},
    )


@dataclass(frozen=True, slots=True)
class Coming:
    """So much of a part that a purchase brings, and the day it can be counted on."""

    part: Part
    quantity: int
    day: date
    purchase: int


def _from_due(shop: Shop, part: Part, short: int, after: date, by: date) -> tuple[list[Coming], int]:
    """What can be counted on of a part after one day and by another, earliest first, and what is still missing."""
    taken = []
    key = fold(part.name)
    days = [
        (day, row)
        for row in shop.book.due
        if fold(row.part) == key and (day := counted_on(shop.book, row, shop.today)) is not None
    ]
    for day, row in sorted(days, key=lambda one: one[0]):
        got = min(row.quantity - row.claimed, short) if after < day <= by else 0
        if got > 0:
            taken.append(Coming(part, got, day, row.purchase))
            short -= got
    return taken, short


def purchases_of(shop: Shop, part: Part, short: int) -> tuple[Purchase, ...]:
    """Every offer of a part, priced for so much of it."""
    done = []
    for offer in shop.offers.get(fold(part.name), ()):
        supplier = shop.catalogue.suppliers.get(fold(offer.supplier))
        if supplier is None or supplier.lead_days is None:
            continue
        packs = ceil(Fraction(short, offer.pack))
        if not offer.has_left(packs):
            continue
        own = packs * step_price(offer, packs)
        rate = shop.rate(supplier.currency)
        cost = None if rate is None else ceil(own * rate)
        day = shop.today + timedelta(days=supplier.lead_days)
        done.append(
            Purchase(
                part,
                short,
                supplier.name,
                packs,
                offer.pack,
                cost,
                day,
                offer.code,
                own,
                supplier.currency or shop.currency.code,
            )
        )
    return tuple(done)


def cheapest(shop: Shop, part: Part, short: int, due: date) -> Purchase | None:
    """The cheapest purchase that arrives by `due`, postage included, else the earliest of all.

    Prices in an unknown coin come last.
    """
    offers = purchases_of(shop, part, short)
    in_time = tuple(one for one in offers if one.arrives <= due)
    if in_time:
        return least_landed(shop, [in_time])[0]
    return min(
        offers, key=lambda one: (one.arrives, one.cost is None, one.cost or 0, one.supplier), default=None
    )


def least_landed(
    shop: Shop, choices: Sequence[Sequence[Purchase]], fixed: Sequence[Purchase] = ()
) -> tuple[Purchase, ...]:
    """One purchase of each choice, so that all of them and the fixed ones cost least, postage once a supplier.

    Every set of suppliers is tried, each part from its cheapest there; with more than `MOST_SELLERS` suppliers only
    those sets that leave few out. Of equal ones what arrives earlier is taken; prices in an unknown coin come last.
    """
    names = sorted({one.supplier for choice in choices for one in choice})
    sets = [frozenset(some) for size in range(1, len(names) + 1) for some in combinations(names, size)]
    if len(names) > MOST_SELLERS:
        sets = [frozenset(names), *(frozenset(names) - {name} for name in names)]
    found = []
    for sellers in sets:
        there = [[one for one in choice if one.supplier in sellers] for choice in choices]
        if all(there):
            found.append(tuple(min(some, key=_goods_first) for some in there))
    return min(found, key=lambda chosen: _landed(shop, (*fixed, *chosen)), default=())


def _goods_first(one: Purchase) -> tuple[bool, int, date, str]:
    return one.cost is None, one.cost or 0, one.arrives, one.supplier


def _landed(shop: Shop, bought: Sequence[Purchase]) -> tuple[int, int, list[date], list[str]]:
    unknown = sum(one.cost is None for one in bought)
    goods = sum(one.cost or 0 for one in bought)
    arrivals = sorted((one.arrives for one in bought), reverse=True)
    return unknown, goods + _postage(shop, bought), arrivals, [one.supplier for one in bought]


def step_price(offer: Offer, packs: int) -> int:
    """The price of one pack when `packs` are bought: the last step reached (below the first step, its price)."""
    price = offer.steps[0].price
    for step in offer.steps:
        if packs >= step.from_packs:
            price = step.price
    return price


def _postage(shop: Shop, buy: Sequence[Purchase]) -> int:
    total = 0
    for name in dict.fromkeys(one.supplier for one in buy):
        supplier = shop.catalogue.supplier(name)
        goods = sum(one.own_cost for one in buy if one.supplier == name)
        rate = shop.rate(supplier.currency)
        if rate is not None and not (supplier.free_from is not None and goods >= supplier.free_from):
            total += ceil(supplier.postage * rate)
    return total
