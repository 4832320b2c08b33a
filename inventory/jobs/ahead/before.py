"""What to have before a market, and when to order it: orders until its pieces are made, and what it sells itself.

Its pieces are made `AHEAD` weeks before its day, so its parts are to be there then: as many as last through that week
in nine courses of ten. To be ordered by that day less lead time and how late its supplier usually is.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil
from statistics import mean

from inventory.catalogue import Part, fold
from inventory.errors import BadInput
from inventory.jobs.ahead.levels import WEEKS, Levels, PartLevel
from inventory.jobs.ahead.terms import lateness
from inventory.jobs.purchasing.demand import unclaimed
from inventory.ledger.shop import Shop
from inventory.measures import read_unit
from inventory.planning.demand.markets import AHEAD, MarketDemand, made_in
from inventory.planning.windows import asked_between, quantiles

CHANCE = 0.9


@dataclass(frozen=True, slots=True)
class ToHave:
    """One part, thousandths of its unit. there: free or due in; wanted: to have; for_it: what the market takes of it.

    order_by: the last day to order what is missing, None where nobody sells it.
    """

    part: Part
    there: int
    wanted: int
    for_it: int
    order_by: date | None

    @property
    def short(self) -> int:
        """How much is missing."""
        return max(self.wanted - self.there, 0)


@dataclass(frozen=True, slots=True)
class BeforeMarket:
    """What a market asks for. ready: the day its parts are to be there; parts: what it takes, the most urgent first."""

    market: MarketDemand
    ready: date
    parts: tuple[ToHave, ...]


def before(shop: Shop, made: Levels, name: str) -> BeforeMarket:
    """For the next market of that name. made: levels, with what is expected. Raises BadInput where none is to come."""
    market = next((one for one in made.expected.markets if fold(one.name) == fold(name)), None)
    if market is None:
        raise BadInput(f"No market “{name}” is to come.", hint="See which are: kitdrawer market")
    week = made_in(market.on, shop.today)
    if week >= WEEKS:
        raise BadInput(f"{market.name} is more than half a year ahead.", hint="Ask again nearer to it.")
    ready = max(market.on - timedelta(weeks=AHEAD), shop.today)
    takes = _takes(made, market)
    rows = [
        _row(shop, made, one, takes[key], ready, week)
        for one in made.parts
        if (key := fold(one.part.name)) in takes
    ]
    far = date.max
    rows.sort(key=lambda one: (not one.short, one.order_by or far, -one.short, one.part.name))
    return BeforeMarket(market, ready, tuple(rows))


def _takes(made: Levels, market: MarketDemand) -> dict[str, float]:
    """Units of each part, by folded name, that the market's pieces are expected to take."""
    done: defaultdict[str, float] = defaultdict(float)
    for kind, share in made.expected.shares().items():
        for part, units in made.takes.get(kind, {}).items():
            done[part] += market.pieces * share * units
    return {part: units for part, units in done.items() if units >= 0.01}


def _row(shop: Shop, made: Levels, one: PartLevel, takes: float, ready: date, week: int) -> ToHave:
    step = 1000 if read_unit(one.part.unit).kind == "count" else 500
    asked = asked_between(made.asked[fold(one.part.name)], 0, 7 * (week + 1))
    (enough,) = quantiles(asked, (CHANCE,))
    wanted = ceil(enough * 1000 / step - 1e-9) * step
    order_by = None
    if one.source is not None:
        late = round(mean(lateness(shop, one.source.supplier)))
        order_by = ready - timedelta(days=(one.source.supplier.lead_days or 0) + late)
    return ToHave(one.part, max(unclaimed(shop, one.part, ready), 0), wanted, round(1000 * takes), order_by)
