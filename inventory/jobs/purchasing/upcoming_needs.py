"""What a list leaves for later and the shop will need soon all the same: it may as well fill up a parcel now.

Looked at are the weeks after the list's own horizon: parts used at a rate that takes them below their level or uses
them up, levels the next one used would break, use-by dates, tools near the end of their life, and requests nobody has
promised yet. All of it is less sure than a demand; so nothing here is put on a list, only pointed out.

A use rate counts here with its mean, not with what suffices nine times in ten (`learning.supply_use`), as it does where
running out would stop the work: a postage is saved by what will be bought anyway, and that is what is used, over
many sessions. What would only lie there longer saves nothing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from math import ceil

from inventory.buying import Basket
from inventory.catalogue import Part, Supply, fold
from inventory.errors import KitdrawerError
from inventory.jobs.orders.needs import requirements
from inventory.jobs.orders.order_check import check
from inventory.jobs.orders.requests import made_of, request_of, resolve
from inventory.jobs.orders.sourcing import shorts
from inventory.jobs.purchasing.demand import PROMISED, Past, going_off, inspections, pace, unclaimed
from inventory.ledger.shop import Shop
from inventory.measures import read_unit, show_amount, show_date, show_measurable
from inventory.reports.purchasing.demands import Demand

AHEAD = timedelta(weeks=8)
"""How far beyond the list's horizon "soon" reaches."""
NEAR = Fraction(1, 4)
"""Share of its level by which a part may be above it and still be nearly below it; at least one piece."""


@dataclass(frozen=True, slots=True)
class UpcomingNeed:
    """So much of a part beyond what the list brings, thousandths of its unit, and why."""

    part: Part
    quantity: int
    reasons: tuple[str, ...]


def upcoming_needs(
    shop: Shop, past: Past, until: date, brought: Mapping[str, int]
) -> tuple[UpcomingNeed, ...]:
    """Everything needed by eight weeks after `until` that neither the shelf nor the list holds.

    brought: by folded part name what the list's packs bring beyond what is promised.
    """
    last = max(until, shop.today) + AHEAD
    requested = _requested(shop, last)
    worn = {fold(wear.part.name): wear for wear in inspections(shop, past)}
    done = []
    for key, part in shop.catalogue.parts.items():
        if shop.catalogue.no_longer_bought(part):
            continue
        more = brought.get(key, 0)
        there = unclaimed(shop, part, shop.today) + more
        rows = [
            *_used(shop, part, past, there, last),
            *_goes_off(shop, part, unclaimed(shop, part, last) + more, last),
        ]
        if key in worn and there <= 1000:
            rows.append((1000, f"{worn[key].uses} uses of about {worn[key].life}"))
        orders = [(short - more, reason) for short, reason in requested.get(key, ()) if short > more]
        quantity = max((quantity for quantity, _ in rows), default=0) + sum(short for short, _ in orders)
        if quantity:
            done.append(UpcomingNeed(part, quantity, tuple(reason for _, reason in (*orders, *rows))))
    return tuple(done)


def beyond_promises(basket: Basket, demands: Iterable[Demand]) -> dict[str, int]:
    """What a list's packs bring of each part, by folded name, less what goes to promises it serves."""
    brought: Counter[str] = Counter()
    for line in basket.lines:
        key = fold(line.offer.part)
        brought[key] += line.packs * line.offer.pack
    for one in demands:
        key = fold(one.part.name)
        if one.tier == PROMISED and key in brought:
            brought[key] = max(brought[key] - one.quantity, 0)
    return brought


def _used(shop: Shop, part: Part, past: Past, there: int, last: date) -> Iterable[tuple[int, str]]:
    """At its use rate below its level (or used up) by the day; without a rate, one more used and below its level."""
    level, used = part.level or 0, past.used.get(fold(part.name), 0)
    if used and past.days > 0:
        rate = Fraction(used, past.days)
        short = ceil(rate * (last - shop.today).days) + level - there
        if short > 0:
            day = shop.today + timedelta(days=max(int((there - level) / rate), 0))
            what = f"falls to its reorder level of {show_amount(level, part.unit)}" if level else "runs out"
            yield short, f"{what} about {show_date(day)}; you use {pace(rate, part)}"
    elif level:
        one = 1000 if read_unit(part.unit).kind == "count" else 1
        margin = max(ceil(level * NEAR), one)
        if there < level + margin:
            held, least = show_measurable(there, part.unit, down=True), show_amount(level, "piece")
            yield level + margin - there, f"{held} free with this list, reorder at {least}"


def _goes_off(shop: Shop, part: Part, then: int, last: date) -> Iterable[tuple[int, str]]:
    going, first = going_off(shop, part, last)
    if first is not None and then <= 0 and isinstance(part.detail, Supply):
        yield part.detail.net or going, f"out of date after {show_date(first)}"


def _requested(shop: Shop, last: date) -> Mapping[str, Sequence[tuple[int, str]]]:
    """What requests due by the day lack, by folded part name. A request that cannot be worked out is left alone."""
    found: dict[str, list[tuple[int, str]]] = {}
    for order in shop.book.orders.values():
        if order.state != "wish" or not shop.today <= order.due <= last:
            continue
        try:
            resolved = resolve(shop.catalogue, request_of(order), shop.today)
            if len(resolved.wish.blanks) > 1:
                resolved = made_of(shop.catalogue, resolved, check(shop, resolved.request).resolved.blank)
            plating, kits = resolved.kits[0]
            lacks = shorts(requirements(shop, resolved, plating, kits, resolved.request.confidence).parts)
        except KitdrawerError:
            continue
        for part, short in lacks:
            reason = f"{order.name}, asked for by {show_date(order.due)}, would need it"
            found.setdefault(fold(part.name), []).append((short, reason))
    return found
