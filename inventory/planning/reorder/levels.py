"""At what stock to order again, and up to what, where demand is not known beforehand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from statistics import NormalDist

from inventory.planning.reorder.loss import holding_and_short, second_loss, standard_loss


@dataclass(frozen=True, slots=True)
class Level:
    """Order when stock falls to `reorder_at` or below, up to `up_to`; cost: per unit of time, no purchase prices."""

    reorder_at: float
    up_to: float
    cost: float


def enough_normal(mean: float, sd: float, holding: float, penalty: float) -> Level:
    """The stock that costs least against normal demand (newsvendor, 4.3; base stock over lead time + review, 4.4).

    S = μ + σ Φ⁻¹(p / (h + p)), cost (h + p) σ φ(z).

    >>> round(enough_normal(50, 8, 0.18, 0.70).up_to, 6)
    56.603953
    """
    z = NormalDist().inv_cdf(penalty / (holding + penalty))
    stock = mean + sd * z
    return Level(stock, stock, sd * (holding * (z + standard_loss(z)) + penalty * standard_loss(z)))


def enough_whole(pmf: Sequence[float], holding: float, penalty: float) -> Level:
    """The least whole stock whose chance to suffice is p / (h + p) (newsvendor with discrete demand, 4.3)."""
    ratio = penalty / (holding + penalty)
    stock = next((y for y, sum_ in enumerate(accumulate(pmf)) if sum_ >= ratio), len(pmf) - 1)
    return Level(stock, stock, holding_and_short(pmf, holding, penalty)[stock])


def reorder_point_cost(
    level: Level, rate: float, mean: float, sd: float, prices: tuple[float, float, float]
) -> float:
    """What ordering Q = up_to − reorder_at at a stock of r costs a unit of time, demand over lead time normal (5.2).

    (K d + ∫_r^{r+Q} G(y) dy) / Q, G(y) = h E[(y − D)⁺] + p E[(D − y)⁺]. rate: d; mean, sd: of demand over the lead
    time; prices: K, h, p.

    >>> r, q = 126.8, 328.5
    >>> round(reorder_point_cost(Level(r, r + q, 0), 1300, 1300 / 12, 150 / 12**0.5, (8, 0.225, 7.5)), 6)
    78.071163
    """
    fixed, holding, penalty = prices
    quantity = level.up_to - level.reorder_at
    first, last = ((y - mean) / sd for y in (level.reorder_at, level.up_to))
    short = sd * sd * (second_loss(first) - second_loss(last)) / quantity
    held = (level.reorder_at + level.up_to) / 2 - mean
    return fixed * rate / quantity + holding * held + (holding + penalty) * short


def reorder_point(quantity: float, mean: float, sd: float, holding: float, penalty: float) -> float:
    """The best r for a given Q: where G(r) = G(r + Q) (5.2), by halving.

    >>> round(reorder_point(300, 1300 / 12, 150 / 12**0.5, 0.225, 7.5), 6)
    129.42728
    """

    def cost(y: float) -> float:  # less what is the same for all y
        return holding * y + (holding + penalty) * sd * standard_loss((y - mean) / sd)

    low, high = mean - quantity - 10 * sd, mean + 10 * sd
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if cost(middle) > cost(middle + quantity) else (low, middle)
    return (low + high) / 2


def reorder_whole(pmf: Sequence[float], rate: float, prices: tuple[float, float, float]) -> Level:
    """The best whole r and Q for Poisson demand, exactly (5.5: Federgruen and Zheng 1992).

    pmf: of demand over the lead time; rate: d; prices: K, h, p. Stocks are added where G is least until another one
    costs more than the mean: (K d + Σ_{y=r+1}^{r+Q} G(y)) / Q.
    """
    fixed, holding, penalty = prices
    costs = holding_and_short(pmf, holding, penalty)
    at = min(range(len(costs)), key=costs.__getitem__)
    low = high = at
    total = fixed * rate + costs[at]
    while True:
        below, above = _at(low - 1, costs, penalty), costs[high + 1]
        nearest = min(below, above)
        if nearest >= total / (high - low + 1):
            break
        total += nearest
        low, high = (low - 1, high) if below <= above else (low, high + 1)
    return Level(low - 1, high, total / (high - low + 1))


def order_up_to(pmf: Sequence[float], over: Sequence[float], prices: tuple[float, float, float]) -> Level:
    """The best s and S, exactly, where stock is looked at once a period (4.4: Zheng and Federgruen 1991).

    pmf: of demand in a period; over: of demand over lead time and one period, as long as stock can be; prices: K, h, p
    a period. c(s, S) = (K + Σ_{j=0}^{S−s−1} m(j) G(S − j)) / M(S − s), m the renewals of demand.
    """
    fixed, holding, penalty = prices
    costs = holding_and_short(over, holding, penalty)
    renewals: list[float] = []

    def one(y: int) -> float:
        return _at(y, costs, penalty)

    def cost(s: int, top: int) -> float:
        for _ in range(len(renewals), top - s):
            renewals.append(_renewal(pmf, renewals))
        some = renewals[: top - s]
        return (fixed + sum(m * one(top - j) for j, m in enumerate(some))) / sum(some)

    least = min(range(len(costs)), key=costs.__getitem__)
    s, best = least - 1, least
    while cost(s, best) > one(s):
        s -= 1
    value, top = cost(s, best), best + 1
    while top < len(costs) and one(top) <= value:
        if cost(s, top) < value:
            best = top
            while cost(s, best) <= one(s + 1):
                s += 1
            value = cost(s, best)
        top += 1
    return Level(s, best, value)


def _at(y: int, costs: Sequence[float], penalty: float) -> float:
    """G(y), where each unit below 0 is one more that is short."""
    return costs[max(y, 0)] + penalty * max(-y, 0)


def _renewal(pmf: Sequence[float], before: Sequence[float]) -> float:
    """The one after these: m(0) = 1 / (1 − f(0)), m(j) = Σ_{l=1..j} f(l) m(j − l) / (1 − f(0))."""
    come = sum(f * m for f, m in zip(pmf[1:], reversed(before), strict=False)) if before else 1.0
    return come / (1 - pmf[0])
