"""Raising the bound by supplier of a node, and dropping from it what cannot hold a better list.

Prices of parts follow the subgradient - a part covered too little gets dearer, one covered twice cheaper - with steps
set by the best list known (Polyak 1969, Minimization of Unsmooth Functionals, USSR Computational Mathematics 9), each
direction leaning on the one before (Camerini, Fratta & Maffioli 1975, Mathematical Programming Study 3; both from
memory).
"""

from __future__ import annotations

from inventory.buying.bounds.by_supplier import Shares, Total
from inventory.buying.search.leaf import OFF
from inventory.buying.search.node import Node, Pick

LEAN = 0.5
"""Of the last direction that goes into the next."""

PATIENCE, SLOWER = 3, 0.6
"""After so many rounds without much gain the steps get shorter, and start from the best prices again, or it ends."""

ABOVE = 1.002
"""The bound aimed at: a little above the best list, so that steps do not die before it is reached."""

LEARN = 9
"""Rounds between two looks for mixes of sellers not known yet, which only a long ascent is worth."""

FALL = 2
"""A price falls to the best one by this at most: steps grow with prices, so that one of nothing would never rise."""

FADE = 0.9
"""Picks of earlier rounds weigh less."""


def ascend(
    shares: Shares, node: Node, target: int, rounds: int, pace: float, *, patient: bool = True
) -> Total:
    """Raise a node's bound towards `target` and narrow it; the answer at its best prices.

    patient: go on with shorter steps where little is gained, to the last of the rounds.
    """
    found, best = _risen(shares, node, target, rounds, pace, patient)
    if found.bound >= target:
        node.bound = max(node.bound, shares.certain(node, found))
    node.prices = best
    return found if node.bound >= target else _narrow(shares, node, target)


def _risen(
    shares: Shares, node: Node, target: int, rounds: int, pace: float, patient: bool
) -> tuple[Total, list[int]]:
    """The answer at the node's prices as they are then, where the target is reached; and the best prices met."""
    best, prices = None, node.prices
    direction = [0.0] * len(prices)
    found = Total(0, [], [])
    seen: list[dict[Pick, float]] = [{} for _ in node.modes]
    idle = 0
    for at in range(rounds):
        if at % LEARN == LEARN - 1:
            node.prices = prices
            if shares.learn(node):
                best = None
        found = shares.total(node)
        _remember(seen, found.picks)
        idle = 0 if best is None or found.bound > best + (target - best) // 20 else idle + 1
        if best is None or found.bound > best:
            best, prices = found.bound, node.prices
        if found.bound >= target:
            break
        if idle >= PATIENCE:
            if not patient:
                break
            pace, idle = pace * SLOWER, 0
            node.prices = prices
        step = _step(direction, found, prices, pace * (target * ABOVE - found.bound))
        if step is None:
            break
        node.prices = _moved(node.prices, prices, direction, step)
    node.seen = seen
    return found, prices


def _moved(prices: list[int], scales: list[int], direction: list[float], step: float) -> list[int]:
    """Prices a step further; none below 0, where the bound would be none."""
    return [
        max(scale // FALL, price + int(step * way * scale))
        for price, way, scale in zip(prices, direction, scales, strict=True)
    ]


def _remember(seen: list[dict[Pick, float]], picks: list[Pick]) -> None:
    """What each supplier picked lately."""
    for mine, pick in zip(seen, picks, strict=True):
        for known in mine:
            mine[known] *= FADE
        mine[pick] = mine.get(pick, 0.0) + 1.0


def _step(direction: list[float], found: Total, scales: list[int], room: float) -> float | None:
    """Lean the direction towards what is short, in place; how far to go, None where nothing is short."""
    for part, short in enumerate(found.short):
        direction[part] = short + LEAN * direction[part]
    length = sum(way * way * scale for way, scale in zip(direction, scales, strict=True))
    return room / length if length > 0 else None


def _narrow(shares: Shares, node: Node, target: int) -> Total:
    """Set the bound, with every mix of sellers, and drop modes and outer levels that alone would pass the target."""
    sure = shares.total(node, sure=True)
    node.bound = max(node.bound, sure.bound)
    node.fixed, node.levels = sure.fixed, sure.levels
    node.base, node.ways = sure.bound, sure.ways()
    node.modes = tuple(
        tuple(mode for mode in modes if bounds[mode] < target)
        for modes, bounds in zip(node.modes, sure.fixed, strict=True)
    )
    if not all(node.modes):
        node.bound = max(node.bound, target)
        return sure
    low, high = list(node.low), list(node.high)
    for group, bounds in enumerate(sure.levels):
        kept = [level for level, bound in bounds.items() if bound < target]
        if kept:
            low[group], high[group] = min(kept), max(kept)
        elif bounds and OFF in node.modes[shares.problem.groups[group].supplier]:
            supplier = shares.problem.groups[group].supplier
            node.modes = (*node.modes[:supplier], (OFF,), *node.modes[supplier + 1 :])
        elif bounds:
            node.bound = max(node.bound, target)
    node.low, node.high = tuple(low), tuple(high)
    return sure
