"""Where few combinations of what suppliers may do are left in a region, each is a corner to be looked at by itself."""

from __future__ import annotations

from collections.abc import Sequence

from inventory.buying.case import Case
from inventory.buying.rates import Corner, corner_of
from inventory.buying.regions import Pick, Region

FEW = 30
"""Combinations up to which a region is not cut any further."""


def few(region: Region, target: int) -> list[tuple[int, list[Pick]]] | None:
    """(bound, picks) of every combination whose bound is below `target`, lowest first; None where there are many."""
    found: list[tuple[int, list[Pick]]] = [(region.base, [])]
    for ways in region.ways:
        found = [
            (bound + cost, [*picks, pick])
            for bound, picks in found
            for cost, pick in ways
            if bound + cost < target
        ]
        if len(found) > FEW:
            return None
    return sorted(found)


class Corners:
    """Makes corners of combinations, with the multipliers that fitted last where modes or levels were the same."""

    def __init__(self, case: Case) -> None:
        self.case = case
        self._goods: dict[tuple[int, int], int] = {}
        self._count: dict[tuple[int, int], int] = {}

    def bare(self, picks: Sequence[Pick]) -> Corner:
        """The corner of one combination, without multipliers."""
        levels = [0] * len(self.case.groups)
        for supplier, (_, mine) in enumerate(picks):
            for group, level in zip(self.case.of_supplier[supplier], mine, strict=False):
                levels[group] = level
        at = tuple(levels)
        return corner_of(self.case, [mode for mode, _ in picks], at, at)

    def warm(self, picks: Sequence[Pick], bound: int) -> Corner:
        """The corner of one combination, with the multipliers kept and a bound known already."""
        bare = self.bare(picks)
        bare.bound = bound
        goods = [self._goods.get(one, 0) for one in enumerate(bare.modes)]
        return bare.charged(self.case, goods, [self._count.get(one, 0) for one in enumerate(bare.low)])

    def keep(self, corner: Corner) -> None:
        """Remember a corner's multipliers."""
        self._goods.update(zip(enumerate(corner.modes), corner.goods, strict=True))
        self._count.update(zip(enumerate(corner.low), corner.count, strict=True))
