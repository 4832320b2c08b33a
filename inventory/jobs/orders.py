"""Wishes and promises, and how each stands."""

from __future__ import annotations

from dataclasses import dataclass

from inventory.catalogue import STALL, Order, find, fold
from inventory.errors import KitdrawerError
from inventory.jobs.finished import made_for
from inventory.jobs.order_check import check
from inventory.jobs.shop import Shop
from inventory.jobs.wishes import wish_of
from inventory.ledger import Claim
from inventory.ledger.claims import claims_of
from inventory.measures import show_date

OPEN = ("wish", "promised")


@dataclass(frozen=True, slots=True)
class Standing:
    """One order, its claims, and a few words on how it stands."""

    order: Order
    claims: tuple[Claim, ...]
    stands: str


def standings(shop: Shop, name: str = "", *, everything: bool = False) -> tuple[Standing, ...]:
    """One order by name (UnknownName where there is none), or the open ones, earliest due first.

    A wish of the stall is a plan that was undone: nobody waits for it, so it is only shown with everything.
    """
    if name:
        return (_standing(shop, find(shop.book.orders, "order", name)),)
    chosen = [one for one in shop.book.orders.values() if everything or _open(one)]
    return tuple(_standing(shop, one) for one in sorted(chosen, key=lambda one: (one.due, fold(one.name))))


def _open(order: Order) -> bool:
    return order.state in OPEN and not (order.customer == STALL and order.state == "wish")


def _standing(shop: Shop, order: Order) -> Standing:
    claims = claims_of(shop.book, order.name)
    if order.state == "promised":
        return Standing(order, claims, _promised(shop, order, claims))
    return Standing(order, claims, _wished(shop, order) if order.state == "wish" else order.state)


def _promised(shop: Shop, order: Order, claims: tuple[Claim, ...]) -> str:
    late = ", overdue" if order.due < shop.today else ""
    done = made_for(shop, order.name)
    if done >= order.count:
        return f"finished: hand it over{late}"
    return f"{f'{done} of {order.count} finished, ' if done else ''}{_waits_for(shop, claims)}{late}"


def _waits_for(shop: Shop, claims: tuple[Claim, ...]) -> str:
    missing = sum(1 for claim in claims if claim.account == "to buy")
    coming = {claim.purchase for claim in claims if claim.account == "due claim"}
    if missing:
        return f"{missing} to buy"
    if coming:
        days = [row.expected_on for row in shop.book.due if row.purchase in coming and row.expected_on]
        return f"due in {show_date(max(days))}" if days else "due in"
    return "all set aside"


def _wished(shop: Shop, order: Order) -> str:
    if order.due < shop.today:
        return "past its day"
    try:
        return check(shop, wish_of(order)).verdict
    except KitdrawerError as error:
        return error.message
