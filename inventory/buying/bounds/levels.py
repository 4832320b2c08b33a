"""The levels of a price group as the bound by supplier sees them: what each offer earns, and what filling up costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from inventory.buying.problem import Problem

DEAR = 1 << 90
"""Atoms a part costs at a level at which its offer cannot be bought."""


@dataclass(slots=True)
class Steps:
    """A price group's offers in time, and its levels: (packs asked for, atoms of each offer's cost, cheapest of all).

    Of each offer: its part, as many packs as cover it or are left if that is less, and the packs that cover it;
    `scarce` where any has too few.
    """

    parts: list[int]
    packs: list[int]
    whole: list[int]
    levels: list[tuple[int, list[int], int]]
    scarce: bool

    def earned(self, prices: Sequence[int]) -> list[int]:
        """What each offer earns with all of its packs."""
        if self.scarce:
            it = zip(self.parts, self.packs, self.whole, strict=True)
            return [prices[part] * packs // whole for part, packs, whole in it]
        return [prices[part] for part in self.parts]


def steps_of(problem: Problem, group: int) -> Steps:
    """A price group as its supplier sees it."""
    one = problem.groups[group]
    offers = [problem.packs[number] for number in one.packs if not problem.late(problem.packs[number])]
    whole = [-(-problem.needs[pack.part][-1] // pack.size) for pack in offers]
    packs = [min(many, pack.most or many) for many, pack in zip(whole, offers, strict=True)]
    levels = []
    for level, start in enumerate(one.starts):
        prices = [pack.prices[level] for pack in offers]
        own = [DEAR if price is None else price * many for price, many in zip(prices, packs, strict=True)]
        levels.append((start if level else 0, own, one.cheapest[level]))
    return Steps([pack.part for pack in offers], packs, whole, levels, packs != whole)


def filled(start: int, packs: Sequence[int], mores: Sequence[int], cap: int) -> int:
    """What it costs to fill a level: a fractional knapsack for the packs it asks for beyond the parts that earn.

    The parts that lose least a pack come first, the last one in part; packs nobody needs are there at `cap`, the
    cheapest price.
    """
    short = start - sum([many for many, more in zip(packs, mores, strict=True) if more < 0])
    if short <= 0:
        return 0
    cost = 0
    rest = [(more // many, many) for many, more in zip(packs, mores, strict=True) if more >= 0]
    rest.sort()
    for loss, many in rest:
        if loss >= cap:
            break
        if many >= short:
            return cost + loss * short
        cost += loss * many
        short -= many
    return cost + cap * short
