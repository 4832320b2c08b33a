"""Raising the bound by supplier of a region, and dropping from it what cannot hold a better list.

Prices of parts follow the subgradient - a part covered too little gets dearer, one covered twice cheaper - with steps
set by the best list known (Polyak 1969, Minimization of Unsmooth Functionals, USSR Computational Mathematics 9), each
direction leaning on the one before (Camerini, Fratta & Maffioli 1975, Mathematical Programming Study 3).
"""

from __future__ import annotations

from collections.abc import Iterator

from inventory.buying.bound import OFF
from inventory.buying.regions import Pick, Region
from inventory.buying.shares import Shares, Total

LEAN = 0.5
PATIENCE = 3
SLOWER = 0.6
ABOVE = 1.002
"""The bound aimed at: a little above the best list, so that steps do not die before it is reached."""

LEARN = 6
"""Rounds between two looks for mixes of sellers not known yet."""

FADE = 0.9
"""Picks of earlier rounds weigh less."""


def ascend(shares: Shares, region: Region, target: int, rounds: int, pace: float) -> Total:
    """Raise a region's bound towards `target`, narrow it, and return the picks met on the way, best bound last."""
    best, prices = None, region.prices
    direction = [0.0] * len(prices)
    seen: list[dict[Pick, float]] = [{} for _ in region.modes]
    idle = 0
    for at in range(rounds):
        if at % LEARN == LEARN // 2:
            region.prices = prices
            if shares.learn(region):
                best = None
        found = shares.total(region)
        weight = 1.0
        for mine, pick in zip(seen, found.picks, strict=True):
            for known in mine:
                mine[known] *= FADE
            mine[pick] = mine.get(pick, 0.0) + weight
        idle = 0 if best is None or found.bound > best + (target - best) // 20 else idle + 1
        if best is None or found.bound > best:
            best, prices = found.bound, region.prices
        if best >= target:
            break
        if idle >= PATIENCE:
            pace, idle = pace * SLOWER, 0
            region.prices = prices
        step = _step(direction, found, prices, pace * (target * ABOVE - found.bound))
        if step is None:
            break
        region.prices = [
            max(0, price + int(step * way * scale))
            for price, way, scale in zip(region.prices, direction, prices, strict=True)
        ]
    region.prices, region.seen = prices, seen
    return _narrow(shares, region, target)


def _step(direction: list[float], found: Total, scales: list[int], room: float) -> float | None:
    """Lean the direction towards what is short, in place; how far to go, None where nothing is short."""
    for part, short in enumerate(found.short):
        direction[part] = short + LEAN * direction[part]
    length = sum(way * way * scale for way, scale in zip(direction, scales, strict=True))
    return room / length if length > 0 else None


def _narrow(shares: Shares, region: Region, target: int) -> Total:
    """Set the bound, with every mix of sellers, and drop modes and outer levels that alone would pass the target."""
    sure = shares.total(region, sure=True)
    region.bound = max(region.bound, sure.bound)
    region.modes = tuple(
        tuple(mode for mode in modes if bounds[mode] < target)
        for modes, bounds in zip(region.modes, sure.fixed, strict=True)
    )
    if not all(region.modes):
        region.bound = max(region.bound, target)
        return sure
    low, high = list(region.low), list(region.high)
    for group, bounds in enumerate(sure.levels):
        kept = [level for level, bound in bounds.items() if bound < target]
        if kept:
            low[group], high[group] = min(kept), max(kept)
        elif bounds and OFF in region.modes[shares.case.groups[group].supplier]:
            supplier = shares.case.groups[group].supplier
            region.modes = (*region.modes[:supplier], (OFF,), *region.modes[supplier + 1 :])
        elif bounds:
            region.bound = max(region.bound, target)
    region.low, region.high = tuple(low), tuple(high)
    return sure


def children(region: Region, of_supplier: list[list[int]]) -> Iterator[Region]:
    """The region in parts, by the modes of the supplier or the levels of the group that its ascent mixed most."""
    mixed, where = 0.0, (-1, -1)
    for supplier, modes in enumerate(region.modes):
        if len(modes) > 1:
            doubt = 1.0 - max(_shares(region, supplier, -1).values(), default=0.0)
            if doubt + 0.01 > mixed:
                mixed, where = doubt + 0.01, (supplier, -1)
        elif modes[0] != OFF:
            for place, group in enumerate(of_supplier[supplier]):
                if region.low[group] < region.high[group]:
                    doubt = 1.0 - max(_shares(region, supplier, place).values(), default=0.0)
                    if doubt + 0.001 > mixed:
                        mixed, where = doubt + 0.001, (supplier, place)
    supplier, place = where
    if place < 0:
        for mode in region.modes[supplier]:
            fixed = (*region.modes[:supplier], (mode,), *region.modes[supplier + 1 :])
            yield Region(fixed, region.low, region.high, region.prices, region.bound)
        return
    group = of_supplier[supplier][place]
    at = _middle(_shares(region, supplier, place), region.low[group], region.high[group])
    high = (*region.high[:group], at, *region.high[group + 1 :])
    yield Region(region.modes, region.low, high, region.prices, region.bound)
    low = (*region.low[:group], at + 1, *region.low[group + 1 :])
    yield Region(region.modes, low, region.high, region.prices, region.bound)


def _shares(region: Region, supplier: int, place: int) -> dict[int, float]:
    """How often each mode (`place` < 0) or each level of one group was picked, of all."""
    found: dict[int, float] = {}
    for (mode, levels), weight in region.seen[supplier].items() if region.seen else ():
        key = mode if place < 0 else levels[place] if levels else None
        if key is not None:
            found[key] = found.get(key, 0.0) + weight
    whole = sum(found.values())
    return {key: weight / whole for key, weight in found.items()}


def _middle(shares: dict[int, float], low: int, high: int) -> int:
    """Where to cut the levels so that what was picked falls on both sides as evenly as it can."""

    def apart(at: int) -> tuple[float, int]:
        return abs(sum(share for level, share in shares.items() if level <= at) - 0.5), -at

    return min(range(low, high), key=apart)
