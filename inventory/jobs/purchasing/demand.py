"""What is wanted, and why: every quantity keeps its reasons to the printed line.

Promised shortages with their day; supplies that run out at their use rate; containers going off; parts below the
reorder level; tools that are worn or missing for a promise. The quantities are thousandths of the part's unit.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from fractions import Fraction
from math import ceil

from inventory.catalogue import Family, Order, Part, Supply, Tool, fold
from inventory.jobs.learning.supply_use import enough_for
from inventory.ledger.availability import free
from inventory.ledger.bottles.shelf_life import use_by
from inventory.ledger.sessions import Happened
from inventory.ledger.shop import Shop
from inventory.making.bom import drill_of
from inventory.making.fit import tools_needed
from inventory.measures import plural, read_drill, show_about, show_amount, show_date, show_measurable
from inventory.reports.purchasing.demands import Demand, Overdue, Wear

PROMISED, RUNS_OUT, GOES_OFF, LOW, WORN = range(5)
"""Kinds of reasons, the heavier first."""
TROUBLE = {PROMISED: 1, RUNS_OUT: 30, GOES_OFF: 20, LOW: 10, WORN: 5}
"""Trouble avoided by having it, at its worst (an assumption, only ratios matter): a supply that runs out stops the work
of an evening, a low one may. Running out counts by the share of the days until the horizon that would be without it,
being low by the share of the level that is missing. Promised orders stand before all of it, as whole orders.
"""
INSPECT = Fraction(8, 10)
"""Share of a tool's life from which it is to be looked at."""


@dataclass(frozen=True, slots=True)
class Past:
    """What was used in the last `days` days (thousandths by folded name) and what was made: orders with their day."""

    used: Mapping[str, int] = field(default_factory=dict)
    days: int = 0
    made: Sequence[tuple[Order, date]] = ()


def made_of(
    handed_over: Iterable[tuple[Order, date]], happened: Iterable[Happened]
) -> tuple[tuple[Order, date], ...]:
    """What wore the tools: pieces begun in booked sessions, and those of orders handed over without one.

    An order's finished pieces were made in a session and are counted there, lost ones too.
    """
    done: list[tuple[Order, date]] = []
    made: Counter[str] = Counter()
    for one in happened:
        for outcome in one.outcomes:
            made[fold(outcome.order)] += outcome.good
            order = Order(outcome.order, outcome.pattern, outcome.blank, outcome.started, one.on, ())
            done.append((order, one.on))
    for order, day in handed_over:
        left = order.count - made[fold(order.name)]
        if left > 0:
            done.append((replace(order, count=left), day))
    return tuple(done)


def demand(
    shop: Shop,
    past: Past,
    until: date,
    late: Iterable[Overdue] = (),
    levels: Mapping[str, int] | None = None,
    *,
    counts: bool = True,
) -> tuple[Demand, ...]:
    """Everything wanted until that day. What is due in and unclaimed counts as there: nothing is ordered twice.

    late: waits for parcels that come too late for their promise; where somebody else has it sooner it is wanted anew.
    levels: by folded part the worked-out level, told beside a typed one; where none is typed it `counts`, or not.
    """
    wanted = [*_promised(shop), *_anew(late), *_missing_tools(shop)]
    spoken = {fold(one.part.name) for one in wanted if isinstance(one.part.detail, Tool)}
    for key, part in shop.catalogue.parts.items():
        if key not in spoken and not shop.catalogue.no_longer_bought(part):
            worked_out = (levels or {}).get(key)
            level = part.level if part.level is not None or not counts else worked_out
            wanted += _stocked(shop, part, past, until, (level, worked_out))
    return tuple(wanted)


def _promised(shop: Shop) -> Iterable[Demand]:
    for claim in shop.book.claims:
        if claim.account == "to buy":
            order = shop.book.orders[fold(claim.order)]
            part = shop.catalogue.part(claim.part)
            reason = f"{claim.order} is promised for {show_date(order.due)}"
            yield Demand(part, claim.quantity, order.due, PROMISED, reason, (order.name,))


def _anew(late: Iterable[Overdue]) -> Iterable[Demand]:
    for one in late:
        if one.anew is not None:
            reason = (
                f"{one.order.name} is promised for {show_date(one.order.due)}, and what is due in from "
                f"{one.row.supplier} is {one.days} days late"
            )
            yield Demand(one.part, one.quantity, one.order.due, PROMISED, reason, (one.order.name,))


def unknown_tools(shop: Shop) -> Iterable[tuple[Order, str]]:
    """Tools a promised order wants and no part in the book is, where the shop keeps tools in its book."""
    on_hand = {key: b.on_hand for key, b in shop.book.balances.items()}
    if not any(on_hand.get(key, 0) > 0 for key, part in shop.catalogue.parts.items() if part.kind == "tool"):
        return
    for order in shop.book.orders.values():
        if order.state == "promised":
            pattern = shop.catalogue.pattern(order.pattern)
            for tool in tools_needed(shop.catalogue, shop.catalogue.family(pattern.family), on_hand):
                if tool.part is None:
                    yield order, tool.what


def _missing_tools(shop: Shop) -> Iterable[Demand]:
    """Drills, pilots and bushings a promised order wants and the book does not have, each once."""
    on_hand = {key: b.on_hand + b.due_in for key, b in shop.book.balances.items()}
    if not any(on_hand.get(key, 0) > 0 for key, part in shop.catalogue.parts.items() if part.kind == "tool"):
        return  # the shop keeps no tools in its book
    wanted: dict[str, list[Order]] = {}
    promised = [order for order in shop.book.orders.values() if order.state == "promised"]
    for order in sorted(promised, key=lambda order: order.due):
        pattern = shop.catalogue.pattern(order.pattern)
        for tool in tools_needed(shop.catalogue, shop.catalogue.family(pattern.family), on_hand):
            if tool.part is not None and not tool.there and order not in wanted.setdefault(tool.part, []):
                wanted[tool.part].append(order)
    for name, orders in wanted.items():
        first = orders[0]
        reason = f"{first.name}, promised for {show_date(first.due)}, cannot be made without it"
        names = tuple(order.name for order in orders)
        yield Demand(shop.catalogue.part(name), 1000, first.due, PROMISED, reason, names)


def _stocked(
    shop: Shop, part: Part, past: Past, until: date, level: tuple[int | None, int | None]
) -> list[Demand]:
    """The reasons that ask for stock as such; one purchase serves them all, so the largest quantity stands first."""
    now, then = unclaimed(shop, part, shop.today), unclaimed(shop, part, until)
    rows = [
        *_runs_out(shop, part, past, until, then),
        *_goes_off(shop, part, until, now, then),
        *_low(part, then, *level),
        *_worn(shop, part, past, now),
    ]
    rows.sort(key=lambda row: (row.tier, -row.quantity))
    most = 0
    done = []
    for row in rows:
        more = max(row.quantity - most, 0)
        most += more
        if more:
            done.append(replace(row, quantity=more))
    return done


def unclaimed(shop: Shop, part: Part, on: date) -> int:
    """Free on the shelf if nothing is used until that day, or due in and nobody's."""
    balance = shop.book.balance(part.name)
    return free(shop.book, part, on) + max(balance.due_in - balance.due_claimed, 0)


def _runs_out(shop: Shop, part: Part, past: Past, until: date, there: int) -> Iterable[Demand]:
    """What suffices until the horizon, less what there is; rate · days are expected (rate = used / days looked on)."""
    used = past.used.get(fold(part.name), 0)
    if not isinstance(part.detail, Supply) or not used or past.days <= 0:
        return
    rate = Fraction(used, past.days)
    short = enough_for(shop.learned, part, ceil(rate * (until - shop.today).days)) - there
    if short > 0:
        left = int(there / rate)
        days = (until - shop.today).days
        heavy = _share(RUNS_OUT, Fraction(days - min(left, days), days))
        lasts = f"lasts {plural(left, 'day')}" if left < days else f"may not last {plural(days, 'day')}"
        reason = f"{lasts if left else 'none to spare'}; you use {pace(rate, part)}"
        yield Demand(part, short, None, RUNS_OUT, reason, trouble=heavy)


def pace(rate: Fraction, part: Part) -> str:
    """How fast a part is used, from thousandths a day, in the shortest time that takes a whole one: `2 ml a week`."""
    for days, word in ((7, "week"), (30, "month")):
        if rate * days >= 1000:
            return f"{show_about(rate * days, part.unit)} a {word}"
    return f"{show_about(rate * 365, part.unit)} a year"


def going_off(shop: Shop, part: Part, until: date) -> tuple[int, date | None]:
    """How much of what is on the shelf goes off by the horizon, and the first day."""
    days = [(use_by(part, lot), lot.quantity) for lot in shop.book.lots_of(part.name)]
    gone = [(day, quantity) for day, quantity in days if day is not None and day < until]
    return sum(quantity for _, quantity in gone), min((day for day, _ in gone), default=None)


def _goes_off(shop: Shop, part: Part, until: date, now: int, then: int) -> Iterable[Demand]:
    """One container in its place, where nothing good would be left."""
    going, first = going_off(shop, part, until)
    if first is None or then > 0 or not isinstance(part.detail, Supply):
        return
    size = part.detail.net or min(going, now) or going
    opened = [lot.opened_on for lot in shop.book.lots_of(part.name) if use_by(part, lot) == first]
    since = f", opened {show_date(opened[0])}" if opened[0] else ""
    reason = f"out of date after {show_date(first)}{since}"
    yield Demand(part, size, None, GOES_OFF, reason, trouble=TROUBLE[GOES_OFF])


def _low(part: Part, there: int, level: int | None, worked_out: int | None) -> Iterable[Demand]:
    """Below the level that counts; said beside a typed one what the worked-out one would be."""
    if level is not None and there < level:
        held = show_measurable(there, part.unit, down=True)
        said = show_amount(level, "piece")
        if part.level is None:
            said += " (worked out)"
        elif worked_out is not None:
            said += f" ({show_amount(worked_out, 'piece')} worked out)"
        heavy = _share(LOW, Fraction(level - there, level))
        yield Demand(part, level - there, None, LOW, f"{held} free, reorder at {said}", trouble=heavy)


def _worn(shop: Shop, part: Part, past: Past, there: int) -> Iterable[Demand]:
    wear = worn(shop, part, past)
    if wear is not None and wear.uses >= wear.life and there <= 1000:
        reason = f"{wear.uses} uses of about {wear.life}: inspect it, replace it if dull"
        yield Demand(part, 1000, None, WORN, reason, trouble=TROUBLE[WORN])


def _share(tier: int, share: Fraction) -> int:
    """Trouble of a kind in part, at least 1."""
    return max(ceil(TROUBLE[tier] * share), 1)


def worn(shop: Shop, part: Part, past: Past) -> Wear | None:
    """The wear of a tool whose life is known and that somebody has; None for anything else."""
    detail = part.detail
    lots = shop.book.lots_of(part.name)
    if not isinstance(detail, Tool) or detail.life is None or not lots:
        return None
    since = max((lot.received_on for lot in lots if lot.received_on), default=date.min)
    uses = sum(order.count * _uses(shop, part, detail, order) for order, day in past.made if day >= since)
    return Wear(part, uses, detail.life)


def _uses(shop: Shop, part: Part, tool: Tool, order: Order) -> int:
    return uses_of(shop, part, tool, shop.catalogue.family(shop.catalogue.pattern(order.pattern).family))


def uses_of(shop: Shop, part: Part, tool: Tool, family: Family) -> int:
    """Holes of a drill, barrels of a trimmer pilot, pieces of a set of bushings that one piece of a family takes."""
    name = fold(part.name)
    if fold(tool.type) == "drill" and tool.size:
        size = read_drill(tool.size).mm
        drills = [drill_of(shop.catalogue, barrel) for barrel in family.barrels]
        return sum(1 for drill in drills if drill is not None and drill.mm == size)
    if name in map(fold, family.trimmer_pilots):
        return max(len(family.barrels) // len(family.trimmer_pilots), 1)
    return int(name in map(fold, family.bushings))


def inspections(shop: Shop, past: Past) -> tuple[Wear, ...]:
    """Tools near or past their life, the most worn first: to be looked at, never scrapped silently."""
    found = [
        worn(shop, part, past) for part in shop.catalogue.parts.values() if isinstance(part.detail, Tool)
    ]
    due = [wear for wear in found if wear is not None and wear.uses >= INSPECT * wear.life]
    return tuple(sorted(due, key=lambda wear: Fraction(wear.life, max(wear.uses, 1))))
