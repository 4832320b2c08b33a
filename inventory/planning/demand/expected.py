"""What is expected of each pattern a week, and how well that is known: a rate of orders, their sizes, their kinds.

Thin series lean on the whole: sizes of a pattern's orders on those of all (as if `LEAN` more orders had been like
them), kinds (plating, blank, refill) of a pattern on what each is in the shop. How well a rate is known is the shape r
of its gamma law: what was seen and believed of it, and no surer than its method's own misses were over the horizon,
σ² = μ E[s²] + (μ E[s])² / r solved for r; and fashion drifts, 1/r + DRIFT.

All patterns have good and bad months together. How much so, as the standard deviation σ of the logarithm of a common
factor, is what the whole shop's misses show beyond chance, as much as `BLOCKS` more stretches of the horizon were like
the usual: a season nobody knows yet, or, where two years show one, what is left beside it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING

from inventory.catalogue import fold
from inventory.ledger.asked import AskedFor
from inventory.planning.demand.markets import MarketDemand
from inventory.planning.demand.season import NONE, indexes
from inventory.planning.demand.weeks import Weeks, weekly
from inventory.planning.forecasting.choosing import Chosen, choose

if TYPE_CHECKING:
    from inventory.planning.forecasting.arrays import Floats

BELIEVED = 0.5
"""Orders a week a shop without a past is taken to get, over all its patterns (an assumption, and said as one)."""
WORTH = 6.0
"""Weeks of seeing that this belief is worth."""
LEAN = 8.0
"""Orders of the whole that weigh as much as a pattern's own."""
USUAL_SIZES: Mapping[int, float] = {1: 0.6, 2: 0.25, 4: 0.1, 6: 0.05}
"""Sizes of orders where none was seen yet (an assumption)."""

DRIFT = 0.3
"""By how much a pattern's own share of the custom drifts, the square of its coefficient of variation (see below)."""
UNKNOWN, KNOWN = 0.2, 0.1
"""The usual σ before and after a season is known. DRIFT, these and BLOCKS were chosen by `scripts/soak/foretold.py`, on
its shops from 200 on."""
BLOCKS = 10.0

Kind = tuple[str, str, str | None]
"""Plating, blank and refill, folded."""


@dataclass(frozen=True, slots=True)
class PatternDemand:
    """One pattern. orders: expected a week, before seasons; shape: of its gamma law; sizes and kinds: probabilities."""

    pattern: str
    orders: float
    shape: float
    sizes: Mapping[int, float]
    kinds: Mapping[Kind, float]
    method: str
    seen: int

    @property
    def pieces(self) -> float:
        """Expected pieces a week, before seasons."""
        return self.orders * sum(size * share for size, share in self.sizes.items())


@dataclass(frozen=True, slots=True)
class Expected:
    """What a shop expects. months: indexes of the season, January first; weeks: how many were looked back on.

    swing: σ of good and bad months. markets: those to come, beside what comes by the week.
    """

    patterns: tuple[PatternDemand, ...]
    months: tuple[float, ...]
    weeks: int
    swing: float = UNKNOWN
    markets: tuple[MarketDemand, ...] = ()

    def season(self, first: date, weeks: int) -> list[float]:
        """How busy each of so many weeks from a day on is, by the month of its middle day: 1 on average over a year."""
        return [self.months[(first + timedelta(days=7 * at + 3)).month - 1] for at in range(weeks)]

    def shares(self) -> Mapping[tuple[str, Kind], float]:
        """By pattern and kind what of all pieces is expected to be of it; a market sells alike."""
        whole = sum(one.pieces for one in self.patterns) or 1.0
        return {
            (one.pattern, kind): one.pieces * share / whole
            for one in self.patterns
            for kind, share in one.kinds.items()
        }


def expected(
    asked: Sequence[AskedFor], could: Mapping[str, Sequence[Kind]], today: date, horizon: int
) -> Expected:
    """From what was asked for. could: by folded pattern the kinds that can be made, for patterns nobody asked for yet.

    horizon: weeks ahead the methods are chosen for.
    """
    names = tuple(could)
    ordered = [one for one in asked if not one.market]
    weeks = weekly(ordered, names, today)
    months = indexes(weeks.pieces.sum(axis=1).tolist(), today) if weeks.many else NONE
    sizes_of_all = _sizes(Counter(one.pieces for one in ordered), USUAL_SIZES)
    mean = sum(size * share for size, share in sizes_of_all.items())
    chosen = _chosen(weeks, months, mean, horizon)
    done = []
    by_pattern: dict[str, list[AskedFor]] = {}
    for row in asked:
        by_pattern.setdefault(fold(row.pattern), []).append(row)
    platings = Counter(fold(row.plating) for row in asked)
    blanks = Counter(fold(row.blank) for row in asked)
    for at, (name, one) in enumerate(zip(names, chosen, strict=True)):
        own = by_pattern.get(name, [])
        sizes = _sizes(Counter(row.pieces for row in own if not row.market), sizes_of_all)
        rate = one.rate / sum(size * share for size, share in sizes.items())
        seen = float(weeks.orders[:, at].sum())
        shape = _shape(one, rate, sizes, seen + WORTH * BELIEVED / len(names), horizon)
        kinds = _kinds(own, platings, blanks, could[name])
        done.append(PatternDemand(name, rate, shape, sizes, kinds, one.method, len(own)))
    return Expected(tuple(done), months, weeks.many, _swing(weeks, months, sizes_of_all, horizon))


def _swing(weeks: Weeks, months: Sequence[float], sizes: Mapping[int, float], horizon: int) -> float:
    usual = UNKNOWN if months == NONE else KNOWN
    if not weeks.many:
        return usual
    whole = Weeks(("",), weeks.pieces.sum(axis=1, keepdims=True), weeks.orders, weeks.last)
    first = sum(size * share for size, share in sizes.items())
    (one,) = _chosen(whole, months, first, horizon)
    if one.error is None:
        return usual
    second = sum(size * size * share for size, share in sizes.items())
    pieces = float(whole.pieces.mean()) * horizon
    beyond = max(one.error**2 - pieces * second / first, 0.0) / pieces**2
    blocks = weeks.many / horizon
    return float(((BLOCKS * usual**2 + blocks * beyond) / (BLOCKS + blocks)) ** 0.5)


def _chosen(weeks: Weeks, months: Sequence[float], mean: float, horizon: int) -> tuple[Chosen, ...]:
    import numpy as np

    believed = np.full(len(weeks.names), mean * BELIEVED / max(len(weeks.names), 1))
    if not weeks.many:
        return tuple(Chosen("believed", float(rate), None) for rate in believed)
    flat: Floats = weeks.pieces / np.array([[months[weeks.begins(at).month - 1]] for at in range(weeks.many)])
    return choose(flat, horizon, believed, WORTH)


def _sizes(seen: Mapping[int, int], leans_on: Mapping[int, float]) -> Mapping[int, float]:
    whole = sum(seen.values()) + LEAN
    keys = sorted({*seen, *leans_on})
    return {size: (seen.get(size, 0) + LEAN * leans_on.get(size, 0.0)) / whole for size in keys}


def _kinds(
    own: Sequence[AskedFor], platings: Mapping[str, int], blanks: Mapping[str, int], could: Sequence[Kind]
) -> Mapping[Kind, float]:
    """Probabilities of what can be made, by its own orders and, as `LEAN` more, by what the shop is asked for."""
    seen = Counter(kind_of(row) for row in own)
    kinds = list(dict.fromkeys([*could, *seen]))
    whole = {kind: (platings[kind[0]] + 1.0) * (blanks[kind[1]] + 1.0) for kind in kinds}
    sum_ = sum(whole.values())
    return {kind: (seen[kind] + LEAN * whole[kind] / sum_) / (len(own) + LEAN) for kind in kinds}


def kind_of(row: AskedFor) -> Kind:
    """Plating, blank and refill of what was asked for."""
    return fold(row.plating), fold(row.blank), fold(row.refill) if row.refill else None


def _shape(one: Chosen, rate: float, sizes: Mapping[int, float], learned: float, horizon: int) -> float:
    if one.error is None:
        return _drifting(learned)
    orders = rate * horizon
    first = sum(size * share for size, share in sizes.items())
    second = sum(size * size * share for size, share in sizes.items())
    beyond = one.error**2 - orders * second
    return _drifting(min(learned, (orders * first) ** 2 / beyond if beyond > 0 else learned))


def _drifting(shape: float) -> float:
    return 1 / (1 / max(shape, 0.1) + DRIFT)
