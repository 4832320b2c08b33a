"""What a season would cost whoever knew all of it on the first day: a bound below every way of buying.

What the season takes of each part comes from living it with everything always there (`plenty`): the luck at the lathe
is as likely as any, not the very same throws. Then a programme for HiGHS, looser than the season in each of these, so
that its proven bound (not its best list) is one below:

- time goes in stretches of four weeks: a supplier is sent to at most once in each, on its first day, parcels are never
  late, and what is asked for in one may lie on the shelf no longer than from the parcel to the day it is asked for;
- packs may be cut, every unit costs the least any step of its offer has (at the prices of that stretch);
- every piece asked for is made, in time; what nobody could have had in time is there on the first day.

Cost a good piece net of stock, as the other ways are reckoned: what is used, at what was paid for it, and postage. With
`holding` a year of what lies there besides; then it is that sum which is bounded.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from season_bench import RISES, Lot, Season, live, unit_price
from season_world import DAYS

if TYPE_CHECKING:
    from season_world import Ask

STRETCH = 28
STRETCHES = -(-DAYS // STRETCH)
LAST_ORDER = DAYS - 30
ENOUGH = 10**9
Window = tuple[int, int]
"""The stretch a thing is asked for in, and the day by which it must be there: the end of the stretch it is due in."""


@dataclass(slots=True)
class _Rows:
    """A programme as it is written down."""

    costs: list[float] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    whole: list[int] = field(default_factory=list)
    at: list[tuple[int, int, float]] = field(default_factory=list)
    low: list[float] = field(default_factory=list)
    high: list[float] = field(default_factory=list)

    def column(self, cost: float, most: float = float("inf"), *, whole: bool = False) -> int:
        """A new one, at least 0."""
        self.costs.append(cost)
        self.most.append(most)
        self.whole.append(int(whole))
        return len(self.costs) - 1

    def row(self, terms: Iterable[tuple[int, float]], low: float, high: float) -> None:
        """A new one."""
        self.at += [(len(self.low), column, value) for column, value in terms]
        self.low.append(low)
        self.high.append(high)

    def bound(self, seconds: float) -> float:
        """No choice costs less than that."""
        import numpy as np
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_matrix

        rows, columns, values = zip(*self.at, strict=True)
        matrix = csr_matrix((values, (rows, columns)), shape=(len(self.low), len(self.costs)))
        found = milp(
            np.array(self.costs),
            integrality=np.array(self.whole),
            bounds=Bounds(np.zeros(len(self.costs)), np.array(self.most)),
            constraints=LinearConstraint(matrix, np.array(self.low), np.array(self.high)),
            options={"mip_rel_gap": 0.01, "time_limit": seconds},
        )
        return float(found.mip_dual_bound if found.mip_dual_bound is not None else -np.inf)


def plenty(season: Season) -> tuple[dict[str, float], int]:
    """Thousandths the season takes of each part where nothing is ever lacking, and the good pieces it makes of them."""
    for part in {part for taken in season.recipes.values() for part in taken.parts()}:
        season.lots[part] = [Lot(ENOUGH, day, unit_price(season, part)) for day in range(0, DAYS, 60)]
    tally = live(season, lambda _: ())
    used: dict[str, float] = defaultdict(float)
    for _, part, quantity in season.used:
        used[part] += quantity
    return used, tally.good


def wanted(asks: Sequence[Ask], season: Season, used: Mapping[str, float]) -> dict[str, dict[Window, float]]:
    """By part and window the thousandths of it the season takes: shared out by what the bills say of each ask."""
    found: dict[str, dict[Window, float]] = defaultdict(lambda: defaultdict(float))
    for ask in asks:
        taken = season.takes(ask.what)
        window = ask.on // STRETCH, (ask.due // STRETCH + 1) * STRETCH
        for part in taken.parts():
            by_bill = taken.lathe.get(part, 0) + taken.late.get(part, 0) + taken.evening.get(part, 0)
            found[part][window] += float(ask.pieces * by_bill)
    for part, windows in found.items():
        factor = used.get(part, 0.0) / (sum(windows.values()) or 1.0)
        for window in windows:
            windows[window] *= factor
    return found


def least(opened: Season, again: Season, holdings: Sequence[float], seconds: float = 900.0) -> list[float]:
    """Coins a good piece costs at least, for each holding. opened and again: the same shop on its first day, twice."""
    asks = list(again.asks)
    used, good = plenty(again)
    needs = wanted(asks, opened, used)
    return [_least(opened, needs, holding, seconds) / 100 / good for holding in holdings]


def _least(
    season: Season, needs: Mapping[str, Mapping[Window, float]], holding: float, seconds: float
) -> float:
    """Cents. Where holding costs nothing all is best bought on the first day: it is cheapest then, in one parcel."""
    rows, days = _Rows(), LAST_ORDER if holding else 1
    suppliers = sorted({offer.supplier.casefold() for part in needs for offer in season.offers[part]})
    goods: dict[tuple[str, int], list[tuple[int, float]]] = defaultdict(list)
    sends = {
        (name, t): rows.column(
            float(season.suppliers[name].postage * season.coin(season.suppliers[name])), 1.0, whole=True
        )
        for name in suppliers
        for t in range(STRETCHES)
        if t * STRETCH < days
    }
    lies = 0.0
    for part, windows in needs.items():
        lies += _part(rows, season, part, windows, sends, goods, holding)
    for (name, t), send in sends.items():
        one = season.suppliers[name]
        if one.free_from is not None and one.postage:
            coin = float(season.coin(one))
            free = rows.column(-float(one.postage) * coin, 1.0, whole=True)
            rows.row([(free, 1.0), (send, -1.0)], -float("inf"), 0.0)
            more = rows.column(
                _lying(t, STRETCHES, holding)
            )  # bought beyond the season, and worth what it cost
            rows.row(
                [*goods[name, t], (more, 1.0), (free, -one.free_from * coin * _rise(t))], 0.0, float("inf")
            )
            rows.row([(more, 1.0), (send, -one.free_from * coin * _rise(t))], -float("inf"), 0.0)
    return rows.bound(seconds) + lies


def _part(
    rows: _Rows,
    season: Season,
    part: str,
    windows: Mapping[Window, float],
    sends: Mapping[tuple[str, int], int],
    goods: Mapping[tuple[str, int], list[tuple[int, float]]],
    holding: float,
) -> float:
    """What covers each window's need, in cents; what its first stock costs to hold where the season leaves it."""
    first, price = season.on_hand(part), float(unit_price(season, part))
    each = _sources(season, part)
    begun, linked = [], defaultdict(list)
    for (on, due), units in windows.items():
        if units <= 0:
            continue
        cost = price * units
        shelf = rows.column(cost * (1 + _lying(0, on, holding) - _lying(0, STRETCHES, holding)), 1.0)
        begun.append((shelf, units))
        covers = [(shelf, 1.0)]
        for name, (a_unit, lead) in each.items():
            for t in range(STRETCHES):
                if (name, t) in sends and (t == 0 or t * STRETCH + lead <= due):
                    paid = a_unit * _rise(t) * units
                    arrives = (t * STRETCH + lead) / STRETCH
                    column = rows.column(paid * (1 + _lying(arrives + 1, on, holding)), 1.0)
                    covers.append((column, 1.0))
                    goods[name, t].append((column, paid))
                    linked[name, t].append(column)
        rows.row(covers, 1.0, 1.0)
    for key, columns in linked.items():
        for column in columns:
            rows.row([(column, 1.0), (sends[key], -1.0)], -float("inf"), 0.0)
    rows.row(begun, 0.0, float(first)) if begun else None
    return price * first * _lying(0, STRETCHES, holding)


def _sources(season: Season, part: str) -> dict[str, tuple[float, int]]:
    """By supplier the least a thousandth of a part costs there, in cents, and the days a parcel takes."""
    found: dict[str, tuple[float, int]] = {}
    for offer in season.offers[part]:
        one = season.suppliers[offer.supplier.casefold()]
        cost = float(min(step.price for step in offer.steps) * season.coin(one) / offer.pack)
        before = found.get(offer.supplier.casefold())
        if before is None or cost < before[0]:
            found[offer.supplier.casefold()] = cost, one.lead_days or 14
    return found


def _rise(t: int) -> float:
    done = 1.0
    for day, factor in RISES:
        done *= float(factor) if t * STRETCH >= day else 1.0
    return done


def _lying(come: float, gone: float, holding: float) -> float:
    """What a coin's worth costs from one stretch to another."""
    return max(gone - come, 0.0) * STRETCH / 365 * holding
