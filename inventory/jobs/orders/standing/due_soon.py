"""Which orders are due soon, what each lacks, from whom and by when it has to be ordered, and the work that is left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from inventory.catalogue import Order, Part
from inventory.jobs.hours.piece_time import piece_time
from inventory.jobs.hours.time_left import starts_for
from inventory.jobs.hours.week import week_of
from inventory.jobs.orders.finished import made_for
from inventory.jobs.orders.needs import PartNeed
from inventory.jobs.orders.sourcing import Sourcing, shorts, source
from inventory.jobs.orders.standing.listing import Standing, standings
from inventory.ledger.lateness import counted_on
from inventory.ledger.shop import Shop


@dataclass(frozen=True, slots=True)
class Lacking:
    """So much of a part, thousandths, that an order waits for.

    supplier: who sells it, or sends it already (empty: nobody, or, with a day, it is due in); here_on: the day it can
    be counted on; order_by: the last day to order it for the order's day, None where it is due in or nobody sells it.
    """

    part: Part
    quantity: int
    supplier: str = ""
    here_on: date | None = None
    order_by: date | None = None


@dataclass(frozen=True, slots=True)
class DueSoon:
    """One order that is due soon. to_make: pieces that are not finished; minutes: of work they take.

    needed: minutes of work in all that is due no later, the starts that are expected to be spoiled counted in; left:
    minutes of the usual hours before its day, None where none were said.
    """

    standing: Standing
    to_make: int
    minutes: int
    lacking: tuple[Lacking, ...]
    needed: int = 0
    left: int | None = None

    @property
    def order(self) -> Order:
        """The order."""
        return self.standing.order


def due_soon(shop: Shop, until: date) -> tuple[DueSoon, ...]:
    """The open orders that are due by that day, overdue ones first. Requests are judged in turn."""
    done = [_due_soon(shop, one) for one in standings(shop, until=until)]
    week = week_of(shop.settings)
    needs = [(one.order.due, _of_starts(shop, one)) for one in done]
    return tuple(
        replace(
            one,
            needed=sum(minutes for due, minutes in needs if due <= one.order.due),
            left=None if week is None else week.between(shop.today, one.order.due),
        )
        for one in done
    )


def _of_starts(shop: Shop, one: DueSoon) -> int:
    order, report = one.order, one.standing.report
    each = piece_time(shop.catalogue, shop.settings, shop.catalogue.pattern(order.pattern)).minutes
    if order.state == "promised":
        return starts_for(shop, order) * each
    return (one.to_make if report is None else report.starts) * each  # which blank a wish is of may be open


def _due_soon(shop: Shop, one: Standing) -> DueSoon:
    order = one.order
    to_make = max(order.count - made_for(shop, order.name), 0)
    each = piece_time(shop.catalogue, shop.settings, shop.catalogue.pattern(order.pattern)).minutes
    if one.report is None:
        lacking = _of_promise(shop, one)
    else:
        lacking = _of_source(shop, order, one.report.plan.parts, one.report.sourcing)
    return DueSoon(one, to_make, to_make * each, tuple(lacking))


def _of_promise(shop: Shop, one: Standing) -> Iterator[Lacking]:
    """What a promise waits for: parcels that are on their way to it, and what has to be ordered still."""
    rows = {row.purchase: row for row in shop.book.due}
    missing = []
    for claim in one.claims:
        part = shop.catalogue.part(claim.part)
        if claim.account == "due claim" and claim.purchase in rows:
            row = rows[claim.purchase]
            yield Lacking(part, claim.quantity, row.supplier, counted_on(shop.book, row, shop.today))
        elif claim.account == "to buy":
            missing.append(PartNeed(part, "", claim.quantity, 0))
    yield from _of_source(shop, one.order, missing, source(shop, missing, one.order.due))


def _of_source(shop: Shop, order: Order, missing: Iterable[PartNeed], found: Sourcing) -> Iterator[Lacking]:
    for part, quantity, day in found.due:
        yield Lacking(part, quantity, "", day)
    for one in found.buy:
        lead = shop.catalogue.supplier(one.supplier).lead_days
        by = None if lead is None else order.due - timedelta(days=lead)
        yield Lacking(one.part, one.quantity, one.supplier, one.arrives, by)
    nowhere = {part.name for part in found.nowhere}
    yield from (Lacking(part, quantity) for part, quantity in shorts(missing) if part.name in nowhere)
