"""Promises that wait for a parcel which is late and can no longer be counted on to reach them, and what to do."""

from __future__ import annotations

from collections.abc import Container, Iterable
from datetime import date, timedelta

from inventory.catalogue import Order, fold
from inventory.ledger import Claim, DueIn
from inventory.ledger.lateness import counted_on, days_late, later_than_usual
from inventory.ledger.shop import Shop
from inventory.reports.purchasing.demands import Overdue


def overdue(shop: Shop, among: Container[str] | None = None) -> tuple[Overdue, ...]:
    """Every such wait, earliest due first. among: folded names of the suppliers who may be asked (None: all)."""
    return tuple(_waits(shop, among))


def _waits(shop: Shop, among: Container[str] | None) -> Iterable[Overdue]:
    rows = {row.purchase: row for row in shop.book.due}
    for claim in shop.book.claims:
        if claim.account != "due claim" or claim.purchase is None:
            continue
        order, row = shop.book.orders[fold(claim.order)], rows[claim.purchase]
        counted = too_late_for(shop, order, row)
        if counted is not None:
            anew, again = _anew(shop, order, row, counted, among)
            part = shop.catalogue.part(claim.part)
            yield Overdue(order, part, claim.quantity, row, days_late(row, shop.today), counted, anew, again)


def too_late_for(shop: Shop, order: Order, row: DueIn) -> date | None:
    """The day an overdue parcel can be counted on, where that is too late for an order; else None."""
    counted = counted_on(shop.book, row, shop.today)
    return counted if counted and days_late(row, shop.today) and counted > order.due else None


def _anew(
    shop: Shop, order: Order, row: DueIn, counted: date, among: Container[str] | None
) -> tuple[date | None, bool]:
    """The first day on which it could be here anew where that helps, and whether only who is late with it has it.

    It helps where it saves the promise, or comes sooner than a parcel that is later than usual: one that is not is
    waited for where the promise cannot be kept anyway.
    """
    days: dict[bool, list[date]] = {False: [], True: []}
    for offer in shop.offers.get(fold(row.part), ()):
        seller = shop.catalogue.suppliers.get(fold(offer.supplier))
        asked = seller is not None and (among is None or fold(seller.name) in among)
        if asked and seller is not None and seller.lead_days is not None:
            same = fold(seller.name) == fold(row.supplier)
            days[same].append(shop.today + timedelta(days=seller.lead_days))
    late = later_than_usual(shop.book, row, shop.today)
    for same, some in days.items():
        first = min(some, default=None)
        if first is not None and (first <= order.due or (first < counted and late)):
            return first, same
    return None, False


def movable(shop: Shop) -> tuple[Claim, ...]:
    """Claims that a parcel ordered now takes over: those to buy, and those on a parcel that comes too late for them."""
    rows = {row.purchase: row for row in shop.book.due}
    return tuple(
        claim
        for claim in shop.book.claims
        if claim.account == "to buy"
        or (
            claim.account == "due claim"
            and claim.purchase is not None
            and too_late_for(shop, shop.book.orders[fold(claim.order)], rows[claim.purchase]) is not None
        )
    )
