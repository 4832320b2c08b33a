"""What is missing for one order, bought at the least: the proven list of `buying` in place of the quick choice.

The quick choice (`sourcing.least_landed`) takes each part from one offer and sees no price group; it answers for a
hundred orders in turn. What a customer is told a price by is worked out exactly.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from math import ceil
from typing import TYPE_CHECKING

from inventory.catalogue import fold
from inventory.errors import KitdrawerError
from inventory.jobs.orders.sourcing import Purchase, Sourcing
from inventory.ledger.shop import Shop

if TYPE_CHECKING:
    from inventory.buying import Basket

SECONDS = 5.0
"""So long a list is looked for; an order's few parts take hundredths of one."""


def at_least_cost(shop: Shop, found: Sourcing, due: date) -> Sourcing:
    """The same parts by the list that costs least, goods and postage together.

    It may cost more than the quick choice, which knows no minimum orders. What is too late for its day comes by the
    earliest it can. All stays as it was found where a price is in a coin of no known rate, or minimum orders allow no
    list.
    """
    if not found.buy or any(one.cost is None for one in found.buy):
        return found
    basket = _basket(shop, found, max([due, *(one.arrives for one in found.buy)]))
    if basket is None or basket.unfilled:
        return found
    if ceil(basket.total) == _landed(found):
        return replace(found, proven=basket.proven)
    buy = tuple(_purchases(shop, found, basket))
    days = [*(day for _, _, day in found.due), *(one.arrives for one in buy)]
    return replace(
        found,
        buy=buy,
        postage=ceil(basket.postage),
        ready=max([shop.today, *days]),
        proven=basket.proven,
    )


def _basket(shop: Shop, found: Sourcing, due: date) -> Basket | None:
    from inventory.buying import Want, best_basket  # where all is there nothing is looked for
    from inventory.jobs.purchasing.market import offers_of, sellers_of

    sellers, rates = sellers_of(shop, shop.catalogue.suppliers.values(), [])
    offers = offers_of(shop, (fold(one.part.name) for one in found.buy), sellers, [])
    wants = [Want(one.part.name, one.quantity, due) for one in found.buy]
    try:
        return best_basket(wants, offers, sellers, rates, shop.today, time_limit=SECONDS)
    except (
        KitdrawerError
    ):  # minimum orders that these parts alone do not reach: the quick choice says what they cost
        return None


def _landed(found: Sourcing) -> int:
    return sum(one.cost or 0 for one in found.buy) + found.postage


def _purchases(shop: Shop, found: Sourcing, basket: Basket) -> Iterator[Purchase]:
    """The lines of the list; of a part that is bought in several each covers what those before it left."""
    left = {fold(one.part.name): one.quantity for one in found.buy}
    for bill in basket.bills:
        rate = shop.rate(bill.supplier.currency) or 1
        for line in bill.lines:
            offer = line.offer
            key = fold(offer.part)
            covers = min(left[key], line.packs * offer.pack)
            left[key] -= covers
            yield Purchase(
                shop.catalogue.part(offer.part),
                covers,
                bill.supplier.name,
                line.packs,
                offer.pack,
                ceil(line.cost * rate),
                bill.arrives or shop.today,
                offer.code,
                line.cost,
                bill.supplier.currency,
            )


def by_part(buy: Iterable[Purchase]) -> dict[str, Purchase]:
    """What is bought of each part, by folded name: of several lines one that says what they are together."""
    found: dict[str, Purchase] = {}
    for one in buy:
        key = fold(one.part.name)
        old = found.get(key)
        found[key] = one if old is None else _together(old, one)
    return found


def _together(one: Purchase, other: Purchase) -> Purchase:
    cost = None if one.cost is None or other.cost is None else one.cost + other.cost
    return replace(
        one,
        quantity=one.quantity + other.quantity,
        packs=1,
        pack=one.packs * one.pack + other.packs * other.pack,
        cost=cost,
        arrives=max(one.arrives, other.arrives),
    )
