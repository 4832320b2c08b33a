"""The running price of a list, so that a change of a few packs is priced without looking at the rest."""

from __future__ import annotations

from collections.abc import Mapping

from inventory.buying.problem import Pack, Packs, Problem

BROKEN = 1 << 60
"""Added for every term a list breaks, so that a search may pass through such lists but never ends in one."""


class ListTally:
    """A list with its goods by supplier, and count and goods at every level by price group."""

    def __init__(self, problem: Problem, bought: Mapping[int, int]) -> None:
        self.problem = problem
        self.bought: Packs = {}
        self.counts = [0] * len(problem.groups)
        self.sums = [[0] * len(group.starts) for group in problem.groups]
        self.own = [0] * len(problem.terms)
        self.used = [0] * len(problem.terms)
        self.parts = [0] * len(problem.terms)
        self.price = 0
        self._landed = [0] * len(problem.terms)
        self.apply(bought)

    def after(self, changes: Mapping[int, int]) -> int:
        """The price in atoms when packs are added (or taken away, below 0); `BROKEN` or more when a term is broken."""
        own: dict[int, int] = {}
        used: dict[int, int] = {}
        groups: dict[int, tuple[int, list[int]]] = {}
        for number, change in changes.items():
            pack = self.problem.packs[number]
            used[pack.supplier] = used.get(pack.supplier, 0) + change
            if pack.group < 0:
                held = self.bought.get(number, 0)
                own[pack.supplier] = (
                    own.get(pack.supplier, 0) + _single(pack, held + change) - _single(pack, held)
                )
            else:
                count, sums = groups.get(pack.group) or (self.counts[pack.group], self.sums[pack.group])
                held = self.bought.get(number, 0)
                groups[pack.group] = (count + change, _added(sums, pack, held, change))
        total = self.price
        for supplier, change in used.items():
            total += self._supplier(supplier, own.get(supplier, 0), change, groups) - self._landed[supplier]
        return total

    def apply(self, changes: Mapping[int, int]) -> None:
        """Make the change."""
        for number, change in changes.items():
            pack = self.problem.packs[number]
            held = self.bought.get(number, 0)
            self.used[pack.supplier] += change
            if pack.group < 0:
                self.own[pack.supplier] += _single(pack, held + change) - _single(pack, held)
            else:
                self.counts[pack.group] += change
                self.sums[pack.group] = _added(self.sums[pack.group], pack, held, change)
            self.bought[number] = held + change
            if not self.bought[number]:
                del self.bought[number]
        for supplier in {self.problem.packs[number].supplier for number in changes}:
            landed = self._supplier(supplier, 0, 0, {})
            self.price += landed - self._landed[supplier]
            self._landed[supplier] = landed

    def goods(self, supplier: int) -> int:
        """Atoms of goods at one supplier as the list stands."""
        return self.own[supplier] + sum(
            self._group(group, self.counts[group], self.sums[group])
            for group in self.problem.of_supplier[supplier]
        )

    def _supplier(
        self, supplier: int, own: int, used: int, groups: Mapping[int, tuple[int, list[int]]]
    ) -> int:
        if not self.used[supplier] + used:
            return 0
        goods = self.own[supplier] + own
        for group in self.problem.of_supplier[supplier]:
            count, sums = groups.get(group) or (self.counts[group], self.sums[group])
            goods += self._group(group, count, sums)
        terms = self.problem.terms[supplier]
        if goods < terms.least:
            return terms.least + terms.fee + BROKEN
        return goods if terms.free is not None and goods >= terms.free else goods + terms.fee

    def _group(self, group: int, count: int, sums: list[int]) -> int:
        if not count:
            return 0
        starts = self.problem.groups[group].starts
        level = len(starts) - 1
        while starts[level] > count:
            level -= 1
        return sums[level]


def _single(pack: Pack, packs: int) -> int:
    if not packs:
        return 0
    cost = pack.own_cost(packs) if pack.own else (pack.prices[0] or 0) * packs
    return BROKEN if cost is None else cost


def _added(sums: list[int], pack: Pack, held: int, change: int) -> list[int]:
    most = pack.most
    beyond = 0 if most is None else max(0, held + change - most) - max(0, held - most)
    return [
        before + (BROKEN if price is None else price) * change + BROKEN * beyond
        for before, price in zip(sums, pack.prices, strict=True)
    ]
