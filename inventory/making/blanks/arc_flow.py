"""The arc-flow graph of a cutting-stock problem.

Cutting a blank is a walk from 0 along the blank: an item of width w leads from position u to u + w, and the
walk may end at any position that lies on the blank. Whole flows are cutting plans (Valério de Carvalho,
*Annals of Operations Research* 86, 1999, from memory); the relaxation is as tight
as that of Gilmore & Gomory's patterns.
Only positions reached by items in order of falling width are kept, each kind at most as often as demanded.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from inventory.making.blanks.solver import Constraint


@dataclass(frozen=True, slots=True)
class Arc:
    """`item` is cut from `start` to `end`."""

    start: int
    end: int
    item: int


@dataclass(frozen=True, slots=True)
class Finish:
    """A blank of kind `stock` is left off at `position`."""

    position: int
    stock: int


@dataclass(frozen=True, slots=True)
class Graph:
    """Arcs, then finishes: the variables of the programme, in this order."""

    arcs: tuple[Arc, ...]
    finishes: tuple[Finish, ...]

    @property
    def size(self) -> int:
        """Number of variables."""
        return len(self.arcs) + len(self.finishes)

    def flow_rows(self) -> list[Constraint]:
        """What comes to a position goes on or is left off there."""
        weights: dict[int, dict[int, int]] = defaultdict(dict)
        for number, arc in enumerate(self.arcs):
            weights[arc.end][number] = 1
            if arc.start:
                weights[arc.start][number] = -1
        for number, finish in enumerate(self.finishes, len(self.arcs)):
            weights[finish.position][number] = -1
        return [Constraint(row, 0, 0) for row in weights.values()]

    def item_weights(self, item: int) -> dict[int, int]:
        """The variables that count how many of an item are cut."""
        return {number: 1 for number, arc in enumerate(self.arcs) if arc.item == item}

    def stock_weights(self, stock: int) -> dict[int, int]:
        """The variables that count how many blanks of a kind are cut."""
        return {n: 1 for n, finish in enumerate(self.finishes, len(self.arcs)) if finish.stock == stock}


def build(widths: Sequence[int], demands: Sequence[int], rooms: Sequence[int], most: float) -> Graph | None:
    """The graph for items of these widths in blanks with these rooms; None beyond `most` arcs.

    Widths and rooms are whole numbers of one unit, one kerf added to each.
    """
    longest = max(rooms, default=0)
    reached = {0}
    arcs: dict[Arc, None] = {}
    for item in sorted(range(len(widths)), key=lambda i: -widths[i]):
        front = set(reached)
        for _ in range(demands[item]):
            front = {start + widths[item] for start in front if start + widths[item] <= longest}
            if not front:
                break
            arcs.update((Arc(end - widths[item], end, item), None) for end in sorted(front))
            reached |= front
            if len(arcs) > most:
                return None
    ends = sorted(reached - {0})
    finishes = [Finish(end, kind) for end in ends for kind, room in enumerate(rooms) if end <= room]
    return Graph(tuple(arcs), tuple(finishes))


def walks(graph: Graph, flows: Sequence[int]) -> Iterator[tuple[int, tuple[int, ...], int]]:
    """A whole flow as walks: (kind of blank, items cut, how many blanks are cut so).

    Flow that comes to a position also leaves it, so following whatever is left always comes to a finish.
    """
    left = list(flows)
    onward: dict[int, list[int]] = defaultdict(list)
    for number, place in enumerate([*(a.start for a in graph.arcs), *(f.position for f in graph.finishes)]):
        onward[place].append(number)
    while (walk := _walk(graph, left, onward)) is not None:
        times = min(left[number] for number in walk)
        for number in walk:
            left[number] -= times
        finish = graph.finishes[walk[-1] - len(graph.arcs)]
        yield finish.stock, tuple(graph.arcs[number].item for number in walk[:-1]), times


def _walk(graph: Graph, left: Sequence[int], onward: dict[int, list[int]]) -> list[int] | None:
    """The variables along one walk with flow left, its finish last; None once nothing leaves position 0."""
    walk: list[int] = []
    position = 0
    while True:
        while onward[position] and not left[onward[position][-1]]:
            onward[position].pop()
        if not onward[position]:
            return None
        number = onward[position][-1]
        walk.append(number)
        if number >= len(graph.arcs):
            return walk
        position = graph.arcs[number].end
