"""Where a region is cut in two or three: by the modes of one supplier, or by the levels of one price group.

Cut is where the ascent to the region's bound could not make up its mind *and* where deciding otherwise costs much, so
that every part's bound rises (the product rule of branching: Achterberg, Koch & Martin 2005, Branching Rules Revisited,
Operations Research Letters 33, from memory).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from inventory.buying.rates import OFF
from inventory.buying.regions import Region

DOUBT = 0.05
GAIN = 0.0005
"""Added to both factors, the gain as a share of the bound, so that neither alone decides."""


def parts(region: Region, of_supplier: Sequence[Sequence[int]]) -> Iterator[Region]:
    """A region that is not settled, in parts."""
    _, supplier, group = max(_cuts(region, of_supplier))
    if group < 0:
        for mode in region.modes[supplier]:
            modes = (*region.modes[:supplier], (mode,), *region.modes[supplier + 1 :])
            yield Region(modes, region.low, region.high, region.prices, region.bound)
        return
    at = _middle(region, _picked(region, supplier, of_supplier[supplier].index(group)), group)
    high = (*region.high[:group], at, *region.high[group + 1 :])
    yield Region(region.modes, region.low, high, region.prices, region.bound)
    low = (*region.low[:group], at + 1, *region.low[group + 1 :])
    yield Region(region.modes, low, region.high, region.prices, region.bound)


def _cuts(region: Region, of_supplier: Sequence[Sequence[int]]) -> Iterator[tuple[float, int, int]]:
    """(score, supplier, group) of every cut, group -1 for modes; levels once the supplier's mode is settled."""
    for supplier, modes in enumerate(region.modes):
        if len(modes) > 1:
            least, second = sorted(region.fixed[supplier][mode] for mode in modes)[:2]
            doubt = 1 - max(_picked(region, supplier, -1).values())
            yield _score(region, doubt, second - least), supplier, -1
        elif modes != (OFF,):
            for place, group in enumerate(of_supplier[supplier]):
                if region.low[group] < region.high[group]:
                    yield _level_score(region, group, _picked(region, supplier, place)), supplier, group


def _level_score(region: Region, group: int, picked: dict[int, float]) -> float:
    at = _middle(region, picked, group)
    below = sum(share for level, share in picked.items() if level <= at)
    bounds = region.levels[group]
    under = min(bounds[level] for level in range(region.low[group], at + 1))
    over = min(bounds[level] for level in range(at + 1, region.high[group] + 1))
    return _score(region, min(below, 1 - below), abs(under - over))


def _score(region: Region, doubt: float, gain: int) -> float:
    return (doubt + DOUBT) * (gain / (region.bound + 1) + GAIN)


def _picked(region: Region, supplier: int, place: int) -> dict[int, float]:
    """How often the ascent picked each mode (`place` below 0) or each level of a group, as shares of all."""
    found: dict[int, float] = {}
    for (mode, levels), weight in region.seen[supplier].items():
        if place < 0 or levels:
            key = mode if place < 0 else levels[place]
            found[key] = found.get(key, 0.0) + weight
    whole = sum(found.values())
    return {key: weight / whole for key, weight in found.items()}


def _middle(region: Region, picked: dict[int, float], group: int) -> int:
    """The level to cut after so that what was picked falls on both sides as evenly as it can."""

    def apart(at: int) -> tuple[float, int]:
        return abs(sum(share for level, share in picked.items() if level <= at) - 0.5), -at

    return min(range(region.low[group], region.high[group]), key=apart)
