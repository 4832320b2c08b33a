"""A lower bound on every list in one leaf of the search, and the list it suggests.

A leaf fixes for some suppliers whether they are used and whether postage is paid, and for price groups the range of
levels.  In it every group is priced at its highest level, and what that takes - a count of packs, a value of goods -
is charged by multipliers (Lagrange): with m per atom of goods and w per pack the pack costs p - m p - w, and
m * goods needed + w * packs needed is added.  For any `Rates` the sum of the parts' least costs is then a lower bound
(weak duality: Fisher 1981, The Lagrangian Relaxation Method, Management Science 27, from memory).  All in
integers, with multipliers in 1/65536.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from inventory.buying.knapsack import NEVER, Plan, Priced, cover, packs_of
from inventory.buying.problem import Pack, Packs, Problem
from inventory.buying.search.leaf import OFF, ONE, PAY, Leaf, needed


@dataclass(slots=True)
class Relaxed:
    """The answer at one set of multipliers: bound in atoms/65536, packs, goods and counts at the leaf's prices."""

    bound: int
    bought: Packs
    goods: list[int]
    count: list[int]


class Bounds:
    """Computes bounds for one case; remembers the prices of each supplier's column of parts."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.mixed = [part for part in range(len(problem.parts)) if self._may_mix(part)]
        mixed = set(self.mixed)
        self.plain = [part for part in range(len(problem.parts)) if part not in mixed]
        self.of_supplier = problem.of_supplier
        self._cells = self._plain_cells()
        self._depends = {part: self._prices_of(part) for part in self.mixed}
        self._columns: dict[tuple[int, ...], tuple[list[int], list[tuple[int, int]]]] = {}
        self._covers: dict[tuple[int, ...], tuple[int, Plan]] = {}

    def _may_mix(self, part: int) -> bool:
        """Whether several offers together can be cheaper than any alone at settled prices.

        They cannot when each offer covers the part with one pack, or with whole packs and nothing over: then a mix
        costs at least the need times the least price per unit, which one offer alone attains.
        """
        full = self.problem.needs[part][-1]
        return any(
            pack.alone is None or (pack.alone > 1 and pack.alone * pack.size != full)
            for pack in self.problem.in_time(part)
        )

    def _prices_of(self, part: int) -> tuple[list[int], list[int]]:
        """The suppliers and price groups on which the prices of a part depend."""
        packs = [self.problem.packs[number] for number in self.problem.by_part[part]]
        return sorted({pack.supplier for pack in packs}), sorted(
            {pack.group for pack in packs if pack.group >= 0}
        )

    def _plain_cells(self) -> list[list[list[tuple[int, int, int, list[int | None]]]]]:
        """By supplier and plain part: the offers as (number, group, packs alone, cost alone by level)."""
        cells: list[list[list[tuple[int, int, int, list[int | None]]]]] = []
        for supplier in range(len(self.problem.terms)):
            mine = [
                [n for n in self.problem.by_part[part] if self._sold_by(supplier, self.problem.packs[n])]
                for part in self.plain
            ]
            cells.append([[self._cell(number) for number in numbers] for numbers in mine])
        return cells

    def _sold_by(self, supplier: int, pack: Pack) -> bool:
        return pack.supplier == supplier and not self.problem.late(pack)

    def _cell(self, number: int) -> tuple[int, int, int, list[int | None]]:
        pack = self.problem.packs[number]
        packs = pack.alone or 0
        if not pack.own:
            return (
                number,
                pack.group,
                packs,
                [None if price is None else price * packs for price in pack.prices],
            )
        tried = [packs, *(start for start, _ in pack.own if start > packs)]
        costs = [(cost, count) for count in tried if (cost := pack.own_cost(count)) is not None]
        cost, packs = min(costs)
        return number, -1, packs, [cost]

    def relax(self, leaf: Leaf) -> Relaxed | None:
        """The relaxed list at the leaf's multipliers; None when some part cannot be covered there."""
        used = [supplier for supplier, mode in enumerate(leaf.modes) if mode != OFF]
        if self.plain and not used:
            return None
        columns = [self._column(supplier, leaf) for supplier in used]
        total = self._charges(leaf)
        costs = [column[0] for column in columns]
        least = list(map(min, *costs)) if len(costs) > 1 else [cost for column in costs for cost in column]
        plans = self._mixed_covers(leaf)
        total += sum(least) + sum([cost for cost, _ in plans])
        if total >= NEVER:
            return None
        bought: Packs = {}
        for at, cost in enumerate(least):
            for found, choices in columns:
                if found[at] == cost:
                    number, packs = choices[at]
                    bought[number] = packs
                    break
        for _, plan in plans:
            for number, packs in packs_of(plan):
                bought[number] = bought.get(number, 0) + packs
        return self._measured(leaf, total, bought)

    def part_costs(self, leaf: Leaf) -> list[int]:
        """The least cost of every part at the leaf's multipliers; `NEVER` or more where it cannot be covered."""
        found = [NEVER] * len(self.problem.parts)
        columns = [self._column(supplier, leaf)[0] for supplier, mode in enumerate(leaf.modes) if mode != OFF]
        for part, cost in zip(self.plain, (min(costs) for costs in zip(*columns, strict=True)), strict=False):
            found[part] = cost
        for part, (cost, _) in zip(self.mixed, self._mixed_covers(leaf), strict=True):
            found[part] = cost
        return found

    def _charges(self, leaf: Leaf) -> int:
        terms = self.problem.terms
        total = sum(terms[at].fee for at, mode in enumerate(leaf.modes) if mode == PAY) * ONE
        total += sum(
            rate * needed(self.problem, at, leaf.modes[at]) for at, rate in enumerate(leaf.goods) if rate
        )
        groups = self.problem.groups
        return total + sum(
            rate * groups[at].starts[leaf.low[at]] for at, rate in enumerate(leaf.count) if rate
        )

    def _measured(self, leaf: Leaf, total: int, bought: Packs) -> Relaxed:
        goods = [0] * len(self.problem.terms)
        count = [0] * len(self.problem.groups)
        for number, packs in bought.items():
            pack = self.problem.packs[number]
            if pack.group >= 0:
                count[pack.group] += packs
            goods[pack.supplier] += cost_at(pack, packs, leaf.high)
        return Relaxed(total, bought, goods, count)

    def _column(self, supplier: int, leaf: Leaf) -> tuple[list[int], list[tuple[int, int]]]:
        """The least cost alone, and its (offer, packs), of every plain part at one supplier."""
        groups = self.of_supplier[supplier]
        key = (
            supplier,
            leaf.goods[supplier],
            *(leaf.high[g] for g in groups),
            *(leaf.count[g] for g in groups),
        )
        if key not in self._columns:
            self._columns[key] = self._new_column(supplier, leaf)
        return self._columns[key]

    def _new_column(self, supplier: int, leaf: Leaf) -> tuple[list[int], list[tuple[int, int]]]:
        weight = ONE - leaf.goods[supplier]
        high, count = leaf.high, leaf.count
        costs, choices = [], []
        for cell in self._cells[supplier]:
            best, choice = NEVER, (-1, 0)
            for number, group, packs, alone in cell:
                cost = alone[high[group]] if group >= 0 else alone[0]
                if cost is not None:
                    cost = cost * weight - (count[group] * packs if group >= 0 else 0)
                    if cost < best:
                        best, choice = cost, (number, packs)
            costs.append(best)
            choices.append(choice)
        return costs, choices

    def _mixed_covers(self, leaf: Leaf) -> list[tuple[int, Plan]]:
        """The least cost, and the packs, of every part that may be mixed."""
        rates = [-1 if mode == OFF else rate for mode, rate in zip(leaf.modes, leaf.goods, strict=True)]
        found: list[tuple[int, Plan]] = []
        for part in self.mixed:
            suppliers, groups = self._depends[part]
            key = (part, *[rates[at] for at in suppliers])
            if groups:
                key += tuple([bit for at in groups for bit in (leaf.high[at], leaf.count[at])])
            known = self._covers.get(key)
            if known is None:
                known = self._covers[key] = cover(self.problem.needs[part], self.priced(part, leaf))
            found.append(known)
        return found

    def priced(self, part: int, leaf: Leaf) -> list[Priced]:
        """A part's offers at the leaf's prices, less the multipliers."""
        found: list[Priced] = []
        for number in self.problem.by_part[part]:
            pack = self.problem.packs[number]
            if leaf.modes[pack.supplier] == OFF:
                continue
            if pack.own:
                found.append((number, pack, None, ONE - leaf.goods[pack.supplier]))
                continue
            price = reduced(pack, leaf)
            if price is not None:
                found.append((number, pack, price, 0))
        return found


def reduced(pack: Pack, leaf: Leaf) -> int | None:
    """Price per pack of an offer without steps of its own, less the multipliers, in atoms/65536."""
    price = pack.prices[leaf.high[pack.group] if pack.group >= 0 else 0]
    if price is None:
        return None
    return price * (ONE - leaf.goods[pack.supplier]) - (leaf.count[pack.group] if pack.group >= 0 else 0)


def cost_at(pack: Pack, packs: int, levels: Sequence[int]) -> int:
    """Atoms of goods for packs at the levels given, of an offer that can be bought there."""
    if pack.own:
        return pack.own_cost(packs) or 0
    return (pack.prices[levels[pack.group] if pack.group >= 0 else 0] or 0) * packs
