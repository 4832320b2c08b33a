"""Every way to cover one part in a settled leaf that may be on a list below the target, as rows of numbers.

With L the bound of the leaf at its multipliers and c the part's least reduced cost, a way of reduced cost c' is on no
list below the target T where L - c + c' >= T (Balas & Zemel 1980, An Algorithm for Large Zero-One Knapsack Problems,
Operations Research 28, from memory).  More packs than cover the part are ways too: they may be what a count of packs
or a value of goods asks for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from inventory.buying.bounds.leaf_bound import Bounds, cost_at
from inventory.buying.knapsack import NEVER, Plan, Priced
from inventory.buying.search.conditions import Resource, enough_alone, resources
from inventory.buying.search.leaf import Leaf
from inventory.buying.search.patience import TooWide

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[Any]


@dataclass(slots=True)
class PartCovers:
    """The ways to cover a part: cost in atoms, by condition what each brings to it, and the packs."""

    cost: Array
    amounts: Array
    plans: list[Plan]

    def kept(self, which: Array) -> PartCovers:
        """Only those of a mask."""
        plans = [plan for plan, keep in zip(self.plans, which.tolist(), strict=True) if keep]
        return PartCovers(self.cost[which], self.amounts[which], plans)


def choices(bounds: Bounds, leaf: Leaf, target: int, left: int) -> list[PartCovers] | None:
    """By part its choices below the target, atoms/65536; None where the bound alone is no lower than that.

    TooWide where more than `left` would have to be tried: where packs cost next to nothing at the multipliers.
    """
    import numpy as np

    relaxed = bounds.relax(leaf)
    if relaxed is None or relaxed.bound >= target:
        return None
    wanted = list(resources(bounds, leaf))
    found = []
    for part, least in enumerate(bounds.part_costs(leaf)):
        ways = _Ways(bounds, leaf, part, target - relaxed.bound + least, wanted, left)
        ways.extend(0, 0, 0, 0, ())
        left = ways.left
        amounts = np.zeros((len(ways.found), len(wanted)))
        for row, (_, plan) in enumerate(ways.found):
            while plan:
                number, packs, plan = plan
                for place, amount in ways.brings(number, packs):
                    amounts[row, place] += amount
        found.append(
            PartCovers(
                np.array([float(cost) for cost, _ in ways.found]), amounts, [it[1] for it in ways.found]
            )
        )
    return found


class _Ways:
    """The ways to cover one part for a reduced cost below `room`, offer by offer, the earliest first."""

    def __init__(
        self, bounds: Bounds, leaf: Leaf, part: int, room: int, wanted: Sequence[Resource], left: int
    ) -> None:
        self.needs = bounds.problem.needs[part]
        self.offers: list[Priced] = sorted(bounds.priced(part, leaf), key=lambda it: (it[1].tier, it[0]))
        self.levels, self.room, self.wanted, self.left = leaf.high, room, wanted, left
        self.found: list[tuple[int, Plan]] = []
        self._tails: dict[tuple[int, int], int] = {}
        self._counts = {
            number: [(place, one.group >= 0) for place, one in enumerate(wanted) if one.takes(pack)]
            for number, pack, _, _ in self.offers
        }
        self._useful = [self._most(one) for one in self.offers]

    def brings(self, number: int, packs: int) -> list[tuple[int, int]]:
        """(condition, amount) of packs of one offer."""
        pack = next(pack for at, pack, _, _ in self.offers if at == number)
        cost = cost_at(pack, packs, self.levels)
        return [(place, packs if counted else cost) for place, counted in self._counts[number]]

    def _most(self, one: Priced) -> int:
        """Packs of an offer beyond which more is no use."""
        pack = one[1]
        price = min([each for _, each in pack.own]) if pack.own else cost_at(pack, 1, self.levels)
        many = enough_alone(pack, self.needs[-1], price, self.wanted)
        return many if pack.most is None else min(many, pack.most)

    def extend(self, at: int, held: int, cost: int, spent: int, plan: Plan) -> None:
        """Every way from the offer `at` on, with so much there for such a cost and reduced cost."""
        self.left -= 1
        if self.left < 0:
            raise TooWide
        if at == len(self.offers):
            self.found.append((cost, plan))
            return
        number, pack, price, weight = self.offers[at]
        if spent + self._tail(at + 1, held) < self.room:
            self.extend(at + 1, held, cost, spent, plan)
        full, last = self.needs[-1], pack.own[-1][0] if pack.own else 0
        size = 0 if pack.tier == len(self.needs) else pack.size
        each = cost_at(pack, 1, self.levels) if price is not None else 0
        for packs in range(1, self._useful[at] + 1):
            more = each * packs if price is not None else pack.own_cost(packs)
            if more is None:
                continue
            now = spent + (price * packs if price is not None else more * weight)
            if now >= self.room and packs >= last:
                return
            there = min(full, held + size * packs)
            if now < self.room and now + self._tail(at + 1, there) < self.room:
                self.extend(at + 1, there, cost + more, now, (number, packs, plan))

    def _tail(self, at: int, held: int) -> int:
        """The least reduced cost of finishing with the offers from `at` on when `held` is there."""
        key = at, held
        if key not in self._tails:
            tier = self.offers[at][1].tier if at < len(self.offers) else len(self.needs)
            if any(held < need for need in self.needs[:tier]):
                self._tails[key] = NEVER
            else:
                self._tails[key] = self._new_tail(at, held) if at < len(self.offers) else 0
        return self._tails[key]

    def _new_tail(self, at: int, held: int) -> int:
        _, pack, price, weight = self.offers[at]
        full, best = self.needs[-1], self._tail(at + 1, held)
        if held >= full:
            return best
        if price is None:
            steps = ((size, own * weight) for _, size, own in pack.ladder(full))
        else:
            enough = -(-(full - held) // pack.size)
            steps = (
                (packs * pack.size, price * packs) for packs in range(1, min(enough, pack.most or enough) + 1)
            )
        for more, cost in steps:
            if cost < best:
                best = min(best, cost + self._tail(at + 1, min(full, held + more)))
            if held + more >= full:
                break
        return best
