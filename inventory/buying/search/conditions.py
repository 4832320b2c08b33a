"""What a settled leaf demands: counts of packs and goods that must be reached, or may not be passed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from inventory.buying.bounds.leaf_bound import Bounds, Relaxed, cost_at
from inventory.buying.problem import Pack, Packs, Problem
from inventory.buying.search.leaf import OFF, Leaf, needed


@dataclass(frozen=True, slots=True)
class Resource:
    """A condition of a leaf: a group's count (`group` >= 0) or a supplier's goods must reach `due`.

    A count whose next level would lower goods that count towards a threshold may not pass `most`.
    """

    group: int
    supplier: int
    due: int
    most: int | None
    rate: int

    def takes(self, pack: Pack) -> bool:
        """Whether packs of this offer count."""
        return self.group == pack.group if self.group >= 0 else self.supplier == pack.supplier

    def kept(self, amount: int) -> bool:
        """Whether the condition holds at this amount."""
        return amount >= self.due and (self.most is None or amount <= self.most)


def amount_of(bounds: Bounds, leaf: Leaf, one: Resource, bought: Packs) -> int:
    """Packs or atoms of goods that a list brings to a condition."""
    mine = [
        (bounds.problem.packs[n], packs) for n, packs in bought.items() if one.takes(bounds.problem.packs[n])
    ]
    return sum(packs if one.group >= 0 else cost_at(pack, packs, leaf.high) for pack, packs in mine)


def resources(bounds: Bounds, leaf: Leaf) -> Iterator[Resource]:
    """Every condition of a settled leaf."""
    problem = bounds.problem
    for supplier, mode in enumerate(leaf.modes):
        due = 0 if mode == OFF else needed(problem, supplier, mode)
        if due:
            yield Resource(-1, supplier, due, None, leaf.goods[supplier])
        for group in problem.of_supplier[supplier] if mode != OFF else ():
            starts, low = problem.groups[group].starts, leaf.low[group]
            most = starts[low + 1] - 1 if due and low + 1 < len(starts) else None
            if low or most is not None:
                yield Resource(group, supplier, starts[low] if low else 0, most, leaf.count[group])


def enough_alone(pack: Pack, need: int, price: int, wanted: Iterable[Resource]) -> int:
    """As many packs of an offer as alone cover the part, reach every step and keep every condition they count for.

    Of more some can be left out of any list: the rest still does, and costs no more.
    """
    mine = [one for one in wanted if one.takes(pack) and (one.group >= 0 or price)]
    dues = [one.due if one.group >= 0 else -(-one.due // price) for one in mine]
    return max([-(-need // pack.size), *(start for start, _ in pack.own), *dues])


def missed(problem: Problem, leaf: Leaf, relaxed: Relaxed) -> bool:
    """Whether the relaxed list of a leaf misses some count or value of goods."""
    groups = problem.groups
    dues = [needed(problem, at, mode) for at, mode in enumerate(leaf.modes)]
    if any(goods < due for goods, due in zip(relaxed.goods, dues, strict=True)):
        return True
    short = (at for at, low in enumerate(leaf.low) if low and relaxed.count[at] < groups[at].starts[low])
    return any(leaf.modes[groups[at].supplier] != OFF for at in short)
