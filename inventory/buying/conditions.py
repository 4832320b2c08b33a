"""What a settled corner demands: counts of packs and goods that must be reached, or may not be passed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from inventory.buying.bound import Bounds, cost_at
from inventory.buying.case import Pack, Packs
from inventory.buying.rates import OFF, Corner, needed


@dataclass(frozen=True, slots=True)
class Resource:
    """A condition of a corner: a group's count (`group` >= 0) or a supplier's goods must reach `due`.

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


def amount_of(bounds: Bounds, corner: Corner, one: Resource, bought: Packs) -> int:
    """Packs or atoms of goods that a list brings to a condition."""
    mine = [(bounds.case.packs[n], packs) for n, packs in bought.items() if one.takes(bounds.case.packs[n])]
    return sum(packs if one.group >= 0 else cost_at(pack, packs, corner.high) for pack, packs in mine)


def resources(bounds: Bounds, corner: Corner) -> Iterator[Resource]:
    """Every condition of a settled corner."""
    case = bounds.case
    for supplier, mode in enumerate(corner.modes):
        due = 0 if mode == OFF else needed(case, supplier, mode)
        if due:
            yield Resource(-1, supplier, due, None, corner.goods[supplier])
        for group in case.of_supplier[supplier] if mode != OFF else ():
            starts, low = case.groups[group].starts, corner.low[group]
            most = starts[low + 1] - 1 if due and low + 1 < len(starts) else None
            if low or most is not None:
                yield Resource(group, supplier, starts[low] if low else 0, most, corner.count[group])
