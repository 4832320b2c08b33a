"""Whether a yes now makes a likely, dearer order late: what it leaves of each part, and who usually asks for it.

A part counts where this order has to be made of what is on the shelf: it is there, and more of it would be here only
later, with no parcel of its supplier going anyhow for what this order lacks. What an evening can do without counts
nowhere (`terms.WAITS`). Rivals are orders for the same part, at a better price than
this one by what was agreed last, that are asked for before the next parcel and due before it could be made of. Told
where one of them goes without with a chance of a third or more, a tenth at least of it because of this order.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from math import exp
from statistics import mean
from typing import TYPE_CHECKING

from inventory.catalogue import Blank, Kit, Part, Pattern, Piece, Supply, Tool, Tube, fold
from inventory.jobs.ahead.history import tells_enough
from inventory.jobs.ahead.terms import WAITS, PartSource, between_trips, lateness, source_of
from inventory.jobs.orders.order_check import OrderReport
from inventory.jobs.purchasing.demand import unclaimed
from inventory.ledger.asked import AskedFor
from inventory.ledger.shop import Shop
from inventory.making.bom import whole_bill
from inventory.reports.leaves import TooFewLeft

if TYPE_CHECKING:
    from inventory.jobs.ahead.levels import DemandPast
    from inventory.planning.demand.expected import Expected, Kind
    from inventory.planning.rivals import Rivals

LIKELY, BY_THIS = 1 / 3, 0.1
"""The chance from which one is told, and how much of it has to come from this order (assumptions)."""
HORIZON = 4
"""Weeks the forecasting methods are judged over, as for the levels."""


@dataclass(frozen=True, slots=True)
class _Last:
    """A part of which this order takes the last: thousandths it needs, its source, and the days till more is here."""

    part: Part
    need: int
    source: PartSource
    days: tuple[int, int, int]
    late: Sequence[int]


def leaves(
    shop: Shop, report: OrderReport, trips: Iterable[date], past: Callable[[], DemandPast]
) -> tuple[TooFewLeft, ...]:
    """What is to be warned of, the likeliest first. trips: their days; past: asked for only where it matters."""
    if report.verdict not in ("from the shelf", "after buying"):
        return ()
    last = list(_last_ones(shop, report, round(between_trips(trips))))
    if not last:
        return ()
    known = past()
    if not tells_enough(known.asked, shop.today):
        return ()
    return _warned(shop, report, last, known)


def _last_ones(shop: Shop, report: OrderReport, trip: int) -> Iterator[_Last]:
    from inventory.jobs.ahead.looking import MAKING

    due = report.resolved.request.due
    sent = {fold(one.supplier) for one in report.sourcing.buy}
    needs: dict[str, list[int]] = {}
    parts: dict[str, Part] = {}
    for one in report.plan.parts:
        detail = one.part.detail
        if one.tool or isinstance(detail, Tool | Piece) or (isinstance(detail, Supply) and _waits(detail)):
            continue
        parts[fold(one.part.name)] = one.part
        needs.setdefault(fold(one.part.name), []).append(one.need if not one.short else -1)
    for key, several in needs.items():
        source = source_of(shop, parts[key], 1.0) if min(several) >= 0 and any(several) else None
        if source is None or fold(source.supplier.name) in sent:
            continue
        late = lateness(shop, source.supplier)
        days = trip, source.supplier.lead_days or 0, round(mean(late))
        if shop.today + timedelta(days=sum(days) + MAKING) > due:
            yield _Last(parts[key], sum(several), source, days, late)


def _waits(supply: Supply) -> bool:
    return fold(supply.type) in WAITS


def _warned(
    shop: Shop, report: OrderReport, last: Sequence[_Last], past: DemandPast
) -> tuple[TooFewLeft, ...]:
    from inventory.jobs.ahead.recipes import kinds_of
    from inventory.planning.demand.expected import expected

    ahead = expected(past.asked, kinds_of(shop, past.asked), shop.today, HORIZON)
    found = [one for part in last if (one := _of_part(shop, report, part, past, ahead)) is not None]
    return tuple(sorted(found, key=lambda one: -one.chance))


@dataclass(slots=True)
class _AskedOfPart:
    """What is asked for of a part until the parcel: units in all, and the orders at a better price that are hurried."""

    asked: float = 0.0
    streams: list[Rivals] = field(default_factory=list)
    dearest: tuple[int, str] = (0, "")
    most: float = 0.0


def _of_part(
    shop: Shop, report: OrderReport, last: _Last, past: DemandPast, ahead: Expected
) -> TooFewLeft | None:
    from inventory.planning.rivals import wanted_more

    found = _asked_for(shop, last, past, ahead, _price(report, past.asked))
    if not found.streams:
        return None
    parcel = shop.today + timedelta(days=sum(last.days))
    there = max(unclaimed(shop, last.part, parcel), 0)
    left = max(there - last.need, 0)
    before, after = (int(many / (1000 * found.most) + 1e-6) for many in (there, left))
    chances = wanted_more(found.streams, before)
    chance, without = chances[after], chances[before]
    if chance < LIKELY or chance - without < BY_THIS:
        return None
    price, dearest = found.dearest
    return TooFewLeft(
        last.part, left, found.asked, parcel, last.days, chance, without, dearest, price, ahead.weeks
    )


def _asked_for(shop: Shop, last: _Last, past: DemandPast, ahead: Expected, mine: int | None) -> _AskedOfPart:
    from inventory.jobs.ahead.looking import NOTICE, missed
    from inventory.jobs.ahead.recipes import per_piece
    from inventory.planning.rivals import Rivals

    done, key, weeks = _AskedOfPart(), fold(last.part.name), sum(last.days) / 7
    stretch = _busy(ahead, shop.today, weeks) * weeks
    notice = past.notice if len(past.notice) >= 4 else NOTICE
    share_late = missed(sorted(notice), last.late, last.days[0] + last.days[1])
    for one in (one for one in ahead.patterns if one.orders):
        mine_of = [kind for kind in one.kinds if _uses(shop, last.part, one.pattern, kind)]
        units = per_piece(shop, [(one.pattern, kind) for kind in mine_of])
        dearer = 0.0
        for kind in mine_of:
            each = units.get((one.pattern, kind), {}).get(key, 0.0)
            if not each:
                continue
            coming = one.orders * stretch * one.kinds[kind]
            done.asked += coming * each * sum(size * share for size, share in one.sizes.items())
            price = _agreed(past.asked, one.pattern, kind[0])
            if price is not None and mine is not None and price > mine:
                dearer += coming * share_late
                done.dearest = max(done.dearest, (price, shop.catalogue.patterns[one.pattern].name))
                done.most = max(done.most, each)
        if dearer:
            done.streams.append(Rivals(dearer, _widened(one.shape, ahead.swing), one.sizes))
    return done


def _uses(shop: Shop, part: Part, pattern: str, kind: Kind) -> bool:
    """Whether a kind may take the part, by its names: whether it does is worked out of few only."""
    made, (plating, blank, refill) = shop.catalogue.patterns[pattern], kind
    detail, name = part.detail, fold(part.name)
    family = shop.catalogue.families[fold(made.family)]
    if isinstance(detail, Kit):
        return fold(detail.family) == fold(made.family) and fold(detail.plating) == plating
    if isinstance(detail, Blank):
        return name == blank
    if isinstance(detail, Tube):
        return any(fold(barrel.tube) == name for barrel in family.barrels if barrel.tube)
    return name in (refill, fold(family.refill or "")) or _billed(shop, made, name)


def _billed(shop: Shop, pattern: Pattern, name: str) -> bool:
    return any(fold(line.part) == name for line in whole_bill(shop.catalogue, pattern))


def _price(report: OrderReport, asked: Iterable[AskedFor]) -> int | None:
    """What a piece of this order earns: as agreed, else as such a one did last, else the lowest sensible price."""
    request = report.resolved.request
    if request.price is not None:
        return request.price
    before = _agreed(asked, fold(report.resolved.pattern.name), fold(report.plan.plating))
    return before if before is not None or not report.price.known else report.price.lowest


def _agreed(asked: Iterable[AskedFor], pattern: str, plating: str) -> int | None:
    """The price that was agreed last for the pattern in this plating, else in any."""
    mine = [one for one in asked if one.price and fold(one.pattern) == pattern]
    same = [one for one in mine if fold(one.plating) == plating]
    newest = max(same or mine, key=lambda one: one.on, default=None)
    return newest.price if newest else None


def _busy(ahead: Expected, today: date, weeks: float) -> float:
    """How busy the days until then are, 1 on average over the year."""
    days = [today + timedelta(days=at) for at in range(max(round(7 * weeks), 1))]
    return sum(ahead.months[day.month - 1] for day in days) / len(days)


def _widened(shape: float, swing: float) -> float:
    """The shape with good and bad times in it: 1/r and the variance of a lognormal factor add up."""
    return 1 / (1 / shape + exp(swing * swing) - 1)
