"""The best set of pieces out of what is there: a product-mix programme in whole numbers.

    max Σ_j gain_j · x_j - Σ_{f,b} cost_b · B_{f,b}
    Σ_j need_{ij} · x_j + once_i · y_i ≤ there_i          for every part i; x_j ≤ M · y_i where once_i > 0
    Σ_{j of f} x_j ≤ Σ_b each_{f,b} · B_{f,b} + Σ_l of_{f,l} · u_{f,l}          for every size f
    Σ_f B_{f,b} ≤ plain_b,  Σ_f u_{f,l} ≤ 1,  Σ_{f, l of b} u_{f,l} + Σ_f B_{f,b} ≤ free_b
    Σ_j minutes_j · x_j ≤ minutes

x: pieces of an item; B: blanks of one size of part b cut for pieces of size f; u: whether a measured blank l is; y:
whether any item is made that takes part i once an evening. Hillier & Lieberman, *Introduction to Operations Research*,
ch. 3 and 12, has such programmes (from memory).
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field

from inventory.making.blanks.solver import Constraint, minimise

Part = Hashable


@dataclass(frozen=True, slots=True)
class MixItem:
    """What can be made. size: what it asks of a blank, None for nothing.

    gain: what a piece adds, whole; needs: of each part for a piece, whole; once: of each part once an evening.
    """

    key: Hashable
    size: Hashable | None
    gain: int = 1
    minutes: int = 0
    needs: Mapping[Part, int] = field(default_factory=dict)
    once: Mapping[Part, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class BlankSupply:
    """Blanks of one part. plain: of the catalogue's size; each: pieces of a size one of them gives.

    measured: for each blank measured alone, pieces of a size it gives; free: how many of all may be cut.
    """

    key: Hashable
    plain: int
    each: Mapping[Hashable, int]
    measured: Sequence[Mapping[Hashable, int]] = ()
    free: int | None = None
    cost: int = 0


@dataclass(frozen=True, slots=True)
class MixTask:
    """there: of each part; what no item names is left out. minutes: of the evening, None for no end."""

    items: Sequence[MixItem]
    there: Mapping[Part, int]
    blanks: Sequence[BlankSupply] = ()
    minutes: int | None = None


@dataclass(frozen=True, slots=True)
class BestMix:
    """pieces: by item, those that are made; cut: by size and blank part how many pieces come out of it."""

    pieces: Mapping[Hashable, int]
    cut: Mapping[tuple[Hashable, Hashable], int]
    gain: int
    proven: bool


class _Columns:
    """Variables by what they are, with what they cost and the most they may be."""

    def __init__(self) -> None:
        self.at: dict[Hashable, int] = {}
        self.costs: list[int] = []
        self.most: list[int] = []

    def add(self, key: Hashable, cost: int, most: int) -> int:
        """A new one."""
        self.at[key] = len(self.costs)
        self.costs.append(cost)
        self.most.append(most)
        return self.at[key]


def best_mix(task: MixTask, time_limit: float = 5.0) -> BestMix:
    """The set that adds most, proven where the solver ended within `time_limit` seconds."""
    columns, rows = _Columns(), list[Constraint]()
    for item in task.items:
        columns.add(("item", item.key), -item.gain, _at_most(task, item))
    _parts(task, columns, rows)
    _blanks(task, columns, rows)
    if task.minutes is not None:
        spent = {columns.at["item", one.key]: one.minutes for one in task.items if one.minutes}
        rows.append(Constraint(spent, high=task.minutes))
    rows = [row for row in rows if row.weights]
    if not task.items or not rows:
        return BestMix({}, {}, 0, proven=True)
    found = minimise(columns.costs, rows, columns.most, time_limit)
    values = found.whole()
    if values is None:
        return BestMix({}, {}, 0, proven=False)
    pieces = {one.key: values[columns.at["item", one.key]] for one in task.items}
    gain = -sum(cost * value for cost, value in zip(columns.costs, values, strict=True))
    return BestMix(
        {key: many for key, many in pieces.items() if many}, _cut(task, columns, values), gain, found.proven
    )


def _at_most(task: MixTask, item: MixItem) -> int:
    """Pieces there could be of an item alone."""
    several = [task.there.get(part, 0) // need for part, need in item.needs.items() if need]
    if item.size is not None:
        several.append(sum(_gives(supply, item.size) for supply in task.blanks))
    if task.minutes is not None and item.minutes:
        several.append(task.minutes // item.minutes)
    return max(min(several, default=0), 0)  # what takes nothing at all is no piece


def _gives(supply: BlankSupply, size: Hashable) -> int:
    return supply.plain * supply.each.get(size, 0) + sum(one.get(size, 0) for one in supply.measured)


def _parts(task: MixTask, columns: _Columns, rows: list[Constraint]) -> None:
    named = dict.fromkeys(part for item in task.items for part in (*item.needs, *item.once))
    for part in named:
        weights = {columns.at["item", one.key]: one.needs[part] for one in task.items if one.needs.get(part)}
        once = max((one.once.get(part, 0) for one in task.items), default=0)
        if once:
            begun = columns.add(("once", part), 0, 1)
            weights[begun] = once
            for one in task.items:
                if one.once.get(part):
                    at = columns.at["item", one.key]
                    rows.append(Constraint({at: 1, begun: -max(columns.most[at], 1)}, high=0))
        rows.append(Constraint(weights, high=task.there.get(part, 0)))


def _blanks(task: MixTask, columns: _Columns, rows: list[Constraint]) -> None:
    sizes = dict.fromkeys(one.size for one in task.items if one.size is not None)
    out: dict[Hashable, dict[int, int]] = {size: {} for size in sizes}
    for supply in task.blanks:
        plain, every = dict[int, int](), dict[int, int]()
        for size in sizes:
            if each := supply.each.get(size, 0):
                at = columns.add(("plain", size, supply.key), supply.cost, supply.plain)
                plain[at], out[size][at] = 1, each
        every |= plain
        for number, gives in enumerate(supply.measured):
            alone = dict[int, int]()
            for size in sizes:
                if of := gives.get(size, 0):
                    at = columns.add(("measured", size, supply.key, number), supply.cost, 1)
                    alone[at], out[size][at] = 1, of
            every |= alone
            rows.append(Constraint(alone, high=1))
        rows.append(Constraint(plain, high=supply.plain))
        if supply.free is not None:
            rows.append(Constraint(every, high=supply.free))
    for size, from_ in out.items():
        made = {columns.at["item", one.key]: 1 for one in task.items if one.size == size}
        rows.append(Constraint(made | {at: -many for at, many in from_.items()}, high=0))


def _cut(task: MixTask, columns: _Columns, values: Sequence[int]) -> dict[tuple[Hashable, Hashable], int]:
    """Pieces of a size each blank part gives room for."""
    found: dict[tuple[Hashable, Hashable], int] = {}
    for supply in task.blanks:
        for size, each in supply.each.items():
            at = columns.at.get(("plain", size, supply.key))
            if at is not None and values[at]:
                found[size, supply.key] = found.get((size, supply.key), 0) + each * values[at]
        for number, gives in enumerate(supply.measured):
            for size, of in gives.items():
                at = columns.at.get(("measured", size, supply.key, number))
                if at is not None and values[at]:
                    found[size, supply.key] = found.get((size, supply.key), 0) + of
    return found
